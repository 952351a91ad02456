"""Ways to make units: each is told once, and every block says what is its own."""

from __future__ import annotations

import functools
import re

from seamproof.booklet.block_chapters import block_section, sheet_of
from seamproof.booklet.book import book
from seamproof.booklet.html import write_page
from seamproof.booklet.model import BookletModel, Chapter, Edition, HelpBox, Section
from seamproof.booklet.recipe_chapter import told_once
from tests.booklet.quilts import matter


@functools.cache
def model() -> BookletModel:
    return book(matter())


def section(key: str) -> Section:
    (found,) = [section for section in model().sections if section.key == key]
    return found


def chapters(key: str) -> list[Chapter]:
    return [part for part in section(key).parts if isinstance(part, Chapter)]


def test_units_of_two_blocks_that_are_made_alike_are_told_once() -> None:
    told = [chapter for chapter in chapters("recipes") if chapter.recipe]
    assert [chapter.recipe for chapter in told] == [1]
    assert {c.by for key in ("block:star", "block:pair") for c in chapters(key)} - {0} == {1}


def test_a_block_names_its_own_pieces_and_sizes_in_every_step() -> None:
    for one in matter().blocks:
        full = list(sheet_of(matter(), one).units)
        brief = [c for c in chapters(f"block:{one.slug}") if c.by]
        assert [c.title for c in brief] == [c.title for c in full]
        for long, short in zip(full, brief, strict=True):
            shown = {step.number: step for step in short.steps}
            for step in long.steps:
                sizes = re.findall(r"[\d/ ]+ × [\d/ ]+ in", step.text)
                marks = re.findall(r"\b[A-Z][a-z]\b(?= on|,)", step.text)
                own = shown.get(step.number)
                assert all(own and size in own.text for size in sizes)
                assert all(own and mark in own.text for mark in marks)
                assert step.measure == (own.measure if own else "")


def test_a_block_by_itself_tells_every_step() -> None:
    (star,) = [one for one in matter().blocks if one.name == "Star"]
    alone = book(matter(), "Star")
    assert "recipes" not in {section.key for section in alone.sections}
    (found,) = [s for s in alone.sections if s.key == "block:star"]
    assert next(p for p in found.parts if isinstance(p, Chapter)).steps == (
        sheet_of(matter(), star).units[0].steps
    )
    assert found == block_section(matter(), star)


def test_help_that_holds_for_every_block_is_told_once() -> None:
    (common,) = [part for part in section("help").parts if isinstance(part, HelpBox)]
    for slug in ("star", "pair"):
        (own,) = [p for p in section(f"block:{slug}").parts if isinstance(p, HelpBox)]
        (whole,) = [
            p
            for p in block_section(
                matter(), next(one for one in matter().blocks if one.slug == slug)
            ).parts
            if isinstance(p, HelpBox)
        ]
        told = " ".join(t for box in (common, own) for c in box.columns for t in c.texts)
        for column in whole.columns:
            for text in column.texts:
                for sentence in re.split(r"(?<=\.) ", text):
                    assert sentence in told


def test_the_page_leads_from_each_unit_to_its_method() -> None:
    page = write_page(model(), Edition())
    wanted = set(re.findall(r'href="#recipe-(\d+)"', page))
    assert wanted == {str(one.number) for one in told_once(matter()).values()}
    assert wanted <= set(re.findall(r'id="recipe-(\d+)"', page))
