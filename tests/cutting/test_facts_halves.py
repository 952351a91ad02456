"""Published sizes of half-square triangles eight and four at a time, of half-rectangle triangles,
and of corner-square triangles, row by row."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.cutting.model import CuttingList, CuttingSettings, Recipe
from seamproof.length.exact import kept
from seamproof.length.rounding import SAME, up
from tests.cutting.drawn import EXACT, TRIMMED, Length, block_of, hst, listed, piece_of, recipe_for
from tests.cutting.facts import Disputed, Fact, Tally, disputed, facts
from tests.cutting.recipes.corner_squares import corner_square

F = Fraction
ROOT2 = math.sqrt(2)

TALLY = Tally(
    hst8=3,
    hst8_over=4,
    hst4=9,
    hst4_exact=1,
    hst4_rule=1,
    halfrect_exact=1,
    halfrect_over=1,
    marys=4,
)


def test_rows_are_counted_and_every_number_is_tested() -> None:
    assert TALLY.faults() == ({}, set())


def test_no_row_is_both_published_truth_and_disputed() -> None:
    told = {(f.family, f.inputs, f.expected) for f in facts("hst4", "halfrect_exact")}
    assert not told & {(d.family, d.inputs, d.published) for d in disputed("hst4", "halfrect")}


def at_a_time(many: str, finished: Length, settings: CuttingSettings) -> CuttingList:
    named = replace(settings, methods={"half-square triangle": f"{many} at a time"})
    return listed(hst(finished), named)


def measured(recipe: Recipe) -> float:
    """The side of a unit as it is sewn, before it is trimmed."""
    sewn = next(step for step in recipe.steps if step.verb == "sew")
    assert sewn.measure is not None
    return sewn.measure[0].need


# Eight at a time ----------------------------------------------------------------------------------


@TALLY.rows("hst8")
def test_eight_at_a_time(fact: Fact) -> None:
    if fact.id == "F024":  # "slightly over": what 5 in squares give, and what it is trimmed to
        made = at_a_time("eight", fact.number - F(1, 2), TRIMMED)
        assert piece_of(made, "a").width.ruler == fact.given("cut")
        assert piece_of(made, "a").trim == (fact.number, fact.number)
        sewn = measured(recipe_for(made, "half-square triangle"))
        assert sewn == pytest.approx(2.146, abs=0.0005)  # "exact" in the row's unit
        return
    made = at_a_time("eight", fact.given("finished"), EXACT)
    if fact.id == "F017":
        assert piece_of(made, "a").width.ruler == fact.number
    else:  # F018: where the square is cut half-way across
        assert piece_of(made, "a").width.ruler / 2 == fact.number


@TALLY.rows("hst8_over")
def test_eight_at_a_time_to_be_trimmed(fact: Fact) -> None:
    given_raw = fact.inputs.startswith("unfinished")
    side = fact.given("unfinished") - F(1, 2) if given_raw else fact.given("finished")
    piece = piece_of(at_a_time("eight", side, TRIMMED), "a")
    assert piece.width.ruler == fact.number
    assert piece.trim == (side + F(1, 2), side + F(1, 2))
    if "2(F+1)" in fact.inputs:
        assert fact.number == 2 * (side + 1)
    else:
        assert fact.number == 2 * (side + F(1, 2)) + 1


# Four at a time -----------------------------------------------------------------------------------


@TALLY.rows("hst4")
def test_four_at_a_time(fact: Fact) -> None:
    # Published: a size to which what such squares give can be trimmed. It needs no larger ones.
    made = at_a_time("four", fact.number - F(1, 2), EXACT)
    piece = piece_of(made, "a")
    assert piece.width.need <= fact.given("cut")
    assert recipe_for(made, "half-square triangle").bias_edges == 4


@TALLY.rows("hst4_exact")
def test_what_four_at_a_time_need(fact: Fact) -> None:
    assert fact.expected == "(c-0.5)/sqrt2"
    for cut in (2, F(7, 2), F(33, 4)):
        unfinished = (float(cut) - 0.5) / ROOT2
        made = at_a_time("four", kept(unfinished - 0.5), EXACT)
        assert piece_of(made, "a").width.need == pytest.approx(float(cut), abs=float(SAME))
        assert measured(recipe_for(made, "half-square triangle")) == pytest.approx(unfinished)


@pytest.mark.parametrize("row", disputed("hst4"), ids=lambda row: row.id)
def test_squares_too_small_for_four_at_a_time(row: Disputed) -> None:
    """Their size is short of what the published unit needs; with seams of 1/4 in it gives less."""
    cut = F(row.inputs.removeprefix("cut="))
    made = at_a_time("four", F(row.published) - F(1, 2), EXACT)
    assert piece_of(made, "a").width.need > cut
    short = float(F(row.published) - F(row.holds_up))
    assert str(round(short, 3)) in row.why
    holds = at_a_time("four", kept((float(cut) - 0.5) / ROOT2 - 0.5), EXACT)
    assert piece_of(holds, "a").width.need == pytest.approx(float(cut), abs=float(SAME))
    sewn = measured(recipe_for(holds, "half-square triangle"))
    assert sewn == pytest.approx(float(row.holds_up), abs=0.0005)


# Half-rectangle triangles -------------------------------------------------------------------------


def half_rectangle(width: Length, height: Length, settings: CuttingSettings) -> CuttingList:
    return listed(block_of("a/b", width, height), settings)


@TALLY.rows("halfrect_exact")
def test_what_a_half_rectangle_needs(fact: Fact) -> None:
    wide, long = (F(text) for text in re.findall(r"[\d.]+", fact.expected))
    for width in (1, F(7, 4), 3):
        piece = piece_of(half_rectangle(2 * F(width), width, EXACT), "a")
        assert piece.width.need - float(width) == pytest.approx(float(wide), abs=5e-5)
        assert piece.height.need - 2 * float(width) == pytest.approx(float(long), abs=5e-5)


@TALLY.rows("halfrect_over")
def test_half_rectangles_two_at_a_time(fact: Fact) -> None:
    # The rule of thumb adds 1 1/2 in both ways, whatever the shape; that is enough here.
    width, height = 10, 8
    assert fact.numbers == [height + F(3, 2), width + F(3, 2)]
    named = replace(TRIMMED, methods={"half-rectangle triangle": "two at a time"})
    piece = piece_of(half_rectangle(width, height, named), "a")
    assert piece.width.need < piece.width.ruler <= fact.numbers[0]
    assert piece.height.need < piece.height.ruler <= fact.numbers[1]
    assert piece.trim == (F("10.5"), F("8.5"))  # "trim" in the row's unit


@pytest.mark.parametrize("row", disputed("halfrect"), ids=lambda row: row.id)
def test_rectangles_too_small_for_true_seam_lines(row: Disputed) -> None:
    assert row.published == "+5/8;+1 1/4"
    piece = piece_of(half_rectangle(4, 2, EXACT), "a")
    short = piece.width.need - (2 + 0.625), piece.height.need - (4 + 1.25)
    assert short == pytest.approx((1 / 32, 1 / 16), abs=0.005)  # "about 1/32 and 1/16 more"
    holds = [float(text) for text in re.findall(r"[\d.]+", row.holds_up)]
    assert [piece.width.need - 2, piece.height.need - 4] == pytest.approx(holds, abs=5e-5)


# Corner-square triangles --------------------------------------------------------------------------


@TALLY.rows("marys")
def test_corner_square_triangles(fact: Fact) -> None:
    # The writers add a whole inch where 0.71 is needed: they go up to the next half inch.
    half_inches = replace(EXACT, step=F(1, 2))
    square, small, large = (
        tuple(F(side) for side in size.split("x")) for size in fact.expected.split(";")
    )
    made = listed(corner_square(fact.given("finished")))
    assert piece_of(made, "b").width.ruler == square[0]
    for fabric, (wide, long) in (("c", small), ("a", large)):
        piece = piece_of(made, fabric)
        assert piece.width.ruler == wide
        assert piece.height.need < piece.height.ruler <= long
        assert up(piece.height.need, half_inches.step) == long
    assert recipe_for(made, "corner-square triangle").gives == 2  # "makes 2"
