"""Sizes in whole units, and the ways in which pieces may lie."""

from __future__ import annotations

from fractions import Fraction

import pytest

from seamproof.cloth.model import RULER_STEP, Demand, Row, Settings
from seamproof.cloth.patterns import FINEST, ROW_UNIT, Kind, Stack, Strip, grid_of, kinds_of
from tests.cloth.demands import DIAMONDS, WIDTH, pieces


def test_metric_pieces_have_their_own_grid() -> None:
    side = Fraction(25, 254) * 60
    grid = grid_of([Demand("A", side, side * 2, 1)], WIDTH, Settings())
    assert (grid.unit, grid.sizes) == (side, ((1, 2),))


def test_sizes_no_ruler_shows_are_rounded_up() -> None:
    odd = Fraction(30001, 10007)
    grid = grid_of([Demand("A", odd, Fraction(4), 1)], WIDTH, Settings())
    assert grid.unit == RULER_STEP
    assert grid.sizes == ((24, 32),)
    assert WIDTH / grid.unit <= FINEST


def test_rows_ask_for_a_finer_grid() -> None:
    diamonds = Demand("A", Fraction(0), Fraction(3), 9, row=DIAMONDS)
    grid = grid_of([diamonds], WIDTH, Settings())
    assert grid.unit <= ROW_UNIT
    (kind,) = kinds_of([diamonds], grid, grid.floor(WIDTH), None)
    assert len(kind.row) == 8
    for n, across in enumerate(kind.row, start=1):
        need = DIAMONDS.offset + n * DIAMONDS.pitch
        assert need <= across * grid.unit < need + grid.unit


def test_what_may_be_turned_lies_both_ways_and_squares_one() -> None:
    demands = pieces((3, 5, 1), (4, 4, 1), turn=True)
    grid = grid_of(demands, WIDTH, Settings())
    assert kinds_of(demands, grid, 40, None) == (
        Kind(0, True, 5, 3),
        Kind(1, False, 4, 4),
        Kind(0, False, 3, 5),
    )


@pytest.mark.parametrize(
    ("width", "length", "flipped", "found"),
    [
        (40, None, False, 1),
        (4, None, False, 0),
        (5, 6, False, 0),
        (5, 7, False, 1),
        (7, 5, True, 1),
        (5, 7, True, 0),
    ],
)
def test_only_what_fits(width: int, length: int | None, flipped: bool, found: int) -> None:
    demands = pieces((5, 7, 1))
    grid = grid_of([*demands, *pieces((1, 1, 0))], WIDTH, Settings())
    assert len(kinds_of(demands, grid, width, length, flipped=flipped)) == found


def test_rows_lie_across_the_cloth_only() -> None:
    diamonds = Demand("A", Fraction(0), Fraction(3), 9, row=DIAMONDS)
    grid = grid_of([diamonds], WIDTH, Settings())
    assert kinds_of([diamonds], grid, 640, 640, flipped=True) == ()


def test_a_row_too_wide_for_one_is_no_kind() -> None:
    wide = Demand("A", Fraction(0), Fraction(3), 9, row=Row(Fraction(30), Fraction(11), 45.0))
    grid = grid_of([wide], WIDTH, Settings())
    assert kinds_of([wide], grid, grid.floor(WIDTH), None) == ()


def test_what_a_strip_gives() -> None:
    kinds = (Kind(0, False, 3, 2), Kind(1, False, 5, 4), Kind(0, True, 2, 3))
    strip = Strip(4, ((Stack(3, ((0, 2),)), 3), (Stack(5, ((1, 1),)), 1), (Stack(2, ((2, 1),)), 2)))
    assert strip.used(kinds, 3) == [8, 1, 0]
