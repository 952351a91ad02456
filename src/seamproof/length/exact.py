"""Exact lengths: a `Fraction` of an inch. One inch is 2.54 cm by definition (ISO 80000-3)."""

from __future__ import annotations

from fractions import Fraction

CM = Fraction(50, 127)
"""One centimetre in inches, exactly 1/2.54."""

FINEST = Fraction(1, 2**20)
"""Lengths that lie on no grid (a side of an eight-pointed star) are kept to the nearest multiple
of this, in inches: 25 nanometres, far below a thread and exact in binary floating point."""

MAX_DENOMINATOR = 960 * 127
"""A fraction with a denominator up to this stays as it was written. 960 = 64 x 15 holds every
ruler division and thirds, fifths and fifteenths of it; 127 brings in centimetres."""


def kept(value: Fraction | float | int) -> Fraction:
    """`value` as it is kept: unchanged if it lies on a drafting grid, else to the nearest `FINEST`.

    >>> kept(Fraction(27, 8)), kept(Fraction(1, 3)), kept(0)
    (Fraction(27, 8), Fraction(1, 3), Fraction(0, 1))
    >>> kept(2 ** 0.5)
    Fraction(741455, 524288)
    >>> kept(Fraction(75, 100) * CM) == Fraction(75, 254)
    True
    """
    exact = Fraction(value)
    if exact.denominator <= MAX_DENOMINATOR:
        return exact
    return Fraction(round(exact / FINEST)) * FINEST
