"""Published seam tests, and what seams were measured to take up."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from statistics import NormalDist

import numpy as np
import pytest

from seamproof.accuracy.edges import HEIGHT, WIDTH
from seamproof.accuracy.forecasting import Linear, linear, within
from seamproof.accuracy.model import EXACT, MAKERS, THREAD
from seamproof.accuracy.workshop import Workshop
from tests.accuracy.reference_blocks import workshop
from tests.cutting.facts import Fact, Tally

TALLY = Tally(seamtest=6, seamerr=6, scant=2)

CUT = {"F435": 1.5, "F436": 1.5, "F437": 1.5, "F438": 2.0, "F440": 2.0, "F442": 1.5}
"""How wide the strips of each seam test are cut, in inches."""


def strips(count: int, cut: float, length: float = 5.0) -> Workshop:
    """Strips cut so wide, sewn side by side."""
    finished = Fraction(cut) - Fraction(1, 2)
    return workshop(
        " ".join("abcdefghjk"[:count]), finished * count, Fraction(length) - Fraction(1, 2)
    )


@TALLY.rows("seamtest")
def test_a_seam_test_comes_out_if_nobody_errs(fact: Fact) -> None:
    cut = CUT[fact.id]
    if fact.inputs.startswith("9 patch"):
        shop = workshop("a b c\nd e f\ng h i", (Fraction(cut) - Fraction(1, 2)) * 3)
    else:
        shop = strips(2 if fact.inputs.startswith("2") else 3, cut)
    outline = shop.plan.parts[shop.plan.whole].outline
    planned = float(max(x for x, _ in outline)) + 0.5
    width, height = linear(shop).mean(EXACT)[[WIDTH, HEIGHT]]
    assert height == pytest.approx(0.0)
    if fact.id == "F438":  # the strip in the middle, and one with a raw edge outside
        assert [cut - 0.5, cut - 0.25] == [float(n) for n in fact.numbers]
    elif fact.id == "F436":
        assert [cut - 0.5, planned + width] == [float(n) for n in fact.numbers]
    else:
        assert planned + width == pytest.approx(float(fact.numbers[0]))


@TALLY.rows("seamerr")
def test_what_seams_were_measured_to_take_up(fact: Fact) -> None:
    if fact.id == "F444":
        # Ten strips 3/8 short over nine seams: a maker who takes that up comes out just there.
        seam = 0.375 / 9 / 2
        width = 10.5 + linear(strips(10, 1.5)).mean(replace(EXACT, seam=seam))[WIDTH]
        assert width == pytest.approx(float(fact.number))
        # A fold of our size and a true quarter make three quarters of that.
        everyday = linear(strips(10, 1.5)).mean(MAKERS["everyday"])[WIDTH]
        assert 0.6 < everyday / (float(fact.number) - 10.5) < 0.9
    elif fact.id == "F445":
        # 3 of 18 had it right to 1/16: an equal mix of the presets is as good.
        weights = linear(strips(10, 1.5))
        shares = [width_within(weights, name, 1 / 16) for name in MAKERS]
        assert np.mean(shares) == pytest.approx(float(fact.number), abs=0.02)
    elif " on " in fact.inputs:
        short, long = fact.inputs.split(" on ")
        assert float(Fraction(short)) / float(long) == pytest.approx(float(fact.number))
    else:
        # Blocks that are half an inch off, or come out so unlike from two machines, are what new
        # makers get who all sew too wide, and careful ones do not.
        shop = workshop("a b c d\ne f g h\nh g f e\nd c b a", 6)
        gap = max(fact.numbers) - (min(fact.numbers) if len(fact.numbers) > 1 else 0)
        assert within(linear(shop), MAKERS["new"], float(gap)) < 1
        assert within(linear(shop), MAKERS["careful"], float(gap)) > 0.999


def width_within(weights: Linear, name: str, tolerance: float) -> float:
    maker = MAKERS[name]
    mean = float(weights.mean(maker)[WIDTH])
    sd = math.sqrt(sum(float(part[WIDTH, WIDTH]) for part in weights.parts(maker).values()))
    normal = NormalDist(mean, sd)
    return normal.cdf(tolerance) - normal.cdf(-tolerance)


@TALLY.rows("scant")
def test_a_scant_quarter_is_a_thread_or_two_less(fact: Fact) -> None:
    low, high = (float(n) for n in fact.numbers)
    assert low <= -MAKERS["careful"].seam / THREAD + 0.005 <= high


def test_every_row_is_tested() -> None:
    assert TALLY.faults() == ({}, set())
