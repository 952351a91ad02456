"""The ways to make a unit, side by side."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.cutting.comparing import Trips, UnitWays, Way, compare, trips
from seamproof.cutting.model import CuttingSettings
from seamproof.draft.model import Block
from seamproof.piecing.planning import plan
from tests.cast import reference_blocks
from tests.cutting.drawn import TRIMMED, block_of, geese, hst, listed, nine_patch, recipe_for

F = Fraction


def compared(
    block: Block, copies: int = 1, settings: CuttingSettings = TRIMMED
) -> tuple[UnitWays, ...]:
    its_plan, _ = plan(block)
    assert its_plan is not None
    return compare(its_plan, copies, settings)


def ways_of(block: Block, copies: int = 1) -> dict[str, Way]:
    """The ways of a block that is one kind of unit."""
    (unit,) = compared(block, copies)
    return {way.method: way for way in unit.ways}


def test_nine_patches_by_strip_sets_and_singly() -> None:
    """Twelve nine-patches of 1 1/2 in squares: strips of 1 1/2 in, sets for 24 and 12 slices."""
    ways = ways_of(nine_patch(3), 12)
    sets, singly = ways["strip sets"], ways["single patches"]
    assert (sets.chosen, singly.chosen) == (True, False)
    assert singly.cloth == 12 * 9 * 1.5**2
    # 24 slices of 1 1/2 in and an inch, three strips; 12 slices and an inch, three strips.
    assert sets.cloth == 3 * 1.5 * 37 + 3 * 1.5 * 19
    assert (sets.pieces, singly.pieces) == (6, 108)
    assert (sets.seams, singly.seams) == (2 + 2 + 24, 12 * 8)
    assert sets.trips == Trips(machine=4, iron=4, mat=1)
    assert singly.trips.mat == 0


def test_half_square_triangles() -> None:
    ways = ways_of(hst(4), 4)
    assert ways["two at a time"].chosen
    assert ways["two at a time"].cloth == 8 * 25
    assert ways["two at a time"].bias_edges == 0
    assert ways["four at a time"].bias_edges == 4
    assert ways["from triangles"].trips.mat < ways["two at a time"].trips.mat
    assert all(way.spare == 0 for way in ways.values())


def test_what_is_left_over() -> None:
    ways = ways_of(geese(4, 2, 1), 5)
    assert ways["four at a time"].spare == 3
    assert ways["from triangles"].spare == 0


@pytest.mark.parametrize("copies", [1, 3, 20])
def test_one_way_is_chosen_and_it_is_that_of_the_list(copies: int) -> None:
    for block in reference_blocks().values():
        if len(block.patches) > 40:
            continue
        made = {recipe.unit: recipe for recipe in listed(block, copies=copies).recipes}
        for unit in compared(block, copies):
            (chosen,) = [way for way in unit.ways if way.chosen]
            if chosen.method == "single patches":
                assert unit.part not in made
                continue
            recipe = made[unit.part]
            assert (recipe.method, recipe.spare) == (chosen.method, chosen.spare)
            assert sum(piece.count for piece in recipe.pieces) == chosen.pieces
            assert recipe.made - recipe.spare == unit.count


def test_a_named_way_is_the_chosen_one() -> None:
    named = replace(TRIMMED, methods={"nine-patch": "single patches"})
    (unit,) = compared(nine_patch(9), 12, named)
    assert [way.method for way in unit.ways if way.chosen] == ["single patches"]


def test_rows_of_a_unit_of_single_patches_are_no_units() -> None:
    (unit,) = compared(nine_patch(9), 1)
    assert (unit.kind, unit.count, unit.fabrics) == ("nine-patch", 1, ("a", "b"))


def test_a_block_without_units_has_no_ways() -> None:
    assert compared(block_of("a", 6)) == ()


def test_trips_follow_the_longest_way() -> None:
    """A rail of three: two seams one after the other, one sub-cut."""
    recipe = recipe_for(listed(block_of("a\nb\nc", 6), copies=4), "rail")
    assert trips(recipe.steps) == Trips(machine=2, iron=2, mat=1)
