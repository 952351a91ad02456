"""How half squares, half rectangles, split quarters and corner squares are told and pictured."""

from __future__ import annotations

from dataclasses import replace

from seamproof.booklet.model import SheetModel
from seamproof.booklet.sheets import sheet
from seamproof.cutting.listing import cutting_list
from seamproof.cutting.model import CuttingSettings
from seamproof.draft.model import Block
from seamproof.figures.looks import followed
from seamproof.piecing.planning import plan
from seamproof.project.palette import fabrics_from_palette
from tests.cutting.drawn import TRIMMED, block_of, hst, listed
from tests.cutting.recipes.corner_squares import corner_square
from tests.cutting.recipes.split_quarters import units


def told(block: Block, settings: CuttingSettings = TRIMMED) -> tuple[SheetModel, str]:
    """The sheet of a block, and all that its first unit chapter says."""
    piecing, _ = plan(block)
    assert piecing is not None
    cutting, _ = cutting_list(block, piecing, settings=settings)
    made = sheet(
        block, fabrics_from_palette("abc"), piecing, cutting, settings=settings, proved=True
    )
    chapter = made.units[0]
    return made, " ".join([chapter.lead, *(step.text for step in chapter.steps)])


def at_a_time(many: str) -> str:
    named = {"half-square triangle": f"{many} at a time"}
    return told(hst(4), replace(TRIMMED, methods=named))[1]


def test_eight_at_a_time() -> None:
    text = at_a_time("eight")
    assert "Draw both diagonals on the wrong side. Sew 1/4 in from each line on both sides." in text
    assert "cut across the middle both ways, 5 in from the edge, then on both lines" in text


def test_four_at_a_time() -> None:
    text = at_a_time("four")
    assert "Sew 1/4 in from the edge, all round." in text
    assert "Cut apart on both diagonals." in text


def test_what_is_cut_apart_both_ways_looks_like_the_unit() -> None:
    for many in ("eight", "four"):
        settings = replace(TRIMMED, methods={"half-square triangle": f"{many} at a time"})
        (recipe,) = listed(hst(4), settings).recipes[:1]
        last = followed(recipe.steps, recipe.pieces)[-1].gives[0]
        assert sorted(patch.fabric for patch in last.patches) == ["a", "b"]


def test_either_hand_of_half_rectangles_is_told_once() -> None:
    made, text = told(block_of("a/b b\\a\na\\b b/a", 8, 4))
    (chapter,) = made.units
    assert chapter.title == "Units 1 and 2: half-rectangle triangles"
    assert "Unit 2 is of the other hand" in text
    assert len(chapter.variants) == 2


def test_units_that_no_mirror_tells_apart_are_said_to_be_alike() -> None:
    made, text = told(block_of("a/b b/c", 8, 4))
    assert "other hand" not in text
    made, text = told(block_of("a/b a/c", 8, 2))
    assert len(made.units) == 1
    assert "other hand" not in text


def test_half_rectangles_from_triangles() -> None:
    made, text = told(block_of("a/b", 4, 2))
    # The tips stick out by the 0.65 in that geometry asks for, to the mark.
    assert "until the sharp tip of each sticks out 5/8 in beyond the other" in text
    assert "runs through the points 1/4 in inside two opposite corners" in text
    splits = [row.split for table in made.cutting for row in table.rows if row.split]
    assert splits == ["cut once, lower left to upper right, long side level, right side up"] * 2


def test_half_rectangles_two_at_a_time() -> None:
    named = replace(TRIMMED, methods={"half-rectangle triangle": "two at a time"})
    _, text = told(block_of("a/b", 4, 2), named)
    assert "the rest lies crosswise" in text
    assert "Draw the diagonal on the wrong side. Sew 1/4 in from it on both sides." in text


def test_split_quarters_of_both_hands() -> None:
    made, text = told(units("LR"))
    assert "Draw the diagonal that crosses the seam" in text
    assert "They come with two of the other hand, one of them to spare." in text
    assert "Those of the other hand: Trim to 3 1/2 × 3 1/2 in." in text
    assert made.assembly is not None
    assert "unit 1, mirrored" in made.assembly.steps[0].text


def test_corner_squares() -> None:
    _, text = told(corner_square(4))
    assert "the squares lie at opposite ends" in text
    assert "Draw a line at 45° from each of two opposite corners" in text
    assert "Cut apart halfway between them." in text
