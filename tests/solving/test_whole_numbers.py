"""Covers in whole numbers: the cheapest, within the limit, and none beyond it."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from seamproof.solving.whole_numbers import least_cover

COLUMNS = np.array([[2, 0, 1], [0, 3, 0], [1, 1, 0], [0, 0, 2], [1, 0, 1]])
COSTS = [5.0, 6.0, 3.5, 4.0, 4.5]


@pytest.mark.parametrize("need", [[3, 2, 1], [1, 1, 1], [4, 4, 4], [2, 0, 0]])
def test_nothing_is_cheaper_than_what_is_chosen(need: list[int]) -> None:
    tried = [
        sum(n * cost for n, cost in zip(times, COSTS, strict=True))
        for times in product(range(5), repeat=len(COSTS))
        if (np.array(times) @ COLUMNS >= need).all()
    ]
    chosen = least_cover(COLUMNS, COSTS, need, 100.0, 100)
    assert chosen is not None
    assert (np.array(chosen) @ COLUMNS >= need).all()
    assert sum(n * cost for n, cost in zip(chosen, COSTS, strict=True)) == min(tried)
    assert least_cover(COLUMNS, COSTS, need, min(tried) - 0.5, 100) is None
