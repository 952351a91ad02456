"""The least of a sum over few choices at a time, held to trying every plan."""

from __future__ import annotations

import itertools

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from seamproof.pressing.networks import FORBIDDEN, Factor, least


@st.composite
def problems(draw: st.DrawFn) -> tuple[list[int], list[Factor]]:
    sizes = draw(st.lists(st.integers(1, 3), min_size=1, max_size=7))
    factors = []
    for _ in range(draw(st.integers(0, 10))):
        scope = tuple(sorted(draw(st.sets(st.integers(0, len(sizes) - 1), min_size=1, max_size=4))))
        shape = [sizes[v] for v in scope]
        count = int(np.prod(shape))
        cost = st.one_of(st.integers(-5, 9), st.just(FORBIDDEN))
        costs = draw(st.lists(cost, min_size=count, max_size=count))
        factors.append(Factor(scope, np.array(costs, dtype=np.int64).reshape(shape)))
    return sizes, factors


def cost_of(factors: list[Factor], plan: tuple[int, ...]) -> int:
    costs = [int(f.cost[tuple(plan[v] for v in f.scope)]) for f in factors]
    return FORBIDDEN if FORBIDDEN in costs else sum(costs)


@given(problems(), st.sampled_from([4, 27, 3**12]))
def test_no_plan_is_better(problem: tuple[list[int], list[Factor]], room: int) -> None:
    sizes, factors = problem
    plans = itertools.product(*(range(size) for size in sizes))
    best = min(cost_of(factors, plan) for plan in plans)
    found = least(sizes, factors, room=room)
    assert found.proved
    assert found.cost == best
    if best < FORBIDDEN:
        assert cost_of(factors, found.plan) == best
    else:
        assert found.plan == ()


def test_without_effort_a_bound_is_all_that_is_claimed() -> None:
    rng = np.random.default_rng(7)
    pairs = list(itertools.combinations(range(9), 2))
    factors = [Factor(pair, rng.integers(0, 50, (3, 3))) for pair in pairs]
    hasty = least([3] * 9, factors, effort=9, room=9)
    best = least([3] * 9, factors)
    assert best.proved
    assert not hasty.proved
    assert hasty.bound <= best.cost <= hasty.cost == cost_of(factors, hasty.plan)


def test_what_shares_no_choice_is_solved_apart() -> None:
    rng = np.random.default_rng(3)
    pairs = [
        (9 * k + a, 9 * k + b) for k in range(12) for a, b in itertools.combinations(range(9), 2)
    ]
    factors = [Factor(pair, rng.integers(0, 50, (3, 3))) for pair in pairs]
    found = least([3] * 108, factors, room=27)
    assert found.proved
    assert found.steps < 20_000
