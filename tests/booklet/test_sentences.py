"""Sentences by name: each default is really said, hers take its place, and cautions stay."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest

import seamproof
from seamproof.booklet import (
    press_wording,
    seam_wording,
    unit_wording,
    wording,
)
from seamproof.booklet.book import book
from seamproof.booklet.reading import lines_of
from seamproof.booklet.sentences import KEPT, SENTENCES, places_in, reworded, said_anew
from tests.booklet.quilts import matter

WORDS = Path(__file__).parents[2] / "docs" / "reference" / "words.md"
QUARTER, FOUR = Fraction(1, 4), (Fraction(4), Fraction(4))

ELSEWHERE = (
    unit_wording.ruler_beyond_point(QUARTER, "in"),
    seam_wording.block_measures(FOUR, "in", 1),
    unit_wording.cut_off(QUARTER, "in", 1),
    unit_wording.cut_off(QUARTER, "in", 2),
    unit_wording.draw_diagonal(2),
    wording.should_measure(FOUR, "in", 1),
    seam_wording.mark_dots(1, QUARTER, "in"),
    seam_wording.mark_dots(2, QUARTER, "in"),
    unit_wording.sew_edge(QUARTER, "in", "long"),
    press_wording.open_briefly("B"),
    press_wording.as_shown(2),
    press_wording.as_shown(),
    unit_wording.sew_on_line(1),
    unit_wording.sew_on_line(2),
    unit_wording.sub_cut("the piece from step 2", 8, Fraction(3, 2), "in"),
    press_wording.spin("clockwise"),
)
"""What other blocks than those of the small quilt are told."""


@pytest.mark.parametrize("name", SENTENCES)
def test_every_default_reads_like_one_sentence(name: str) -> None:
    assert SENTENCES[name][-1] == "."
    assert said_anew(SENTENCES[name], {name: SENTENCES[name]}) == SENTENCES[name]
    assert not re.search(r"[.!?] [A-Z]", SENTENCES[name])


def test_defaults_are_what_the_booklet_says() -> None:
    """A default that nobody says would never be replaced."""
    lines = [*(line.text for line in lines_of(book(matter()))), *ELSEWHERE]
    untold = [
        name
        for name in SENTENCES
        if all(said_anew(text, {name: "\N{SNOWMAN}"}) == text for text in lines)
    ]
    assert untold == []


def test_her_words_take_the_place_and_the_numbers_stay() -> None:
    model = reworded(book(matter()), {"trim-to": "Cut every one down to {size}, please."})
    lines = [line.text for line in lines_of(model)]
    assert any("Cut every one down to 3 1/2 × 3 1/2 in, please." in line for line in lines)
    assert not any("Trim to 3" in line for line in lines)


def test_a_booklet_without_own_sentences_is_the_same() -> None:
    model = book(matter())
    assert reworded(model, {}) is model


def test_cautions_are_among_the_sentences() -> None:
    assert SENTENCES.keys() >= KEPT
    assert all(not places_in(SENTENCES[name]) for name in KEPT)


def test_the_page_lists_every_sentence() -> None:
    rows = re.findall(r"^\| `([a-z-]+)` \| (.+) \|$", WORDS.read_text("utf-8"), re.MULTILINE)
    listed = {name: text for name, text in rows if name in SENTENCES}
    assert listed == dict(SENTENCES)
    assert seamproof.__version__
