"""Cloth that is sold in pieces of a fixed size, by the names of the trade.

Sizes as sold are those of `tests/trade_tables/trade_facts.csv`, family "precut". What can be used
of a piece with a selvage is an inch less across (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from seamproof.cloth.model import Fixed
from seamproof.length.exact import CM
from seamproof.length.notation import Measure

SELVAGE = Fraction(1)
"""What a selvage and the holes beside it take off the width (common practice, no source)."""

METRIC_SELVAGE = CM * 5 / 2
"""The same in centimetres."""


@dataclass(frozen=True, slots=True)
class Sold:
    """A piece as it is sold: `width` across the cloth, `length` along the selvage; `lost` is what
    selvages take off the width."""

    width: Fraction
    length: Fraction
    lost: Fraction = Fraction(0)

    @property
    def usable(self) -> Fraction:
        """Width without selvages."""
        return self.width - self.lost


INCH: Mapping[str, Sold] = {
    "fat quarter": Sold(Fraction(22), Fraction(18), SELVAGE),
    "fat eighth": Sold(Fraction(22), Fraction(9), SELVAGE),
    "quarter yard": Sold(Fraction(44), Fraction(9), 2 * SELVAGE),
    "2 1/2 in strip": Sold(Fraction(44), Fraction(5, 2), 2 * SELVAGE),
    "2 1/2 in square": Sold(Fraction(5, 2), Fraction(5, 2)),
    "5 in square": Sold(Fraction(5), Fraction(5)),
    "10 in square": Sold(Fraction(10), Fraction(10)),
}
"""In inches."""

METRIC: Mapping[str, Sold] = {
    "fat quarter": Sold(CM * 55, CM * 50, METRIC_SELVAGE),
    "fat eighth": Sold(CM * 55, CM * 25, METRIC_SELVAGE),
}
"""Where cloth is sold by the metre."""


def sold(name: str, measure: Measure = "in") -> Fixed | None:
    """A piece by its name, as much of it as can be used; None if nobody sells such a thing.

    >>> quarter = sold("fat quarter")
    >>> str(quarter.width), str(quarter.length), sold("thin quarter")
    ('21', '18', None)
    """
    names = METRIC if measure == "cm" and name in METRIC else INCH
    piece = names.get(name)
    return None if piece is None else Fixed(name, piece.usable, piece.length)
