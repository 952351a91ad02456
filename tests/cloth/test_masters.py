"""Fractional optima: known ones, whole parts, supplies that run out."""

from __future__ import annotations

import numpy as np
import pytest

from seamproof.cloth.columns import TwoStages
from seamproof.cloth.masters import Master, master, whole_part
from seamproof.cloth.patterns import Kind
from seamproof.cloth.sources import Pattern, Source


def unmet(number: int, demands: int) -> Pattern:
    counts = np.zeros(demands, dtype=np.int64)
    counts[number] = 1
    return Pattern(None, counts, 1000.0, ())


def optimum(
    kinds: tuple[Kind, ...],
    counts: list[int],
    *,
    length: int | None = None,
    supply: int | None = None,
    cost: float = 1.0,
) -> Master:
    source = Source(0, 0, 10, length, False, cost, TwoStages(kinds, 10))
    start = [unmet(i, len(counts)) for i in range(len(counts))]
    return master([source], np.array(counts), [supply], start, lambda: False)


def cost(found: Master) -> float:
    return float(sum(p.cost * a for p, a in zip(found.patterns, found.amounts, strict=True)))


def test_one_kind_takes_its_share_of_a_strip() -> None:
    """Three pieces 3 wide fit a strip 10 wide: ten take 3 1/3 strips of 4."""
    found = optimum((Kind(0, False, 3, 4),), [10])
    assert cost(found) == pytest.approx(40 / 3)
    assert found.prices[0] == pytest.approx(4 / 3)


def test_kinds_share_strips() -> None:
    """Widths 6 and 4 fill a strip exactly."""
    found = optimum((Kind(1, False, 4, 5), Kind(0, False, 6, 5)), [3, 3])
    assert cost(found) == pytest.approx(15)


def test_the_whole_part_of_the_optimum() -> None:
    found = optimum((Kind(0, False, 3, 4),), [10])
    plan, left = whole_part(found, np.array([10]))
    assert [times for _, times in plan] == [3]
    assert left.tolist() == [1]


def test_a_supply_that_runs_out_leaves_pieces_unmet() -> None:
    found = optimum((Kind(0, False, 5, 5),), [9], length=10, supply=2, cost=100.0)
    assert cost(found) == pytest.approx(2 * 100 + 1000)


def test_stopped_at_once_it_stands_on_what_it_began_with() -> None:
    source = Source(0, 0, 10, None, False, 1.0, TwoStages((Kind(0, False, 3, 4),), 10))
    found = master([source], np.array([2]), [None], [unmet(0, 1)], lambda: True)
    assert len(found.patterns) == 1
