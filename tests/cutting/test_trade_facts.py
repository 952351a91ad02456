"""Published sizes against our cutting lists. Every row names its source in the table."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.cutting.model import CuttingSettings
from seamproof.length.exact import kept
from seamproof.length.rounding import up
from tests.cutting.drawn import (
    EXACT,
    TRIMMED,
    block_of,
    cut,
    geese,
    hourglass,
    hst,
    listed,
    nine_patch,
    piece_of,
    recipe_for,
)
from tests.cutting.facts import Disputed, Fact, checked, disputed, facts

HST = ("hst2", "hst2_exact", "hst2_parts", "hst_over")
QST = ("qst", "qst_exact", "qst_parts", "qst_over", "qst_leg")
GEESE = ("geese4", "geese4_over")
SQUARES = ("ninepatch", "diagonal", "grid")

COUNTED = {
    "hst2": 6,
    "hst2_exact": 2,
    "hst2_parts": 1,
    "hst_over": 1,
    "qst": 8,
    "qst_exact": 1,
    "qst_parts": 1,
    "qst_over": 3,
    "qst_leg": 1,
    "geese4": 17,
    "geese4_over": 1,
    "ninepatch": 6,
    "diagonal": 6,
    "grid": 2,
}
"""Rows of each family, prose included: a row that is lost, or added and not tested, is noticed."""

TESTED: set[str] = set()


def rows(*families: str, relation: str | None = None) -> pytest.MarkDecorator:
    """A test of the rows of these families (with this relation); notes which rows are tested."""
    chosen = [fact for fact in checked(*families) if relation is None or fact.relation == relation]
    TESTED.update(fact.id for fact in chosen)
    return pytest.mark.parametrize("fact", chosen, ids=lambda fact: fact.id)


def test_rows_are_counted() -> None:
    families = (*HST, *QST, *GEESE, *SQUARES)
    assert Counter(fact.family for fact in facts(*families)) == COUNTED


def test_every_row_that_is_a_number_is_tested() -> None:
    families = (*HST, *QST, *GEESE, *SQUARES)
    assert {fact.id for fact in checked(*families)} == TESTED


# Half-square triangles ----------------------------------------------------------------------------


@rows("hst2", relation="equals")
def test_two_at_a_time(fact: Fact) -> None:
    side = fact.given("finished")
    made = listed(hst(side), EXACT)
    size = piece_of(made, "a").width
    if "rule=plus7/8" in fact.inputs:
        assert size.ruler == fact.number
    else:  # cut=… is given, and what it trims to is told
        assert size.ruler == fact.given("cut")
        trimmed = recipe_for(listed(hst(side)), "half-square triangle").trim
        assert trimmed == (fact.number, fact.number)


@rows("hst2", relation="need")
def test_two_at_a_time_from_a_cut_size(fact: Fact) -> None:
    # 5 in squares are cut for a unit that finishes 4 in. The writer takes what the diagonal seam
    # loses, 0.354 in, up to the mark, 3/8 in, and drops the last digit of 4.625.
    made = listed(hst(4))
    assert piece_of(made, "a").width.ruler == fact.given("cut")
    sewn = recipe_for(made, "half-square triangle").steps[0].measure
    assert sewn is not None
    loss = float(fact.given("cut")) - sewn[0].need
    seams = Fraction(1, 2) if fact.number < Fraction("4.5") else 0
    published = fact.given("cut") - up(loss) - seams
    assert 0 <= published - fact.number < Fraction(1, 100)


@rows("hst2_exact")
def test_what_a_half_square_needs(fact: Fact) -> None:
    if fact.id == "F010":
        need = piece_of(listed(hst(fact.given("finished"))), "a").width.need
        assert need == pytest.approx(float(fact.number), abs=fact.last_digit)
        return
    for side in (1, Fraction(7, 4), 6):
        need = piece_of(listed(hst(side)), "a").width.need
        assert need - float(side) == pytest.approx(float(fact.number), abs=fact.last_digit)


@rows("hst_over")
def test_half_squares_cut_to_be_trimmed(fact: Fact) -> None:
    made = listed(hst(fact.given("finished")))
    assert piece_of(made, "a").width.ruler == fact.number
    assert piece_of(made, "a").trim == (5, 5)  # "trim to 5" in the row's unit


# Hourglasses --------------------------------------------------------------------------------------


@rows("qst")
def test_hourglass(fact: Fact) -> None:
    for method in ("two at a time", "from triangles"):
        settings = replace(EXACT, methods={"hourglass": method})
        made = listed(hourglass(fact.given("finished")), settings)
        assert piece_of(made, "a").width.ruler == fact.number


@pytest.mark.parametrize("row", disputed("qst"), ids=lambda row: row.id)
def test_an_eighth_more_than_an_hourglass_needs(row: Disputed) -> None:
    """1 3/8 in is added where 1.2071 are needed: the next mark, 1 1/4, is enough, so the writer's
    squares are off by a whole mark where they are sewn as they are cut."""
    sides, published, holds = (
        [Fraction(number) for number in text.split(";")]
        for text in (row.inputs.removeprefix("finished="), row.published, row.holds_up)
    )
    for side, told, enough in zip(sides, published, holds, strict=True):
        size = piece_of(listed(hourglass(side), EXACT), "a").width
        assert size.ruler == enough == told - EXACT.step
        assert 0 < float(enough) - size.need < EXACT.step < float(told) - size.need


def test_no_row_is_both_published_truth_and_disputed() -> None:
    told = {(f.family, f.inputs, f.expected) for f in facts("qst")}
    assert not told & {(d.family, d.inputs, d.published) for d in disputed("qst")}


@rows("qst_exact")
def test_what_an_hourglass_needs(fact: Fact) -> None:
    for side in (1, Fraction(7, 4), 6):
        need = piece_of(listed(hourglass(side)), "a").width.need
        assert need - float(side) == pytest.approx(float(fact.number), abs=fact.last_digit)


@rows("qst_over")
def test_hourglasses_cut_to_be_trimmed(fact: Fact) -> None:
    unfinished = "unfinished=" in fact.inputs
    side = fact.given("unfinished") - Fraction(1, 2) if unfinished else fact.given("finished")
    piece = piece_of(listed(hourglass(side)), "a")
    assert piece.width.ruler == fact.number
    assert piece.trim == (side + Fraction(1, 2), side + Fraction(1, 2))


@rows("qst_leg")
def test_hourglass_by_its_short_side(fact: Fact) -> None:
    # The writer adds 1 1/4 to the true length of the long side, and does not go on to a mark.
    side = kept(float(fact.given("short_side")) * math.sqrt(2))
    size = piece_of(listed(hourglass(side), EXACT), "a").width
    assert float(fact.number) == pytest.approx(
        float(side + up(size.need - float(side))), abs=fact.last_digit
    )
    assert size.need <= fact.number <= size.ruler


# Flying geese -------------------------------------------------------------------------------------


@rows("geese4")
def test_geese_four_at_a_time(fact: Fact) -> None:
    width, height = (Fraction(text) for text in fact.inputs.partition("=")[2].split("x"))
    made = listed(geese(width, height), EXACT)
    assert recipe_for(made, "flying geese").method == "four at a time"
    large, small = piece_of(made, "b"), piece_of(made, "a")
    assert [large.width.ruler, small.width.ruler] == fact.numbers
    assert (large.count, small.count) == (1, 4)


@rows("geese4_over")
def test_geese_cut_to_be_trimmed(fact: Fact) -> None:
    # The writer adds 1/8 in to the small squares only; we add the same to both.
    settings = replace(TRIMMED, oversize={"flying geese": Fraction(1, 8)})
    made = listed(geese(4, 2), settings)
    large, small = fact.numbers
    assert piece_of(made, "a").width.ruler == small
    assert piece_of(made, "b").width.ruler - Fraction(1, 8) == large
    assert piece_of(made, "a").trim == (Fraction("4.5"), Fraction("2.5"))


# Squares ------------------------------------------------------------------------------------------


@rows("ninepatch")
def test_nine_patch(fact: Fact) -> None:
    if fact.id in ("F146", "F151"):  # the cut is given, the block is told
        side = 3 * (fact.given("cut") - Fraction(1, 2))
        made = listed(nine_patch(side))
        assert piece_of(made, "a").width.ruler == fact.given("cut")
        measure = made.steps[-1].measure
        assert measure is not None
        told = [side, measure[0].ruler] if len(fact.numbers) == 2 else [measure[0].ruler]
        assert told == fact.numbers
    elif fact.id == "F143":  # strips of A 7 and 5 in long, of B 7 and 2 1/2 in
        made = listed(nine_patch(fact.given("finished")))
        strip, *lengths = fact.numbers
        for fabric, own in (("a", lengths[:2]), ("b", lengths[2:])):
            piece = piece_of(made, fabric)
            assert piece.width.ruler == strip
            assert piece.count * strip <= sum(own)
    elif fact.id == "F144":  # off the ruler, so what is asked for is told
        made, found = cut(nine_patch(fact.given("finished")))
        piece = piece_of(made, "a")
        assert piece.width.need == pytest.approx(float(fact.number), abs=fact.last_digit)
        assert 301 in {finding.code for finding in found}
    else:
        piece = piece_of(listed(nine_patch(fact.given("finished"))), "a")
        assert piece.width.ruler == fact.number


@rows("grid")
def test_grid_of_squares(fact: Fact) -> None:
    n = int(fact.given("n"))
    board = "\n".join(" ".join("ab"[(i + j) % 2] for j in range(n)) for i in range(n))
    made = listed(block_of(board, fact.given("finished")))
    assert {piece.width.ruler for piece in made.pieces} == {fact.number}


@rows("diagonal")
def test_diagonal_to_the_nearest_mark(fact: Fact) -> None:
    # A square as large as the block's diagonal, sewn as it is cut: to the nearest mark.
    side = kept(float(fact.given("block")) * math.sqrt(2))
    made = listed(block_of("a b", 2 * side, side))
    assert piece_of(made, "a").width.ruler - 2 * CuttingSettings().seam == fact.number
