"""Folding against tracing points back, on random blocks under random plans."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import settings as running
from hypothesis import strategies as st

from seamproof.cutting.listing import cutting_list
from seamproof.draft.model import Block
from seamproof.piecing.planning import plan
from seamproof.pressing.folding import Fold, Sheet, Spot, holds, laid, may_lie
from seamproof.pressing.model import PressSettings
from seamproof.pressing.sheets import Cloth, cloth_of
from tests import cast, strategies
from tests.drawings import understood
from tests.pressing.by_tracing import inside, layers_at, sources

blocks = st.one_of(
    strategies.planted_blocks(most=10),
    strategies.planted_blocks(lattice=False, most=8),
    strategies.cell_drawings().map(understood),
)
seeds = st.integers(0, 2**32 - 1)


def cloth(block: Block) -> Cloth:
    piecing, _ = plan(block)
    cutting, _ = cutting_list(block, piecing)
    return cloth_of(piecing, cutting, PressSettings())


def spots(found: Cloth, dice: random.Random, count: int) -> list[Spot]:
    """Near corners of patches, where seams meet."""
    corners = [p for patch in found.patches for p in patch]
    near = [dice.choice(corners) for _ in range(count)]
    return [(x + dice.uniform(-0.7, 0.7), y + dice.uniform(-0.7, 0.7)) for x, y in near]


@given(blocks, seeds)
@running(max_examples=12)
def test_as_many_layers_as_tracing_finds(block: Block, seed: int) -> None:
    dice, found = random.Random(seed), cloth(block)
    ways = [dice.choice(known) for known in found.ways]
    lying = laid(found.sheets, ways)
    for p in spots(found, dice, 40):
        covering = sum(inside(p, one.piece) for one in lying)
        assert covering == layers_at(p, found.sheets, ways)


@pytest.mark.parametrize("name", ["ell", "mitred_corner", "spiral", "eight_pointed_star"])
def test_set_in_points_and_seams_in_two_goes_too(name: str) -> None:
    dice, found = random.Random(5), cloth(getattr(cast, name)())
    for _ in range(4):
        ways = [dice.choice(known) for known in found.ways]
        lying = laid(found.sheets, ways)
        for p in spots(found, dice, 60):
            covering = sum(inside(p, one.piece) for one in lying)
            assert covering == layers_at(p, found.sheets, ways)


@given(blocks, seeds)
@running(max_examples=6)
def test_what_may_lie_is_what_lies_under_each_plan(block: Block, seed: int) -> None:
    dice, found = random.Random(seed), cloth(block)
    every = list(may_lie(found.sheets, found.ways))
    for _ in range(3):
        ways = [dice.choice(known) for known in found.ways]
        here = [one for one in every if holds(one.when, ways)]
        for p in spots(found, dice, 25):
            covering = sum(inside(p, one.piece) for one in here)
            assert covering == layers_at(p, found.sheets, ways)


def test_folds_over_slanting_lines_do_not_commute() -> None:
    square = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))
    across = Fold((0.0, 1.75), (1.0, 0.0), ())
    slant = Fold((0.0, 1.0), (2**-0.5, 2**-0.5), ())
    dice = random.Random(2)
    differ = 0
    for _ in range(400):
        p = (dice.uniform(0, 2), dice.uniform(0, 2))
        counts = []
        for folds in ((across, slant), (slant, across)):
            sheets = [Sheet("a", (square,), folds)]
            counts.append(layers_at(p, sheets, []))
            assert sum(inside(p, one.piece) for one in laid(sheets, [])) == counts[-1]
        differ += counts[0] != counts[1]
    assert differ


def test_beyond_a_fold_nothing_lies() -> None:
    fold = Fold((0.0, 1.0), (1.0, 0.0), ())
    assert sources((0.5, 1.5), [fold], []) == []
    assert sources((0.5, 0.75), [fold], []) == [(0.5, 0.75), (0.5, 1.25)]
