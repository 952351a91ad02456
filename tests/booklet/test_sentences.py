"""Sentences by name: each default is really said, hers take its place, and cautions stay."""

from __future__ import annotations

import ast
import functools
import re
from fractions import Fraction
from pathlib import Path

import pytest

import seamproof
from seamproof.booklet import (
    book_wording,
    cloth_chapters,
    finishing_wording,
    press_wording,
    release_wording,
    seam_wording,
    setting_chapter,
    unit_wording,
    wording,
)
from seamproof.booklet.book import book
from seamproof.booklet.reading import lines_of
from seamproof.booklet.sentences import KEPT, SENTENCES, name_of, places_in, reworded, said_anew
from tests.booklet import demo
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
    book_wording.corrections_said("by the door"),
    book_wording.report_said("the shop"),
)
"""What other blocks than those of the small quilt are told."""


NO_SENTENCES = frozenset(
    {"Calculated, not sewn.", "The steps show how.", "Keep the rest for a test."}
    | {
        "The quilt goes out in {} release",
        "Cut between the marks, or round a template.",
        "{}: cut {}, {}.",
    }
    | {
        "Starch the cloth first, and press without pushing.",
        "Write{}:",
        "{} The new edges stretch:",
    }
)
"""Literals that are no sentence by themselves: parts of one, and what the checks say of a block,
which stands in the same words wherever notes are shown."""

MODULES = (book_wording, wording, unit_wording, seam_wording, press_wording, finishing_wording)


@functools.cache
def literals() -> tuple[str, ...]:
    """Every sentence that is written in the wording modules, numbers and names as 7."""
    found: list[str] = []
    for module in (*MODULES, release_wording, cloth_chapters, setting_chapter):
        tree = ast.parse(Path(module.__file__ or "").read_text("utf-8"))
        skipped = {
            id(part)
            for node in ast.walk(tree)
            for part in (
                node.values
                if isinstance(node, ast.JoinedStr)
                else [node.value]
                if isinstance(node, ast.Expr)
                else []
            )
        }
        for node in ast.walk(tree):
            if isinstance(node, ast.JoinedStr):
                parts = [v.value if isinstance(v, ast.Constant) else "7" for v in node.values]
                found += sentences_of("".join(map(str, parts)))
            elif isinstance(node, ast.Constant) and id(node) not in skipped:
                found += sentences_of(node.value) if isinstance(node.value, str) else ()
    return tuple(found)


def sentences_of(text: str) -> list[str]:
    """The sentences of a text: three words at least, and a stop."""
    some = (
        re.sub(r"^7 (?=[A-Z])", "", s.strip()) for s in re.split(r"(?<=[.!?]) (?=[A-Z(])", text)
    )
    return [s for s in some if s.endswith((".", "?", "!", ".)")) and len(s.split()) > 2]


@functools.cache
def printed() -> tuple[tuple[str, str, str], ...]:
    """Every sentence that the booklet of the demo says, with its section and place."""
    lines = lines_of(demo.model())
    return tuple((one.section, one.place, s) for one in lines for s in sentences_of(one.text))


@pytest.mark.parametrize("name", SENTENCES)
def test_every_default_reads_like_one_sentence(name: str) -> None:
    assert SENTENCES[name][-1] in {*".?)"}
    assert said_anew(SENTENCES[name], {name: SENTENCES[name]}) == SENTENCES[name]
    assert not re.search(r"[.!?] [A-Z]", SENTENCES[name])
    assert name_of(SENTENCES[name]) == name


def test_every_sentence_that_the_demo_prints_can_be_replaced() -> None:
    """What the checks say of a block stands with its notes, in the checks' words."""
    fixed = [
        (section, place, text)
        for section, place, text in printed()
        if not name_of(text) and not re.search(r"\btable |note \d", place)
    ]
    assert fixed == []
    assert len(printed()) > 1000


def test_every_sentence_that_is_written_anywhere_can_be_replaced() -> None:
    allowed = tuple(one.replace("{}", "7") for one in NO_SENTENCES)
    fixed = {text for text in literals() if not name_of(text) and not text.startswith(allowed)}
    assert fixed == set()


def test_defaults_are_what_the_booklet_says() -> None:
    """A default that nobody says would never be replaced."""
    lines = [s for line in lines_of(book(matter())) for s in (line.text, *sentences_of(line.text))]
    elsewhere = [s for text in ELSEWHERE for s in (text, *sentences_of(text))]
    told = {*map(name_of, (*lines, *elsewhere, *literals(), *(text for *_, text in printed())))}
    told |= {name_of(line.text) for line in lines_of(demo.model())}
    assert SENTENCES.keys() - told == set()


def test_of_two_that_fit_the_one_that_says_more_is_meant() -> None:
    text = "Draw, sew, cut and press as in step 2."
    assert name_of(text) == "as-before-drawn"
    assert said_anew(text, {"as-in-step": "Again {step}."}) == text
    assert said_anew(text, {"as-before-drawn": "As in {step}."}) == "As in 2."


def test_a_lead_without_a_stop_stays_without() -> None:
    assert said_anew("Set 2 at the machine", {"set": "Round {number}."}) == "Round 2"


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
