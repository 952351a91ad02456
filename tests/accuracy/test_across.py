"""How many seams a ruler passes over."""

from __future__ import annotations

import math

import pytest

from seamproof.accuracy.across import across, points_at_edge, trimmed_parts, units_across
from seamproof.cutting.listing import cutting_list
from seamproof.cutting.model import CuttingList
from seamproof.draft.model import Block
from seamproof.piecing.model import PiecingPlan
from seamproof.piecing.planning import plan
from tests.cast import cells_drawing, understood


def planned(rows: list[str], size: int = 9) -> tuple[Block, PiecingPlan, CuttingList]:
    block = understood(cells_drawing("a block", (size, size), rows))
    made, _ = plan(block)
    assert made is not None
    cutting, _ = cutting_list(block, made)
    return block, made, cutting


NINE = ["a b a", "b a b", "a b a"]
STAR = ["a b/a a\\b a", "b/a c c b\\a", "a\\b c c a/b", "a a\\b b/a a"]


def test_a_nine_patch_has_two_seams_and_three_pieces_both_ways() -> None:
    _, made, _ = planned(NINE)
    for way in ("width", "height"):
        lies = across(made, way)  # type: ignore[arg-type]
        assert (lies.seams, lies.fewest, lies.most, lies.pieces, lies.trimmed) == (2, 2, 2, 3, 0)


def test_rows_that_differ_count_by_their_height() -> None:
    """One row of four, and below it one piece of the whole width, three times as high."""
    block = understood(cells_drawing("steps", (8, 8), ["a b a b", "c = = =", "^ ^ ^ ^", "^ ^ ^ ^"]))
    made, _ = plan(block)
    assert made is not None
    lies = across(made, "width")
    assert (lies.fewest, lies.most) == (0, 3)
    assert lies.seams == pytest.approx(3 / 4)
    assert across(made, "height").seams == pytest.approx(1)


def test_a_slanting_seam_counts_by_how_far_it_moves_the_cloth_across() -> None:
    """Two triangles: their seam takes 1 / sqrt 2 of its take-up off the width."""
    _, made, _ = planned(["a/b"])
    assert across(made, "width").seams == pytest.approx(math.sqrt(1 / 2))


def test_seams_inside_a_trimmed_unit_do_not_count() -> None:
    _, made, cutting = planned(["a/b c", "c a/b"], 6)
    trimmed = trimmed_parts(cutting)
    assert trimmed
    lies = across(made, "width", trimmed=trimmed)
    assert (lies.seams, lies.pieces, lies.trimmed) == (1, 1, 1)
    assert across(made, "width").seams > 1
    assert units_across(made, "width", trimmed, trimmed=trimmed) == 1


def test_a_single_patch_has_no_seam() -> None:
    _, made, _ = planned(["a"])
    lies = across(made, "width")
    assert (lies.seams, lies.pieces) == (0, 1)


def test_points_on_the_outside() -> None:
    assert points_at_edge(planned(NINE)[1]) == 0
    # Corner to corner: trimming moves no point off its corner.
    assert points_at_edge(planned(["a/b"])[1]) == 0
    assert points_at_edge(planned(["a/b a\\b", "a\\b a/b"])[1]) == 4
