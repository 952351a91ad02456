"""Rows of equal diamonds, or of other equal parallelograms, end to end."""

from __future__ import annotations

import itertools
from fractions import Fraction

from seamproof.length.exact import kept
from seamproof.plane.model import Polygon


def diamond_row(
    width: Fraction, height: Fraction, lean: Fraction, count: int
) -> tuple[Polygon, ...]:
    """The corners of each of `count` equal diamonds that lie one below the other, clockwise from
    the upper left, from the top down.

    The row has its upper left corner at (0, 0), is `width` wide and `height` high, and its lower
    side lies farther right than its upper one by `lean`, or farther left if that is negative.

    >>> F = Fraction
    >>> [[str(x) for x, _ in corners] for corners in diamond_row(F(2), F(4), F(4), 2)]
    [['0', '2', '4', '2'], ['2', '4', '6', '4']]
    >>> diamond_row(F(2), F(4), F(4), 0)
    ()
    """
    if count == 0:
        return ()
    lines = [(kept(lean * k / count), kept(height * k / count)) for k in range(count + 1)]
    return tuple(
        ((x, top), (x + width, top), (far + width, bottom), (far, bottom))
        for (x, top), (far, bottom) in itertools.pairwise(lines)
    )
