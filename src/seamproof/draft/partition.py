"""From loops of vertices to a block: do the patches cover the outline exactly once?

The proof is a matter of numbers, not of geometry. Every side of a patch is a *dart*, walked with
the patch on its right. If no dart is walked twice, if the darts without a twin form one loop that
visits no vertex twice and runs clockwise, and if each patch is a simple clockwise loop, then the
patches cover every point inside that loop exactly once: winding numbers add up. Only when this
fails is the geometry asked where.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
import shapely

from seamproof.draft.checks import (
    CROSSES_ITSELF,
    ENCLOSED,
    GAP,
    IN_PIECES,
    OVERLAP,
    PINCHED,
    SLIVER,
    at,
    place_name,
    shown,
)
from seamproof.findings import Finding, Where
from seamproof.plane.model import Point
from seamproof.plane.predicates import area, distance, reading_order, side
from seamproof.plane.snapping import READ_SNAP, as_array

SHORTEST = Fraction(1, 8)
"""The shortest finished side, in inches, that a patch may have: less than half a seam allowance
and shorter than a stitch or two (common practice, no source). Also the narrowest patch."""

SURE = 20
"""A side must be at least this many times as long as reading moved its ends, else its direction
is a guess (about three degrees)."""


@dataclass(frozen=True)
class Loop:
    """One patch on its way to a block: vertex numbers, clockwise, every vertex on its boundary."""

    fabric: str
    corners: tuple[int, ...]
    where: Where


@dataclass(frozen=True)
class Partition:
    """Loops that cover `outline` exactly once."""

    vertices: tuple[Point, ...]
    loops: tuple[Loop, ...]
    outline: tuple[int, ...]


def partition(
    name: str,
    vertices: Sequence[Point],
    loops: Sequence[Loop],
    shift: Sequence[float] = (),
) -> tuple[Partition | None, list[Finding]]:
    """The loops as a partition with vertices numbered from the top down, left to right, or what
    is wrong with them and where. `shift` says how far reading moved each vertex."""
    findings = [*_slivers(name, vertices, loops, shift), *_unsimple(name, vertices, loops)]
    if findings:
        return None, findings
    owner: dict[tuple[int, int], int] = {}
    twice = False
    for number, loop in enumerate(loops):
        for dart in zip(loop.corners, (*loop.corners[1:], loop.corners[0]), strict=True):
            twice |= dart in owner
            owner[dart] = number
    border = [d for d in owner if (d[1], d[0]) not in owner]
    rings = [] if twice else _rings(border)
    if twice or rings is None or len(rings) != 1 or area([vertices[v] for v in rings[0]]) <= 0:
        return None, _diagnosis(name, vertices, loops, rings)
    return _numbered(vertices, loops, rings[0], _pointless(vertices, owner)), []


def _numbered(
    vertices: Sequence[Point],
    loops: Sequence[Loop],
    outline: Sequence[int],
    pointless: set[int],
) -> Partition:
    used = sorted({v for loop in loops for v in loop.corners} - pointless)
    used = [used[i] for i in reading_order([vertices[v] for v in used])]
    number = {v: i for i, v in enumerate(used)}
    return Partition(
        tuple(vertices[v] for v in used),
        tuple(Loop(loop.fabric, _renumbered(loop.corners, number), loop.where) for loop in loops),
        _renumbered(outline, number),
    )


def _renumbered(loop: Sequence[int], number: dict[int, int]) -> tuple[int, ...]:
    """The loop in new numbers, without vertices that have none, from its lowest number on."""
    kept = [number[v] for v in loop if v in number]
    start = kept.index(min(kept))
    return (*kept[start:], *kept[:start])


def _pointless(vertices: Sequence[Point], darts: Iterable[tuple[int, int]]) -> set[int]:
    """Vertices at which nothing happens: no seam ends there and the only side runs straight on."""
    neighbours: dict[int, set[int]] = {}
    for a, b in darts:
        neighbours.setdefault(a, set()).add(b)
        neighbours.setdefault(b, set()).add(a)
    result = set()
    for v, around in neighbours.items():
        if len(around) == 2:
            a, b = sorted(around)
            if side(vertices[a], vertices[b], vertices[v]) == 0:
                result.add(v)
    return result


def _rings(border: Sequence[tuple[int, int]]) -> list[list[int]] | None:
    """The border darts as closed loops, or None if they meet at a vertex more than once."""
    ahead = dict(border)
    if len(ahead) != len(border):
        return None
    rings: list[list[int]] = []
    left = dict.fromkeys(ahead)
    while left:
        start = next(iter(left))
        ring, v = [], start
        while v in left:
            del left[v]
            ring.append(v)
            v = ahead[v]
        rings.append(ring)
    return rings


def _slivers(
    name: str, vertices: Sequence[Point], loops: Sequence[Loop], shift: Sequence[float]
) -> list[Finding]:
    findings: list[Finding] = []
    done: set[tuple[int, int]] = set()
    for loop in loops:
        for a, b in zip(loop.corners, (*loop.corners[1:], loop.corners[0]), strict=True):
            if (min(a, b), max(a, b)) in done:
                continue
            done.add((min(a, b), max(a, b)))
            length = distance(vertices[a], vertices[b])
            moved = max(shift[a], shift[b]) if shift else 0.0
            if length < float(SHORTEST) or length < SURE * moved:
                point = _between(vertices[a], vertices[b])
                findings.append(
                    SLIVER.found(
                        f"a side of only {shown(length)} in at {place_name(point)}",
                        mend="if its two ends are meant to be one point, type them alike; "
                        f"a side must be at least {shown(SHORTEST)} in long"
                        + (" and its ends typed more exactly" if length >= float(SHORTEST) else ""),
                        where=at(loop.where, name, point),
                    )
                )
    if findings:
        return findings
    for loop in loops:
        points = [vertices[v] for v in loop.corners]
        longest = max(distance(p, q) for p in points[:1] for q in points)
        width = abs(float(area(points))) / longest
        if width < float(SHORTEST) / 4:
            point = _between(points[0], points[len(points) // 2])
            findings.append(
                SLIVER.found(
                    f"a patch of fabric {loop.fabric} hardly wider than a thread "
                    f"at {place_name(point)}",
                    mend="move its points apart, or leave the patch out",
                    where=at(loop.where, name, point),
                )
            )
    return findings


def _between(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def _unsimple(name: str, vertices: Sequence[Point], loops: Sequence[Loop]) -> list[Finding]:
    xy = as_array(vertices)
    shapes = [shapely.polygons(xy[list(loop.corners)]) for loop in loops]
    fine = shapely.is_valid(np.array(shapes, dtype=object)) if shapes else []
    findings = []
    for loop, shape, valid in zip(loops, shapes, fine, strict=True):
        repeated = len(set(loop.corners)) < len(loop.corners)
        if valid and not repeated:
            continue
        if repeated:
            again = next(v for i, v in enumerate(loop.corners) if v in loop.corners[:i])
            point = vertices[again]
            if _goes_round(xy, loop):
                findings.append(_enclosed(name, loop, point))
                continue
        else:
            point = _named_point(shapely.is_valid_reason(shape), vertices[loop.corners[0]])
        findings.append(
            CROSSES_ITSELF.found(
                f"the patch of fabric {loop.fabric} crosses or touches itself "
                f"at {place_name(point)}",
                mend="list its corners once round, in order; "
                "two parts that meet at a point are two patches",
                where=at(loop.where, name, point),
            )
        )
    return findings


def _goes_round(xy: np.ndarray, loop: Loop) -> bool:
    """Whether a loop that meets itself has something else inside."""
    whole = shapely.make_valid(shapely.polygons(xy[list(loop.corners)]))
    areas = [part for part in shapely.get_parts(whole) if part.geom_type == "Polygon"]
    return any(len(part.interiors) for part in areas)


def _enclosed(name: str, loop: Loop, point: Point) -> Finding:
    return ENCLOSED.found(
        f"the patch of fabric {loop.fabric} lies all round what is inside it, "
        f"at {place_name(point)}",
        mend="no seam can be sewn all round a patch: "
        "draw one more seam from the inner patch outwards",
        where=at(loop.where, name, point),
    )


def _named_point(reason: str, otherwise: Point) -> Point:
    """The point in shapely's "Self-intersection[1 2]"."""
    inside = reason.partition("[")[2].rstrip("]").split()
    if len(inside) < 2:
        return otherwise
    return (_rough(float(inside[0])), _rough(float(inside[1])))


def _rough(value: float) -> Fraction:
    """A place good enough to point at."""
    return Fraction(value).limit_denominator(1000)


def spot_in(shape: shapely.Geometry) -> Point:
    """A point inside a shape, good enough to point at."""
    spot = shapely.point_on_surface(shape)
    return (_rough(spot.x), _rough(spot.y))


def _diagnosis(
    name: str,
    vertices: Sequence[Point],
    loops: Sequence[Loop],
    rings: list[list[int]] | None,
) -> list[Finding]:
    """What the geometry says about a drawing whose sides do not add up."""
    xy = as_array(vertices)
    shapes = [shapely.polygons(xy[list(loop.corners)]) for loop in loops]
    findings = _overlaps(name, loops, shapes)
    if findings:
        return findings
    whole = shapely.union_all(shapes, grid_size=float(READ_SNAP) / 1024)
    pieces = [p for p in shapely.get_parts(whole) if p.area > 0]
    for piece in pieces:
        for hole in piece.interiors:
            gap = shapely.Polygon(hole)
            point = spot_in(gap)
            findings.append(
                GAP.found(
                    f"no patch covers the place at {place_name(point)}, "
                    f"{shown(gap.area)} square inches",
                    mend="draw the missing patch, or bring the points round the gap together",
                    where=at(_nearest(loops, shapes, gap), name, point),
                )
            )
    findings += _pinches(name, vertices, loops)
    if len(pieces) > 1 and not findings:
        for piece in pieces[1:]:
            point = spot_in(piece)
            findings.append(
                IN_PIECES.found(
                    f"the patches round {place_name(point)} are not joined to the rest",
                    mend="bring the points of neighbouring patches together, "
                    "or draw what lies between",
                    where=at(_nearest(loops, shapes, piece), name, point),
                )
            )
    if not findings:
        point = vertices[rings[0][0]] if rings else vertices[0]
        findings.append(
            GAP.found(
                f"the sides of the patches near {place_name(point)} do not meet",
                mend="type the points that neighbouring patches share alike",
                where=at(loops[0].where, name, point),
            )
        )
    return findings


def _nearest(
    loops: Sequence[Loop], shapes: Sequence[shapely.Geometry], to: shapely.Geometry
) -> Where:
    return loops[int(np.argmin(shapely.distance(np.array(shapes, dtype=object), to)))].where


def _overlaps(
    name: str, loops: Sequence[Loop], shapes: Sequence[shapely.Geometry]
) -> list[Finding]:
    tree = shapely.STRtree(shapes)
    first, second = tree.query(shapes, predicate="intersects")
    findings = []
    for i, j in sorted(zip(first.tolist(), second.tolist(), strict=True)):
        if i >= j:
            continue
        common = shapely.intersection(shapes[i], shapes[j])
        thin = float(READ_SNAP) * min(shapes[i].length, shapes[j].length) / SURE
        if common.area <= thin:
            continue
        point = spot_in(common)
        outer, inner = (i, j) if shapes[i].area > shapes[j].area else (j, i)
        if common.area >= shapes[inner].area - thin and not shapes[outer].equals(shapes[inner]):
            findings.append(
                ENCLOSED.found(
                    f"the patch of fabric {loops[inner].fabric} at {place_name(point)} lies "
                    f"on top of the patch of fabric {loops[outer].fabric}",
                    mend="patches lie side by side: "
                    "draw the outer one as pieces round the inner one",
                    where=at(loops[inner].where, name, point),
                )
            )
        else:
            findings.append(
                OVERLAP.found(
                    f"the patches of fabric {loops[i].fabric} and {loops[j].fabric} lie over "
                    f"each other at {place_name(point)}, {shown(common.area)} square inches",
                    mend="move the points of one of them so that they share a side",
                    where=at(loops[j].where, name, point),
                )
            )
    return findings


def _pinches(name: str, vertices: Sequence[Point], loops: Sequence[Loop]) -> list[Finding]:
    """Vertices at which the block's edge passes twice."""
    darts = {
        dart: loop
        for loop in loops
        for dart in zip(loop.corners, (*loop.corners[1:], loop.corners[0]), strict=True)
    }
    leaving: dict[int, int] = {}
    for a, b in darts:
        if (b, a) not in darts:
            leaving[a] = leaving.get(a, 0) + 1
    findings = []
    for v in sorted(v for v, count in leaving.items() if count > 1):
        loop = next(loop for loop in loops if v in loop.corners)
        findings.append(
            PINCHED.found(
                f"patches touch only at the point {place_name(vertices[v])}",
                mend="give them a side in common; nothing holds a block together at a point",
                where=at(loop.where, name, vertices[v]),
            )
        )
    return findings
