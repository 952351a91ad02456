"""Plans bettered strip by strip: never worse, the same in every run."""

from __future__ import annotations

import numpy as np
import pytest

from seamproof.cloth.columns import TwoStages
from seamproof.cloth.improving import Search, Spread, Way, merged
from seamproof.cloth.patterns import Kind
from seamproof.cloth.sources import Pattern, Source

KINDS = (Kind(0, False, 4, 3), Kind(1, False, 6, 5), Kind(2, False, 3, 8))
COUNTS = np.array([11, 7, 5])
AREAS = np.array([12.0, 30.0, 24.0]) / 10


def search(supply: int | None = None, length: int | None = None) -> Search:
    source = Source(0, 0, 10, length, False, 1.0 if length is None else 9.0, TwoStages(KINDS, 10))
    found = Search([source], [supply], AREAS, COUNTS)
    plan = found.built(COUNTS, (), Way(AREAS, tallest=True), float("inf"))
    assert plan is not None
    found.begin(plan)
    return found


def given(plan: list[tuple[Pattern, int]]) -> list[int]:
    return sum((pattern.counts * times for pattern, times in plan), 0 * COUNTS).tolist()


@pytest.mark.parametrize(("supply", "length"), [(None, None), (2, 12), (None, 12)])
def test_tries_keep_every_piece_and_never_cost_more(supply: int | None, length: int | None) -> None:
    found = search(supply, length)
    costs = [found.best_score[0]]
    for _ in range(20):
        found.improve(5, lambda: False, 0.0)
        assert given(found.best) == COUNTS.tolist()
        costs.append(found.best_score[0])
        if supply is not None:
            assert sum(t for p, t in found.best if p.source is not None) <= supply
    assert costs == sorted(costs, reverse=True)


def test_the_same_tries_again() -> None:
    one, other = search(), search()
    for each in (one, other):
        each.improve(60, lambda: False, 0.0)
    assert [(p.counts.tolist(), t) for p, t in one.best] == [
        (p.counts.tolist(), t) for p, t in other.best
    ]


def test_enough_is_enough() -> None:
    found = search()
    asked: list[int] = []
    found.improve(50, lambda: bool(asked.append(1)), found.best_score[0])
    assert asked == []


def test_a_plan_that_costs_more_than_its_limit_is_none() -> None:
    found = search()
    assert found.built(COUNTS, (), Way(AREAS, tallest=True), 1.0) is None


def test_spread_fills_its_range_evenly() -> None:
    numbers = Spread().some(4000)
    counts, _ = np.histogram(numbers, bins=10, range=(0.0, 1.0))
    assert counts.sum() == 4000
    assert counts.min() > 300
    assert numbers.tolist() == Spread().some(4000).tolist()


def test_equal_patterns_are_one() -> None:
    found = search()
    pattern = found.best[0][0]
    assert merged([(pattern, 2), (pattern, 3)]) == [(pattern, 5)]
    assert merged([]) == []
