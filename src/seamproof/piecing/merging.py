"""Neighbours of one fabric that could be one patch, and what that would cost.

Fewer patches are not always less work: the union may have a corner into which others must be set,
or close round a patch so that nobody can sew it in.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from seamproof.draft.model import Block
from seamproof.piecing.planning import set_in_points
from seamproof.piecing.shapes import Layout, lay_out, true_corners
from seamproof.plane.model import Line
from seamproof.plane.predicates import side


@dataclass(frozen=True, slots=True)
class Merger:
    """Two patches that could be one: `seam` is the seam between them that would go, `corners` how
    many more corners would have to be set in. `free`: it costs nothing, the union is convex."""

    patches: tuple[int, int]
    fabric: str
    seam: Line
    corners: int
    free: bool


def mergers(block: Block) -> tuple[Merger, ...]:
    """Every pair of neighbours of one fabric that could be one patch, those that cost nothing
    first. Pairs whose union would close round another patch are left out: no order of sewing
    exists for it."""
    layout = lay_out(block)
    before = len(set_in_points(layout))
    found = []
    for f, patch in enumerate(block.patches):
        for g in sorted({contact.face for contact in layout.contacts[f] if contact.face > f}):
            if block.patches[g].fabric != patch.fabric:
                continue
            joined = _union(layout, f, g)
            if joined is None:
                continue
            corners, run = joined
            after = len(set_in_points(lay_out(_merged(block, f, g, corners)))) - before
            convex = _convex(layout, corners)
            found.append(
                Merger(
                    (f, g),
                    patch.fabric,
                    (block.vertices[run[0]], block.vertices[run[-1]]),
                    max(0, after),
                    convex and after <= 0,
                )
            )
    return tuple(sorted(found, key=lambda m: (not m.free, m.corners, m.patches)))


def _union(layout: Layout, f: int, g: int) -> tuple[tuple[int, ...], tuple[int, ...]] | None:
    """The corners of the union of two patches and the run of seam between them; None if they meet
    in several places."""
    loop = layout.map.faces[f]
    shared = [layout.map.left_of((loop[i - 1], v)) == g for i, v in enumerate(loop)]
    starts = [i for i in range(len(loop)) if shared[i] and not shared[i - 1]]
    if len(starts) != 1:
        return None
    start = starts[0]
    count = next(n for n in range(1, len(loop) + 1) if not shared[(start + n) % len(loop)])
    # Dart i runs from corner i - 1 to corner i.
    run = tuple(loop[(start - 1 + n) % len(loop)] for n in range(count + 1))
    rest = tuple(loop[(start - 1 + count + n) % len(loop)] for n in range(len(loop) - count))
    other = layout.map.faces[g]
    at = other.index(run[0])
    theirs = tuple(other[(at + n) % len(other)] for n in range(len(other)))
    beyond = theirs[: theirs.index(run[-1])]
    if set(rest[1:]) & set(beyond[1:]):
        return None
    return rest + beyond, run


def _convex(layout: Layout, corners: Sequence[int]) -> bool:
    points = [layout.block.vertices[v] for v in true_corners(layout.spots, corners)]
    return all(
        side(points[i - 1], points[i], points[(i + 1) % len(points)]) > 0
        for i in range(len(points))
    )


def _merged(block: Block, f: int, g: int, corners: tuple[int, ...]) -> Block:
    """The block with two patches in one. A vertex at which only their seam ended stays as a point
    of a straight side."""
    patches = tuple(
        replace(patch, corners=corners) if number == f else patch
        for number, patch in enumerate(block.patches)
        if number != g
    )
    used = {v for patch in patches for v in patch.corners}
    outline = tuple(v for v in block.outline if v in used)
    return replace(block, patches=patches, outline=outline, fixings=())
