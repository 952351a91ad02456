"""Aims in their order, held to the optima that others found by trying every plan."""

from __future__ import annotations

import itertools
import random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.pressing.choosing import Aim, Sum, Term, Worst, area_above, chosen, value
from seamproof.pressing.tables import Table
from tests.pressing.by_conditions import table_tables
from tests.pressing.by_overlay import areas_of, table_optima, table_tree, worst

SIX = 5
"""The table counts square inches with more layers than this."""

TYPED = 3e-6
"""The table has six decimals, and the overlay moves corners to its grid."""


@pytest.mark.parametrize("key", table_optima())
@pytest.mark.parametrize("ways", [(0, 1, 2), (1, 2)], ids=["open or not", "never open"])
def test_optima_of_the_table(key: str, ways: tuple[int, ...]) -> None:
    row = table_optima()[key]
    most, area = ("least_max_layers", "least_area_with_6_or_more_sq_in")
    if 0 not in ways:
        most, area = "no_open_least_max", f"no_open_{area}"
    tree, tables = table_tree(key), table_tables(key)
    found = chosen([ways] * tree.choices, [Worst("flat", tables), area_above("area", tables, SIX)])
    assert found.proved
    assert found.wishes[0].value == int(row[most])
    least_area = float(row[area])
    assert found.wishes[1].value == pytest.approx(least_area, abs=TYPED)
    # The plan is judged by folding the whole block and one overlay, not by the tables.
    areas = areas_of(tree, found.plan)
    assert worst(areas) == found.wishes[0].value
    assert areas[SIX + 1 :].sum() == pytest.approx(least_area, abs=TYPED)


@pytest.mark.parametrize("key", table_optima())
def test_other_values_of_the_table(key: str) -> None:
    """All open, the worst that there is; and the tables agree with the overlay of random plans."""
    row, tree, tables = table_optima()[key], table_tree(key), table_tables(key)
    areas = areas_of(tree, [0] * tree.choices)
    assert worst(areas) == int(row["all_open_max"])
    thick = float(row["all_open_area_with_6_or_more_sq_in"])
    assert areas[SIX + 1 :].sum() == pytest.approx(thick, abs=TYPED)
    assert max(int(table.most.max()) for table in tables) == int(row["worst_max"])
    dice = random.Random(key)
    for _ in range(3):
        plan = [dice.randrange(3) for _ in range(tree.choices)]
        areas = areas_of(tree, plan)
        assert value(Worst("flat", tables), plan) == worst(areas)
        for layers in range(2, 9):
            area = value(area_above("area", tables, layers), plan)
            assert area == pytest.approx(areas[layers + 1 :].sum(), abs=TYPED)


@pytest.mark.parametrize(
    "key", [k for k, row in table_optima().items() if row["plans"] in {"9", "27", "81"}]
)
def test_every_plan_of_small_blocks(key: str) -> None:
    """Nothing but the overlay: each plan is folded whole."""
    row, tree = table_optima()[key], table_tree(key)
    found = [areas_of(tree, p) for p in itertools.product(range(3), repeat=tree.choices)]
    values = [(worst(areas), round(float(areas[SIX + 1 :].sum()), 5)) for areas in found]
    assert min(values)[0] == int(row["least_max_layers"])
    least_area = float(row["least_area_with_6_or_more_sq_in"])
    assert min(values)[1] == pytest.approx(least_area, abs=2e-5)
    tables = table_tables(key)
    best = chosen(
        [(0, 1, 2)] * tree.choices, [Worst("flat", tables), area_above("area", tables, SIX)]
    )
    assert best.wishes[1].value == pytest.approx(min(values)[1], abs=2e-5)
    assert sum(v[0] == min(values)[0] for v in values) == int(row["plans_at_least_max"])


def test_least_layers_and_least_area_conflict() -> None:
    """The sawtooth star: six layers at most cost 0.707 sq in of six and more, all open has eight
    on 0.354 in all."""
    tables = table_tables("sawtooth_star|recursive")
    ways = [(0, 1, 2)] * 8
    flat, area = Worst("flat", tables), area_above("area", tables, SIX)
    fewest = chosen(ways, [flat, area])
    smallest = chosen(ways, [area, flat])
    assert fewest.proved
    assert smallest.proved
    assert [round(w.value, 3) for w in fewest.wishes] == [6, 0.707]
    assert smallest.wishes[0].value < 0.3536
    assert smallest.wishes[1].value > 6


@st.composite
def tasks(draw: st.DrawFn) -> tuple[list[tuple[int, ...]], list[Aim]]:
    count = draw(st.integers(1, 5))
    allowed = [tuple(sorted(draw(st.sets(st.integers(0, 2), min_size=1)))) for _ in range(count)]
    aims: list[Aim] = []
    for k in range(draw(st.integers(1, 4))):
        scopes = draw(
            st.lists(
                st.sets(st.integers(0, count - 1), min_size=1, max_size=3).map(
                    lambda s: tuple(sorted(s))
                ),
                min_size=1,
                max_size=4,
            )
        )
        dice = np.random.default_rng(draw(st.integers(0, 99)))
        all_ways = ((0, 1, 2),)
        if draw(st.booleans()):
            terms = tuple(
                Term(s, all_ways * len(s), dice.integers(0, 4, 3 ** len(s)).astype(float))
                for s in scopes
            )
            aims.append(Sum(f"sum {k}", terms))
        else:
            tables = tuple(
                Table(
                    s,
                    all_ways * len(s),
                    dice.integers(1, 9, 3 ** len(s)).astype(np.int16),
                    np.zeros((3 ** len(s), 9)),
                )
                for s in scopes
            )
            aims.append(Worst(f"worst {k}", tables))
    return allowed, aims


@given(tasks())
def test_no_plan_is_better_in_the_order_of_the_aims(
    task: tuple[list[tuple[int, ...]], list[Aim]],
) -> None:
    allowed, aims = task
    best = min(tuple(value(aim, p) for aim in aims) for p in itertools.product(*allowed))
    found = chosen(allowed, aims)
    assert found.proved
    assert tuple(value(aim, found.plan) for aim in aims) == best
    assert tuple(wish.value for wish in found.wishes) == best


def test_the_same_task_has_the_same_plan() -> None:
    tables = table_tables("sawtooth_star|units")
    aims = [Worst("flat", tables), area_above("area", tables, SIX)]
    assert chosen([(0, 1, 2)] * 10, aims) == chosen([(0, 1, 2)] * 10, aims)
