"""From loops of vertices to a block: do the patches cover the outline exactly once?

The proof is a matter of numbers, not of geometry. Every side of a patch is a *dart*, walked with
the patch on its right. If no dart is walked twice, if the darts without a twin form one loop that
visits no vertex twice and runs clockwise, and if each patch is a simple clockwise loop, then the
patches cover every point inside that loop exactly once: winding numbers add up. Only when this
fails is the geometry asked where.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import shapely

from seamproof.draft.faults import crevices, diagnosis, slivers, unsimple
from seamproof.draft.loops import Loop, Partition, rings_of
from seamproof.findings import Finding
from seamproof.length.rounding import SAME
from seamproof.plane.model import Point
from seamproof.plane.predicates import area, reading_order, side
from seamproof.plane.snapping import as_array


def partition(
    name: str,
    vertices: Sequence[Point],
    drawn: Sequence[Loop],
    shift: Sequence[float] = (),
) -> tuple[Partition | None, list[Finding]]:
    """The loops as a partition with vertices numbered from the top down, left to right, or what
    is wrong with them and where. `shift` says how far reading moved each vertex, in inches.
    """
    idle = _idle(vertices, (dart for loop in drawn for dart in loop.darts()))
    loops = [
        replace(loop, corners=tuple(v for v in loop.corners if v not in idle)) for loop in drawn
    ]
    findings = unsimple(name, vertices, loops) or slivers(name, vertices, loops, shift)
    if findings:
        return None, findings
    darts = [dart for loop in loops for dart in loop.darts()]
    known = set(darts)
    border = [(a, b) for a, b in darts if (b, a) not in known]
    rings = rings_of(border)
    if (
        len(known) == len(darts)
        and len(dict(border)) == len(border)  # no vertex is passed twice
        and len(rings) == 1
        and len(set(rings[0])) == len(rings[0])
        and area([vertices[v] for v in rings[0]]) > 0
    ):
        whole = shapely.Polygon(as_array([vertices[v] for v in rings[0]]))
        convex = whole.area > whole.convex_hull.area * (1 - float(SAME))
        findings = [] if convex else crevices(name, vertices, loops, whole)
        return (None if findings else _numbered(vertices, loops, rings[0])), findings
    return None, diagnosis(name, vertices, loops)


def _numbered(
    vertices: Sequence[Point], loops: Sequence[Loop], outline: Sequence[int]
) -> Partition:
    used = sorted({v for loop in loops for v in loop.corners})
    used = [used[i] for i in reading_order([vertices[v] for v in used])]
    number = {v: i for i, v in enumerate(used)}
    return Partition(
        tuple(vertices[v] for v in used),
        tuple(replace(loop, corners=_renumbered(loop.corners, number)) for loop in loops),
        _renumbered(outline, number),
    )


def _renumbered(loop: Sequence[int], number: dict[int, int]) -> tuple[int, ...]:
    """The loop in new numbers, from its lowest on."""
    fresh = [number[v] for v in loop]
    start = fresh.index(min(fresh))
    return (*fresh[start:], *fresh[:start])


def _idle(vertices: Sequence[Point], darts: Iterable[tuple[int, int]]) -> set[int]:
    """Vertices at which nothing happens: no seam ends there and the only side runs straight on."""
    neighbours: dict[int, set[int]] = {}
    for a, b in darts:
        neighbours.setdefault(a, set()).add(b)
        neighbours.setdefault(b, set()).add(a)
    result = set()
    for v, around in neighbours.items():
        if len(around) == 2:
            a, b = sorted(around)
            if side(vertices[a], vertices[b], vertices[v]) == 0 and not _folds(vertices, a, v, b):
                result.add(v)
    return result


def _folds(vertices: Sequence[Point], a: int, v: int, b: int) -> bool:
    """Whether the way from a over v to b turns back on itself."""
    (ax, ay), (x, y), (bx, by) = vertices[a], vertices[v], vertices[b]
    return (x - ax) * (bx - x) + (y - ay) * (by - y) < 0
