"""Bounds, against the shortest plans found by trying everything, and the laws they keep."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.cloth.bounds import (
    Claim,
    There,
    area,
    area_bound,
    pieces_bound,
    pure_strips_bound,
    reached,
    strip_bound,
)
from seamproof.cloth.laying import lay
from seamproof.cloth.model import Cloth, Demand, Fixed, Settings
from tests.cloth.demands import DIAMONDS, WIDTH, demands, pieces, shortest

CLOSE = 1e-5
"""Prices are the optimum's to about a millionth."""

ONE = Settings(effort=1)


@given(st.lists(st.tuples(st.integers(1, 6), st.integers(1, 6)), min_size=1, max_size=5), st.data())
def test_any_prices_prove_a_length_that_no_plan_beats(
    sizes: list[tuple[int, int]], data: st.DataObject
) -> None:
    claims = [
        Claim(1, data.draw(st.integers(0, 40)) / 7, ((h, tuple(range(w, 9, w))),)) for w, h in sizes
    ]
    assert strip_bound(claims, 8) <= shortest(sizes, 8)


@given(
    st.lists(st.tuples(st.integers(1, 6), st.integers(1, 6)), min_size=1, max_size=4),
    st.booleans(),
)
def test_a_lay_is_no_shorter_than_the_shortest_and_its_bound_no_longer(
    sizes: list[tuple[int, int]], turn: bool
) -> None:
    least = shortest(sizes, 8, turn=turn)
    laid = lay(Cloth("a", Fraction(8)), pieces(*((w, h, 1) for w, h in sizes), turn=turn), ONE)
    assert laid.length >= least
    (made,) = laid.lays
    assert made.bound <= least * (1 + 1e-12)
    assert made.area_bound <= made.bound * (1 + 1e-12)
    if made.proved:
        assert laid.length == least


BIN = (5, 6)
"""Width and length of a piece that is on the shelf."""


def fits(sizes: list[tuple[int, int]], width: int, length: int) -> bool:
    """Whether pieces come out of one fixed piece, its strips across or along."""
    along = [(h, w) for w, h in sizes]
    return shortest(sizes, width) <= length or shortest(along, length) <= width


def beside_shelf(sizes: list[tuple[int, int]]) -> int:
    """The least yardage 8 wide if one piece is on the shelf, by trying every choice for it."""
    return min(
        shortest([size for n, size in enumerate(sizes) if not chosen >> n & 1], 8)
        for chosen in range(1 << len(sizes))
        if fits([size for n, size in enumerate(sizes) if chosen >> n & 1], *BIN)
    )


few = st.lists(st.tuples(st.integers(1, 6), st.integers(1, 6)), min_size=1, max_size=4)


@given(few, st.data())
def test_any_prices_prove_a_length_beside_the_shelf(
    sizes: list[tuple[int, int]], data: st.DataObject
) -> None:
    claims = [
        Claim(1, data.draw(st.integers(0, 40)) / 7, ((h, tuple(range(w, 9, w))),)) for w, h in sizes
    ]
    across, along = BIN
    frames = (
        (across, along, tuple((n, h, (w,)) for n, (w, h) in enumerate(sizes))),
        (along, across, tuple((n, w, (h,)) for n, (w, h) in enumerate(sizes))),
    )
    size = Fraction(across * along)
    there = [There(size, 1, frames)]
    assert strip_bound(claims, 8, there) <= beside_shelf(sizes)
    assert strip_bound(claims, 8, there) <= strip_bound(claims, 8)
    assert strip_bound(claims, 8, [There(size, None, frames)]) == 0
    if fits(sizes, *BIN):
        assert pieces_bound(claims, [There(size, None, frames)]) <= across * along


@given(few)
def test_a_lay_beside_a_shelf_has_a_bound_that_no_plan_beats(sizes: list[tuple[int, int]]) -> None:
    shelf = Fixed("scrap", *map(Fraction, BIN), 1)
    wanted = pieces(*((w, h, 1) for w, h in sizes))
    laid = lay(Cloth("a", Fraction(8), shelf=(shelf,)), wanted, ONE)
    for made in laid.lays:
        if made.cloth == "yardage":
            assert made.area_bound <= made.bound * (1 + 1e-12)
            assert made.bound <= beside_shelf(sizes) * (1 + 1e-12)
            assert laid.length == beside_shelf(sizes) or not made.proved


def test_the_strips_are_known_beside_a_shelf() -> None:
    """Nine squares of 5 from cloth 8 wide: one a strip; two come out of what is on the shelf."""
    shelf = Fixed("scrap", Fraction(5), Fraction(6), 2)
    laid = lay(Cloth("a", Fraction(8), shelf=(shelf,)), pieces((5, 5, 9)), ONE)
    made = laid.lays[-1]
    assert (made.length, made.bound, made.proved) == (35, 35.0, True)
    assert made.area_bound < 25


def test_fixed_pieces_are_no_fewer_than_their_strips_allow() -> None:
    """One square of 5 from a piece of 9 × 9: nine pieces, where the area asks for three."""
    quarter = Fixed("quarter", Fraction(9), Fraction(9))
    laid = lay(Cloth("a", Fraction(8), yardage=False, fixed=(quarter,)), pieces((5, 5, 9)), ONE)
    (made,) = laid.lays
    assert (made.times, made.bound, made.proved) == (9, 9 * 81.0, True)
    assert made.area_bound == 9 * 25.0


def bound(wanted: tuple[Demand, ...], width: Fraction = WIDTH) -> float:
    return lay(Cloth("a", width), wanted, ONE).lays[0].bound


@given(wanted=demands(4, 9), more=st.data())
def test_a_piece_more_never_shortens_the_bound(
    wanted: tuple[Demand, ...], more: st.DataObject
) -> None:
    number = more.draw(st.integers(0, len(wanted)))
    if number < len(wanted):
        one = wanted[number]
        another = Demand(one.name, one.width, one.height, one.count + 1, one.may_turn, one.row)
        longer = (*wanted[:number], another, *wanted[number + 1 :])
    else:
        (extra, *_) = more.draw(demands(1, 3))
        longer = (*wanted, Demand("B", extra.width, extra.height, 1, extra.may_turn, extra.row))
    assert bound(longer) >= bound(wanted) * (1 - CLOSE)


@given(wanted=demands(4, 9), wider=st.integers(1, 160))
def test_wider_cloth_never_needs_more_bound(wanted: tuple[Demand, ...], wider: int) -> None:
    assert bound(wanted, WIDTH + Fraction(wider, 8)) <= bound(wanted) * (1 + CLOSE)


def test_bounds_of_strips_are_above_those_of_areas() -> None:
    """Two pieces of 5 × 5 do not fit side by side on cloth 9 wide."""
    (made,) = lay(Cloth("a", Fraction(9)), pieces((5, 5, 2)), ONE).lays
    assert made.area_bound == pytest.approx(50 / 9)
    assert (made.bound, made.length, made.proved) == (10.0, 10, True)


def test_strips_in_which_nothing_is_trimmed_need_more() -> None:
    claims = [Claim(1, 4.0, ((4, (4,)),)), Claim(1, 3.0, ((3, (4,)),))]
    assert strip_bound(claims, 8) == 4
    assert pure_strips_bound(claims, 8) == 7


def test_area_of_a_row_leaves_its_ends_out() -> None:
    diamonds = Demand("A", Fraction(0), Fraction(3), 4, row=DIAMONDS)
    assert area(diamonds) == Fraction(51, 4)
    assert area_bound([diamonds], Fraction(17)) == 3


@pytest.mark.parametrize(
    ("least", "heights", "most", "found"),
    [
        (Fraction(0), [3], 10, 0),
        (Fraction(1), [3], 10, 3),
        (Fraction(19, 2), [4, 6], 20, 10),
        (Fraction(11), [4, 6], 11, 11),
    ],
)
def test_lengths_that_strips_add_up_to(
    least: Fraction, heights: list[int], most: int, found: int
) -> None:
    assert reached(least, heights, most) == found
