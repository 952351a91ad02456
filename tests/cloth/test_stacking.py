"""Layers under the ruler."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.cloth.pooling import Source, pooled
from seamproof.cloth.stacking import MOST, Handling, handling, stacked
from tests.cloth.pieces import piece


@given(alike=st.integers(0, 500), how=st.sampled_from(list(MOST)))
def test_stacks_hold_everything_and_are_never_too_high(alike: int, how: Handling) -> None:
    stacks = stacked(alike, how)
    assert stacks.layers <= MOST[how]
    assert stacks.count * stacks.layers >= alike
    assert (stacks.count - 1) * stacks.layers < alike or alike == 0


@pytest.mark.parametrize(
    ("shape", "how"), [("square", "short"), ("strip", "long"), ("diamond", "bias")]
)
def test_how_pieces_are_handled(shape: str, how: Handling) -> None:
    made = piece("Aa", 3, 3, shape=shape, angle=45)  # type: ignore[arg-type]
    (pool,) = pooled([Source("Quay", (made,))])
    assert handling(pool.kinds[0]) == how
