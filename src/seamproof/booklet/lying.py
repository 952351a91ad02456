"""How drawn, stitched and cut lines lie on the cloth, so that the right sentence can be chosen."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from seamproof.cutting.model import Step
from seamproof.drawing.scene import Stroke
from seamproof.figures.cloth import Coloured, seams, spots
from seamproof.length.rounding import SAME
from seamproof.plane.model import Line, Point
from seamproof.plane.predicates import distance, same_point, side

_NEAR = 16 * float(SAME)


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
    stitched = step.stitched[0]
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


def seam_pattern(patches: Sequence[Coloured], corners: Sequence[Point]) -> str:
    """How the seams of a unit lie: one "diagonal", a "crossing" in its middle, a "point" inside an
    edge, or "" for anything else."""
    lines = [s.points for s in seams(patches) if isinstance(s, Stroke)]
    outline = spots(corners)
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    middle = shapely.Point((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    reach = max(max(xs) - min(xs), max(ys) - min(ys))
    if len(outline) != 4:
        return ""
    found = [shapely.LineString(points) for points in lines]
    if len(patches) == 2 and len(found) == 1:
        slanted = all(abs(a - b) > 0.2 * reach for a, b in zip(*_ends(lines[0]), strict=True))
        return "diagonal" if slanted else ""
    if all(line.distance(middle) < 0.03 * reach for line in found) and len(patches) in (3, 4):
        return "crossing" if _slanted(lines) else ""
    if len(patches) == 3 and _slanted(lines):
        return "point"
    return ""


def _ends(points: Sequence[tuple[float, float]]) -> tuple[tuple[float, float], tuple[float, float]]:
    return points[0], points[-1]


def _slanted(lines: Sequence[Sequence[tuple[float, float]]]) -> bool:
    return all(
        abs(line[0][0] - line[-1][0]) > _NEAR and abs(line[0][1] - line[-1][1]) > _NEAR
        for line in lines
    )


def _away(p: Point, line: Line) -> float:
    (ax, ay), (bx, by) = line
    length = distance(*line)
    return float((bx - ax) * (p[1] - ay) - (by - ay) * (p[0] - ax)) / length
