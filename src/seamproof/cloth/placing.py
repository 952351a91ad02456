"""Plans made piece by piece, many side by side: after every piece the most promising stay.

A piece goes on the stack that was begun last, beside it as a new stack, or below as a new strip.
How promising a plan is, its waste tells, and how much it has placed: of plans with as many pieces
the one with the larger ones has the harder part behind it. The method is known as beam search; that
waste is to be divided by the area placed, Libralesso and Fontan found for straight cuts (2020, from
memory). Nothing is drawn by lot: the same pieces give the same plan.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from seamproof.cloth.columns import Counts, Values
from seamproof.cloth.patterns import Kind, Stack, Strip

PIECES = 500
"""Lists of more pieces are not placed one by one: that takes time in proportion."""

NARROWEST = 32
"""So many plans stay side by side at first."""

WIDER = 4
"""Then so many times as many, again and again; and where there is effort left, once more from
twice the narrowest on."""

CANDIDATES = 600_000
"""So many plans with one more piece are compared at once, at most: as many as memory bears."""

SPARE = 3
"""Of so many times the plans that stay, those that are alike are dropped."""

GUIDES = (0.0, 0.03, 0.1)
"""A plan is the more promising, the less its share of waste and this number are together, divided
by the area placed. No one of them is best for all lists."""

_HASH = np.uint64(0x9E3779B97F4A7C15)


@dataclass(frozen=True, slots=True)
class _Plans:
    """Unfinished plans, one in each place of every array: `left` [plan, demand]; the length of all
    `closed` strips; of the last strip the `height`, where its last stack begins (`x`), that stack's
    `across` and `high`, and its `last` kind; the area `placed`; a `mark` of what is left."""

    left: NDArray[np.int16]
    closed: Counts
    height: Counts
    x: Counts
    across: Counts
    high: Counts
    last: Counts
    placed: Counts
    mark: NDArray[np.uint64]


class Placing:
    """All pieces of one list on cloth `width` units wide, by length."""

    def __init__(self, kinds: Sequence[Kind], width: int, counts: Counts, stages: int) -> None:
        self.width = width
        self.counts = counts
        self.stages = stages
        self.numbers = sorted(
            range(len(kinds)), key=lambda i: (-kinds[i].width, -kinds[i].height, i)
        )
        ordered = [kinds[i] for i in self.numbers]
        self.demand = np.array([kind.demand for kind in ordered], dtype=np.int64)
        self.w = np.array([kind.width for kind in ordered], dtype=np.int64)
        self.h = np.array([kind.height for kind in ordered], dtype=np.int64)
        areas = np.zeros(len(counts), dtype=np.int64)
        areas[self.demand] = self.w * self.h
        self.area = int(areas @ counts)
        self.marks = np.cumprod(np.full(len(counts), _HASH, dtype=np.uint64))
        self.spent = 0
        """Plans with one more piece that were looked at so far."""
        self._turn = 0
        self._abreast = self._begun = NARROWEST

    @property
    def ended(self) -> bool:
        """Whether more plans side by side than memory bears would be next."""
        return self._abreast * len(self.numbers) > CANDIDATES

    def next(self, length: int, stop: Callable[[], bool]) -> list[Strip] | None:
        """Strips shorter than `length` together, if the next way to look finds some: the next
        guide, and after the last one more plans side by side."""
        found = self._through(length, self._abreast, GUIDES[self._turn], stop)
        self._turn += 1
        if self._turn == len(GUIDES):
            self._turn = 0
            self._abreast *= WIDER
            if self.ended and self._begun == NARROWEST:
                self._abreast = self._begun = 2 * NARROWEST
        return found

    def _through(
        self, length: int, abreast: int, base: float, stop: Callable[[], bool]
    ) -> list[Strip] | None:
        zero = np.zeros(1, dtype=np.int64)
        mark = np.zeros(1, dtype=np.uint64)
        left = self.counts[None, :].astype(np.int16)
        plans = _Plans(left, zero, zero, zero, zero, zero, zero, zero, mark)
        trace: list[tuple[Counts, Counts, Counts]] = []
        for _ in range(int(self.counts.sum())):
            if stop():
                return None
            step = self._step(plans, length, abreast, base)
            if step is None:
                return None
            plans, origin, move = step
            trace.append((origin, plans.last, move))
        place = int(np.argmin(plans.closed + plans.height))
        moves: list[tuple[int, int]] = []
        for origin, kinds, move in reversed(trace):
            moves.append((int(kinds[place]), int(move[place])))
            place = int(origin[place])
        return self._strips(moves[::-1])

    def _step(
        self, plans: _Plans, length: int, abreast: int, base: float
    ) -> tuple[_Plans, Counts, Counts] | None:
        """The plans with one more piece, where each comes from, and how the piece was placed."""
        origin, kind, ends = self._moves(plans)
        self.spent += len(origin) + len(plans.closed) * len(self.numbers)
        on, beside = ends
        w, h = self.w[kind], self.h[kind]
        closed, height, x = plans.closed[origin], plans.height[origin], plans.x[origin]
        across, high = plans.across[origin], plans.high[origin]
        high[:on] += h[:on]
        high[on:] = h[on:]
        x[on:beside] += across[on:beside]
        closed[beside:] += height[beside:]
        x[beside:] = 0
        height[beside:] = 0
        across[on:] = w[on:]
        height = np.maximum(height, high)
        placed = plans.placed[origin] + w * h
        used = closed * self.width + x * height + across * high
        good = np.flatnonzero(
            (used + (self.area - placed) <= (length - 1) * self.width) & (closed + height < length)
        )
        if not len(good):
            return None
        promise = (1.0 - placed[good] / used[good] + base) / placed[good]
        best = good[_least(promise, SPARE * abreast)]
        mark = plans.mark[origin[best]] + self.marks[self.demand[kind[best]]]
        key = mark
        for part in (closed, height, x, across, high, kind):
            key = (key ^ (key >> np.uint64(29))) * _HASH + part[best].astype(np.uint64)
        _, firsts = np.unique(key, return_index=True)
        firsts = np.sort(firsts)[:abreast]
        best = best[firsts]
        left = plans.left[origin[best]]
        left[np.arange(len(best)), self.demand[kind[best]]] -= 1
        made = _Plans(
            left,
            closed[best],
            height[best],
            x[best],
            across[best],
            high[best],
            kind[best],
            placed[best],
            mark[firsts],
        )
        move = (best >= on).astype(np.int64) + (best >= beside)
        return made, origin[best], move

    def _moves(self, plans: _Plans) -> tuple[Counts, Counts, tuple[int, int]]:
        """Plan and kind of every piece that may come next; first those on the stack, then from the
        first number of the pair those beside it, from the second those in a new strip.

        A stack is not closed while a piece fits on it within the strip's height, nor a strip while
        one fits beside: such a piece could be taken there from where it comes later, at no cost.
        """
        there = plans.left[:, self.demand] > 0
        room = (self.width - plans.x - plans.across)[:, None]
        height = plans.height[:, None]
        beside = there & (self.w <= room)
        on = np.zeros_like(there)
        if self.stages == 3:
            on = there & (self.w <= plans.across[:, None])
            on &= np.arange(len(self.numbers)) >= plans.last[:, None]
        if not plans.placed.any():
            on, beside = np.zeros_like(there), np.zeros_like(there)
        shut = np.count_nonzero(on & (plans.high[:, None] + self.h <= height), axis=1) == 0
        full = shut & (np.count_nonzero(beside & (self.h <= height), axis=1) == 0)
        found = [np.nonzero(ways) for ways in (on, beside & shut[:, None], there & full[:, None])]
        first = len(found[0][0])
        return (
            np.concatenate([plan for plan, _ in found]),
            np.concatenate([kind for _, kind in found]),
            (first, first + len(found[1][0])),
        )

    def _strips(self, moves: Sequence[tuple[int, int]]) -> list[Strip]:
        """Strips of stacks of kinds, one piece after the other."""
        strips: list[list[list[int]]] = []
        for kind, move in moves:
            if move == 2 or not strips:
                strips.append([[kind]])
            elif move == 1:
                strips[-1].append([kind])
            else:
                strips[-1][-1].append(kind)
        return [self._strip(strip) for strip in strips]

    def _strip(self, stacks: Sequence[Sequence[int]]) -> Strip:
        times: dict[tuple[int, ...], int] = {}
        for stack in stacks:
            times[tuple(stack)] = times.get(tuple(stack), 0) + 1
        height = max(int(self.h[list(stack)].sum()) for stack in times)
        return Strip(
            height,
            tuple(
                (
                    Stack(
                        int(self.w[stack[0]]),
                        tuple((self.numbers[k], stack.count(k)) for k in dict.fromkeys(stack)),
                    ),
                    n,
                )
                for stack, n in times.items()
            ),
        )


def _least(values: Values, most: int) -> Counts:
    """The places of the least of some values in their order, of equal ones the first: the same on
    every machine."""
    if len(values) > most:
        limit = np.partition(values, most - 1)[most - 1]
        below = np.flatnonzero(values < limit)
        level = np.flatnonzero(values == limit)[: most - len(below)]
        places = np.concatenate([below, level])
        places.sort()
    else:
        places = np.arange(len(values))
    return places[np.argsort(values[places], kind="stable")]
