from __future__ import annotations

import math
from fractions import Fraction

import pytest

from seamproof.plane.model import Point
from seamproof.plane.predicates import distance, side
from seamproof.plane.snapping import READ_SNAP
from seamproof.plane.straightening import straightened


def typed(x: float, y: float, decimals: int = 2) -> Point:
    return (round(Fraction(x), decimals), round(Fraction(y), decimals))


def test_a_straight_row_does_not_move() -> None:
    row = [typed(x, x) for x in range(5)]
    assert straightened(row, [(0, 1), (1, 2), (2, 3), (3, 4)]) == tuple(row)


def test_a_bend_that_is_meant_stays() -> None:
    bent = [typed(0, 0), typed(3, 0.1), typed(6, 0)]
    assert straightened(bent, [(0, 1), (1, 2)]) == tuple(bent)


def test_a_bend_of_short_sides_is_meant_although_it_is_small() -> None:
    bent = [typed(0, 0), typed(0.15, 0.01), typed(0.3, 0)]
    assert straightened(bent, [(0, 1), (1, 2)]) == tuple(bent)


def test_a_crossing_comes_to_lie_on_both_lines() -> None:
    ends = [typed(0, 1), typed(9, 4), typed(2, 0), typed(4, 9)]
    share = Fraction(1)
    # Where the lines cross: solved by hand from y = 1 + x/3 and y = 9(x - 2)/2.
    x = Fraction(10) / (Fraction(9, 2) - Fraction(1, 3)) * share
    crossing = typed(float(x), float(1 + x / 3))
    moved = straightened([*ends, crossing], [(0, 4), (4, 1), (2, 4), (4, 3)])
    assert moved[:4] == tuple(ends)
    assert abs(moved[4][0] - x) < Fraction(1, 10**6)
    assert side(moved[0], moved[1], moved[4]) == side(moved[2], moved[3], moved[4]) == 0


def test_eight_seams_at_one_point_run_straight_through_it() -> None:
    spokes = [
        typed(6 + 6 * math.cos(0.3 + k * math.pi / 4), 6 + 6 * math.sin(0.3 + k * math.pi / 4))
        for k in range(8)
    ]
    moved = straightened([*spokes, typed(6.0, 6.0)], [(k, 8) for k in range(8)])
    for k in range(4):
        assert side(moved[k], moved[k + 4], moved[8]) == 0
    assert max(distance(p, q) for p, q in zip(moved, [*spokes, typed(6, 6)], strict=True)) < 1 / 64


def test_level_and_upright_sides_stay_so() -> None:
    pitch = 1.0371
    grid = [typed(x * pitch, y * pitch) for y in range(5) for x in range(5)]
    sides = [(5 * y + x, 5 * y + x + 1) for y in range(5) for x in range(4)]
    sides += [(5 * y + x, 5 * y + x + 5) for y in range(4) for x in range(5)]
    sides += [(5 * y + x, 5 * y + x + 6) for y in range(4) for x in range(4)]
    moved = straightened(grid, sides, size=grid[-1])
    assert moved != tuple(grid)
    for y in range(5):
        assert len({moved[5 * y + x][1] for x in range(5)}) == 1
        assert len({moved[5 * x + y][0] for x in range(5)}) == 1
    assert moved[0] == grid[0]
    assert moved[-1] == grid[-1]
    assert side(moved[0], moved[24], moved[12]) == 0


def test_many_small_bends_are_no_straight_line() -> None:
    """A curve drawn by short sides stays a curve, although no one bend of it is large."""
    arc = [typed(20 * math.sin(k / 25), 20 * math.cos(k / 25), 6) for k in range(26)]
    moved = straightened(arc, [(k, k + 1) for k in range(25)])
    assert all(distance(p, q) <= float(READ_SNAP) for p, q in zip(moved, arc, strict=True))


@pytest.mark.parametrize("count", [1, 2])
def test_too_few_points_to_be_bent(count: int) -> None:
    points = [typed(k, 0) for k in range(count)]
    assert straightened(points, [(0, count - 1)]) == tuple(points)
