"""Lays of one fabric: every piece comes out, effort, stopping, kits, fixed pieces, rows."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.cloth.laying import lay
from seamproof.cloth.model import Cloth, Demand, Fixed, Laid, Row, Settings
from seamproof.cloth.replaying import faults
from tests.cloth.demands import DIAMONDS, WIDTH, cloths, demands, pieces

CLOTH = Cloth("a", WIDTH)
FIRST = Settings(effort=0)


@given(
    wanted=demands(),
    cloth=cloths(),
    stages=st.sampled_from([2, 3]),
    simple=st.booleans(),
)
def test_every_first_plan_can_be_cut(
    wanted: tuple[Demand, ...], cloth: Cloth, stages: int, simple: bool
) -> None:
    settings = Settings(stages=3 if stages == 3 else 2, simple=simple, effort=0)
    laid = lay(cloth, wanted, settings)
    assert faults(laid, wanted) == []
    if cloth.yardage:
        assert laid.unmet == ()
    for stock in (*cloth.shelf, *cloth.fixed):
        used = sum(one.times for one in laid.lays if one.stock == stock.name)
        assert stock.count is None or used <= stock.count


@given(wanted=demands(6, 12), stages=st.sampled_from([2, 3]))
def test_a_bettered_plan_can_be_cut_and_is_no_longer(
    wanted: tuple[Demand, ...], stages: int
) -> None:
    settings = Settings(stages=3 if stages == 3 else 2, effort=1)
    first, better = lay(CLOTH, wanted, replace(settings, effort=0)), lay(CLOTH, wanted, settings)
    assert faults(better, wanted) == []
    assert better.length <= first.length
    (made,) = better.lays
    assert made.area_bound <= made.bound * (1 + 1e-12)
    assert made.bound <= float(made.length) * (1 + 1e-12)


@given(wanted=demands(), kits=st.integers(2, 50))
def test_kits_are_counts(wanted: tuple[Demand, ...], kits: int) -> None:
    many = tuple(replace(one, count=one.count * kits) for one in wanted)
    laid = lay(CLOTH, many, FIRST)
    assert faults(laid, many) == []
    assert sum(len(one.cut.parts) for one in laid.lays) <= 200


def test_the_same_again() -> None:
    wanted = pieces((5, 7, 30), (3, 4, 50), (6, 2, 17), turn=True)
    settings = Settings(effort=2)
    assert lay(CLOTH, wanted, settings) == lay(CLOTH, wanted, settings)


def test_exact_friendship_stars() -> None:
    """Twelve stars of 12 in from cloth of which 42 in can be used: 24 squares of 4 7/8 in from
    three strips and 48 of 4 1/2 in from six, by hand. Six strips that hold four of the larger and
    five of the smaller, and two more, are shorter."""
    halves = Demand("Aa", Fraction("4.875"), Fraction("4.875"), 24)
    squares = Demand("Ab", Fraction("4.5"), Fraction("4.5"), 48)
    cloth = Cloth("a", Fraction(42))
    simple = lay(cloth, [halves, squares], Settings(simple=True))
    assert (simple.length, simple.lays[0].proved) == (Fraction("41.625"), True)
    assert lay(cloth, [halves, squares]).length == Fraction("38.25")


def test_turning_helps_where_it_is_allowed() -> None:
    """Six pieces of 20 × 7 lie two by two; turned, five 7 wide stand beside each other."""
    wanted = pieces((7, 20, 6))
    assert lay(CLOTH, wanted).length == 40
    assert lay(CLOTH, [replace(one, may_turn=True) for one in wanted]).length == 21


def test_a_third_cut_saves_cloth() -> None:
    """Beside one piece 8 high, pieces 4 high lie two above one another."""
    wanted = pieces((20, 8, 1), (10, 4, 4))
    assert lay(CLOTH, wanted).length == 12
    laid = lay(CLOTH, wanted, Settings(stages=3))
    assert (laid.length, laid.lays[0].proved) == (8, True)


def test_what_is_proved_ends_the_search() -> None:
    told: list[tuple[int, int, Fraction]] = []
    laid = lay(CLOTH, pieces((4, 4, 25)), progress=lambda *what: told.append(what))
    assert laid.lays[0].proved
    assert told[-1][2] == laid.length
    assert [done for done, *_ in told] == list(range(len(told)))


HARD = pieces((9, 7, 14), (11, 5, 9), (6, 13, 8), (8, 3, 21), (17, 4, 5), (5, 10, 12))


def test_small_pieces_that_fit_in_for_nothing_are_no_hindrance() -> None:
    """Beside the pieces 9 and 7 high there is room for all low ones but one 5 high; in the
    fractional optimum the smallest are worth nothing, and still have to be cut."""
    wanted = pieces((31, 9, 6), (4, 2, 11), (22, 7, 5), (17, 5, 6), (3, 1, 9))
    laid = lay(CLOTH, wanted, Settings(effort=2))
    assert laid.unmet == ()
    assert faults(laid, wanted) == []
    assert laid.length == 9 * 6 + 7 * 5 + 5


def test_progress_never_grows_longer() -> None:
    told: list[Fraction] = []
    laid = lay(CLOTH, HARD, Settings(effort=3), progress=lambda _, __, long: told.append(long))
    assert told == sorted(told, reverse=True)
    assert told[-1] == laid.length


@pytest.mark.parametrize("calls", [0, 1, 3, 20, 150])
def test_stopping_keeps_the_best(calls: int) -> None:
    asked = []

    def stop() -> bool:
        asked.append(1)
        return len(asked) > calls

    laid = lay(CLOTH, HARD, stop=stop)
    assert laid.stopped
    assert len(asked) == calls + 1
    assert faults(laid, HARD) == []
    assert laid.length <= lay(CLOTH, HARD, FIRST).length


def test_nobody_stopped_it() -> None:
    assert not lay(CLOTH, HARD, Settings(effort=1), stop=lambda: False).stopped


def test_simple_lays_trim_nothing_and_need_few_settings() -> None:
    wanted = pieces((9, 4, 5), (4, 12, 6), (4, 4, 7), turn=True)
    simple = lay(CLOTH, wanted, Settings(simple=True))
    assert simple.strip_heights == (4,)
    assert simple.settings_used == 3
    assert faults(simple, wanted) == []
    for strip in simple.lays[0].cut.parts:
        assert all(part.along is None for part in strip.parts)


def test_rows_of_triangles() -> None:
    """⌊2W/side − 1⌋ = 21 equilateral triangles of side 3 1/2 in from a strip 40 in long, worked by
    hand; so 100 take five strips."""
    high = Fraction("3.0625")
    row = Row(Fraction("1.75"), Fraction("1.75"), 60.0)
    wanted = [Demand("A", Fraction(0), high, 100, row=row)]
    laid = lay(CLOTH, wanted)
    assert laid.length == 5 * high
    assert faults(laid, wanted) == []


def test_rows_share_a_strip_with_rectangles() -> None:
    """Eight diamonds take 37 in of a strip; three inches are left for a rectangle."""
    wanted = [Demand("A", Fraction(0), Fraction(3), 8, row=DIAMONDS), *pieces((3, 3, 1))]
    wanted[1] = replace(wanted[1], name="B")
    assert lay(CLOTH, wanted).length == 3


def test_a_piece_that_fits_nowhere() -> None:
    wanted = pieces((41, 50, 2), turn=True)
    laid = lay(CLOTH, wanted)
    assert (laid.too_large, laid.unmet, laid.lays) == (("A0",), (("A0", 2),), ())
    mixed = (*wanted, Demand("B", Fraction(4), Fraction(4), 3))
    laid = lay(CLOTH, mixed)
    assert (laid.too_large, laid.unmet, laid.length) == (("A0",), (("A0", 2),), 4)
    assert faults(laid, mixed) == []


def used(laid: Laid) -> dict[str, int]:
    found: dict[str, int] = {}
    for one in laid.lays:
        found[one.stock] = found.get(one.stock, 0) + one.times
    return found


def test_the_shelf_goes_first_then_fixed_pieces_then_yardage() -> None:
    scrap = Fixed("scrap", Fraction(8), Fraction(8), 1)
    quarter = Fixed("fat quarter", Fraction(20), Fraction(18), 1)
    wanted = pieces((4, 4, 40))
    assert used(lay(Cloth("a", WIDTH, True, (quarter,), (scrap,)), wanted)) == {
        "scrap": 1,
        "fat quarter": 1,
        "": 1,
    }
    assert used(lay(Cloth("a", WIDTH, True, (quarter,), (scrap,)), pieces((4, 4, 4)))) == {
        "scrap": 1
    }


def test_a_leftover_may_be_cut_along_or_across() -> None:
    """Three pieces of 5 × 20 do not lie in strips across 20 × 15, turned cloth or not; lengthwise
    they do."""
    scrap = Fixed("scrap", Fraction(15), Fraction(20), 1)
    wanted = pieces((5, 20, 3))
    laid = lay(Cloth("a", WIDTH, False, (), (scrap,)), wanted)
    assert laid.unmet == ()
    assert faults(laid, wanted) == []


def test_too_few_fixed_pieces_leave_pieces_unmet() -> None:
    square = Fixed("10 in square", Fraction(10), Fraction(10), 2)
    wanted = pieces((5, 5, 11))
    laid = lay(Cloth("a", WIDTH, False, (square,)), wanted)
    assert laid.unmet == (("A0", 3),)
    assert used(laid) == {"10 in square": 2}


def test_the_fewest_fixed_pieces_are_proved() -> None:
    square = Fixed("10 in square", Fraction(10), Fraction(10))
    (one,) = lay(Cloth("a", WIDTH, False, (square,)), pieces((5, 5, 11))).lays[:1]
    assert one.proved
    assert one.bound == 275.0


def test_nothing_wanted() -> None:
    assert lay(CLOTH, []) == Laid(())
    assert lay(CLOTH, [replace(one, count=0) for one in HARD]) == Laid(())
