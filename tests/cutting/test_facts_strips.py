"""Published numbers of strips, strip sets and cut-up nine-patches, row by row."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.cutting.model import CuttingList
from seamproof.cutting.strips import Strips, strips_for
from tests.cast import cells_drawing, understood
from tests.cutting.drawn import TRIMMED, block_of, listed, nine_patch, piece_of, recipe_for
from tests.cutting.facts import Disputed, Fact, Tally, disputed, facts

F = Fraction
SEAM = TRIMMED.seam
YARD = 36

TALLY = Tally(d9p=1, stripset=1, stripband=2, strips_need=2)

LATER = {"strips_metric"}
"""Families of strips that are no matter of a block's cutting list: strips joined end to end for a
binding."""


def test_rows_are_counted_and_every_number_is_tested() -> None:
    assert TALLY.faults() == ({}, set())
    families = {"stripset", "stripband", "strips_need", "strips_metric"}
    assert {fact.family for fact in facts(*families)} == set(TALLY.counted) - {"d9p"} | LATER


def test_no_row_is_both_published_truth_and_disputed() -> None:
    families = (*TALLY.counted, "strips_per_yard")
    told = {(f.family, f.inputs, f.expected) for f in facts(*families)}
    assert not told & {(d.family, d.inputs, d.published) for d in disputed(*families)}


@TALLY.rows("d9p")
def test_a_nine_patch_that_is_cut_in_four(fact: Fact) -> None:
    """A nine-patch is halved both ways, and its quarters are sewn to each other again."""
    whole, quarter, block = fact.numbers
    made = listed(nine_patch(whole - 2 * SEAM))
    need = piece_of(made, "a").width.need
    assert need == pytest.approx(float(fact.given("cut")), abs=0.5e-4)
    assert measured(made) == (whole, whole)
    assert whole == 2 * quarter
    again = listed(block_of("a b\nc d", 2 * (quarter - 2 * SEAM)))
    assert piece_of(again, "a").width.ruler == quarter
    assert measured(again) == (block, block)


def measured(made: CuttingList) -> tuple[Fraction, ...]:
    """What the last step should measure."""
    return tuple(size.ruler for size in made.steps[-1].measure or ())


@TALLY.rows("stripset")
def test_the_length_of_a_strip_set(fact: Fact) -> None:
    """At least so long; ours has what squaring up takes besides."""
    width = fact.given("segment") - 2 * SEAM
    made = listed(block_of("a\nb", width, 2), copies=int(fact.given("need")))
    assert piece_of(made, "a").height.ruler - TRIMMED.squaring == fact.number


@TALLY.rows("stripband")
def test_strips_sewn_side_by_side(fact: Fact) -> None:
    strip, n = fact.given("strip"), int(fact.given("n"))
    high = strip - 2 * SEAM
    fabrics = ["ab"[i % 2] for i in range(n)]
    block = understood(cells_drawing("band", (1, n * high), fabrics, heights=[high] * n))
    recipe = recipe_for(listed(block, copies=4), "rail")
    assert {piece.width.ruler for piece in recipe.pieces} == {strip}
    *_, last_seam, _sub_cut = recipe.steps
    assert last_seam.measure is not None
    assert last_seam.measure[1].ruler == fact.number


@TALLY.rows("strips_need")
def test_squares_from_strips(fact: Fact) -> None:
    strips = of_squares(fact.given("sq"), int(fact.given("n")), fact.given("wof"))
    (cut,) = strips.cuts
    each, needed, *yardage = fact.numbers
    assert [cut.each, strips.count] == [each, needed]
    if yardage:
        inches, yards = yardage
        assert strips.length == inches
        assert float(strips.length) / YARD == pytest.approx(float(yards), abs=fact.last_digit)


def of_squares(side: Fraction, count: int, usable: Fraction | int) -> Strips:
    """The strips for so many squares of one cloth."""
    settings = replace(TRIMMED, usable_width=F(usable))
    made = listed(block_of("a", side - 2 * SEAM), settings, count)
    (strips,) = strips_for(made.pieces, settings)
    return strips


@pytest.mark.parametrize("row", disputed("strips_need"), ids=lambda row: row.id)
def test_a_slip_in_the_text(row: Disputed) -> None:
    """Four squares of 9 1/2 in side by side are said to be 37 in long."""
    side, each = (F(text) for text in row.inputs.split(" x "))
    (cut,) = of_squares(side, int(each), 42).cuts
    assert cut.each == each
    assert cut.each * cut.along == F(row.holds_up) != F(row.published)


@pytest.mark.parametrize("row", disputed("strips_per_yard"), ids=lambda row: row.id)
def test_a_list_that_squares_up_in_some_rows_only(row: Disputed) -> None:
    """Strips from a yard: what fits without squaring up, and what was published."""
    widths = [F(text) for text in row.inputs.split(";")]
    fits = [of_squares(width, 1, YARD).cuts[0].each for width in widths]
    assert fits == [int(text) for text in re.findall(r"\d+", row.holds_up)[: len(widths)]]
    published = [int(text) for text in row.published.split(";")]
    pairs = list(zip(widths, published, strict=True))
    # Some length that squaring up takes would have to leave room for every row's strips, and for
    # one strip more in none.
    assert max(YARD - width * (n + 1) for width, n in pairs) >= min(YARD - w * n for w, n in pairs)
