"""Blocks of the trade: what others counted by hand or proved."""

from __future__ import annotations

import functools

import pytest

from seamproof.draft.model import Block
from seamproof.piecing.model import Leaf, PiecingPlan
from seamproof.piecing.planning import plan
from tests import cast
from tests.piecing.replaying import Replay, replay

NAMES = sorted(cast.reference_values())


def test_every_block_of_the_table_is_drawn() -> None:
    assert sorted(cast.reference_blocks()) == NAMES
    assert len(NAMES) == 34


@functools.cache
def worked(name: str) -> tuple[Block, PiecingPlan, Replay]:
    block = cast.reference_blocks()[name]
    made, _ = plan(block)
    return block, made, replay(made, block)


@pytest.mark.parametrize("name", NAMES)
def test_counts(name: str) -> None:
    row = cast.reference_values()[name]
    block, made, sewn = worked(name)
    assert len(block.patches) == made.patches == int(row["patches"])
    assert sewn.joins == int(row["joins"])
    assert sewn.count("partial") == sewn.count("finish") == int(row["partial"])
    assert made.set_in_points == int(row["setin_points"])
    if row["straight"]:
        assert sewn.count("straight") == int(row["straight"])
    assert sum(isinstance(p.made, Leaf) for p in made.parts) == int(row["patch_types"])


@pytest.mark.parametrize("name", NAMES)
def test_grid_of_units(name: str) -> None:
    row = cast.reference_values()[name]
    _, made, _ = worked(name)
    cells = [cell for line in made.rows for cell in line]
    assert f"{len(made.rows)}x{max(len(line) for line in made.rows)}" == row["grid"]
    assert len(cells) == int(row["units"])
    assert len(set(cells)) == int(row["unit_types"])


@pytest.mark.parametrize("name", NAMES)
def test_sessions(name: str) -> None:
    """Equal where the table's number was proved least, else no worse."""
    row = cast.reference_values()[name]
    _, made, _ = worked(name)
    if row["sessions_status"] == "proved":
        assert made.sessions == int(row["sessions"])
    assert made.sessions_bound <= made.sessions <= int(row["sessions"])
