"""Kits for many people: how much cloth, which strips from which bolt, what lies in each bag.

Counts are multiplied, never spelt out, so a thousand kits take no longer than one.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cloth.model import Laid
from seamproof.cloth.ordering import Strip, strips_of
from seamproof.cloth.pooling import Kind, Pool
from seamproof.cloth.stacking import Handling, handling, stacked
from seamproof.programme.model import Level, StripCut


@dataclass(frozen=True, slots=True)
class Bagged:
    """What of one fabric lies in one bag. One of the three is filled, by the level: a `length` of
    cloth, `strips` from selvage to selvage, or `pieces` by name; and whole `fixed` pieces."""

    length: Fraction = Fraction(0)
    strips: tuple[StripCut, ...] = ()
    pieces: tuple[tuple[str, int], ...] = ()
    fixed: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Across:
    """What is cut across the cloth at the shop: `times` equal ones `height` high, each of which is
    cross-cut into `pieces` (none, if it goes into the bag whole). `layers` are cut at once, in
    `stacks` stacks, by `cuts` cuts across each."""

    height: Fraction
    times: int
    pieces: tuple[tuple[str, int], ...] = ()
    layers: int = 1
    stacks: int = 0
    cuts: int = 0


@dataclass(frozen=True, slots=True)
class KitCloth:
    """One fabric for all kits. `bare` is the exact length before rounding; `best` that of the
    shortest lay that was found, which `bare` exceeds for the sake of fewer settings."""

    fabric: str
    bag: Bagged
    across: tuple[Across, ...]
    bare: Fraction
    best: Fraction | None = None
    fixed: tuple[tuple[str, int], ...] = ()

    @property
    def knife(self) -> int:
        """Passes of the cutter: one for each strip, and the cross-cuts of each stack."""
        return sum(one.times + one.stacks * one.cuts for one in self.across)


@dataclass(frozen=True, slots=True)
class BoltUse:
    """`times` bolts that are cut alike: strips by height and count, and the `end` that is left."""

    length: Fraction
    times: int
    strips: tuple[tuple[Fraction, int], ...]
    end: Fraction


def how_many(people: int, spares: Fraction) -> int:
    """One kit for each, and so many on top as the share of spares says, rounded up.

    >>> how_many(60, Fraction(5, 100)), how_many(61, Fraction(5, 100)), how_many(1, Fraction(0))
    (63, 65, 1)
    """
    return people + math.ceil(people * spares)


def yardage_kits(
    fabric: str,
    length: Fraction,
    fixed: Iterable[tuple[str, int]],
    kits: int,
    straightening: Fraction,
) -> KitCloth:
    """Each bag has a length of the cloth, with what the maker loses in straightening it.

    >>> star = yardage_kits("a", Fraction(9), (), 60, Fraction(1))
    >>> str(star.bag.length), str(star.bare), star.knife
    ('10', '600', 60)
    """
    each = length + straightening if length else Fraction(0)
    whole = tuple((name, count) for name, count in fixed)
    return KitCloth(
        fabric,
        Bagged(length=each, fixed=whole),
        (Across(each, kits, stacks=kits),) if each else (),
        each * kits,
        fixed=tuple((name, count * kits) for name, count in whole),
    )


def strip_kits(
    fabric: str, strips: Iterable[StripCut], fixed: Iterable[tuple[str, int]], kits: int
) -> KitCloth:
    """Each bag has strips from selvage to selvage, the highest first; the maker cross-cuts them.

    >>> two = StripCut(Fraction(2), 1, (("Aa", 3),)), StripCut(Fraction(2), 4, (("Ab", 9),))
    >>> [(str(strip.height), strip.times) for strip in strip_kits("a", two, (), 60).bag.strips]
    [('2', 5)]
    """
    heights: dict[Fraction, int] = {}
    for strip in strips:
        heights[strip.height] = heights.get(strip.height, 0) + strip.times
    mine = tuple(StripCut(height, heights[height], ()) for height in sorted(heights, reverse=True))
    whole = tuple(fixed)
    across = []
    for strip in mine:
        stacks = stacked(strip.times * kits, "long")
        across.append(Across(strip.height, strip.times * kits, (), stacks.layers, stacks.count))
    bare = sum((one.height * one.times for one in across), Fraction(0))
    return KitCloth(
        fabric,
        Bagged(strips=mine, fixed=whole),
        tuple(across),
        bare,
        fixed=tuple((name, count * kits) for name, count in whole),
    )


def patch_kits(pool: Pool, laid: Laid, kits: int, best: Fraction | None = None) -> KitCloth:
    """Each bag has cut pieces. `pool` and `laid` are those of all kits together."""
    handled: dict[str, Handling] = {kind.demand.name: handling(kind) for kind in pool.kinds}
    across = [
        _stacked(strip, lay.times, handled)
        for lay in laid.lays
        if lay.cloth == "yardage"
        for strip in strips_of(lay)
    ]
    fixed: dict[str, int] = {}
    for lay in laid.lays:
        if lay.cloth == "fixed":
            fixed[lay.stock] = fixed.get(lay.stock, 0) + lay.times
    return KitCloth(
        pool.fabric,
        Bagged(pieces=tuple((kind.demand.name, kind.count // kits) for kind in pool.kinds)),
        tuple(across),
        laid.length,
        best,
        tuple(fixed.items()),
    )


def _stacked(strip: Strip, times: int, handled: dict[str, Handling]) -> Across:
    hows = {handled[name] for name, _ in strip.pieces}
    how: Handling = "bias" if "bias" in hows else "short" if "short" in hows else "long"
    alike = strip.times * times
    stacks = stacked(alike, how)
    return Across(strip.height, alike, strip.pieces, stacks.layers, stacks.count, strip.crossings)


def pieces_per_bag(kinds: Iterable[Kind], kits: int) -> dict[str, int]:
    """How many of each kind lie in one bag."""
    return {kind.demand.name: kind.count // kits for kind in kinds}


# Bolts --------------------------------------------------------------------------------------------


def from_bolts(
    across: Iterable[Across],
    bolts: Sequence[Fraction],
    usual: Fraction | None,
    straightening: Fraction = Fraction(0),
) -> tuple[tuple[BoltUse, ...], tuple[tuple[Fraction, int], ...]]:
    """From which bolt what is cut, the highest strips first, and what no bolt was left for.

    `bolts` are the lengths of those that are there; after them come as many as needed of the
    `usual` length, or none if that is None. No strip runs over the end of a bolt, and each bolt
    loses the `straightening` of its ends. What is left of a bolt is its end.

    >>> strip = Across(Fraction(5), 10)
    >>> uses, short = from_bolts([strip], [], Fraction(22))
    >>> [(u.times, u.strips[0][1], str(u.end)) for u in uses], short
    ([(2, 4, '2'), (1, 2, '12')], ())
    >>> from_bolts([strip], [Fraction(12)], None)[1]
    ((Fraction(5, 1), 8),)
    """
    left: dict[Fraction, int] = {}
    for one in across:
        left[one.height] = left.get(one.height, 0) + one.times
    heights = sorted(left, reverse=True)
    uses: list[BoltUse] = []
    for length in bolts:
        if not any(left.values()):
            break
        use = _one_bolt(length, heights, left, straightening)
        _take(use, left, 1)
        uses.append(use)
    while usual is not None and any(left.values()):
        use = _one_bolt(usual, heights, left, straightening)
        if not use.strips:
            break
        alike = min(left[height] // count for height, count in use.strips)
        uses.append(BoltUse(use.length, max(1, alike), use.strips, use.end))
        _take(use, left, max(1, alike))
    return tuple(uses), tuple((h, count) for h, count in left.items() if count)


def off_bolts(uses: Sequence[BoltUse]) -> Fraction:
    """What is used up of bolts: all of each but the last, whose end stays on the bolt.

    >>> uses, _ = from_bolts([Across(Fraction(5), 10)], [], Fraction(22))
    >>> str(off_bolts(uses))  # two whole ones with an end of 2 in each, and ten inches
    '54'
    """
    if not uses:
        return Fraction(0)
    return sum((use.length * use.times for use in uses), Fraction(0)) - uses[-1].end


def _one_bolt(
    length: Fraction,
    heights: Sequence[Fraction],
    left: dict[Fraction, int],
    straightening: Fraction,
) -> BoltUse:
    room: Fraction = max(length - straightening, Fraction(0))
    strips = []
    for height in heights:
        count = min(left[height], int(room // height))
        if count:
            strips.append((height, count))
            room -= height * count
    return BoltUse(length, 1, tuple(strips), room)


def _take(use: BoltUse, left: dict[Fraction, int], times: int) -> None:
    for height, count in use.strips:
        left[height] -= count * times


@dataclass(frozen=True, slots=True)
class BoltSheet:
    """What is cut from one bolt, or from several alike, `first` to `last` of a fabric."""

    first: int
    last: int
    length: Fraction
    across: tuple[Across, ...]
    end: Fraction


def bolt_sheets(across: Iterable[Across], bolts: Iterable[BoltUse]) -> tuple[BoltSheet, ...]:
    """What is cut across each bolt, the highest first, and what each strip is cut into. Bolts next
    to each other that are cut alike share a sheet.

    >>> strips = [Across(Fraction(5), 6, (("Aa", 8),)), Across(Fraction(5), 4, (("Ab", 7),))]
    >>> uses, _ = from_bolts(strips, [], Fraction(22))
    >>> [(s.first, s.last, [a.times for a in s.across]) for s in bolt_sheets(strips, uses)]
    [(1, 1, [4]), (2, 2, [2, 2]), (3, 3, [2])]
    """
    waiting = sorted(across, key=lambda one: -one.height)
    left = [one.times for one in waiting]
    found: list[BoltSheet] = []
    for use in bolts:
        for _ in range(use.times):
            rows = []
            for height, count in use.strips:
                lacking = count
                for n, one in enumerate(waiting):
                    times = min(left[n], lacking) if one.height == height else 0
                    if times:
                        stacks = -(-times // one.layers) if one.stacks else 0
                        rows.append(replace(one, times=times, stacks=stacks))
                        left[n] -= times
                        lacking -= times
            number = found[-1].last + 1 if found else 1
            made = BoltSheet(number, number, use.length, tuple(rows), use.end)
            if found and (found[-1].across, found[-1].length) == (made.across, made.length):
                made = replace(made, first=found.pop().first)
            found.append(made)
    return tuple(found)


# Orders -------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Ordered:
    """What is ordered of a fabric for one release: the `exact` length, and what to `buy`, rounded
    as the shop cuts. All that was bought up to here covers all that is needed up to here; `left` is
    what is on the shop's shelf afterwards, the bolt end from which the next release is cut first.
    """

    release: int
    exact: Fraction
    buy: Fraction
    left: Fraction = Fraction(0)


def ordered(
    lengths: Sequence[Fraction], step: Fraction, *, at_once: bool = False
) -> tuple[Ordered, ...]:
    """Orders for releases from 1 on that need these exact lengths, rounded up in `step` once.

    What an earlier order was rounded up by counts for the next, so that the orders together are the
    whole rounded once. `at_once`: everything with the first.

    >>> thirds = [Fraction(40), Fraction(5), Fraction(1)]
    >>> [str(o.buy) for o in ordered(thirds, Fraction(9, 2))]
    ['81/2', '9/2', '9/2']
    >>> [str(o.buy) for o in ordered(thirds, Fraction(9, 2), at_once=True)]
    ['99/2']
    """
    if at_once:
        whole = sum(lengths, Fraction(0))
        buy = math.ceil(whole / step) * step
        return (Ordered(1, whole, buy, buy - whole),) if whole else ()
    found, needed, bought = [], Fraction(0), Fraction(0)
    for n, length in enumerate(lengths, start=1):
        needed += length
        buy = math.ceil(needed / step) * step - bought
        bought += buy
        if length:
            found.append(Ordered(n, length, buy, bought - needed))
    return tuple(found)


def level_of(level: Level) -> str:
    """What a level is called in a sentence."""
    return {
        "yardage": "a length of each cloth",
        "strips": "strips from selvage to selvage",
        "patches": "cut pieces",
    }[level]
