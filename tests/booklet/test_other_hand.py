"""The edition for the left hand: making and cutting are turned over, what would become another unit
is not, and no word or picture for the other hand is left."""

from __future__ import annotations

import functools
from dataclasses import replace

import pytest

from seamproof.booklet import checks, wording
from seamproof.booklet.book import book
from seamproof.booklet.checks import check
from seamproof.booklet.model import Beside, BookletModel, Chapter, Edition, Words
from seamproof.booklet.other_hand import is_own_twin
from seamproof.drawing.scene import Scene
from tests.booklet import demo
from tests.booklet.quilts import matter

LEFT = Edition(left=True)
CHIRAL = ("half-rectangle triangles", "log cabins")


@functools.cache
def methods(*, left: bool) -> dict[str, Chapter]:
    (section,) = [s for s in demo.model(left=left).sections if s.key == "recipes"]
    return {p.title: p for p in section.parts if isinstance(p, Chapter) and p.steps}


def figures(chapter: Chapter) -> list[Scene]:
    return [step.figure for step in chapter.steps]


def test_methods_are_turned_over_unless_the_unit_would_be_its_twin() -> None:
    turned = 0
    for title, usual in methods(left=False).items():
        found = figures(methods(left=True)[title])
        if any(kind in title for kind in CHIRAL):
            assert found == figures(usual), title
        elif found != figures(usual):
            assert found == [scene.mirrored() for scene in figures(usual)], title
            turned += 1
    assert turned >= len(methods(left=False)) - len(CHIRAL) - 1
    assert any(kind in title for kind in CHIRAL for title in methods(left=False))


def test_the_block_itself_is_never_turned_over() -> None:
    for usual, other in zip(demo.model().sections, demo.model(left=True).sections, strict=True):
        for one, its in zip(usual.parts, other.parts, strict=True):
            if isinstance(one, Chapter) and one.title == wording.ASSEMBLY_TITLE:
                assert one == its
            if isinstance(one, Beside) and one.table.name.startswith("layout"):
                assert one == its


def test_every_cutting_diagram_of_the_demo_begins_at_the_right() -> None:
    """Its diamonds have equal sides: turned over they are the same."""
    for usual, other in zip(diagrams(left=False), diagrams(left=True), strict=True):
        assert other.shapes == usual.mirrored().shapes


def diagrams(*, left: bool) -> list[Scene]:
    (section,) = [s for s in demo.model(left=left).sections if s.key == "cutting"]
    return [part.picture.figure for part in section.parts if isinstance(part, Beside)]


def test_nothing_is_wrong_with_the_demo_for_the_left_hand() -> None:
    assert check(demo.model(left=True), LEFT) == ()


@pytest.mark.parametrize(
    "planted",
    [
        "Hold the ruler with the left hand.",
        "Begin at the rightmost strip.",
        "Sew round the square clockwise.",
        "Cut from left to right.",
        "Turn the mat anticlockwise.",
    ],
)
def test_a_word_that_was_not_turned_over_is_found(planted: str) -> None:
    model = book(matter(), left=True)
    assert {f.code for f in check(_with(model, planted), LEFT)} == {checks.FOR_ONE_HAND.code}


@pytest.mark.parametrize(
    "harmless",
    [
        "Lay them right sides together.",
        "From the back its allowances turn clockwise.",
        "It is 3 in from the left and 2 in from the top.",
        "Use up what is left over.",
    ],
)
def test_a_word_about_cloth_or_block_is_none(harmless: str) -> None:
    assert check(_with(book(matter(), left=True), harmless), LEFT) == ()


def _with(model: BookletModel, text: str) -> BookletModel:
    block = next(s for s in model.sections if s.key == "block:star")
    more = replace(block, parts=(*block.parts, Words((text,))))
    sections = tuple(more if s.key == block.key else s for s in model.sections)
    return replace(model, sections=sections)


def test_a_picture_without_cloth_may_be_turned() -> None:
    assert is_own_twin(Scene(()))
