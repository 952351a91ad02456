"""Borders, binding and backing on the cloth, and published numbers that do not hold."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

import pytest

from seamproof.cloth.buying import YARD, Buying, purchase
from seamproof.cloth.laying import lay
from seamproof.cloth.model import Cloth, Demand, Fixed, Settings
from seamproof.cloth.ordering import counted
from seamproof.cloth.pooling import Joined
from seamproof.cloth.reserving import reserved
from seamproof.cloth.tops import asked_by
from seamproof.setting.model import BackingAsked, BorderAsked
from tests.cutting.facts import disputed, facts
from tests.setting.tops import block, straight, top_of

SEAM = Fraction(1, 4)
FIRST = Settings(effort=0)


def test_lengthwise_borders_are_as_long_as_the_longest() -> None:
    """F376: the longest is 80 in, 10 in more for safety: 90 in, 2 1/2 yd."""
    (fact,) = [fact for fact in facts("border") if fact.id == "F376"]
    length, yards = fact.numbers
    border = Demand("Aa", Fraction(6), fact.given("longest") + 10, 4)
    (made,) = reserved(Cloth("a", Fraction(40)), [border]).lengths
    assert (made.length, made.times) == (length, 1)
    assert made.length / YARD == yards


def test_wide_borders_take_two_lengths() -> None:
    """F378: four of 12 in do not stand side by side on 42 in."""
    (fact,) = [fact for fact in facts("border") if fact.id == "F378"]
    border = Demand("Aa", Fraction(12), Fraction(80), 4)
    found = reserved(Cloth("a", Fraction(42)), [border]).lengths
    assert sum(made.times for made in found) == 2
    assert 4 * border.width == fact.number


@pytest.mark.parametrize(("corners", "lengthwise"), [("butted", False), ("mitred", True)])
def test_borders_across_and_along(corners: Literal["butted", "mitred"], lengthwise: bool) -> None:
    """D24: 40 × 50 in with a 5 in border: published as one width plus one length, 3.1 yd; 0.92 yd
    in strips across the cloth, 1.7 yd lengthwise, side by side."""
    (row,) = disputed("border")
    assert row.id == "D24"
    border = BorderAsked(Fraction(5), "d", corners=corners, lengthwise=lengthwise)
    setting = straight("Star", borders=(border,))
    top = top_of(setting, block("Star", 40, 50))
    usable = {letter: Fraction(40) for letter in (*"abcdef", "binding", "backing")}
    made = asked_by(top, setting, usable, seam=SEAM)
    if lengthwise:
        pieces = [p for s in made.sources if s.name == "border strip" for p in s.pieces]
        demands = [
            Demand(f"D{n}", p.width.ruler, p.height.ruler, p.count) for n, p in enumerate(pieces)
        ]
        (one,) = reserved(Cloth("d", Fraction(40)), demands).lengths
        assert "1.7 yd" in row.holds_up
        assert float(one.length / YARD) == pytest.approx(1.7, abs=0.05)
        return
    (strips,) = [one for one in made.joined if one.name == "border strip"]
    assert "0.92 yd" in row.holds_up
    assert strips.strips(Fraction(40)) == 6
    assert float(6 * strips.width / YARD) == pytest.approx(0.92, abs=0.005)


def test_squares_from_a_yard_that_were_misprinted() -> None:
    """D10: 30 squares of 7 in from a yard of 44 in, not 35."""
    (row,) = disputed("squares_yard")
    yard = Fixed("a yard", Fraction(44), YARD, 1)
    cloth = Cloth("a", Fraction(44), yardage=False, fixed=(yard,))
    made = lay(cloth, [Demand("Aa", Fraction(7), Fraction(7), 35)], FIRST)
    assert counted(made.lays) == {"Aa": int(row.holds_up.split()[0])}


def test_strips_from_a_yard() -> None:
    """D14: published with room for squaring up in some rows only; ours is a line of its own."""
    (row,) = disputed("strips_per_yard")
    heights = [Fraction(text) for text in row.inputs.split(";")]
    counts = [int(text.split()[0]) for text in row.holds_up.split(";")]
    for height, count in zip(heights, counts, strict=True):
        assert YARD // height == count
        bare = purchase(height * count, height, Buying(straightening=Fraction(0)))
        assert bare.buy == YARD


def test_four_strips_are_an_inch_longer_than_was_written() -> None:
    """D25: four strips of 9 1/2 in are 38 in."""
    (row,) = disputed("strips_need")
    side = Fraction("9.5")
    made = lay(Cloth("a", Fraction(42)), [Demand("Aa", side, side, 16)], FIRST)
    assert made.length == int(row.holds_up)


def test_a_yard_and_a_bit_for_seven_strips_of_binding() -> None:
    """F368: 7 strips of 2 1/2 in are 17 1/2 in, 5/8 yd with straightening."""
    (fact,) = [fact for fact in facts("binding") if fact.id == "F368"]
    binding = Joined("binding strip", "d", Fraction("2.5"), Fraction(7 * 37), Fraction("2.5"))
    strips = binding.strips(Fraction(40))
    assert strips * binding.width == fact.number
    assert Buying().told(purchase(fact.number, binding.width, Buying()).buy) == "5/8 yd"


def test_both_ways_of_a_backing() -> None:
    """F382, F383: 65 × 78 in from 42 in cloth: 130 in the short way, 156 in the long way; the
    shorter is laid, the longer for a print with a direction."""
    short, long = (
        next(fact.numbers[0] for fact in facts("backing") if fact.id == name)
        for name in ("F382", "F383")
    )
    setting = straight("Star", backing=BackingAsked("a", margin=Fraction(4)))
    top = top_of(setting, block("Star", 57, 70))
    assert (top.backing.width, top.backing.height) == (65, 78)
    usable = {letter: Fraction(42) for letter in (*"abcdef", "binding", "backing")}
    for directional, length in (("", short), ("a", long)):
        made = asked_by(top, setting, usable, seam=SEAM, directional=directional)
        panels = [p for s in made.sources if s.name == "backing" for p in s.pieces]
        assert sum(p.height.ruler * p.count for p in panels) == length
