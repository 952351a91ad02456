"""Rounding to the marks of a ruler, and the two faces of a cut size: what is needed, what is cut.

Three classes of rounding, so that nothing is made larger or smaller in silence:

- *on the ruler*: the size lies on a mark. Nothing to round.
- *trimmed*: the piece is trimmed to its exact size after sewing, so it may be rounded up.
- *as cut*: sewn as it is cut, and off the ruler. Taken to the nearest mark, and said so.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from seamproof.length.exact import CM

Rounding = Literal["on the ruler", "trimmed", "as cut"]

INCH_STEP = Fraction(1, 8)
"""The marks of an inch ruler that everybody has (common practice, no source)."""

METRIC_STEP = CM / 4
"""The marks of a metric quilting ruler, 0.25 cm (common practice, no source)."""

SAME = Fraction(1, 2**16)
"""Two lengths are the same if they differ by no more than this, in inches: 0.4 micrometres, a
thousandth of a thread, and sixteen times the rounding of a coordinate (`FINEST`)."""


@dataclass(frozen=True, slots=True)
class Size:
    """A size to cut: `need` is what the geometry asks for, `ruler` the mark to cut at, in inches.

    `ruler` is at least `need` for pieces that are trimmed afterwards.
    """

    ruler: Fraction
    need: float

    @property
    def surplus(self) -> float:
        """How much wider the cut is than the geometry asks for; negative if it is short."""
        return float(self.ruler) - self.need


def on_ruler(length: Fraction, step: Fraction = INCH_STEP) -> bool:
    """Whether `length` lies on a mark, to within `SAME`.

    >>> on_ruler(Fraction(27, 8)), on_ruler(Fraction(12, 5)), on_ruler(Fraction(0))
    (True, False, True)
    """
    return abs(nearest(length, step) - length) <= SAME


def up(length: Fraction | float, step: Fraction = INCH_STEP) -> Fraction:
    """The first mark that is no less than `length`; a length within `SAME` of a mark is on it.

    >>> str(up(3 + 0.5 + 2 ** 0.5 / 4)), up(Fraction(3)), up(0)
    ('31/8', Fraction(3, 1), Fraction(0, 1))
    """
    return Fraction(math.ceil((Fraction(length) - SAME) / step)) * step


def nearest(length: Fraction | float, step: Fraction = INCH_STEP) -> Fraction:
    """The mark nearest to `length`; exactly between two marks the larger one.

    >>> str(nearest(Fraction(12, 5))), str(nearest(Fraction(1, 16)))
    ('19/8', '1/8')
    """
    return Fraction(math.floor(Fraction(length) / step + Fraction(1, 2))) * step
