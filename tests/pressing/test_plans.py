"""Press plans by name. What they come to is told by folding the whole block, not by the tables."""

from __future__ import annotations

import functools
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings

from seamproof.draft.model import Block
from seamproof.pressing.fixing import given as fixings_of
from seamproof.pressing.model import WISHES
from seamproof.pressing.plans import AREA, THICK, Compared, compared, seams_of
from seamproof.pressing.reasons import FIXED
from seamproof.pressing.tables import LEFT, OPEN, RIGHT, SPUN, SPUN_BACK, Table
from tests import cast
from tests.pressing.by_overlay import areas_of, worst
from tests.pressing.by_plan import tree_of
from tests.pressing.desks import desk, planned
from tests.pressing.test_fixing import four, line
from tests.reference import reference_blocks
from tests.strategies import planted_blocks

BLOCKS = [
    reference_blocks()[name]
    for name in (
        "nine_patch",
        "pinwheel",
        "sawtooth_star",
        "ohio_star",
        "square_in_square",
        "log_cabin_2",
        "attic_window_split",
    )
]


@functools.cache
def plans_of(block: Block) -> tuple[Compared, ...]:
    return compared(desk(block))


@pytest.mark.parametrize("block", BLOCKS, ids=lambda block: block.name)
def test_plans_side_by_side(block: Block) -> None:
    plans = {plan.name: plan for plan in plans_of(block)}
    assert [*plans][:2] == ["usual rules", "all open"]
    assert plans["best"].plan.proved
    for plan in plans.values():
        areas = areas_of(tree_of(planned(block)), plan.ways)
        assert plan.layers == worst(areas)
        assert plan.thick_area == pytest.approx(areas[THICK:].sum(), abs=3e-6)
        assert [press.way for press in plan.plan.presses]
        assert all(press.reason.endswith(".") for press in plan.plan.presses)
        assert plan.nested <= plan.crossings
    best = [wish.value for wish in plans["best"].plan.wishes]
    assert [w.name for w in plans["best"].plan.wishes] == [WISHES[0], WISHES[1], AREA, *WISHES[2:]]
    assert best[1] == plans["best"].layers
    assert plans["best"].layers <= min(plans["all open"].layers, plans["usual rules"].layers)
    assert plans["usual rules"].usual == plans["usual rules"].choices


def test_all_open_is_not_always_flattest() -> None:
    """Least possible maximum against all open."""
    expected = {
        "square_in_square": (3, 4),
        "sawtooth_star": (6, 8),
        "attic_window_split": (7, 8),
        "economy_patch": (6, 8),
    }
    for name, (least, all_open) in expected.items():
        plans = {plan.name: plan for plan in plans_of(reference_blocks()[name])}
        assert (plans["best"].layers, plans["all open"].layers) == (least, all_open), name


def test_where_nesting_costs_layers_both_plans_are_shown() -> None:
    """Open seams have nothing to nest with; a crossing that nests has six layers, not four."""
    plans = {plan.name: plan for plan in plans_of(reference_blocks()["nine_patch"])}
    best, nested = plans["best"], plans["nested first"]
    assert (best.layers, best.nested) == (4, 0)
    assert (nested.layers, nested.nested) == (6, nested.crossings)
    assert nested.plan.proved
    assert [w.name for w in nested.plan.wishes][:3] == ["limit", "nest", "flat"]
    # Nothing is to be nested in a log cabin, so there is no plan to show.
    assert "nested first" not in {p.name for p in plans_of(reference_blocks()["log_cabin_2"])}


def test_where_layers_and_area_conflict_both_plans_are_shown() -> None:
    plans = {plan.name: plan for plan in plans_of(reference_blocks()["sawtooth_star"])}
    best, small, open_ = (plans[k] for k in ("best", "least thick area", "all open"))
    assert (best.layers, round(best.thick_area, 3)) == (6, 0.707)
    assert (open_.layers, round(open_.thick_area, 3)) == (8, 0.354)
    assert small.thick_area <= open_.thick_area
    assert "least thick area" not in {
        plan.name for plan in plans_of(reference_blocks()["nine_patch"])
    }


def test_eight_points_open_eight_and_twelve_with_the_last_seam_to_a_side() -> None:
    at = desk(reference_blocks()["pinwheel"])
    last = at.seams.runs[-1].choice
    plan = list(at.all_open())
    assert at.layers(plan) == 8
    plan[last] = LEFT
    assert at.layers(plan) == 12
    assert at.layers(at.best().plan) == 8
    assert (
        "because eight points meet here: 8 layers instead of 12"
        in at.press_plan(at.best()).presses[-1].reason
    )


def test_the_first_wish_is_kept_first() -> None:
    block = reference_blocks()["nine_patch"]
    flat = desk(block, wishes=("flat", "nest"))
    nest = desk(block, wishes=("nest", "flat"))
    assert flat.layers(flat.best().plan) == 4
    assert nest.nested(nest.best().plan) == (4, 4)
    assert nest.layers(nest.best().plan) > 4
    few = desk(block, wishes=("few-rules",))
    assert few.best().plan == few.usual_ways
    assert desk(block, wishes=()).best().plan == few.usual_ways


def test_what_is_fixed_stays() -> None:
    block = four(line((0, 3), (6, 3), (1, 5)))
    at = desk(block)
    maker = fixings_of(block, at.seams)
    (mine,) = (plan for plan in compared(at, maker.ways, maker.fixed) if plan.name == "mine")
    assert [press.fixed for press in mine.plan.presses] == [False, False, True]
    assert mine.plan.presses[-1].way in {"left", "right"}
    assert mine.plan.presses[-1].reason == FIXED
    assert mine.layers == 6


def with_spins(tables: tuple[Table, ...], choice: int) -> tuple[Table, ...]:
    """Tables in which a spun crossing has four layers everywhere, as it has by the model."""
    found = []
    for table in tables:
        if choice not in table.seams:
            found.append(table)
            continue
        axis = table.seams.index(choice)
        shape = [len(ways) for ways in table.ways]
        most = table.most.reshape(shape)
        room = max(0, 5 - table.areas.shape[1])
        areas = np.pad(table.areas, ((0, 0), (0, room))).reshape(
            [*shape, table.areas.shape[1] + room]
        )
        four_ = np.zeros_like(areas.take([0], axis=axis))
        four_[..., 4] = areas.sum(axis=-1).take([0], axis=axis)
        most = np.concatenate([most, *[np.full_like(most.take([0], axis=axis), 4)] * 2], axis=axis)
        areas = np.concatenate([areas, four_, four_], axis=axis)
        ways = list(table.ways)
        ways[axis] = (OPEN, LEFT, RIGHT, SPUN, SPUN_BACK)
        found.append(
            replace(
                table,
                ways=tuple(ways),
                most=most.ravel(),
                areas=areas.reshape(most.size, -1),
            )
        )
    return tuple(found)


def test_spun_where_possible() -> None:
    at = desk(cast.hourglass())
    tables = with_spins(at.tables, at.seams.runs[-1].choice)
    at = replace(at, seams=seams_of(planned(cast.hourglass()), tables), tables=tables)
    plans = {plan.name: plan for plan in compared(at)}
    spun = plans["spun where possible"]
    assert spun.layers == 4
    assert (spun.nested, spun.crossings) == (1, 1)
    press = spun.plan.presses[-1]
    assert len(press.spun) == 1
    assert press.clockwise is not None
    assert press.way == ("right" if press.clockwise else "left")
    assert press.usual
    # Flat, and the crossing nests: better than open.
    assert plans["best"].ways == spun.ways


@given(planted_blocks(lattice=True, most=7))
@settings(max_examples=15)
def test_random_blocks_keep_their_promises(block: Block) -> None:
    plan = planned(block)
    if (
        plan.set_in_points
        or plan.cores
        or any(getattr(p.made, "partial", False) for p in plan.parts)
    ):
        return
    at = desk(block)
    best = at.best()
    assert best.proved
    areas = areas_of(tree_of(plan), best.plan)
    # Thinner than the overlay's dust is not looked at on either side.
    assert worst(areas, 1e-5) <= at.layers(best.plan)
    assert at.layers(best.plan) <= at.layers(at.all_open())
    at.press_plan(best)
