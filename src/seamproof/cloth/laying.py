"""How one fabric is laid: a first good plan at once, then better ones by counted effort.

Fractional amounts of patterns come from the master; their whole part stays, and what it leaves is
built and bettered strip by strip. Copies are counts all the way, so that a thousand kits cost what
one costs. See `docs/explanation/cloth.md`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction

import numpy as np

from seamproof.cloth import bounds
from seamproof.cloth.bounds import Claim, There, area, area_bound
from seamproof.cloth.columns import Counts, Pricer, TwoStages, Values
from seamproof.cloth.improving import Search, Way
from seamproof.cloth.listing import shorter
from seamproof.cloth.masters import Master, master, whole_part
from seamproof.cloth.model import Cloth, Demand, Fixed, Laid, Settings
from seamproof.cloth.patterns import Grid, Kind, grid_of, kinds_of
from seamproof.cloth.placing import PIECES, Placing
from seamproof.cloth.simplest import fewest_settings
from seamproof.cloth.sources import FIXED_RATE, SHELF_RATE, Pattern, Source
from seamproof.cloth.stacks import ThreeStages
from seamproof.cloth.telling import Least, told

Stop = Callable[[], bool]
Progress = Callable[[int, int, Fraction], None]
"""Told the rounds done, of how many, and the inches of yardage of the best plan so far."""

TRIES = {2: 75, 3: 12}
"""Tries in one round of effort, by stages: a strip of three stages takes longer to fill."""

PLACED = {2: 1_000_000, 3: 4_500_000}
"""So many unfinished plans are looked at in one round of effort, by stages. In two stages prices
are the better guide for all but short lists; in three, where there are none, this finds most."""

PATIENCE = 2.5
"""After so many tries in vain for every strip and round of effort the search ends: small plans are
soon as short as they will be. Four times as many find nothing more for the demo quilt's blocks."""

FREE = 0.1
"""A piece that the fractional optimum fits in for nothing counts this share of its area, since it
has to be cut somewhere."""

LISTED = 80
"""Up to so many pieces plans of two stages are also made piece by piece, and the strips of a
shorter plan are listed at the end. The lists of larger fabrics are cut short long before they are
whole, and bring nothing for one to four seconds."""

MANY = 120
"""With more strips than these the whole part of the fractional optimum is most of the plan; with
fewer it is worked out for its bound and its prices."""


def lay(
    cloth: Cloth,
    demands: Sequence[Demand],
    settings: Settings | None = None,
    *,
    stop: Stop | None = None,
    progress: Progress | None = None,
) -> Laid:
    """The pieces laid on the cloth, with bounds. The same pieces in the same order have the same
    plan, byte for byte, in every run; `stop` ends the improving and keeps the best so far.

    Pieces without a count are left out. Names must differ and sizes be positive.

    >>> laid = lay(Cloth("a", Fraction(40)), [Demand("Aa", Fraction(4), Fraction(4), 25)])
    >>> str(laid.length), laid.lays[0].proved
    ('12', True)
    >>> lay(Cloth("a", Fraction(40)), []).lays
    ()
    """
    return _Laying(demands, cloth, settings or Settings(), stop, progress).laid()


class _Laying:
    """One call of :func:`lay`."""

    def __init__(
        self,
        demands: Sequence[Demand],
        cloth: Cloth,
        settings: Settings,
        stop: Stop | None,
        progress: Progress | None,
    ) -> None:
        self.cloth = cloth
        self.settings = settings
        self.progress = progress
        self.stopped = False
        self._stop = stop
        self.stocks: list[Fixed | None] = [*cloth.shelf, *cloth.fixed]
        widest = max([cloth.width, *(max(f.width, f.length) for f in self.stocks if f)])
        if cloth.yardage:
            self.stocks.append(None)
        wanted = [demand for demand in demands if demand.count > 0]
        self.grid = grid_of(wanted, widest, settings)
        fitting = self._fitting(wanted)
        self.too_large = [d for d, fits in zip(wanted, fitting, strict=True) if not fits]
        self.demands = [d for d, fits in zip(wanted, fitting, strict=True) if fits]
        sizes = [s for s, fits in zip(self.grid.sizes, fitting, strict=True) if fits]
        self.grid = Grid(self.grid.unit, tuple(sizes))
        self.counts: Counts = np.array([d.count for d in self.demands], dtype=np.int64)

    def stop(self) -> bool:
        """Whether somebody has asked for the end."""
        if not self.stopped and self._stop is not None and self._stop():
            self.stopped = True
        return self.stopped

    # What there is to cut from -------------------------------------------------------------------

    def _places(self, stock: Fixed | None) -> list[tuple[int, int | None, bool]]:
        """Width, length and whether flipped, in the frames in which a stock may be cut."""
        if stock is None:
            return [(self.grid.floor(self.cloth.width), None, False)]
        width, length = self.grid.floor(stock.width), self.grid.floor(stock.length)
        ways: list[tuple[int, int | None, bool]] = [(width, length, False)]
        if not self.settings.simple:
            ways.append((length, width, True))
        return ways

    def _fitting(self, demands: Sequence[Demand]) -> list[bool]:
        fits = [False] * len(demands)
        for stock in self.stocks:
            if stock is not None and stock.count == 0:
                continue
            for width, length, flip in self._places(stock):
                for kind in kinds_of(demands, self.grid, width, length, flipped=flip):
                    fits[kind.demand] = True
        return fits

    def _sources(self) -> list[Source]:
        sources: list[Source] = []
        main = max(1, self.grid.floor(self.cloth.width))
        for number, stock in enumerate(self.stocks):
            for width, length, flip in self._places(stock):
                kinds = kinds_of(self.demands, self.grid, width, length, flipped=flip)
                if not kinds:
                    continue
                cost = 1.0
                if stock is not None and length is not None:
                    shelf = number < len(self.cloth.shelf)
                    cost = width * length / main * (SHELF_RATE if shelf else FIXED_RATE)
                pricer = self._pricer(kinds, width)
                sources.append(Source(len(sources), number, width, length, flip, cost, pricer))
        return sources

    def _pricer(self, kinds: tuple[Kind, ...], width: int) -> Pricer:
        if self.settings.simple:
            return TwoStages(fewest_settings(kinds), width, exact=True)
        if self.settings.stages == 3:
            return ThreeStages(kinds, width)
        return TwoStages(kinds, width)

    # The plan ------------------------------------------------------------------------------------

    def laid(self) -> Laid:
        """The whole way."""
        if not self.demands:
            return Laid((), _unmet(self.too_large), tuple(d.name for d in self.too_large))
        sources = self._sources()
        supplies = [stock.count if stock is not None else None for stock in self.stocks]
        unit_area = max(1, self.grid.floor(self.cloth.width)) * self.grid.unit**2
        areas = np.array([float(area(demand) / unit_area) for demand in self.demands])
        search = Search(sources, supplies, areas, self.counts)
        for tallest in (True, False):
            plan = search.built(self.counts, (), Way(areas, tallest), float("inf"))
            assert plan is not None
            search.begin(plan)
        least = self._improved(search, sources, supplies, areas)
        return told(
            (self.cloth, self.stocks, self.demands, self.too_large),
            self.grid,
            sources,
            search.best,
            least,
            stopped=self.stopped,
        )

    def _improved(
        self,
        search: Search,
        sources: Sequence[Source],
        supplies: Sequence[int | None],
        areas: Values,
    ) -> Least:
        """Betters the plan that the search has, and says how good one can be."""
        rounds = self.settings.effort
        self._tell(search, sources, 0)
        if rounds == 0 or self.stop():
            return self._least(sources, None)
        found = None
        strips = sum(times for _, times in search.best)
        if strips > MANY or (self.settings.stages == 2 and self._only_yardage()):
            found = self._mastered(search, sources, supplies, areas)
        elif self.settings.stages == 2 and not self.settings.simple:
            found = self._fractional(search, sources, supplies)
        least = self._least(sources, found)
        enough = self._enough(sources, least)
        tries = TRIES[self.settings.stages]
        placing = self._placing(sources)
        for done in range(1, rounds + 1):
            if placing is not None:
                self._place(search, placing, done, enough)
            search.improve(tries, self.stop, enough, PATIENCE * rounds)
            self._tell(search, sources, done)
            if self.stopped:
                break
        if found is not None and self._listable(search, enough):
            prices = found.prices
            plan = shorter(
                sources[0], prices, self.counts, float(prices @ self.counts), search.best_score[0]
            )
            if plan is not None:
                search.begin(plan)
        return least

    def _placing(self, sources: Sequence[Source]) -> Placing | None:
        """The same pieces, placed one by one, where that may find a shorter plan."""
        stages = self.settings.stages
        if self.settings.simple or not self._only_yardage():
            return None
        if int(self.counts.sum()) > (LISTED if stages == 2 else PIECES):
            return None
        (source,) = sources
        if any(kind.row for kind in source.pricer.kinds):
            return None
        return Placing(source.pricer.kinds, source.width, self.counts, stages)

    def _place(self, search: Search, placing: Placing, rounds: int, enough: float) -> None:
        """As many ways of placing as so many rounds have effort for."""
        effort = rounds * PLACED[self.settings.stages]
        while placing.spent < effort and not placing.ended and search.best_score[0] > enough:
            strips = placing.next(round(search.best_score[0]), self.stop)
            if self.stopped:
                return
            if strips is not None:
                search.begin(
                    [(search.sources[0].pattern(strip, len(self.counts)), 1) for strip in strips]
                )

    def _listable(self, search: Search, enough: float) -> bool:
        """Whether strips may be listed, and a shorter plan of them can still be found."""
        return (
            self._only_yardage()
            and self.settings.stages == 2
            and not self.settings.simple
            and not self.stopped
            and search.best_score[0] > enough
            and int(self.counts.sum()) <= LISTED
        )

    def _fractional(
        self, search: Search, sources: Sequence[Source], supplies: Sequence[int | None]
    ) -> Master:
        start = [pattern for pattern, _ in search.best]
        start += [search.unmet(i) for i in range(len(self.demands))]
        return master(sources, self.counts, supplies, start, self.stop)

    def _mastered(
        self,
        search: Search,
        sources: Sequence[Source],
        supplies: Sequence[int | None],
        areas: Values,
    ) -> Master:
        """The fractional optimum; its whole part begins the search, if that is better."""
        found = self._fractional(search, sources, supplies)
        if self._only_yardage() and self.settings.stages == 2:
            search.least.append(found.prices)
        search.worth = np.maximum(found.prices, FREE * areas)
        kept, left = whole_part(found, self.counts)
        for tallest in (True, False):
            rest = search.built(left, kept, Way(areas, tallest), float("inf"))
            if rest is not None:
                search.begin([*kept, *rest])
        search.begin(search.best)
        return found

    def _tell(self, search: Search, sources: Sequence[Source], done: int) -> None:
        if self.progress is not None:
            self.progress(done, self.settings.effort, self._yardage(search.best, sources))

    def _yardage(self, plan: Iterable[tuple[Pattern, int]], sources: Sequence[Source]) -> Fraction:
        units = sum(
            pattern.strips[0].height * times
            for pattern, times in plan
            if pattern.source is not None and sources[pattern.source].length is None
        )
        return units * self.grid.unit

    # Bounds --------------------------------------------------------------------------------------

    def _only_yardage(self) -> bool:
        return self.stocks == [None]

    def _least(self, sources: Sequence[Source], found: Master | None) -> Least:
        """The least yardage; of fixed pieces alone: the least of them, as length of such yardage.
        Where a shelf or fixed pieces may take over: what these leave."""
        whole = area_bound(self.demands, self.cloth.width)
        area_left = whole
        for stock in self.stocks if self.cloth.yardage else ():
            if stock is not None and stock.count is None:
                area_left = Fraction(0)
            elif stock is not None and stock.count is not None:
                area_left -= stock.width * stock.length * stock.count / self.cloth.width
        area_left = max(Fraction(0), area_left)
        unit = self.grid.unit
        least = area_left / unit
        yard = next((source for source in sources if source.length is None), None)
        pure = self.settings.simple and not self._only_yardage()
        if found is not None and self.settings.stages == 2 and not pure:
            least = max(least, self._strips_least(sources, found, yard))
        if yard is None:
            return Least(area_left, least * unit, least * unit)
        heights = [kind.height for kind in yard.pricer.kinds]
        full = bounds.reached(least, heights, int(sum(heights)) + int(least) + 1)
        return Least(area_left, least * unit, full * unit)

    def _strips_least(
        self, sources: Sequence[Source], found: Master, yard: Source | None
    ) -> Fraction:
        """What the prices prove, in units of yardage. A piece that only what is there could hold
        may stay uncut, and counts nothing."""
        ways = [() if yard is None else self._ways(n, yard) for n in range(len(self.demands))]
        claims = [
            Claim(demand.count, float(price) if way or yard is None else 0.0, way)
            for demand, price, way in zip(self.demands, found.prices, ways, strict=True)
        ]
        if self.settings.simple:
            assert yard is not None
            return bounds.pure_strips_bound(claims, yard.width)
        there = [
            There(
                stock.width * stock.length / self.grid.unit**2,
                stock.count,
                tuple(
                    (source.width, source.length, self._frame(source))
                    for source in sources
                    if source.stock == number and source.length is not None
                ),
            )
            for number, stock in enumerate(self.stocks)
            if stock is not None
        ]
        if yard is None:
            return bounds.pieces_bound(claims, there) * self.grid.unit / self.cloth.width
        return bounds.strip_bound(claims, yard.width, there)

    def _frame(self, source: Source) -> tuple[bounds.Way, ...]:
        return tuple(
            (number, height, widths)
            for number in range(len(self.demands))
            for height, widths in self._ways(number, source)
        )

    def _enough(self, sources: Sequence[Source], least: Least) -> float:
        """What the best plan costs at least, as far as that is known; with it the search ends."""
        if self.cloth.yardage and not self.cloth.fixed:
            shelf = sum(
                source.cost * stock.count
                for source in sources
                if not source.flipped
                and (stock := self.stocks[source.stock]) is not None
                and stock.count is not None
            )
            return float(least.reached / self.grid.unit) + shelf
        if len(self.stocks) == 1 and self.stocks[0] is not None:
            one = self.stocks[0]
            fewest = math.ceil(least.bound * self.cloth.width / (one.width * one.length))
            return fewest * sources[0].cost
        return 0.0

    @staticmethod
    def _ways(demand: int, source: Source) -> tuple[tuple[int, tuple[int, ...]], ...]:
        return tuple(
            (
                kind.height,
                kind.row or tuple(range(kind.width, source.width + 1, kind.width)),
            )
            for kind in source.pricer.kinds
            if kind.demand == demand
        )


def _unmet(demands: Iterable[Demand]) -> tuple[tuple[str, int], ...]:
    return tuple((demand.name, demand.count) for demand in demands)
