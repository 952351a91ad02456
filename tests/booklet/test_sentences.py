"""Sentences by name: each default is really said, hers take its place, and cautions stay."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import seamproof
from seamproof.booklet import (
    book_wording,
    finishing_wording,
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


def said() -> list[str]:
    """Everything the modules of sentences hold, with what they fill in left open."""
    modules = (
        wording,
        unit_wording,
        seam_wording,
        press_wording,
        book_wording,
        finishing_wording,
    )
    found = []
    for module in modules:
        source = Path(str(module.__file__)).read_text("utf-8")
        joined = re.sub(r'"\s*\n\s*f?"', "", source)
        found += re.findall(r'"((?:[^"\\]|\\.)*)"', joined)
    return found


@pytest.mark.parametrize("name", SENTENCES)
def test_every_default_reads_like_one_sentence(name: str) -> None:
    assert SENTENCES[name][-1] == "."
    assert said_anew(SENTENCES[name], {name: SENTENCES[name]}) == SENTENCES[name]
    assert not re.search(r"[.!?] [A-Z]", SENTENCES[name])


def test_defaults_are_what_the_booklet_says() -> None:
    """Most of them in this small quilt; a default that nobody says would never be replaced."""
    lines = [line.text for line in lines_of(book(matter()))]
    told = {
        name
        for name in SENTENCES
        if any(said_anew(text, {name: "\N{SNOWMAN}"}) != text for text in lines)
    }
    assert len(told) > len(SENTENCES) / 2
    bare = [re.sub(r"\{[^{}]*\}", "", text) for text in said()]
    for name in SENTENCES.keys() - told:
        words = [part for part in re.split(r"\{[^{}]*\}", SENTENCES[name]) if len(part) > 5]
        assert all(any(part.strip(" .,") in text for text in bare) for part in words), name


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
