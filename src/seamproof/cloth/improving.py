"""Whole-numbered plans: built strip by strip, then bettered by taking a few strips apart.

A try takes out some strips, wasteful ones more often, and cuts their pieces anew with values that
are a little changed each time. It is kept if the plan is no longer and its waste lies no more
scattered: waste that gathers in few strips ends as a strip saved.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from seamproof.cloth.columns import Counts, Values
from seamproof.cloth.sources import Pattern, Source

UNMET = 50.0
"""A piece for which no cloth is left costs as much as so many of its area, bought."""

LARGE = 0.2
"""Up to such a power of its area a piece counts more than its area, since small ones fit later."""

CHANGED = 0.05
"""Up to this share values are changed from try to try."""

SWAYED = 0.02
"""Likewise the share by which one height of strip is preferred to another."""

TALLEST = 0.1
"""Share of the tries that cut the tallest piece left first, instead of the fullest strip."""

MOST = 14
"""Strips that are taken apart at once, at most."""

GATHERED = 2
"""Power of the waste of a strip that measures how gathered it is."""

COPIES = 2
"""Copies of one pattern that may be taken apart at once."""

AHEAD = 4096
"""So many numbers are drawn at once: one by one each would take as long as all."""

GOLDEN, FIRST_MIX, LAST_MIX = 0x9E3779B97F4A7C15, 0xBF58476D1CE4E5B9, 0x94D049BB133111EB


class Spread:
    """Numbers spread evenly over 0 … 1, the same in every run (SplitMix64, Steele and others 2014,
    from memory): variety without dice."""

    def __init__(self) -> None:
        self._drawn = 0
        self._ready: Values = np.zeros(0)

    def some(self, count: int) -> Values:
        """The next `count` numbers, 0 ≤ number < 1."""
        if len(self._ready) < count:
            self._ready = np.concatenate([self._ready, self._more(max(AHEAD, count))])
        found, self._ready = self._ready[:count], self._ready[count:]
        return found

    def _more(self, count: int) -> Values:
        z = np.arange(self._drawn + 1, self._drawn + count + 1, dtype=np.uint64)
        self._drawn += count
        z = z * np.uint64(GOLDEN) + np.uint64(1)
        z = (z ^ (z >> np.uint64(30))) * np.uint64(FIRST_MIX)
        z = (z ^ (z >> np.uint64(27))) * np.uint64(LAST_MIX)
        return ((z ^ (z >> np.uint64(31))) >> np.uint64(11)) / float(1 << 53)

    def next(self) -> float:
        """The next number."""
        return float(self.some(1)[0])


@dataclass(frozen=True, slots=True)
class Way:
    """How the next strips are chosen: `values` per demand, the tallest first or the fullest, and by
    how much one height may be preferred."""

    values: Values
    tallest: bool
    sway: float = 0.0


class Search:
    """A plan of one fabric and what it costs, bettered by counted tries."""

    def __init__(
        self,
        sources: Sequence[Source],
        supplies: Sequence[int | None],
        areas: Values,
        counts: Counts,
    ) -> None:
        self.sources = sources
        self.supplies = supplies
        self.areas = areas
        self.worth = areas
        """What a piece counts: its area until somebody knows better."""
        self.counts = counts
        rate = 1.0 if all(source.length is None for source in sources) else 0.0
        self.least = [areas * rate]
        """Prices of the pieces, each of which no plan can stay below."""
        self.spread = Spread()
        self.plan: list[tuple[Pattern, int]] = []
        self.score = (0.0, 0.0)
        self.idle = 0
        """Tries since the plan last became shorter."""
        self.best: list[tuple[Pattern, int]] = []
        self.best_score = (0.0, 0)

    def begin(self, plan: Iterable[tuple[Pattern, int]]) -> None:
        """Takes a plan as the present one, and as the best if it is."""
        self.plan = merged(plan)
        self.score = self._score(self.plan)
        self._note()

    def built(
        self, left: Counts, kept: Sequence[tuple[Pattern, int]], way: Way, limit: float
    ) -> list[tuple[Pattern, int]] | None:
        """Patterns for what is left beside a plan that is kept; None if they cost more than
        `limit`. One at a time if the way sways, as often as they fit otherwise."""
        supplies = self._supplies(kept)
        left = left.copy()
        plan: list[tuple[Pattern, int]] = []
        cost = 0.0
        while left.any():
            found = self._next(left, supplies, way)
            if found is None:
                unmet = [(self.unmet(int(i)), int(left[i])) for i in np.nonzero(left)[0]]
                cost += sum(pattern.cost * times for pattern, times in unmet)
                return plan + unmet if cost <= limit else None
            times = 1
            if not way.sway:
                some = found.counts > 0
                times = int((left[some] // found.counts[some]).min())
            assert found.source is not None
            stock = self.sources[found.source].stock
            there = supplies[stock]
            if there is not None:
                times = min(times, there)
                supplies[stock] = there - times
            left -= found.counts * times
            plan.append((found, times))
            cost += found.cost * times
            if cost + max(float(left @ least) for least in self.least) > limit:
                return None
        return plan

    def unmet(self, demand: int) -> Pattern:
        """The pattern that stands for one piece left over."""
        counts = np.zeros_like(self.counts)
        counts[demand] = 1
        return Pattern(None, counts, UNMET * float(self.areas[demand]), ())

    def improve(
        self, tries: int, stop: Callable[[], bool], enough: float, patience: float = math.inf
    ) -> None:
        """So many tries; fewer if the cost is no more than `enough`, if so many tries for every
        strip have brought nothing that more than `patience` is asked for, or somebody stops."""
        for _ in range(tries):
            strips = sum(min(times, COPIES) for _, times in self.plan)
            if self.best_score[0] <= enough or self.idle > patience * strips or stop():
                return
            self._try()

    def _try(self) -> None:
        self.idle += 1
        spread = self.spread
        number = 2 + int(spread.next() * (MOST - 1))
        keys = []
        for i, (pattern, times) in enumerate(self.plan):
            weight = self._waste(pattern) + 0.5
            keys += [(spread.next() ** (1 / weight), i) for _ in range(min(times, COPIES))]
        keys.sort(reverse=True)
        out = [0] * len(self.plan)
        for _, i in keys[:number]:
            out[i] += 1
        kept = [(p, t - o) for (p, t), o in zip(self.plan, out, strict=True) if t > o]
        left = np.zeros_like(self.counts)
        limit = 0.0
        for (pattern, _), o in zip(self.plan, out, strict=True):
            if o:
                left += pattern.counts * o
                limit += pattern.cost * o
        larger = self.areas ** (LARGE * spread.next())
        values = self.worth * larger * (1 + CHANGED * spread.some(len(left)))
        way = Way(values, spread.next() < TALLEST, SWAYED)
        made = self.built(left, kept, way, limit + 1e-9)
        if made is None:
            return
        plan = merged([*kept, *made])
        score = self._score(plan)
        if score <= self.score:
            self.plan, self.score = plan, score
            self._note()

    def _next(self, left: Counts, supplies: list[int | None], way: Way) -> Pattern | None:
        best: Pattern | None = None
        best_ratio = 0.0
        for source in self.sources:
            if supplies[source.stock] == 0:
                continue
            looks = source.pricer.looks
            few = self.spread.some(looks) if way.sway and looks > 1 else None
            offers = source.offers(way.values, left, few)
            if offers is None:
                continue
            ratio = offers.worth / offers.cost
            if way.sway:
                ratio = ratio * (1 + way.sway * self.spread.some(len(ratio)))
            if way.tallest:
                order = [len(ratio) - 1]
            elif looks == 1 or few is not None:
                order = [int(np.argmax(ratio))]
            else:
                order = np.argsort(-ratio, kind="stable")[:looks].tolist()
            for number in order:
                pattern = offers.pattern(number)
                real = float(way.values @ pattern.counts) / pattern.cost
                if best is None or real > best_ratio:
                    best, best_ratio = pattern, real
        return best

    def _supplies(self, kept: Sequence[tuple[Pattern, int]]) -> list[int | None]:
        supplies = list(self.supplies)
        for pattern, times in kept:
            if pattern.source is None:
                continue
            stock = self.sources[pattern.source].stock
            there = supplies[stock]
            if there is not None:
                supplies[stock] = there - times
        return supplies

    def _waste(self, pattern: Pattern) -> float:
        return max(0.0, pattern.cost - float(pattern.counts @ self.worth))

    def _score(self, plan: Sequence[tuple[Pattern, int]]) -> tuple[float, float]:
        cost = sum(pattern.cost * times for pattern, times in plan)
        gathered = sum(self._waste(pattern) ** GATHERED * times for pattern, times in plan)
        return (round(cost, 9), -round(gathered, 6))

    def _note(self) -> None:
        heights = {strip.height for pattern, _ in self.plan for strip in pattern.strips}
        score = (self.score[0], len(heights))
        if not self.best or score[0] < self.best_score[0]:
            self.idle = 0
        if not self.best or score < self.best_score:
            self.best, self.best_score = self.plan, score


def merged(plan: Iterable[tuple[Pattern, int]]) -> list[tuple[Pattern, int]]:
    """Equal patterns once, with their times, in the order in which they first come."""
    times: dict[tuple[int | None, bytes, tuple[int, ...]], list[int]] = {}
    patterns: list[Pattern] = []
    for pattern, count in plan:
        key = (pattern.source, pattern.counts.tobytes(), tuple(s.height for s in pattern.strips))
        if key in times:
            times[key][0] += count
        else:
            times[key] = [count]
            patterns.append(pattern)
    return [(p, t[0]) for p, t in zip(patterns, times.values(), strict=True)]
