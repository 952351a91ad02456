"""Pushing the outline of a patch outwards by its seam allowance."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from seamproof.length.exact import kept
from seamproof.plane.model import Point, Polygon


def offset(polygon: Sequence[Point], by: Fraction) -> Polygon:
    """The polygon with every side moved outwards by `by` inches, sides prolonged to meet.

    `polygon` is simple, its corners clockwise as seen. Corner k of the result belongs to corner k
    of the polygon; corners are mitred, however sharp: what the trade calls the long point is kept.
    Points at which the boundary runs straight on just move outwards. Sides along the axes, and
    sides whose length is a fraction, move exactly; the others to `FINEST`.

    A notch narrower than twice `by` is not looked for: the sides would cross there.
    Raises ValueError if two corners that follow each other are one.

    >>> o, one = Fraction(0), Fraction(1)
    >>> offset([(o, o), (one, o), (one, one), (o, one)], Fraction(1, 4))[0]
    (Fraction(-1, 4), Fraction(-1, 4))
    >>> legs = offset([(o, o), (one, o), (o, one)], Fraction(1, 4))
    >>> float(legs[1][0] - legs[0][0])  # 1 + (2 + root 2) / 4
    1.853553...
    >>> offset([(o, o), (one, o), (one, one), (o, one)], o)[2] == (one, one)
    True
    >>> offset([], Fraction(1, 4))
    ()
    """
    count = len(polygon)
    outward = [_outward(polygon[i], polygon[(i + 1) % count]) for i in range(count)]
    corners = []
    for i, (x, y) in enumerate(polygon):
        (ax, ay), (bx, by_) = outward[i - 1], outward[i]
        # The corner moves to x + by * m where m reaches one unit beyond both sides.
        determinant = ax * by_ - ay * bx
        if abs(determinant) < _STRAIGHT:
            mx, my = bx, by_
        else:
            mx, my = (by_ - ay) / determinant, (ax - bx) / determinant
        corners.append((kept(x + by * mx), kept(y + by * my)))
    return tuple(corners)


_STRAIGHT = Fraction(1, 10**9)
"""Sine of the bend below which a boundary runs straight on: at the largest block it would take the
end of a side a hair's breadth (2e-7 in) out of line."""


def _outward(a: Point, b: Point) -> tuple[Fraction, Fraction]:
    """The unit normal of the side a→b that points out of a clockwise polygon: left of the side."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    if dx == 0 and dy == 0:
        raise ValueError(f"two corners of a polygon are one: {a}")
    length = _root(dx * dx + dy * dy)
    return dy / length, -dx / length


def _root(square: Fraction) -> Fraction:
    """The root, exact if it is a fraction."""
    top, bottom = math.isqrt(square.numerator), math.isqrt(square.denominator)
    if top * top == square.numerator and bottom * bottom == square.denominator:
        return Fraction(top, bottom)
    return Fraction(math.sqrt(square))
