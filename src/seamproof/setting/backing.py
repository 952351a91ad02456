"""Backing and batting: how large, and how the backing is sewn from lengths of cloth."""

from __future__ import annotations

import math
from fractions import Fraction

from seamproof.length.rounding import up
from seamproof.plane.model import Point
from seamproof.setting.model import Backing, BackingAsked, Batting, Panels

YARD = Fraction(36)

PACKAGES: tuple[tuple[str, Fraction, Fraction], ...] = (
    ("craft", Fraction(34), Fraction(45)),
    ("crib", Fraction(45), Fraction(60)),
    ("twin", Fraction(72), Fraction(90)),
    ("full", Fraction(81), Fraction(96)),
    ("queen", Fraction(90), Fraction(108)),
    ("king", Fraction(120), Fraction(120)),
)
"""Packages of batting by their usual sizes in inches (trade tables, batting_pkg and bed_sizes;
makers differ for full and king, where the smaller one is taken)."""


def panels(
    along: Fraction, over: Fraction, usable: Fraction, seam: Fraction, step: Fraction
) -> Panels:
    """Lengths of cloth, each `along` long, sewn side by side until they cover `over`.

    Each seam between two of them takes twice `seam`. `step` is what cloth is sold by, in inches.

    >>> made = panels(Fraction(65), Fraction(78), Fraction(42), Fraction(1, 2), Fraction(9, 2))
    >>> made.count, int(made.yardage), str(made.buy)
    (2, 130, '261/2')
    """
    count = max(1, math.ceil((over - 2 * seam) / (usable - 2 * seam)))
    yardage = count * along
    return Panels(
        count=count,
        length=along,
        width=count * usable - (count - 1) * 2 * seam,
        yardage=yardage,
        buy=math.ceil(yardage / step) * step,
    )


def backing_for(
    top: Point, asked: BackingAsked, usable: Fraction, step: Fraction, ruler: Fraction
) -> Backing:
    """The backing of a finished top: its size with the margin on every side, up to the next mark of
    the ruler, and both ways. `step` is what cloth is sold by."""
    width, height = (up(side + 2 * asked.margin, ruler) for side in top)
    return Backing(
        fabric=asked.fabric,
        width=width,
        height=height,
        usable=usable,
        margin=asked.margin,
        seam=asked.seam,
        across=panels(width, height, usable, asked.seam, step),
        lengthwise=panels(height, width, usable, asked.seam, step),
    )


def batting_for(top: Point, margin: Fraction, whole: Fraction = Fraction(1)) -> Batting:
    """The batting of a finished top, its size taken up to a `whole` inch or centimetre, and the
    smallest package that holds it, either way round.

    >>> made = batting_for((Fraction(44), Fraction(58)), Fraction(4))
    >>> int(made.width), int(made.height), made.package
    (52, 66, 'twin')
    """
    width, height = (up(side, whole) + 2 * margin for side in top)
    short, long = sorted((width, height))
    package = next(
        (name for name, a, b in PACKAGES if min(a, b) >= short and max(a, b) >= long), None
    )
    return Batting(width, height, package)
