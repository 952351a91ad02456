"""What holds for the piecing of every drawing."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from seamproof.draft.model import Block, Drawing, Fixing
from seamproof.draft.turning import mirrored, recoloured, turned
from seamproof.piecing.checks import NOT_LAST
from seamproof.piecing.model import PiecingPlan
from seamproof.piecing.planning import plan
from tests import cast, strategies
from tests.piecing.drawn import drawn
from tests.piecing.exhausting import NEVER, fewest_bends, fewest_in_two_goes, rings_apart
from tests.piecing.replaying import Replay, replay

BLOCKS = {name: make() for name, make in cast.CAST.items()} | cast.reference_blocks()
SLOW = {"star_of_bethlehem_4"}
"""A second and more for every plan: replayed with the other blocks of the table, not turned."""


def sewn(block: Block) -> tuple[PiecingPlan, Replay]:
    made, _ = plan(block)
    return made, replay(made, block)


def counts(made: PiecingPlan) -> dict[str, object]:
    """What a plan counts whichever way up the block lies. Rows are sewn before columns, as a maker
    sees them, so how often a part is used is not among it."""
    kind = {unit.part: unit.kind for unit in made.units}
    cells = Counter(cell for row in made.rows for cell in row)
    return {
        "sessions": made.sessions,
        "bound": made.sessions_bound,
        "set in": made.set_in_points,
        "in two goes": made.partial_bound,
        "parts": len(made.parts),
        "cells": Counter((kind.get(part), count) for part, count in cells.items()),
    }


# Straight where straight seams will do ------------------------------------------------------------


@settings(max_examples=30)
@given(strategies.planted_blocks())
def test_what_was_cut_along_chords_is_sewn_straight(block: Block) -> None:
    made, done = sewn(block)
    assert made.set_in_points == made.partial_bound == done.points == 0
    assert done.count("straight") == len(block.patches) - 1


@settings(max_examples=25)
@given(strategies.planted_blocks(lattice=False, most=12))
def test_at_any_angle(block: Block) -> None:
    made, done = sewn(block)
    assert made.set_in_points == made.partial_bound == done.points == 0
    assert done.count("straight") == len(block.patches) - 1


@settings(max_examples=15)
@given(strategies.planted_blocks())
def test_without_search_it_is_the_same_kind_of_plan(block: Block) -> None:
    made, _ = plan(block, search=False)
    assert replay(made, block).count("straight") == len(block.patches) - 1
    assert made.sessions >= plan(block)[0].sessions


# Against trying everything ------------------------------------------------------------------------


@settings(max_examples=120)
@given(strategies.merged(fewest=4, most=10))
def test_small_maps_agree_with_every_way_to_take_them_apart(drawing: Drawing) -> None:
    block = cast.understood(drawing)
    map_ = drawn(block)
    made, done = sewn(block)
    corners = len(map_.corners_to_set_in)
    bends = fewest_bends(map_)
    assert (bends == 0) == (done.count("straight") == len(block.patches) - 1)
    assert bends >= corners == made.set_in_points
    # Whole seams with no more corners than must be: exactly if no seam needs two goes.
    assert (bends == corners) == (done.stops == 0)


@settings(max_examples=120)
@given(strategies.merged(fewest=4, most=9))
def test_small_maps_agree_with_every_pass_and_every_stop(drawing: Drawing) -> None:
    check_stops(cast.understood(drawing), most=2)


@settings(max_examples=40)
@given(strategies.windmills(most=16))
def test_windmills_agree_with_every_pass_and_every_stop(drawing: Drawing) -> None:
    check_stops(cast.understood(drawing), most=3)


@settings(max_examples=40)
@given(strategies.tiled(most=12))
def test_rectangles_agree_with_every_pass_and_every_stop(drawing: Drawing) -> None:
    check_stops(cast.understood(drawing), most=2)


def check_stops(block: Block, most: int) -> None:
    map_ = drawn(block)
    made, done = sewn(block)
    fewest = fewest_in_two_goes(map_, most)
    assert fewest == done.stops == made.partial_bound
    assert rings_apart(map_) <= made.partial_bound


def test_the_small_maps_are_of_all_sorts() -> None:
    """The tests above are worth something only if their maps differ in what they ask."""
    sorts: Counter[str] = Counter()

    @settings(max_examples=120)
    @given(strategies.merged(fewest=4, most=10))
    def sort(drawing: Drawing) -> None:
        map_ = drawn(cast.understood(drawing))
        bends = fewest_bends(map_)
        sorts["straight" if bends == 0 else "set in" if bends < NEVER else "never"] += 1
        sorts["ring"] += bends > len(map_.corners_to_set_in)

    @settings(max_examples=60)
    @given(strategies.windmills(most=16))
    def rings(drawing: Drawing) -> None:
        sorts[f"{rings_apart(drawn(cast.understood(drawing)))} rings"] += 1

    sort()
    rings()
    assert min(sorts["straight"], sorts["set in"]) >= 25
    assert sorts["ring"] >= 1
    assert min(sorts[f"{n} rings"] for n in (1, 2, 3)) >= 5


# Turned, mirrored, in other fabrics ---------------------------------------------------------------


@pytest.mark.parametrize("name", sorted(BLOCKS.keys() - SLOW))
def test_turned_and_mirrored_blocks_are_sewn_with_the_same_counts(name: str) -> None:
    check_turned(BLOCKS[name])


@settings(max_examples=20)
@given(strategies.cell_drawings())
def test_turned_and_mirrored_cells_are_sewn_with_the_same_counts(drawing: Drawing) -> None:
    block = cast.understood(drawing)
    assume(len(block.patches) <= 24)
    check_turned(block)


def check_turned(block: Block) -> None:
    made, done = sewn(block)
    for other in (turned(block, 1), turned(block, 2), turned(block, 3), mirrored(block)):
        its, its_done = sewn(other)
        assert counts(its) == counts(made)
        assert its_done.points == done.points
        assert its_done.stops == done.stops


@settings(max_examples=15)
@given(strategies.planted_blocks(), st.permutations(strategies.FABRICS))
def test_fabrics_exchanged_change_only_letters(block: Block, fabrics: list[str]) -> None:
    made, _ = sewn(block)
    its, _ = sewn(recoloured(block, dict(zip(strategies.FABRICS, fabrics, strict=True))))
    assert counts(its) == counts(made)


# What the maker asks for --------------------------------------------------------------------------


@pytest.mark.parametrize("name", sorted(cast.CAST))
def test_a_line_that_is_asked_for_is_sewn_last_or_said_to_be_impossible(name: str) -> None:
    block = cast.CAST[name]()
    for e in drawn(block).seams[:8]:
        line = (block.vertices[e[0]], block.vertices[e[1]])
        asked = replace(block, fixings=(Fixing(line, None, "last"),))
        made, notes = plan(asked)
        last = replay(made, asked).copies[-1]
        unmet = any(note.code == NOT_LAST.code for note in notes)
        assert unmet or e in {stretch.edge for stretch in last.stretches}
