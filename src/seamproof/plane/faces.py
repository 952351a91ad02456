"""Faces of a drawing of lines: the loops round which one can walk."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from fractions import Fraction

from seamproof.plane.model import Line, Point
from seamproof.plane.predicates import cross


def crossing(one: Line, other: Line) -> Point | None:
    """The one point that two lines share, ends included; None if they miss or run along each other.

    >>> o, one, two = Fraction(0), Fraction(1), Fraction(2)
    >>> crossing(((o, o), (two, two)), ((o, two), (two, o)))
    (Fraction(1, 1), Fraction(1, 1))
    >>> crossing(((o, o), (two, o)), ((one, o), (two, o))) is None
    True
    """
    (a, b), (c, d) = one, other
    from_c, from_d = cross(a, b, c), cross(a, b, d)
    from_a, from_b = cross(c, d, a), cross(c, d, b)
    if from_c == from_d or from_c * from_d > 0 or from_a * from_b > 0:
        return None
    share = from_c / (from_c - from_d)
    return (c[0] + share * (d[0] - c[0]), c[1] + share * (d[1] - c[1]))


def clipped(line: Line, size: Point) -> Line | None:
    """The stretch of a line inside the box from (0, 0) to `size`; None if there is none.

    >>> F = Fraction
    >>> clipped(((F(-1), F(1)), (F(9), F(1))), (F(4), F(4)))
    ((Fraction(0, 1), Fraction(1, 1)), (Fraction(4, 1), Fraction(1, 1)))
    >>> clipped(((F(5), F(0)), (F(5), F(4))), (F(4), F(4))) is None
    True
    """
    (ax, ay), (bx, by) = line
    dx, dy = bx - ax, by - ay
    low, high = Fraction(0), Fraction(1)
    for step, room in ((-dx, ax), (dx, size[0] - ax), (-dy, ay), (dy, size[1] - ay)):
        if step == 0:
            if room < 0:
                return None
        elif step < 0:
            low = max(low, room / step)
        else:
            high = min(high, room / step)
    if low >= high:
        return None
    return ((ax + low * dx, ay + low * dy), (ax + high * dx, ay + high * dy))


def faces(vertices: Sequence[Point], sides: Iterable[tuple[int, int]]) -> list[tuple[int, ...]]:
    """The loops of a plane drawing whose sides meet only at vertices, each walked with its face on
    the right: clockwise as seen, and anticlockwise for the outside of each connected part.

    >>> square = [(0, 0), (1, 0), (1, 1), (0, 1)]
    >>> faces(square, [(0, 1), (1, 2), (2, 3), (0, 3), (0, 2)])
    [(0, 1, 2), (0, 2, 3), (0, 3, 2, 1)]
    >>> faces([], [])
    []
    """
    spokes: dict[int, list[int]] = {}
    for a, b in sorted({(min(s), max(s)) for s in sides}):
        spokes.setdefault(a, []).append(b)
        spokes.setdefault(b, []).append(a)
    ahead: dict[tuple[int, int], tuple[int, int]] = {}
    for v, ends in spokes.items():
        x, y = vertices[v]
        # With y downwards the angle grows clockwise as seen.
        ends.sort(key=lambda w: math.atan2(float(vertices[w][1] - y), float(vertices[w][0] - x)))
        for i, w in enumerate(ends):
            ahead[(w, v)] = (v, ends[i - 1])
    loops: list[tuple[int, ...]] = []
    left = dict.fromkeys(sorted(ahead))
    while left:
        dart = next(iter(left))
        loop = []
        while dart in left:
            del left[dart]
            loop.append(dart[0])
            dart = ahead[dart]
        loops.append(tuple(loop))
    return loops
