"""What is taken for granted, in inches and in centimetres."""

from __future__ import annotations

from dataclasses import fields
from fractions import Fraction

import pytest

from seamproof.length.exact import CM
from seamproof.setting.habits import CENTIMETRES, INCHES, Habits

MILLIMETRE = CM / 10
PRICE = "price"


@pytest.mark.parametrize("name", [f.name for f in fields(Habits) if f.name != PRICE])
def test_a_metric_size_is_one_of_a_metric_ruler_and_about_the_other(name: str) -> None:
    inches, metric = getattr(INCHES, name), getattr(CENTIMETRES, name)
    assert (metric / MILLIMETRE).denominator == 1
    assert inches * 64 == int(inches * 64)
    # A whole centimetre is for a whole inch what a step is: the others are alike within a third.
    alike = name not in ("whole", "sash_step")
    assert Fraction(2, 3) <= metric / inches <= Fraction(4, 3) or not alike


def test_a_price_is_told_for_a_square_of_the_measure() -> None:
    assert CENTIMETRES.price * CM**2 == Fraction(3, 1000)
    assert float(CENTIMETRES.price) == pytest.approx(float(INCHES.price), rel=0.05)
