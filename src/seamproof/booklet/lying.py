"""How drawn, stitched and cut lines lie on the cloth, so that the right sentence can be chosen."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import shapely

from seamproof.cutting.model import Piece, Step
from seamproof.drawing.scene import Stroke
from seamproof.figures.cloth import Coloured, seams, spots
from seamproof.length.rounding import SAME
from seamproof.plane.model import Line, Point
from seamproof.plane.predicates import area, box, distance, same_length, same_point, side

_NEAR = 16 * float(SAME)
_CRUMB = 0.01  # square inches: what a rounding leaves of a patch at the edge of a unit


def shape_of(piece: Piece) -> str:
    """What lies on the table of a piece: a square that was split is a triangle by then, and what
    was cut round a template is just a piece."""
    if piece.shape == "template":
        return "piece"
    return piece.shape if piece.split == "whole" else "triangle"


def is_upright(corners: Sequence[Point]) -> bool:
    """Whether an outline is a rectangle whose sides are level and upright.

    >>> is_upright([(0, 0), (4, 0), (4, 2), (0, 2)]), is_upright([(0, 0), (4, 0), (0, 2)])
    (True, False)
    """
    low, high = box(corners)
    filled = (high[0] - low[0]) * (high[1] - low[1])
    return same_length(abs(area(corners)), filled)


def is_diagonal(line: Line, corners: Sequence[Point]) -> bool:
    """Whether a line runs from a corner to a corner that is no neighbour.

    >>> square = [(0, 0), (4, 0), (4, 4), (0, 4)]
    >>> is_diagonal(((0, 0), (4, 4)), square), is_diagonal(((0, 0), (4, 0)), square)
    (True, False)
    """
    found = [i for end in line for i, corner in enumerate(corners) if same_point(end, corner)]
    return len(found) == 2 and (found[0] - found[1]) % len(corners) not in (0, 1, len(corners) - 1)


def same_line(one: Line, other: Line) -> bool:
    """Whether two runs lie on one straight line."""
    return all(side(*one, end) == 0 for end in other)


def stitching_side(step: Step) -> str:
    """Where the stitching runs: "on" the drawn lines, on "both" sides of each, on "one" side, or
    "" if nothing is drawn."""
    if not step.drawn:
        return ""
    if all(any(same_line(d, s) for d in step.drawn) for s in step.stitched):
        return "on"
    sides = {side(*step.drawn[0], s[0]) for s in step.stitched}
    return "both" if sides >= {1, -1} else "one"


def edge_kind(step: Step) -> str:
    """Which edge of the upper piece is sewn: "long", "short", or "" if its edges are alike."""
    corners = step.takes[-1].corners
    stitched = step.stitched[-1]
    lengths = [distance(a, b) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)]
    nearest = min(
        range(len(corners)),
        key=lambda i: (
            abs(_away(corners[i], stitched)) + abs(_away(corners[i - len(corners) + 1], stitched))
        ),
    )
    if max(lengths) - min(lengths) < _NEAR:
        return ""
    return "long" if lengths[nearest] > (max(lengths) + min(lengths)) / 2 else "short"


def tip_beyond(step: Step) -> float:
    """How far, along the stitching, the upper piece sticks out beyond the lower one."""
    (ax, ay), (bx, by) = step.stitched[0]
    length = distance(*step.stitched[0])
    ends = [
        max(float((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length for x, y in stock.corners)
        for stock in step.takes[:2]
    ]
    return abs(ends[1] - ends[0])


def step_on(step: Step) -> float:
    """How much farther along than the strip that it is sewn to a strip begins."""
    (lower, upper) = ([x for x, _ in stock.corners] for stock in step.takes)
    ends = (max(upper) - max(lower), min(upper) - min(lower))
    return min(abs(float(by)) for by in ends)


def slant(line: Line) -> int:
    """The angle between a line and a level one, in whole degrees from 0 to 90.

    >>> slant(((0, 0), (2, 2))), slant(((0, 2), (2, 0))), slant(((1, 0), (1, 2)))
    (45, 45, 90)
    """
    (ax, ay), (bx, by) = line
    return round(math.degrees(math.atan2(abs(by - ay), abs(bx - ax))))


def apart(one: Line, other: Line) -> float:
    """How far from a line the other one begins.

    >>> apart(((0, 0), (0, 2)), ((3, 0), (3, 2)))
    3.0
    """
    return abs(_away(other[0], one))


def seam_pattern(patches: Sequence[Coloured], corners: Sequence[Point]) -> str:
    """How the seams of a unit with four corners lie: one "diagonal", a "crossing" in its middle, a
    "point" inside an edge, or "" for anything else."""
    patches = [patch for patch in patches if shapely.Polygon(patch.corners).area > _CRUMB]
    if len(corners) != 4:
        return ""
    runs = [
        run
        for stroke in seams(patches)
        if isinstance(stroke, Stroke)
        for run in itertools.pairwise(stroke.points)
    ]
    # Above the point of a goose the two outer patches meet on a run as short as the allowance.
    longest = max((math.dist(*run) for run in runs), default=0.0)
    runs = [run for run in runs if math.dist(*run) > longest / 3]
    outline = spots(corners)
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    middle = shapely.Point((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    reach = max(max(xs) - min(xs), max(ys) - min(ys))
    if any(min(abs(ax - bx), abs(ay - by)) < 0.1 * reach for (ax, ay), (bx, by) in runs):
        return ""
    near = [shapely.LineString(run).distance(middle) < 0.03 * reach for run in runs]
    if len(patches) == 2:
        return "diagonal"
    if len(patches) in (3, 4) and all(near):
        return "crossing"
    return "point" if len(patches) == 3 else ""


def _away(p: Point, line: Line) -> float:
    (ax, ay), (bx, by) = line
    length = distance(*line)
    return float((bx - ax) * (p[1] - ay) - (by - ay) * (p[0] - ax)) / length
