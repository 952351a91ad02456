"""What happens to cloth on the table: laid, turned over, stitched, cut apart, opened."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from fractions import Fraction

import shapely
from shapely.geometry import Polygon as Shape

from seamproof.length.exact import MAX_DENOMINATOR, kept
from seamproof.length.rounding import SAME
from seamproof.plane.model import Line, Point, Polygon
from seamproof.plane.predicates import area, corners_only, distance, same_point, side

ROOT2 = math.sqrt(2)

_GRID = 1e-11
"""What was computed with floats and lies this near to a number of the drafting grid is that number:
ten times the error of such a computation, and less than the grid's own fineness."""


_WELD = 2.0**-30
"""Inches; outlines that share a side but for the last digits of a float are joined on a grid as
fine as this, a thousandth of what a coordinate is kept to."""


def exact(value: float) -> Fraction:
    """A length that was computed with floats, as it is kept.

    >>> exact(0.1 + 0.2), exact(1 / 3)
    (Fraction(3, 10), Fraction(1, 3))
    >>> exact(2 ** 0.5) == kept(2 ** 0.5)
    True
    """
    near = Fraction(value).limit_denominator(MAX_DENOMINATOR)
    return near if abs(float(near) - value) <= _GRID else kept(value)


def rectangle(left: Fraction, top: Fraction, width: Fraction, height: Fraction) -> Polygon:
    """Four corners, clockwise from the upper left one."""
    right, bottom = left + width, top + height
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def face_down(corners: Sequence[Point]) -> Polygon:
    """The corners of a thing as listed when it lies face down in the same place: the other way
    round, beginning with the same corner.

    >>> face_down((1, 2, 3))
    (1, 3, 2)
    """
    return (corners[0], *reversed(corners[1:]))


def mirrored(point: Point, line: Line) -> Point:
    """A point turned over a line, exactly where the line runs along an axis or at 45 degrees.

    >>> o, one = Fraction(0), Fraction(1)
    >>> mirrored((2 * one, o), ((o, o), (one, one)))
    (Fraction(0, 1), Fraction(2, 1))
    """
    (ax, ay), (bx, by) = line
    dx, dy = bx - ax, by - ay
    share = ((point[0] - ax) * dx + (point[1] - ay) * dy) / (dx * dx + dy * dy)
    foot = (ax + share * dx, ay + share * dy)
    return (kept(2 * foot[0] - point[0]), kept(2 * foot[1] - point[1]))


def turned_over(corners: Sequence[Point], line: Line) -> Polygon:
    """A thing that lies face up, turned over a line: face down, listed as `face_down` says."""
    return face_down([mirrored(p, line) for p in corners])


def opened(
    first: Polygon,
    seconds: Iterable[Polygon],
    stitched: Line,
    *,
    cuts: Iterable[Line] = (),
    ears: Iterable[Line] = (),
    whole: bool = False,
) -> Polygon:
    """What a sewn part shows when it is opened: the first thing where it lay, the others turned
    over the stitching.

    `cuts` bound the part; what lies beyond them, seen from the stitching, belongs to other parts.
    The allowance, on the smaller side of the stitching, is out of sight under the other thing; but
    what of it sticks out there beyond (right of) one of the lines `ears` is part of the outline,
    and of a `whole` part all of it: things of unlike size leave more than dog ears.

    >>> c, o, d = Fraction(4), Fraction(0), Fraction(1, 2)
    >>> square = rectangle(o, o, c, c)
    >>> opened(square, [square], ((o, c - d), (c - d, o)), cuts=[((o, c), (c, o))])[0]
    (Fraction(0, 1), Fraction(0, 1))
    """
    lower = _shape(first)
    uppers = [_shape(second) for second in seconds]
    middle = ((stitched[0][0] + stitched[1][0]) / 2, (stitched[0][1] + stitched[1][1]) / 2)
    for cut in cuts:
        lower = _beside(lower, cut, side(*cut, middle))
        uppers = [_beside(upper, cut, side(*cut, middle)) for upper in uppers]
    right, left = _beside(lower, stitched, 1), _beside(lower, stitched, -1)
    which = 1 if right.area > left.area else -1
    shown = [lower if whole else right if which == 1 else left]
    for upper in uppers:
        if whole:
            shown.append(_over(upper, stitched))
        seen = _beside(upper, stitched, which)
        if seen.area > 0:
            shown.append(_over(seen, stitched))
        allowance = _over(_beside(upper, stitched, -which), stitched)
        shown += [_beside(allowance, ear, 1) for ear in ears]
    known = [(exact(x), exact(y)) for part in shown for x, y in part.exterior.coords]
    return polygon_of(_welded(shown), known)


def within(outer: Polygon, inner: Polygon) -> Polygon:
    """What two outlines have in common, as one polygon; () if that is nothing."""
    common = _shape(outer).intersection(_shape(inner))
    if common.geom_type != "Polygon" or common.area <= float(SAME):
        return ()
    return polygon_of(common, [*outer, *inner])


def beside(corners: Polygon, line: Line, which: int) -> Polygon:
    """The part of a thing that lies right (1) or left (-1) of a line."""
    return polygon_of(_beside(_shape(corners), line, which), corners)


def chord(corners: Polygon, line: Line) -> tuple[Fraction, Fraction] | None:
    """Where an endless line runs through a thing: its first and last point on it, as shares of the
    way from the line's first point to its second. None if it misses.

    >>> square = rectangle(Fraction(0), Fraction(0), Fraction(2), Fraction(2))
    >>> chord(square, ((Fraction(0), Fraction(1)), (Fraction(1), Fraction(1))))
    (Fraction(0, 1), Fraction(2, 1))
    """
    (ax, ay), (bx, by) = line
    dx, dy = bx - ax, by - ay
    found = []
    for p, q in zip(corners, (*corners[1:], corners[0]), strict=True):
        at_p = dx * (p[1] - ay) - dy * (p[0] - ax)
        at_q = dx * (q[1] - ay) - dy * (q[0] - ax)
        if (at_p > 0) == (at_q > 0) and at_p != 0 and at_q != 0:
            continue
        if at_p == at_q:
            continue
        share = at_p / (at_p - at_q)
        x, y = p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])
        found.append(((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy))
    return (min(found), max(found)) if found else None


def along(line: Line, share: Fraction) -> Point:
    """The point at a share of the way from the line's first point to its second."""
    (ax, ay), (bx, by) = line
    return (kept(ax + share * (bx - ax)), kept(ay + share * (by - ay)))


def sewn_run(first: Polygon, second: Polygon, line: Line) -> Line:
    """The stitching along a line from raw edge to raw edge, as far as both things lie under it."""
    one, two = chord(first, line), chord(second, line)
    if one is None or two is None:
        return line
    return along(line, max(one[0], two[0])), along(line, min(one[1], two[1]))


def moved(line: Line, by: Fraction) -> Line:
    """The line moved sideways, to its left as seen if `by` is positive."""
    (ax, ay), (bx, by_) = line
    length = distance(*line)
    nx, ny = float(by_ - ay) / length, -float(bx - ax) / length
    dx, dy = exact(float(by) * nx), exact(float(by) * ny)
    return (ax + dx, ay + dy), (bx + dx, by_ + dy)


def polygon_of(shape: Shape, known: Iterable[Point]) -> Polygon:
    """A computed outline, clockwise as seen from the upper left corner on, with known corners
    exactly where they were."""
    if shape.geom_type == "MultiPolygon":
        shape = max(shape.geoms, key=lambda part: part.area)  # but for crumbs of the welding
    places = list(known)
    points = []
    for x, y in list(shape.exterior.coords)[:-1]:
        near = (p for p in places if abs(float(p[0]) - x) + abs(float(p[1]) - y) <= 4 * _WELD)
        points.append(next(near, (exact(x), exact(y))))
    # What floats tore apart by a hair is one corner.
    apart = [p for i, p in enumerate(points) if not same_point(p, points[i - 1])]
    corners = corners_only(apart)
    if area(corners) < 0:
        corners = corners[::-1]
    start = min(range(len(corners)), key=lambda i: (sum(corners[i]), corners[i]))
    return corners[start:] + corners[:start]


def _welded(shapes: Sequence[Shape]) -> Shape:
    """The union of outlines that share sides. Where a slanted side is shared in part only, floats
    may leave a gap along it: then everything is made a hair larger for the union."""
    union = shapely.union_all(shapes, grid_size=_WELD)
    if union.geom_type == "Polygon":
        return union
    larger = [shape.buffer(_HAIR, join_style="mitre") for shape in shapes]
    return shapely.union_all(larger).buffer(-_HAIR, join_style="mitre")


_HAIR = 2.0**-26
"""Inches: sixteen welds, and a sixty-fourth of what a coordinate is kept to."""


def _shape(corners: Sequence[Point]) -> Shape:
    return Shape([(float(x), float(y)) for x, y in corners])


def _beside(shape: Shape, line: Line, which: int) -> Shape:
    """The part right (1) or left (-1) of an endless line, as seen."""
    (ax, ay), (bx, by) = ((float(x), float(y)) for x, y in line)
    if shape.is_empty:
        return shape
    length = math.hypot(bx - ax, by - ay)
    ux, uy = (bx - ax) / length, (by - ay) / length
    left, top, right_, bottom = shape.bounds
    far = 2 * (math.hypot(right_ - left, bottom - top) + math.hypot(left - ax, top - ay) + length)
    # Right of a direction, with y downwards, is a quarter turn clockwise: (-uy, ux).
    rx, ry = -uy * which * far, ux * which * far
    a = (ax - ux * far, ay - uy * far)
    b = (ax + ux * far, ay + uy * far)
    half = Shape([a, b, (b[0] + rx, b[1] + ry), (a[0] + rx, a[1] + ry)])
    return shape.intersection(half)


def _over(shape: Shape, line: Line) -> Shape:
    (ax, ay), (bx, by) = ((float(x), float(y)) for x, y in line)
    dx, dy = bx - ax, by - ay
    square = dx * dx + dy * dy
    turned = []
    for x, y in shape.exterior.coords:
        share = ((x - ax) * dx + (y - ay) * dy) / square
        turned.append((2 * (ax + share * dx) - x, 2 * (ay + share * dy) - y))
    return Shape(turned)
