"""Corners folded over, and squares in squares, as a sheet tells them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from seamproof.booklet.model import Chapter
from seamproof.booklet.unit_chapters import Telling, unit_chapters
from seamproof.cutting.model import CuttingSettings
from seamproof.cutting.recipes.flipped import LEFT_IN
from seamproof.draft.model import Block
from seamproof.figures.cloth import paints
from tests.by_hand import fabrics_for
from tests.cutting.drawn import listed
from tests.cutting.recipes.flipping import block_of, corners_cut, in_squares

F = Fraction
USUAL = CuttingSettings()


def told(block: Block, settings: CuttingSettings = USUAL) -> Chapter:
    telling = Telling(paints(fabrics_for(block)), settings, "in")
    recipes = listed(block, settings).recipes
    marks = {recipe.unit: f"unit {i}" for i, recipe in enumerate(recipes, start=1)}
    (chapter,) = unit_chapters(recipes, marks, telling)
    return chapter


def all_text(chapter: Chapter) -> str:
    return " ".join(step.text for step in chapter.steps)


def test_a_snowball_has_four_equal_corners() -> None:
    equal = block_of(corners_cut(F(6), F(6), [2] * 4, "abab"))
    assert told(equal).title == "Unit 1: make one snowball"
    for width, legs in ((6, [2, 2, 2, 0]), (6, [2, 1, 2, 1]), (8, [2] * 4)):
        other = block_of(corners_cut(F(width), F(6), legs))
        assert told(other).title == "Unit 1: make one flipped-corner unit"


def test_what_is_cut_off_is_offered_where_it_is_worth_it() -> None:
    large = told(block_of(corners_cut(F(12), F(12), [4] * 4)))
    assert "makes four half-square triangles of 3 1/2 × 3 1/2 in besides" in large.lead
    assert "1/2 in outside the stitching" in large.lead
    assert "besides" not in told(block_of(corners_cut(F(3), F(3), [1] * 4))).lead


def test_corners_are_cut_off_or_left_in() -> None:
    block = block_of(corners_cut(F(6), F(6), [2] * 4))
    assert "Cut off the corners 1/4 in outside the stitching." in all_text(told(block))
    left = replace(USUAL, methods={"snowball": LEFT_IN})
    text = all_text(told(block, left))
    assert "Fold each square over its stitching to the corner, and press." in text
    assert "Leave in what is behind." in text
    assert "Cut" not in text


def test_rounds_are_trimmed_by_their_points() -> None:
    text = all_text(told(block_of(in_squares(F(6), "cbbbbaaaa"))))
    assert text.count("Leave 1/4 in beyond each of the four points.") == 2
    assert "Trim to about 4 3/4 × 4 3/4 in." in text
    assert "Trim to 6 1/2 × 6 1/2 in." in text
    assert text.count("The tips stick out as far at either end.") == 1
    assert text.count("Match, sew and press as in step 1.") == 3
