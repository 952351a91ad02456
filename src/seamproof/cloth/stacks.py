"""Strips of stacks: pieces above one another between two cross-cuts, the third stage.

The same cumulative pass twice: pieces in order of their width fill heights, which gives the best
stack of every width and height at once; then stacks fill the width, for all heights of strip
together. A stack is worth its pieces as often as it is taken, so that a strip may promise more
pieces than are left; when it is worked out, what is too many is left away and the width that it
leaves is filled anew.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from seamproof.cloth.columns import FINE, Counts, Pass, Values, take, whole
from seamproof.cloth.patterns import Kind, Stack, Strip

HEIGHTS = 48
"""Different heights of strip that are looked at in one pass, at most: those of the pieces left
first, then the largest sums of two."""

Items = tuple[tuple[int, int], ...]
Taken = list[tuple[Stack, int]]


@dataclass(frozen=True, slots=True)
class _Stacks:
    """The best stacks: number i is `widths[i]` wide and worth `tables[i][h]` at height h. It was
    built by the first `ends[i]` steps, whose `what` is the kind."""

    widths: list[int] = field(default_factory=list)
    tables: list[Counts] = field(default_factory=list)
    ends: list[int] = field(default_factory=list)
    steps: list[Pass] = field(default_factory=list)

    def stack(self, number: int, height: int, kinds: Sequence[Kind]) -> Stack:
        """Stack `number` of this height."""
        items: list[tuple[int, int]] = []
        for kind, copies, shift, taken in reversed(self.steps[: self.ends[number]]):
            at = height - shift
            if at >= 0 and taken[at]:
                height = at
                if items and items[-1][0] == kind:
                    items[-1] = (kind, items[-1][1] + copies)
                else:
                    items.append((kind, copies))
        return Stack(max(kinds[kind].width for kind, _ in items), tuple(items))


class ThreeStages:
    """Strips whose cross-cut parts may hold several pieces above one another."""

    looks = 4

    def __init__(self, kinds: Sequence[Kind], width: int) -> None:
        self.kinds = tuple(kinds)
        self.width = width
        self.by_width = sorted(
            (i for i, kind in enumerate(kinds) if not kind.row), key=lambda i: (kinds[i].width, i)
        )
        self.rows = [i for i, kind in enumerate(kinds) if kind.row]
        self._demand = np.array([kind.demand for kind in self.kinds], dtype=np.int64)

    def price(self, values: Values, left: Counts, few: Values | None = None) -> ThreePriced:
        """See :class:`~seamproof.cloth.columns.Pricer`. With few heights, what a strip promises is
        what it can hold."""
        worth = whole(values)[self._demand]
        there = left[self._demand]
        heights = np.array(self._heights(worth, there, few), dtype=np.int64)
        if not len(heights):
            return ThreePriced(heights, np.zeros(0), self, worth, left, None)
        filled = _Filling(self, worth, left, heights, self.width)
        totals = filled.table[:, self.width].astype(np.float64)
        if few is not None:
            totals = np.array([self._sure(filled, worth, left, n) for n in range(len(heights))])
        return ThreePriced(heights, totals / FINE, self, worth, left, filled)

    def _heights(self, worth: Counts, there: Counts, few: Values | None) -> list[int]:
        own = sorted({self.kinds[i].height for i in np.flatnonzero((worth > 0) & (there > 0))})
        if not own:
            return []
        sums = {a + b for i, a in enumerate(own) for b in own[i:] if a + b <= own[-1]}
        if few is not None:
            every = sorted({*own, *sums})
            return sorted({own[-1], *(every[int(chance * len(every))] for chance in few)})
        room = max(0, HEIGHTS - len(own))
        return sorted({*own, *sorted(sums - set(own), reverse=True)[:room]})

    def _sure(self, filled: _Filling, worth: Counts, left: Counts, number: int) -> float:
        """What a strip is worth of which all is as good as the part that there are pieces for."""
        taken, across = self._there(filled.taken(number), left.copy())
        value = sum(
            times * sum(int(worth[kind]) * count for kind, count in stack.items)
            for stack, times in taken
        )
        return value * self.width / max(across, 1)

    def fill(self, worth: Counts, left: Counts, height: int, first: Taken) -> Strip:
        """One strip `height` high with no more pieces than are left; `first` is what would fill it
        if there were enough of them."""
        left = left.copy()
        found, across = self._there(first, left)
        width = self.width - across if found else 0
        heights = np.array([height], dtype=np.int64)
        while width > 0:
            filled = _Filling(self, worth, left, heights, width)
            if filled.table[0, width] <= 0:
                break
            taken, across = self._there(filled.taken(0), left)
            found += taken
            width -= across
        return Strip(self._high(found) or height, tuple(found))

    def _there(self, taken: Taken, left: Counts) -> tuple[Taken, int]:
        """Of the stacks, so many that there are pieces for: those worth most for their width first,
        until some are lacking. Takes them from what is left, and tells the width they take."""
        found: Taken = []
        across = 0
        for promised, copies in taken:
            stack, most = self._possible(promised, left, copies)
            if most:
                found.append((stack, most))
                across += stack.width * most
                for kind, count in stack.items:
                    left[self.kinds[kind].demand] -= count * most
            if most < copies or stack is not promised:
                break
        return found, across

    def _possible(self, stack: Stack, left: Counts, most: int) -> tuple[Stack, int]:
        """As many copies as there are pieces left for; if for none, one with the pieces there
        are: a piece upright and the same piece turned may together be more than are left."""
        need: dict[int, int] = {}
        for kind, count in stack.items:
            demand = self.kinds[kind].demand
            need[demand] = need.get(demand, 0) + count
        times = min(most, *(int(left[demand]) // count for demand, count in need.items()))
        if times:
            return stack, times
        items = []
        there = {demand: int(left[demand]) for demand in need}
        for kind, count in stack.items:
            demand = self.kinds[kind].demand
            some = min(count, there[demand])
            there[demand] -= some
            if some:
                items.append((kind, some))
        if not items or self.kinds[items[0][0]].row:
            return stack, 0
        return Stack(max(self.kinds[kind].width for kind, _ in items), tuple(items)), 1

    def _high(self, found: Taken) -> int:
        """The height of the highest stack."""
        return max(
            (
                sum(self.kinds[k].height * (1 if self.kinds[k].row else n) for k, n in stack.items)
                for stack, _ in found
            ),
            default=0,
        )


class _Filling:
    """The best fillings of strips of some heights and every width up to `width`."""

    def __init__(
        self, pricer: ThreeStages, worth: Counts, left: Counts, heights: Counts, width: int
    ) -> None:
        self.pricer = pricer
        self.worth = worth
        self.heights = heights
        self.width = width
        there = left[[kind.demand for kind in pricer.kinds]]
        self.stacks = self._stacked(there)
        self.table = np.zeros((len(heights), width + 1), dtype=np.int64)
        self.steps: list[tuple[int, int, int, NDArray[np.bool_]]] = []
        """(stack, or kind of a row as −1 − kind; copies; width; taken[height, x])"""
        for number, across in enumerate(self.stacks.widths):
            value = self.stacks.tables[number][heights][:, None]
            copies, most = 1, width // across
            while most > 0:
                copies = min(copies, most)
                self._take(self.table, number, copies, copies * across, copies * value)
                most -= copies
                copies *= 2
        for number in pricer.rows:
            self._take_row(number, int(there[number]))

    def _take(self, base: Counts, what: int, copies: int, shift: int, value: Counts) -> None:
        with_it = base[:, : self.width + 1 - shift] + value
        here = self.table[:, shift:]
        self.steps.append((what, copies, shift, with_it > here))
        np.maximum(here, with_it, out=here)

    def _take_row(self, number: int, there: int) -> None:
        kind = self.pricer.kinds[number]
        value = int(self.worth[number])
        if value <= 0:
            return
        base = self.table.copy()
        fits = (self.heights >= kind.height).astype(np.int64)[:, None]
        for count in range(min(there, len(kind.row)), 0, -1):
            if kind.row[count - 1] <= self.width:
                self._take(base, -1 - number, count, kind.row[count - 1], fits * count * value)

    def _stacked(self, there: Counts) -> _Stacks:
        kinds = self.pricer.kinds
        tallest = int(self.heights[-1])
        table = np.zeros(tallest + 1, dtype=np.int64)
        stacks = _Stacks()
        for number in self.pricer.by_width:
            kind = kinds[number]
            value = int(self.worth[number])
            most = min(int(there[number]), tallest // kind.height)
            if value <= 0 or most <= 0 or kind.width > self.width:
                continue
            if not stacks.widths or stacks.widths[-1] != kind.width:
                if stacks.widths:
                    stacks.tables.append(table.copy())
                    stacks.ends.append(len(stacks.steps))
                stacks.widths.append(kind.width)
            take(table, stacks.steps, number, kind.height, most, value)
        if stacks.widths:
            stacks.tables.append(table)
            stacks.ends.append(len(stacks.steps))
        return stacks

    def taken(self, number: int) -> Taken:
        """The stacks of the best filling of height number `number`, and how many of each: those
        worth most for their width first."""
        x = self.width
        height = int(self.heights[number])
        found: list[tuple[float, Stack, int]] = []
        rows: set[int] = set()
        for what, copies, shift, taken in reversed(self.steps):
            at = x - shift
            if at < 0 or what in rows or not taken[number, at]:
                continue
            x = at
            if what < 0:
                rows.add(what)
                found.append((0.0, Stack(shift, ((-1 - what, copies),)), 1))
            else:
                stack = self.stacks.stack(what, height, self.pricer.kinds)
                worth = float(self.stacks.tables[what][height]) / stack.width
                found.append((worth, stack, copies))
        found.sort(key=lambda entry: -entry[0])
        return [(stack, copies) for _, stack, copies in found]


@dataclass(slots=True)
class ThreePriced:
    """See :class:`~seamproof.cloth.columns.Priced`; `worth` may promise too much."""

    heights: Counts
    worth: Values
    pricer: ThreeStages
    values: Counts
    left: Counts
    filled: _Filling | None

    def strip(self, number: int, *, promised: bool = False) -> Strip:
        """See :class:`~seamproof.cloth.columns.Priced`; never more than is left."""
        del promised
        assert self.filled is not None
        height = int(self.heights[number])
        return self.pricer.fill(self.values, self.left, height, self.filled.taken(number))
