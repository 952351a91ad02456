"""Plans made piece by piece: whole, cuttable, shorter than asked, and the same in every run."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings

from seamproof.cloth.laying import lay
from seamproof.cloth.model import Cloth, Demand, Settings
from seamproof.cloth.patterns import Kind, Strip
from seamproof.cloth.placing import Placing
from seamproof.cloth.replaying import faults
from tests.cloth.demands import WIDTH, demands, pieces

SIZES = ((4, 3, 11), (6, 5, 7), (3, 8, 5), (9, 2, 4))
COUNTS = np.array([count for _, _, count in SIZES])


KINDS = sorted(
    (
        Kind(n, turned, *((h, w) if turned else (w, h)))
        for n, (w, h, _) in enumerate(SIZES)
        for turned in (False, True)
    ),
    key=lambda kind: kind.height,
)


def placing(stages: int) -> Placing:
    return Placing(KINDS, 20, COUNTS, stages)


def best(made: Placing, passes: int) -> list[Strip]:
    found: list[Strip] = []
    length = 1000
    for _ in range(passes):
        strips = made.next(length, lambda: False)
        if strips is not None:
            assert sum(strip.height for strip in strips) < length
            found, length = strips, sum(strip.height for strip in strips)
    return found


@pytest.mark.parametrize("stages", [2, 3])
def test_every_piece_is_in_a_strip_that_holds_it(stages: int) -> None:
    made = placing(stages)
    strips = best(made, 6)
    used = [strip.used(KINDS, len(COUNTS)) for strip in strips]
    assert np.sum(used, axis=0).tolist() == COUNTS.tolist()
    for strip in strips:
        assert sum(stack.width * times for stack, times in strip.stacks) <= 20
        for stack, _ in strip.stacks:
            assert all(KINDS[kind].width <= stack.width for kind, _ in stack.items)
            assert sum(KINDS[kind].height * n for kind, n in stack.items) <= strip.height
            assert stages == 3 or [n for _, n in stack.items] == [1]
    area = sum(w * h * count for w, h, count in SIZES)
    assert sum(strip.height for strip in strips) <= 1.1 * area / 20


def test_the_same_strips_again() -> None:
    assert best(placing(3), 4) == best(placing(3), 4)


def test_no_plan_shorter_than_its_area_is_looked_for() -> None:
    made = placing(3)
    area = sum(w * h * count for w, h, count in SIZES)
    assert made.next(area // 20, lambda: False) is None
    assert made.spent < 1000


def test_stopped_it_has_nothing() -> None:
    assert placing(3).next(1000, lambda: True) is None


def test_four_squares_above_a_long_piece_fill_the_cloth() -> None:
    """A 6 × 6 square, 2 × 4 × 3 above one another beside it, and nothing is left: only a third cut
    does that, and the lay is as long as its area."""
    wanted = pieces((6, 6, 1), (4, 3, 2), (10, 1, 1))
    laid = lay(Cloth("a", Fraction(10)), wanted, Settings(stages=3, effort=1))
    assert laid.length == 7
    assert faults(laid, wanted) == []


@given(demands(most=5, copies=8))
@settings(max_examples=8, deadline=None)
def test_lays_with_a_third_cut_replay(wanted: tuple[Demand, ...]) -> None:
    laid = lay(Cloth("a", WIDTH), wanted, Settings(stages=3, effort=1))
    assert faults(laid, wanted) == []
