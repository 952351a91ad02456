"""Prints with a direction."""

from __future__ import annotations

from seamproof.cloth.standing import stood
from seamproof.cutting.listing import cutting_list
from seamproof.draft.model import Block
from seamproof.piecing.planning import plan
from tests.cutting.drawn import TRIMMED, block_of


def grains(block: Block, directional: set[str], copies: int = 1) -> list[tuple[str, int, str]]:
    its_plan, _ = plan(block)
    assert its_plan is not None
    made, _ = cutting_list(block, its_plan, copies=copies, settings=TRIMMED)
    pieces = stood(made.pieces, its_plan, directional)
    return sorted((p.fabric, p.count, p.grain) for p in pieces if p.shape == "rectangle")


def test_bars_stand_or_lie_as_in_the_block() -> None:
    block = block_of("a a= a\na c ^\n^ a a=", 9)
    assert grains(block, set()) == [("a", 4, "either")]
    assert grains(block, {"a"}) == [("a", 2, "cross"), ("a", 2, "length")]
    assert grains(block, {"a"}, copies=3) == [("a", 6, "cross"), ("a", 6, "length")]


def test_other_fabrics_may_turn() -> None:
    block = block_of("a a= a\na c ^\n^ a a=", 9)
    assert grains(block, {"c"}) == [("a", 4, "either")]
