"""Covering problems that grow by columns: amounts, prices, limits."""

from __future__ import annotations

import pytest

from seamproof.solving.linear import Covering


def test_a_cheaper_column_takes_over() -> None:
    covering = Covering([4.0])
    covering.add(3.0, {0: 1.0})
    amounts, prices, _ = covering.solve()
    assert (amounts.tolist(), prices.tolist()) == ([4.0], [3.0])
    covering.add(4.0, {0: 2.0})
    amounts, prices, _ = covering.solve()
    assert (amounts.tolist(), prices.tolist()) == ([0.0, 2.0], [2.0])


def test_prices_and_rents_pay_for_every_column() -> None:
    """At the optimum no column is worth more than it costs, and need × price is the cost."""
    covering = Covering([3.0, 5.0], [1.0])
    columns: tuple[tuple[float, dict[int, float], int | None], ...] = (
        (2.0, {0: 1.0}, None),
        (3.0, {1: 2.0}, None),
        (0.5, {0: 2.0, 1: 2.0}, 0),
    )
    for cost, weights, supply in columns:
        covering.add(cost, weights, supply)
    amounts, prices, rents = covering.solve()
    assert rents[0] < 0
    for cost, weights, supply in columns:
        worth = sum(prices[row] * weight for row, weight in weights.items())
        assert worth + (0 if supply is None else rents[supply]) <= cost + 1e-9
    total = sum(column[0] * amount for column, amount in zip(columns, amounts, strict=True))
    assert total == pytest.approx(prices @ [3.0, 5.0] + rents[0] * 1.0)


def test_nothing_needed_costs_nothing() -> None:
    covering = Covering([0.0])
    covering.add(1.0, {0: 1.0})
    assert covering.solve()[0].tolist() == [0.0]
