"""The checks of a booklet: nothing is wrong with a whole one, and each finds what is planted."""

from __future__ import annotations

from dataclasses import replace

from seamproof.booklet import checks
from seamproof.booklet.book import book
from seamproof.booklet.checks import check
from seamproof.booklet.model import (
    BookletModel,
    Chapter,
    CuttingTables,
    Edition,
    Part,
    Section,
    Words,
)
from tests.booklet.quilts import matter


def with_part(model: BookletModel, key: str, part: Part) -> BookletModel:
    """The booklet with one more part in a section."""
    return replace(
        model,
        sections=tuple(
            replace(s, parts=(*s.parts, part)) if s.key == key else s for s in model.sections
        ),
    )


def codes(model: BookletModel, edition: Edition | None = None) -> set[int]:
    return {finding.code for finding in check(model, edition)}


def test_nothing_is_wrong_with_a_booklet_for_either_hand() -> None:
    assert check(book(matter()), Edition()) == ()
    assert check(book(matter(), left=True), Edition(left=True)) == ()
    assert check(book(matter(), "Pair")) == ()


def test_a_letter_that_is_cut_and_not_used_is_found() -> None:
    model = book(matter())
    block = next(s for s in model.sections if s.key == "block:star")
    (tables,) = [part for part in block.parts if isinstance(part, CuttingTables)]
    first = tables.tables[0]
    more = replace(first, rows=(*first.rows, replace(first.rows[0], letter="Ax")))
    planted = with_part(model, "block:star", replace(tables, tables=(more,)))
    assert codes(planted) == {checks.LETTER_NOT_SHOWN.code}


def test_a_letter_that_is_used_and_not_cut_is_found() -> None:
    planted = with_part(book(matter()), "block:star", Words(("Sew Ax to unit 1.",)))
    assert codes(planted) == {checks.LETTER_NOT_CUT.code}


def test_an_abbreviation_that_is_not_explained_is_found() -> None:
    planted = with_part(book(matter()), "block:star", Words(("Cut it 4 cm wide.",)))
    assert codes(planted) == {checks.NOT_DEFINED.code}


def test_a_missing_section_and_one_out_of_order_are_found() -> None:
    model = book(matter())
    short = replace(model, sections=tuple(s for s in model.sections if s.key != "tools"))
    assert codes(short) == {checks.SECTION_MISSING.code}
    turned = replace(model, sections=(*model.sections[1:], model.sections[0]))
    assert codes(turned) == {checks.SECTION_MISSING.code}


def test_a_word_for_the_right_hand_is_found_in_the_edition_for_the_left() -> None:
    planted = with_part(
        book(matter(), left=True), "block:star", Words(("Hold the ruler with the left hand.",))
    )
    assert codes(planted, Edition(left=True)) == {checks.FOR_ONE_HAND.code}
    assert codes(planted, Edition()) == set()
    assert codes(book(matter()), Edition(left=True)) == {checks.FOR_ONE_HAND.code}


def test_steps_alone_show_a_letter() -> None:
    """A picture counts, not only words: the letters of single pieces stand in the steps."""
    model = book(matter())
    block = next(s for s in model.sections if s.key == "block:pair")
    bare = Section(
        block.key, block.title, tuple(p for p in block.parts if not isinstance(p, Chapter))
    )
    planted = replace(
        model, sections=tuple(bare if s.key == block.key else s for s in model.sections)
    )
    assert checks.LETTER_NOT_SHOWN.code in codes(planted)
