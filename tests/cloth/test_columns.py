"""The best strip of every height, against trying every filling."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.cloth.columns import Pricer, TwoStages
from seamproof.cloth.patterns import Kind
from seamproof.cloth.stacks import ThreeStages

ROW = Kind(0, False, 6, 5, (6, 9, 12, 15))


@st.composite
def kinds(draw: st.DrawFn) -> tuple[Kind, ...]:
    """Some pieces; those of one demand lie both ways."""
    made: list[Kind] = []
    for demand in range(draw(st.integers(1, 4))):
        w, h = draw(st.integers(2, 9)), draw(st.integers(2, 9))
        if draw(st.integers(0, 3)) == 0:
            made.append(Kind(demand, False, ROW.width, ROW.height, ROW.row))
            continue
        made.append(Kind(demand, False, w, h))
        if w != h and draw(st.booleans()):
            made.append(Kind(demand, True, h, w))
    return tuple(sorted(made, key=lambda k: (k.height, k.width, k.demand, k.turned)))


def best_by_trying(
    kinds: tuple[Kind, ...], values: list[float], left: list[int], width: int, height: int
) -> float:
    """The most that one strip can be worth if each way of lying is bounded by itself."""
    lying = [kind for kind in kinds if kind.height <= height]
    best = 0.0
    for counts in product(*(range(left[kind.demand] + 1) for kind in lying)):
        taken = 0
        for kind, count in zip(lying, counts, strict=True):
            if kind.row and count > len(kind.row):
                taken = width + 1
            elif count:
                taken += kind.row[count - 1] if kind.row else kind.width * count
        if taken <= width:
            worth = sum(values[k.demand] * c for k, c in zip(lying, counts, strict=True))
            best = max(best, worth)
    return best


@given(kinds=kinds(), data=st.data())
def test_two_stages_price_every_height(kinds: tuple[Kind, ...], data: st.DataObject) -> None:
    demands = 1 + max(kind.demand for kind in kinds)
    values = [data.draw(st.integers(1, 20)) / 4 for _ in range(demands)]
    left = [data.draw(st.integers(0, 3)) for _ in range(demands)]
    width = 17
    priced = TwoStages(kinds, width).price(np.array(values), np.array(left))
    for number, height in enumerate(priced.heights):
        promised = best_by_trying(kinds, values, left, width, int(height))
        assert priced.worth[number] == pytest.approx(promised)
        strip = priced.strip(number, promised=True)
        worth = np.array(values) @ strip.used(kinds, demands)
        assert worth == pytest.approx(promised)
        assert strip.height <= height


def many(kinds: tuple[Kind, ...], width: int) -> list[Pricer]:
    return [TwoStages(kinds, width), TwoStages(kinds, width, exact=True), ThreeStages(kinds, width)]


@given(kinds=kinds(), data=st.data())
def test_a_strip_holds_what_there_is_and_no_more(
    kinds: tuple[Kind, ...], data: st.DataObject
) -> None:
    demands = 1 + max(kind.demand for kind in kinds)
    values = [data.draw(st.integers(1, 20)) / 4 for _ in range(demands)]
    left = [data.draw(st.integers(0, 5)) for _ in range(demands)]
    width = 20
    for pricer in many(kinds, width):
        priced = pricer.price(np.array(values), np.array(left))
        for number in range(len(priced.heights)):
            strip = priced.strip(number)
            used = strip.used(kinds, demands)
            assert sum(used) > 0
            assert all(u <= there for u, there in zip(used, left, strict=True))
            assert sum(stack.width * times for stack, times in strip.stacks) <= width
            for stack, _ in strip.stacks:
                high = sum(kinds[k].height * (1 if kinds[k].row else n) for k, n in stack.items)
                assert high <= strip.height
                assert all(kinds[k].width <= stack.width for k, _ in stack.items)


def test_exact_strips_hold_one_height() -> None:
    lying = (Kind(0, False, 4, 3), Kind(1, False, 4, 5))
    values, left = np.array([1.0, 5.0]), np.array([9, 1])
    mixed = TwoStages(lying, 20).price(values, left)
    exact = TwoStages(lying, 20, exact=True).price(values, left)
    assert mixed.worth.tolist() == [5.0, 9.0]
    assert exact.worth.tolist() == [5.0, 5.0]


def test_a_third_cut_stacks_low_pieces() -> None:
    """Two pieces 3 high fit above one another beside one 6 high."""
    lying = (Kind(0, False, 4, 3), Kind(1, False, 4, 6))
    values, left = np.array([3.0, 6.5]), np.array([8, 1])
    two = TwoStages(lying, 12).price(values, left)
    three = ThreeStages(lying, 12).price(values, left)
    assert two.worth.max() == 12.5
    strip = three.strip(int(np.argmax(three.worth)))
    assert strip.used(lying, 2) == [4, 1]


def test_nothing_worth_anything_is_no_strip() -> None:
    lying = (Kind(0, False, 4, 3),)
    for pricer in many(lying, 12):
        assert len(pricer.price(np.array([0.0]), np.array([4])).heights) == 0
        assert len(pricer.price(np.array([1.0]), np.array([0])).heights) == 0
