"""The only place that compares coordinates.

Coordinates are fractions: what lies on the drafting grid is compared exactly; what does not was
kept to `FINEST`, so two places are the same within `SAME`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from seamproof.length.exact import kept
from seamproof.length.rounding import SAME
from seamproof.plane.model import Point

_SAME = float(SAME)
_HALF, _QUARTER = Fraction(1, 2), Fraction(1, 4)


def cross(a: Point, b: Point, p: Point) -> Fraction:
    """Twice the area of triangle a, b, p: positive if p lies **right** of the line a→b as seen.

    >>> cross((0, 0), (1, 0), (0, 1)), cross((0, 0), (1, 0), (5, 0))
    (1, 0)
    """
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


def distance(a: Point, b: Point) -> float:
    """Distance of two points in inches."""
    return math.hypot(float(b[0] - a[0]), float(b[1] - a[1]))


def side(a: Point, b: Point, p: Point) -> int:
    """Where p lies from the line a→b as seen: 1 right, -1 left, 0 on it (within `SAME`).

    >>> side((0, 0), (4, 0), (2, 1)), side((0, 0), (4, 0), (2, -1)), side((0, 0), (4, 0), (9, 0))
    (1, -1, 0)
    """
    value = cross(a, b, p)
    if value == 0 or abs(float(value)) <= _SAME * distance(a, b):
        return 0
    return 1 if value > 0 else -1


def same_point(a: Point, b: Point) -> bool:
    """Whether two points are one, to within `SAME` in both directions."""
    return abs(float(a[0] - b[0])) <= _SAME and abs(float(a[1] - b[1])) <= _SAME


def same_length(a: float | Fraction, b: float | Fraction) -> bool:
    """Whether two lengths are equal, to within `SAME`."""
    return abs(Fraction(a) - Fraction(b)) <= SAME


def area(polygon: Sequence[Point]) -> Fraction:
    """Area of a simple polygon in square inches: positive if its corners run clockwise as seen.

    >>> area([(0, 0), (2, 0), (2, 1), (0, 1)]), area([(0, 0), (1, 1)])
    (Fraction(2, 1), Fraction(0, 1))
    """
    total = Fraction(0)
    for (x0, y0), (x1, y1) in zip(polygon, [*polygon[1:], *polygon[:1]], strict=True):
        total += x0 * y1 - x1 * y0
    return total / 2


def corners_only(polygon: Sequence[Point]) -> tuple[Point, ...]:
    """The polygon without the points at which its boundary runs straight on.

    >>> corners_only([(0, 0), (1, 0), (2, 0), (2, 2), (0, 2)])
    ((0, 0), (2, 0), (2, 2), (0, 2))
    """
    count = len(polygon)
    return tuple(
        p
        for i, p in enumerate(polygon)
        if side(polygon[i - 1], polygon[(i + 1) % count], p) != 0
        or _folds_back(polygon[i - 1], p, polygon[(i + 1) % count])
    )


def _folds_back(before: Point, p: Point, after: Point) -> bool:
    ahead = (p[0] - before[0]) * (after[0] - p[0]) + (p[1] - before[1]) * (after[1] - p[1])
    return ahead < 0


def turned(point: Point, turn: Fraction) -> Point:
    """`point` turned round the origin by a share of a full turn, clockwise as seen.

    Quarter turns are exact; other results are kept to `FINEST`.

    >>> turned((Fraction(1), Fraction(0)), Fraction(1, 4))
    (Fraction(0, 1), Fraction(1, 1))
    """
    x, y = point
    if not turn:
        return point
    if turn == _HALF:
        return (-x, -y)
    if turn == _QUARTER:
        return (-y, x)
    if turn == 1 - _QUARTER:
        return (y, -x)
    angle = 2 * math.pi * float(turn)
    c, s = math.cos(angle), math.sin(angle)
    u, v = float(x), float(y)
    return (kept(u * c - v * s), kept(u * s + v * c))


def placed(point: Point, turn: Fraction, at: Point) -> Point:
    """`point` of a part's own frame, where it lies once the part is turned and moved to `at`."""
    x, y = turned(point, turn)
    return (x + at[0], y + at[1])


def reading_order(points: Sequence[Point]) -> list[int]:
    """Indices of points from the top down, and from left to right where they are level (within
    `SAME` of the one before), so that the last digits of a coordinate do not decide.

    >>> reading_order([(2, 1), (1, Fraction(1, 2**20) + 1), (0, 0)])
    [2, 1, 0]
    >>> reading_order([])
    []
    """
    rows: list[list[int]] = []
    for i in sorted(range(len(points)), key=lambda i: points[i][1]):
        if rows and points[i][1] - points[rows[-1][-1]][1] <= SAME:
            rows[-1].append(i)
        else:
            rows.append([i])
    return [i for row in rows for i in sorted(row, key=lambda i: points[i])]


def box(points: Sequence[Point]) -> tuple[Point, Point]:
    """Upper left and lower right corner of the smallest upright rectangle round the points.

    >>> box([(1, 5), (3, 2)])
    ((1, 2), (3, 5))
    """
    xs = [p[0] for p in points]
    ys = [p[1] for p in points]
    return (min(xs), min(ys)), (max(xs), max(ys))
