"""How many squares come out of a piece of cloth, against what the trade publishes."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from seamproof.cloth.buying import YARD
from seamproof.cloth.laying import lay
from seamproof.cloth.model import Cloth, Demand, Fixed, Settings
from tests.cutting.facts import Fact, Tally

TALLY = Tally(squares_fq=15, squares_wof=48, squares_yard=1, strips_need=2)

MANY = 2000
"""More squares than any of these pieces of cloth gives."""


def squares(width: Fraction, length: Fraction, side: Fraction) -> int:
    """How many squares one piece of cloth gives."""
    piece = Fixed("piece", width, length, 1)
    cloth = Cloth("a", width, yardage=False, fixed=(piece,))
    made = lay(cloth, [Demand("a", side, side, MANY)], Settings(effort=0))
    return MANY - dict(made.unmet).get("a", 0)


@TALLY.rows("squares_fq")
def test_squares_from_a_fat_quarter(fact: Fact) -> None:
    length, width = (Fraction(n) for n in re.findall(r"(\d+)x(\d+)", fact.inputs)[0])
    assert squares(width, length, fact.given("sq")) == fact.number


@TALLY.rows("squares_wof")
def test_squares_from_a_yard(fact: Fact) -> None:
    found = squares(fact.given("wof"), fact.given("len"), fact.given("sq"))
    assert found == fact.number


@TALLY.rows("squares_yard")
def test_squares_from_a_yard_of_any_width(fact: Fact) -> None:
    for width in (40, 41, 42):
        assert squares(Fraction(width), YARD, fact.given("sq")) == fact.number


@TALLY.rows("strips_need")
def test_strips_for_squares(fact: Fact) -> None:
    side, count = fact.given("sq"), int(fact.given("n"))
    made = lay(Cloth("a", fact.given("wof")), (Demand("a", side, side, count),))
    each, strips, *amounts = fact.numbers
    assert made.length == strips * side
    assert fact.given("wof") // side == each
    if amounts:
        length, yards = amounts
        assert made.length == length
        assert float(made.length / YARD) == pytest.approx(float(yards), abs=0.0005)


def test_every_row_is_tested() -> None:
    assert TALLY.faults() == ({}, set())
