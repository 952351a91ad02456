"""How much to buy: the bare length, what straightening and shrinking take, and how shops cut.

Everything is in inches; yards and metres are only how a shop says it.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from seamproof.cloth.model import Laid
from seamproof.cloth.ordering import strips_of
from seamproof.length.exact import CM
from seamproof.length.notation import mixed
from seamproof.length.rounding import SAME

YARD = Fraction(36)
METRE = CM * 100

STRAIGHTENING = Fraction(1)
"""What is lost when the two ends of a length are cut straight, half an inch each (common practice,
no source)."""

SPARE_FROM = YARD / 8
"""A cut higher than this asks for a spare one: what rounding up leaves does not hold another
(house style of a publisher, as told in the trade; from memory)."""

ShopCut = Literal["1/8 yd", "1/4 yd", "10 cm"]

SHOP_CUTS: Mapping[ShopCut, Fraction] = {
    "1/8 yd": YARD / 8,
    "1/4 yd": YARD / 4,
    "10 cm": CM * 10,
}
"""The steps in which shops cut from the bolt (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Buying:
    """What a project decides about buying. `straightening` is taken off every length that is
    bought, `shrinkage` is the share of its length that cloth loses in the wash before it is cut
    (0 if it is not washed)."""

    shop_cut: ShopCut = "1/8 yd"
    straightening: Fraction = STRAIGHTENING
    shrinkage: Fraction = Fraction(0)

    @classmethod
    def metric(cls) -> Buying:
        """In steps of 10 cm, 2.5 cm for straightening."""
        return cls("10 cm", CM * 5 / 2)

    @property
    def unit(self) -> Literal["yd", "m"]:
        """What lengths are bought in."""
        return "m" if self.shop_cut == "10 cm" else "yd"

    def amount(self, length: Fraction) -> Fraction:
        """A length in inches, in yards or metres."""
        return length / (METRE if self.unit == "m" else YARD)

    def told(self, length: Fraction) -> str:
        """A length as it is said in a shop.

        >>> Buying().told(Fraction(45)), Buying().told(Fraction(0)), Buying.metric().told(CM * 110)
        ('1 1/4 yd', '0 yd', '1.1 m')
        """
        amount = self.amount(length)
        if self.unit == "yd":
            return f"{mixed(amount)} yd"
        tenths = round(amount * 100)
        return f"{tenths / 100:g} m"


@dataclass(frozen=True, slots=True)
class Purchase:
    """One fabric by the yard. All lengths in inches; `bare` is what the diagram takes.

    `straightening` and `shrinkage` come on top; `buy` is all that, rounded up as shops cut.
    `spare` is the height of one more of the highest strips, `buy_spare` what to buy with it.
    """

    bare: Fraction
    straightening: Fraction
    shrinkage: Fraction
    buy: Fraction
    spare: Fraction
    buy_spare: Fraction

    @property
    def spare_asked(self) -> bool:
        """Whether the trade asks for a spare cut: `buy` leaves no room for one, and it is higher
        than an eighth of a yard."""
        return self.spare > SPARE_FROM and self.buy_spare > self.buy


def purchase(bare: Fraction, spare: Fraction, buying: Buying) -> Purchase:
    """What to buy for a `bare` length whose highest strip is `spare` high.

    >>> stars = purchase(Fraction("23.625"), Fraction("4.875"), Buying())
    >>> Buying().told(stars.buy), Buying().told(stars.buy_spare), stars.spare_asked
    ('3/4 yd', '7/8 yd', True)
    >>> purchase(Fraction(0), Fraction(0), Buying()).buy
    Fraction(0, 1)
    """
    if bare <= 0:
        none = Fraction(0)
        return Purchase(none, none, none, none, none, none)
    straight = bare + buying.straightening
    return Purchase(
        bare,
        buying.straightening,
        _before_washing(straight, buying) - straight,
        rounded(_before_washing(straight, buying), buying.shop_cut),
        spare,
        rounded(_before_washing(straight + spare, buying), buying.shop_cut),
    )


def _before_washing(length: Fraction, buying: Buying) -> Fraction:
    return length / (1 - buying.shrinkage)


def rounded(length: Fraction, shop_cut: ShopCut) -> Fraction:
    """A length up to the next step in which shops cut.

    >>> str(rounded(Fraction("41.625"), "1/8 yd")), str(rounded(Fraction(36), "1/4 yd"))
    ('45', '36')
    """
    step = SHOP_CUTS[shop_cut]
    return math.ceil((length - SAME) / step) * step


def bought(laid: Laid, buying: Buying, first: Collection[str] = ()) -> Purchase:
    """What to buy by the yard for a fabric that was laid; nothing if it all comes from pieces.
    What comes `first`, out of the full length, is measured before it is cut and asks for no
    spare."""
    return purchase(laid.length, highest_strip(laid, first), buying)


def highest_strip(laid: Laid, first: Collection[str] = ()) -> Fraction:
    """Height of the highest strip that is cut from yardage, lengths with pieces that come `first`
    left out: what one spare cut takes."""
    heights = [
        strip.height
        for lay in laid.lays
        if lay.cloth == "yardage"
        for strip in strips_of(lay)
        if not any(name in first for name, _ in strip.pieces)
    ]
    return max(heights, default=Fraction(0))
