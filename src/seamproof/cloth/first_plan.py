"""A good plan at once: strips filled from the highest piece down.

Pieces are taken the highest first. Each goes into the strips that are there, as far as they have
room, and then into new ones as high as it is; a piece lower than its strip is trimmed. Counts are
never spelt out piece by piece, so many kits cost no more than one. Where pieces may be turned,
three ways to lay them are tried: all lower, all higher, and each the way that takes least cloth by
itself; the shortest is kept.

The bound is that of the area only.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cloth.model import Cloth, Cut, Demand, Fixed, Laid, Lay, Settings


@dataclass(frozen=True, slots=True)
class _Lying:
    """A kind of piece the way it will lie: `pitch` is what each takes of a strip's length, after
    `offset` for the first of a row."""

    demand: Demand
    pitch: Fraction
    height: Fraction
    offset: Fraction = Fraction(0)
    turned: bool = False

    @property
    def name(self) -> str:
        return self.demand.name

    def fit(self, room: Fraction) -> int:
        """How many lie side by side in so much of a strip's length."""
        return max(0, int((room - self.offset) // self.pitch))

    def taken(self, count: int) -> Fraction:
        """How much of a strip's length so many take."""
        return self.offset + count * self.pitch if count else Fraction(0)


@dataclass(frozen=True, slots=True)
class _Strip:
    """`times` strips filled alike, with what room is left in each."""

    height: Fraction
    room: Fraction
    holds: tuple[tuple[_Lying, int], ...]
    times: int

    def with_more(self, lying: _Lying, count: int, times: int) -> _Strip:
        return _Strip(
            self.height, self.room - lying.taken(count), (*self.holds, (lying, count)), times
        )


def lay(
    cloth: Cloth,
    demands: Sequence[Demand],
    settings: Settings | None = None,
    *,
    stop: Callable[[], bool] | None = None,
) -> Laid:
    """How the demands are cut from a cloth: shelf first, then fixed pieces, then yardage.

    With `settings.simple` a strip holds only pieces of its own height. `stop` is asked between the
    ways of lying; at least one is worked out.

    >>> square = Demand("Aa", Fraction(4), Fraction(4), 25)
    >>> str(lay(Cloth("a", Fraction(40)), [square]).length)
    '12'
    >>> lay(Cloth("a", Fraction(40)), []).lays
    ()
    """
    settings = settings or Settings()
    wanted = [demand for demand in demands if demand.count > 0]
    too_large = tuple(d.name for d in wanted if not _fits_somewhere(d, cloth))
    wanted = [demand for demand in wanted if demand.name not in too_large]
    best: Laid | None = None
    stopped = False
    for choose in (_lower, _best, _higher):
        made = _laid(cloth, wanted, choose, settings)
        if best is None or _worse(best) > _worse(made):
            best = made
        stopped = stop is not None and stop()
        if stopped or not any(demand.may_turn for demand in wanted):
            break
    assert best is not None
    unmet = (*best.unmet, *((d.name, d.count) for d in demands if d.name in too_large))
    return replace(best, unmet=unmet, too_large=too_large, stopped=stopped)


def _worse(laid: Laid) -> tuple[int, Fraction, Fraction]:
    fixed = (lay.width * lay.length * lay.times for lay in laid.lays if lay.cloth == "fixed")
    return sum(count for _, count in laid.unmet), laid.length, sum(fixed, Fraction(0))


# How pieces may lie -------------------------------------------------------------------------------

_Choose = Callable[[Demand, Fraction], _Lying]


def _ways(demand: Demand) -> tuple[_Lying, ...]:
    if demand.row is not None:
        return (_Lying(demand, demand.row.pitch, demand.height, demand.row.offset),)
    straight = _Lying(demand, demand.width, demand.height)
    if not demand.may_turn:
        return (straight,)
    return straight, _Lying(demand, demand.height, demand.width, turned=True)


def _fitting(demand: Demand, width: Fraction) -> tuple[_Lying, ...]:
    return tuple(way for way in _ways(demand) if way.fit(width) > 0)


def _lower(demand: Demand, width: Fraction) -> _Lying:
    return min(_fitting(demand, width), key=lambda way: way.height)


def _higher(demand: Demand, width: Fraction) -> _Lying:
    return max(_fitting(demand, width), key=lambda way: way.height)


def _best(demand: Demand, width: Fraction) -> _Lying:
    return min(
        _fitting(demand, width),
        key=lambda way: (-(-demand.count // way.fit(width)) * way.height, way.height),
    )


def _fits_somewhere(demand: Demand, cloth: Cloth) -> bool:
    if cloth.yardage and _fitting(demand, cloth.width):
        return True
    return any(
        way.height <= piece.length
        for piece in (*cloth.shelf, *cloth.fixed)
        for way in _fitting(demand, piece.width)
    )


# Laying -------------------------------------------------------------------------------------------


def _laid(cloth: Cloth, demands: Sequence[Demand], choose: _Choose, settings: Settings) -> Laid:
    left = {demand.name: demand.count for demand in demands}
    lays: list[Lay] = []
    for piece in (*cloth.shelf, *cloth.fixed):
        lays += _from_fixed(cloth.fabric, piece, demands, left, choose, settings)
    strips: list[_Strip] = []
    if cloth.yardage:
        fitting = [demand for demand in demands if _fitting(demand, cloth.width)]
        strips = _filled(fitting, left, choose, cloth.width, settings)
        for demand in fitting:
            left[demand.name] = 0
    if strips:
        lays.append(_yardage(cloth, strips, _met(strips)))
    heights = {strip.height for strip in strips}
    widths = {lying.pitch for strip in strips for lying, _ in strip.holds}
    return Laid(
        tuple(lays),
        tuple((name, count) for name, count in left.items() if count),
        strip_heights=tuple(sorted(heights, reverse=True)),
        settings_used=len(heights) + len(widths),
    )


def _filled(
    demands: Iterable[Demand],
    left: Mapping[str, int],
    choose: _Choose,
    width: Fraction,
    settings: Settings,
) -> list[_Strip]:
    """Strips across a cloth `width` wide that hold all that is left, the highest first."""
    lying = sorted(
        (choose(demand, width) for demand in demands), key=lambda one: (-one.height, -one.pitch)
    )
    strips: list[_Strip] = []
    for one in lying:
        count = left[one.name]
        found: list[_Strip] = []
        for strip in strips:
            more, count = _filled_up(strip, one, count, settings)
            found += more
        strips = found
        each = one.fit(width)
        for times, holds in ((count // each, each), (1 if count % each else 0, count % each)):
            if times:
                new = _Strip(one.height, width, (), times)
                strips.append(new.with_more(one, holds, times))
    return strips


def _filled_up(
    strip: _Strip, one: _Lying, count: int, settings: Settings
) -> tuple[list[_Strip], int]:
    """Strips filled alike with as many more pieces as there is room for, and how many are left."""
    each = one.fit(strip.room)
    if not each or not count or (settings.simple and one.height != strip.height):
        return [strip], count
    full = min(strip.times, count // each)
    rest = count - full * each
    found = [strip.with_more(one, each, full)] if full else []
    empty = strip.times - full
    if empty and rest:
        found.append(strip.with_more(one, rest, 1))
        empty, rest = empty - 1, 0
    if empty:
        found.append(replace(strip, times=empty))
    return found, rest


def _from_fixed(
    fabric: str,
    piece: Fixed,
    demands: Sequence[Demand],
    left: dict[str, int],
    choose: _Choose,
    settings: Settings,
) -> list[Lay]:
    """Pieces of one fixed size, cut one after the other, those cut alike together."""
    lays: list[Lay] = []
    there = math.inf if piece.count is None else piece.count
    while there > 0:
        strips = _one_filled(piece, demands, left, choose, settings)
        if not strips:
            break
        met = _met(strips)
        times = min(left[name] // count for name, count in met.items())
        times = int(min(max(times, 1), there))
        there -= times
        for name, count in met.items():
            left[name] -= count * times
        cut = _whole(piece.width, piece.length, strips)
        area = sum(
            (d.height * _ways(d)[0].pitch * met[d.name] for d in demands if d.name in met),
            Fraction(0),
        )
        bound = float(area * times)
        lays.append(
            Lay(
                *(fabric, "fixed", piece.width, piece.length, cut, times),
                *(bound, bound, False, piece.name),
            )
        )
    return lays


def _one_filled(
    piece: Fixed,
    demands: Sequence[Demand],
    left: Mapping[str, int],
    choose: _Choose,
    settings: Settings,
) -> list[_Strip]:
    """The strips of one piece of cloth: the highest that fits, filled up, then the next."""
    room, counts = piece.length, dict(left)
    lying = []
    for demand in demands:
        low = [way for way in _fitting(demand, piece.width) if way.height <= room]
        if low:
            chosen = choose(demand, piece.width)
            lying.append(chosen if chosen in low else low[0])
    lying.sort(key=lambda one: (-one.height, -one.pitch))
    strips: list[_Strip] = []
    while True:
        first = next((one for one in lying if counts[one.name] and one.height <= room), None)
        if first is None:
            return strips
        strip = _Strip(first.height, piece.width, (), 1)
        for one in lying:
            if one.height > strip.height or (settings.simple and one.height != strip.height):
                continue
            count = min(counts[one.name], one.fit(strip.room))
            if count:
                strip = strip.with_more(one, count, 1)
                counts[one.name] -= count
        if strips and replace(strips[-1], times=1) == strip:
            strips[-1] = replace(strips[-1], times=strips[-1].times + 1)
        else:
            strips.append(strip)
        room -= strip.height


def _met(strips: Iterable[_Strip]) -> dict[str, int]:
    found: dict[str, int] = {}
    for strip in strips:
        for lying, count in strip.holds:
            found[lying.name] = found.get(lying.name, 0) + count * strip.times
    return found


# Cuts ---------------------------------------------------------------------------------------------


def _yardage(cloth: Cloth, strips: Sequence[_Strip], met: Mapping[str, int]) -> Lay:
    length = sum((strip.height * strip.times for strip in strips), Fraction(0))
    demands = {lying.name: lying for strip in strips for lying, _ in strip.holds}
    area = sum((one.height * one.pitch * met[name] for name, one in demands.items()), Fraction(0))
    bound = float(area / cloth.width)
    cut = _whole(cloth.width, length, strips)
    proved = length * cloth.width == area
    return Lay(cloth.fabric, "yardage", cloth.width, length, cut, 1, bound, bound, proved)


def _whole(width: Fraction, length: Fraction, strips: Sequence[_Strip]) -> Cut:
    parts = [_strip_cut(width, strip) for strip in strips]
    rest = length - sum((strip.height * strip.times for strip in strips), Fraction(0))
    if rest:
        parts.append(Cut(width, rest))
    return Cut(width, length, "across", tuple(parts))


def _strip_cut(width: Fraction, strip: _Strip) -> Cut:
    parts = [_held(lying, count, strip.height) for lying, count in strip.holds]
    if strip.room:
        parts.append(Cut(strip.room, strip.height))
    return Cut(width, strip.height, "length", tuple(parts), times=strip.times)


def _held(lying: _Lying, count: int, height: Fraction) -> Cut:
    """Some alike pieces in a strip; lower ones are trimmed to their height."""
    row = lying.demand.row
    if row is not None:
        piece = Cut(
            *(lying.taken(count), lying.height),
            piece=lying.name,
            slope=row.slope,
            pieces=count,
        )
    else:
        piece = Cut(lying.pitch, lying.height, piece=lying.name, turned=lying.turned)
    if lying.height < height:
        rest = Cut(piece.width, height - lying.height)
        piece = Cut(piece.width, height, "across", (piece, rest))
    return piece if row is not None else replace(piece, times=count)
