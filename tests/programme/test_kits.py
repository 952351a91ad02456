"""Kits: counts multiply, bolts are never cut beyond their end, orders are rounded once."""

from __future__ import annotations

import math
from collections import Counter
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from seamproof.cloth.laying import lay
from seamproof.cloth.model import Cloth, Settings
from seamproof.cloth.pooling import Source, pooled
from seamproof.programme.kits import (
    Across,
    bolt_sheets,
    from_bolts,
    how_many,
    ordered,
    patch_kits,
    strip_kits,
)
from seamproof.programme.model import StripCut
from tests.cloth.pieces import piece

heights = st.integers(4, 100).map(lambda n: Fraction(n, 8))
strips = st.lists(st.builds(Across, heights, st.integers(1, 400)), max_size=6)
lengths = st.integers(20, 600).map(Fraction)


def star(sides: list[tuple[str, str, int]], kits: int) -> tuple[Fraction, Fraction]:
    """Bare lengths of kits of one fabric at 42 in: few strip widths, and as laid at will."""
    pieces = tuple(piece(letter, side, count=count) for letter, side, count in sides)
    (pool,) = pooled([Source("Friendship Star", pieces)], kits=kits)
    cloth = Cloth("a", Fraction(42))
    simple = lay(cloth, pool.demands, Settings(simple=True))
    made = patch_kits(pool, simple, kits)
    assert made.bare == simple.length == sum(a.height * a.times for a in made.across)
    assert dict(made.bag.pieces) == {f"A{letter[1]}": count for letter, _, count in sides}
    return made.bare, lay(cloth, pool.demands, Settings()).length


def test_sixty_kits_of_a_twelve_inch_friendship_star_in_the_exact_form() -> None:
    """Calculated: per block, star and ground each 2 squares of 4 7/8 in; star 1 and ground 4
    squares of 4 1/2 in; 42 in of usable width. 8 and 9 lie in a strip: 15 strips of 4 7/8 and 7
    or 27 of 4 1/2, which is 104 5/8 and 194 5/8 in."""
    shine, _ = star([("Aa", "39/8", 2), ("Ab", "9/2", 1)], 60)
    ground, _ = star([("Aa", "39/8", 2), ("Ab", "9/2", 4)], 60)
    assert (shine, ground) == (Fraction("104.625"), Fraction("194.625"))


@given(st.integers(1, 2000), st.integers(0, 50))
def test_spares_are_a_share_rounded_up(people: int, share: int) -> None:
    assert how_many(people, Fraction(share, 100)) == people + math.ceil(people * share / 100)


@given(strips, st.lists(lengths, max_size=4), st.none() | lengths)
def test_what_the_bolts_give_and_what_is_short_is_all_that_was_asked(
    across: list[Across], have: list[Fraction], usual: Fraction | None
) -> None:
    lost = Fraction(1)
    uses, short = from_bolts(across, have, usual, lost)
    asked, given_ = Counter[Fraction](), Counter[Fraction](dict(short))
    for one in across:
        asked[one.height] += one.times
    for use in uses:
        cut = sum((height * count for height, count in use.strips), Fraction(0))
        assert use.end == max(use.length - lost, Fraction(0)) - cut
        assert use.end >= 0, "the shop's bolt ends are never less than nothing"
        for height, count in use.strips:
            given_[height] += count * use.times
    assert asked == given_
    for height, _ in short:
        assert usual is None or height > usual - lost
        assert all(use.end < height for use in uses)


@given(st.lists(heights.map(lambda h: h * 7) | st.just(Fraction(0)), max_size=14))
def test_orders_together_are_the_whole_rounded_once_and_never_too_late(
    needed: list[Fraction],
) -> None:
    step = Fraction(9, 2)
    orders = ordered(needed, step)
    whole = sum(needed, Fraction(0))
    assert sum((order.buy for order in orders), Fraction(0)) == math.ceil(whole / step) * step
    bought, by = Fraction(0), {order.release: order for order in orders}
    for n in range(1, len(needed) + 1):
        bought += by[n].buy if n in by else 0
        left = bought - sum(needed[:n], Fraction(0))
        assert 0 <= left < step, "the shop's shelf is never less than empty"
        assert n not in by or by[n].left == left
    at_once = ordered(needed, step, at_once=True)
    assert sum((order.buy for order in at_once), Fraction(0)) == math.ceil(whole / step) * step
    assert all(order.release == 1 for order in at_once)


@given(st.lists(st.builds(StripCut, heights, st.integers(1, 9), st.just(())), max_size=4))
def test_strips_for_many_are_those_of_one_as_often(mine: list[StripCut]) -> None:
    one, many = strip_kits("a", mine, (), 1), strip_kits("a", mine, (), 63)
    assert many.bare == 63 * one.bare
    assert [a.times for a in many.across] == [63 * a.times for a in one.across]
    assert many.bag == one.bag


@given(strips, lengths)
def test_the_sheets_of_all_bolts_hold_everything_once(
    across: list[Across], usual: Fraction
) -> None:
    lost = Fraction(1)
    rows = [Across(a.height, a.times, ((f"A{n}", n + 1),)) for n, a in enumerate(across)]
    uses, short = from_bolts(rows, [], usual, lost)
    sheets = bolt_sheets(rows, uses)
    numbers = [n for sheet in sheets for n in range(sheet.first, sheet.last + 1)]
    assert numbers == list(range(1, sum(use.times for use in uses) + 1))
    cut = Counter[tuple[tuple[str, int], ...]]()
    for sheet in sheets:
        taken = sum((a.height * a.times for a in sheet.across), Fraction(0))
        assert taken + sheet.end == max(sheet.length - lost, Fraction(0))
        for one in sheet.across:
            cut[one.pieces] += one.times * (sheet.last - sheet.first + 1)
    lacking = {height for height, _ in short}
    assert cut == {one.pieces: one.times for one in rows if one.height not in lacking}
