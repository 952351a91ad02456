"""Binding: strips across the cloth, or one continuous bias strip with its true loss."""

from __future__ import annotations

import math
from fractions import Fraction

from seamproof.length.rounding import up
from seamproof.plane.model import Point
from seamproof.setting.model import Binding, BindingAsked


def way_round(top: Point) -> Fraction:
    """Once round the quilt. A mitred corner takes no more than that: the fold lies over itself."""
    return 2 * (top[0] + top[1])


def strips_for(length: Fraction, usable: Fraction, width: Fraction) -> int:
    """Strips across the cloth for a binding. Joined on the slant, each join costs the strip's
    width, the one that closes the ring too.

    >>> strips_for(Fraction(220), Fraction(40), Fraction(2))
    6
    """
    return math.ceil(length / (usable - width))


def bias_by_area(square: Fraction, width: Fraction, seam: Fraction) -> float:
    """Inches of continuous bias by area: two seams take an allowance on each side.

    >>> round(bias_by_area(Fraction(20), Fraction(2), Fraction(1, 4)))
    190
    """
    return float((square - 2 * seam) ** 2 / width)


def bias_turns(square: Fraction, width: Fraction, seam: Fraction) -> int:
    """Whole turns of continuous bias: strips that lie side by side between the slanted edges of the
    tube, (square - 2 seams)/√2 apart. What is left beside the last one is no strip."""
    return int(float(square - 2 * seam) / math.sqrt(2) / float(width) + 1e-9)


def bias_makes(square: Fraction, width: Fraction, seam: Fraction) -> float:
    """Inches of continuous bias that really come out of a square: whole turns, each as long as the
    tube is round.

    >>> round(bias_makes(Fraction(20), Fraction(2), Fraction(1, 4)), 1)
    165.5
    """
    return bias_turns(square, width, seam) * float(square - 2 * seam) * math.sqrt(2)


def bias_square_by_area(length: Fraction, width: Fraction) -> float:
    """The side of the square that has the area of the binding: the usual rule, which forgets both
    seams and the strip that does not come out.

    >>> round(bias_square_by_area(Fraction(244), Fraction(5, 2)), 1)
    24.7
    """
    return math.sqrt(length * width)


def bias_square(length: Fraction, width: Fraction, seam: Fraction, step: Fraction) -> Fraction:
    """The smallest square on the ruler's marks that gives so much continuous bias."""
    side = math.ceil(Fraction(bias_square_by_area(length, width)) / step) * step
    while bias_makes(side, width, seam) < length:
        side += step
    return side


def binding_for(
    top: Point, asked: BindingAsked, usable: Fraction, seam: Fraction, step: Fraction
) -> Binding:
    """The binding of a finished top."""
    around = up(way_round(top), step)
    length = around + asked.extra
    if asked.way == "bias":
        side = bias_square(length, asked.width, seam, step)
        return Binding(
            fabric=asked.fabric,
            way="bias",
            width=asked.width,
            round=around,
            length=length,
            strips=bias_turns(side, asked.width, seam),
            makes=bias_makes(side, asked.width, seam),
            buy=side,
            square=side,
            by_area=bias_by_area(side, asked.width, seam),
        )
    count = strips_for(length, usable, asked.width)
    return Binding(
        fabric=asked.fabric,
        way="cross-grain",
        width=asked.width,
        round=around,
        length=length,
        strips=count,
        makes=float(count * (usable - asked.width)),
        buy=count * asked.width,
    )
