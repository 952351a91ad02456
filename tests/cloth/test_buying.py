"""How much to buy."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.cloth.buying import SHOP_CUTS, Buying, ShopCut, highest_strip, purchase, rounded
from seamproof.cloth.model import Cut, Laid, Lay
from seamproof.length.exact import CM
from seamproof.length.notation import parse

EIGHTHS = st.integers(0, 8 * 400).map(lambda n: Fraction(n, 8))
CUTS: list[ShopCut] = list(SHOP_CUTS)


@pytest.mark.parametrize(
    ("bare", "spare", "told", "with_spare"),
    [
        ("23 5/8", "4 7/8", "3/4 yd", "7/8 yd"),
        ("41 5/8", "4 7/8", "1 1/4 yd", "1 3/8 yd"),
        ("0", "0", "0 yd", "0 yd"),
        ("1/8", "1/8", "1/8 yd", "1/8 yd"),
        ("35", "4", "1 yd", "1 1/8 yd"),
    ],
)
def test_yards(bare: str, spare: str, told: str, with_spare: str) -> None:
    bought = purchase(parse(bare), parse(spare), Buying())
    assert Buying().told(bought.buy) == told
    assert Buying().told(bought.buy_spare) == with_spare


def test_a_spare_cut_is_asked_for_if_it_is_high_and_does_not_fit() -> None:
    assert purchase(Fraction(34), Fraction(5), Buying()).spare_asked
    assert not purchase(Fraction(34), Fraction(3), Buying()).spare_asked


def test_metres() -> None:
    metric = Buying.metric()
    bought = purchase(CM * 108, CM * 12, metric)
    assert metric.told(bought.buy) == "1.2 m"
    assert float(metric.amount(bought.buy)) == pytest.approx(1.2)


def test_washing_comes_on_top() -> None:
    bought = purchase(Fraction(35), Fraction(5), Buying(shrinkage=Fraction(1, 10)))
    assert bought.shrinkage == 4
    assert bought.buy == rounded(Fraction(40), "1/8 yd") == Fraction("40.5")


@given(bare=EIGHTHS, spare=EIGHTHS, cut=st.sampled_from(CUTS))
def test_what_is_bought_holds_what_is_cut_and_not_a_step_more(
    bare: Fraction, spare: Fraction, cut: ShopCut
) -> None:
    bought = purchase(bare, spare, Buying(cut))
    parts = bought.bare + bought.straightening + bought.shrinkage
    assert parts <= bought.buy + Fraction(1, 2**16)
    assert bought.buy - parts < SHOP_CUTS[cut] if bare else bought.buy == 0
    assert (bought.buy / SHOP_CUTS[cut]).denominator == 1
    assert bought.buy_spare >= bought.buy


def test_the_highest_strip_is_one_that_is_used() -> None:
    width = Fraction(40)
    used = Cut(width, Fraction(3), "length", (Cut(width, Fraction(3), piece="Aa"),))
    left = Cut(width, Fraction(9))
    whole = Cut(width, Fraction(12), "across", (used, left))
    laid = Laid((Lay("a", "yardage", width, Fraction(12), whole, 1, 12.0, 12.0, True),))
    assert highest_strip(laid) == 3
    assert highest_strip(Laid(())) == 0
