"""A drawing as the page has it: seams from end to end and a fabric for a point in each patch.

Whatever way a block file draws a block, the page sees lines: those typed, or for cells and patches
the longest straight runs of what was understood. Lengths are exact fractions of an inch here and
text in the project's measure on the way.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import shapely

from seamproof.draft.faults import spot_in
from seamproof.draft.model import Block, Drawing, Fixing, Seams
from seamproof.length.exact import MAX_DENOMINATOR
from seamproof.length.rounding import SAME
from seamproof.plane.model import Line, Point
from seamproof.plane.predicates import cross, distance
from seamproof.project.writing import TYPED_PLACES

FINEST_GRID = 64
"""Grid cells along a side that are looked for: what nobody would count lies on no grid."""


@dataclass(frozen=True, slots=True)
class Sketch:
    """Seams and fabrics of a rectangle; (0, 0) is its upper left corner, y runs down, inches."""

    name: str
    size: Point
    seams: tuple[Line, ...]
    patches: tuple[tuple[Point, str], ...]
    fixings: tuple[Fixing, ...] = ()
    rows: bool = False


def sketch_of(drawing: Drawing, block: Block | None) -> Sketch | str:
    """The drawing as the page draws it; or, in a sentence, why the page cannot. `block` is what
    was understood of it."""
    rows = "rows" in drawing.order
    if isinstance(drawing.drawn, Seams):
        return Sketch(
            drawing.name,
            drawing.finished,
            tuple(seam.line for seam in drawing.drawn.seams),
            tuple((fabric.at, fabric.fabric) for fabric in drawing.drawn.fabrics),
            drawing.fixings,
            rows,
        )
    if block is None:
        return "What the file says is no whole drawing: mend it in the file first."
    if not _is_rectangle(block):
        return "The page draws rectangles, and this block has another outline."
    return Sketch(
        drawing.name,
        drawing.finished,
        tuple((_typed(a), _typed(b)) for a, b in straight_runs(block)),
        tuple((inside(block.corners_of(patch)), patch.fabric) for patch in block.patches),
        drawing.fixings,
        rows,
    )


def straight_runs(block: Block) -> list[Line]:
    """The seams of a block, each as long as it runs straight on; from the top down."""
    counts: dict[tuple[int, int], int] = {}
    for patch in block.patches:
        for a, b in zip(patch.corners, (*patch.corners[1:], patch.corners[0]), strict=True):
            counts[min(a, b), max(a, b)] = counts.get((min(a, b), max(a, b)), 0) + 1
    sides = {side for side, count in counts.items() if count == 2}
    beside: dict[int, list[int]] = {}
    for a, b in sorted(sides):
        beside.setdefault(a, []).append(b)
        beside.setdefault(b, []).append(a)
    runs = []
    while sides:
        a, b = min(sides)
        ends = [_run_on(block.vertices, beside, sides, *way) for way in ((a, b), (b, a))]
        sides.discard((a, b))
        runs.append((min(ends), max(ends)))
    return [(block.vertices[a], block.vertices[b]) for a, b in sorted(runs)]


def _run_on(
    vertices: Sequence[Point],
    beside: dict[int, list[int]],
    sides: set[tuple[int, int]],
    start: int,
    here: int,
) -> int:
    """The vertex that one comes to by going straight on from `here`; takes the sides it walks."""
    before = start
    while True:
        onward = [
            v
            for v in beside[here]
            if (min(here, v), max(here, v)) in sides
            and v != before
            and _straight(vertices[start], vertices[here], vertices[v])
        ]
        if not onward:
            return here
        sides.discard((min(here, onward[0]), max(here, onward[0])))
        before, here = here, onward[0]


def _straight(a: Point, b: Point, c: Point) -> bool:
    length = distance(a, b)
    off = abs(float(cross(a, b, c))) / length if length else math.inf
    onward = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return off <= float(SAME) and onward > 0


def inside(corners: Sequence[Point]) -> Point:
    """A point well inside a patch: its middle if that lies in it.

    >>> inside([(Fraction(0), Fraction(0)), (Fraction(4), Fraction(0)), (Fraction(4), Fraction(4))])
    (Fraction(8, 3), Fraction(4, 3))
    """
    shape = shapely.Polygon([(float(x), float(y)) for x, y in corners])
    middle = shape.centroid
    if shape.contains(middle):
        # Exact, so that it does not depend on how the patch is turned.
        return _typed(_centroid(corners))
    return spot_in(shape)


def _centroid(corners: Sequence[Point]) -> Point:
    twice = x = y = Fraction(0)
    for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]), strict=True):
        part = ax * by - bx * ay
        twice += part
        x += (ax + bx) * part
        y += (ay + by) * part
    return (x / (3 * twice), y / (3 * twice))


def _typed(point: Point) -> Point:
    """The point as somebody would type it."""
    x, y = (v if v.denominator <= MAX_DENOMINATOR else round(v, TYPED_PLACES) for v in point)
    return x, y


def _is_rectangle(block: Block) -> bool:
    return all(
        x in (0, block.width) or y in (0, block.height)
        for x, y in (block.vertices[v] for v in block.outline)
    ) and {(x, y) for x in (0, block.width) for y in (0, block.height)} <= {
        block.vertices[v] for v in block.outline
    }


def grid_of(sketch: Sketch) -> tuple[int, int] | None:
    """The fewest columns and rows of equal cells on whose corners all seams end; None if there is
    no such grid that one could count.

    >>> line = ((Fraction(3), Fraction(0)), (Fraction(3), Fraction(6)))
    >>> grid_of(Sketch("Two", (Fraction(6), Fraction(6)), (line,), ()))
    (2, 1)
    """
    counts = []
    for axis in (0, 1):
        shares = [point[axis] / sketch.size[axis] for line in sketch.seams for point in line]
        count = math.lcm(*(share.denominator for share in shares)) if shares else 1
        counts.append(count)
    if max(counts) > FINEST_GRID:
        return None
    return counts[0], counts[1]
