"""Strips of stacks: pieces above one another between two cross-cuts, the third stage.

The same cumulative pass twice: pieces in order of their width fill heights, which gives the best
stack of every width and height at once; then stacks fill the width, for all heights of strip
together. A stack is worth its pieces as often as it is taken, so that a strip may promise more
pieces than are left; when it is worked out, what is too many is left away and the width that it
leaves is filled anew.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from seamproof.cloth.columns import SLIGHT, Counts, Values
from seamproof.cloth.patterns import Kind, Stack, Strip

HEIGHTS = 48
"""Different heights of strip that are looked at in one pass, at most: those of the pieces left
first, then the largest sums of two."""

Items = tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class _Stacks:
    """The best stacks: number i is `widths[i]` wide and worth `tables[i][h]` at height h. Steps
    are (kind, copies, taken at height − shift); stack i was built by the first `ends[i]`."""

    widths: list[int]
    tables: list[Values]
    ends: list[int]
    steps: list[tuple[int, int, NDArray[np.bool_]]]

    def items(self, number: int, height: int, kinds: Sequence[Kind]) -> Items:
        """What stack `number` of this height holds."""
        items: list[tuple[int, int]] = []
        for kind, copies, taken in reversed(self.steps[: self.ends[number]]):
            at = height - copies * kinds[kind].height
            if at >= 0 and taken[at]:
                height = at
                if items and items[-1][0] == kind:
                    items[-1] = (kind, items[-1][1] + copies)
                else:
                    items.append((kind, copies))
        return tuple(items)


@dataclass(frozen=True, slots=True)
class _Step:
    """`copies` of stack `stack`, or a row of so many of the kind `row`, at one place of the width;
    `taken[height, x]`."""

    stack: int
    row: int
    copies: int
    shift: int
    taken: NDArray[np.bool_]


class ThreeStages:
    """Strips whose cross-cut parts may hold several pieces above one another."""

    looks = 3
    """So many of the best strips are worked out before one is chosen."""

    def __init__(self, kinds: Sequence[Kind], width: int) -> None:
        self.kinds = tuple(kinds)
        self.width = width
        self.by_width = sorted(
            (i for i, kind in enumerate(kinds) if not kind.row), key=lambda i: (kinds[i].width, i)
        )
        self.rows = [i for i, kind in enumerate(kinds) if kind.row]

    def price(self, values: Values, left: Counts) -> ThreePriced:
        """See :class:`~seamproof.cloth.columns.Pricer`."""
        heights = np.array(self._heights(values, left), dtype=np.int64)
        if not len(heights):
            return ThreePriced(heights, np.zeros(0), self, values, left)
        worth, _, _ = self._filled(values, left, heights, self.width)
        return ThreePriced(heights, worth, self, values, left)

    def _heights(self, values: Values, left: Counts) -> list[int]:
        own = sorted(
            {k.height for k in self.kinds if left[k.demand] > 0 and values[k.demand] > SLIGHT}
        )
        if not own:
            return []
        room = max(0, HEIGHTS - len(own))
        sums = {a + b for i, a in enumerate(own) for b in own[i:] if a + b <= own[-1]}
        return sorted({*own, *sorted(sums - set(own), reverse=True)[:room]})

    def _filled(
        self, values: Values, left: Counts, heights: Counts, width: int
    ) -> tuple[Values, _Stacks, list[_Step]]:
        """The worth of strips of these heights and this width, and how it comes about."""
        stacks = self._stacks(values, left, int(heights[-1]))
        table = np.zeros((len(heights), width + 1))
        steps: list[_Step] = []

        def take(
            base: Values, stack: int, row: int, copies: int, shift: int, worth: Values
        ) -> None:
            with_it = base[:, : width + 1 - shift] + worth
            here = table[:, shift:]
            taken = with_it > here + SLIGHT
            np.copyto(here, with_it, where=taken)
            steps.append(_Step(stack, row, copies, shift, taken))

        for number, across in enumerate(stacks.widths):
            worth = stacks.tables[number][heights][:, None]
            copies, most = 1, width // across
            while most > 0:
                copies = min(copies, most)
                take(table, number, -1, copies, copies * across, copies * worth)
                most -= copies
                copies *= 2
        for number in self.rows:
            kind = self.kinds[number]
            value = float(values[kind.demand])
            if value <= SLIGHT:
                continue
            base = table.copy()
            high = np.where(heights >= kind.height, 1.0, -np.inf)[:, None]
            for count in range(min(int(left[kind.demand]), len(kind.row)), 0, -1):
                if kind.row[count - 1] <= width:
                    take(base, -1, number, count, kind.row[count - 1], high * count * value)
        return table[:, width].copy(), stacks, steps

    def _stacks(self, values: Values, left: Counts, tallest: int) -> _Stacks:
        table = np.zeros(tallest + 1)
        stacks = _Stacks([], [], [], [])
        for place, number in enumerate(self.by_width):
            kind = self.kinds[number]
            value = float(values[kind.demand])
            most = min(int(left[kind.demand]), tallest // kind.height) if value > SLIGHT else 0
            copies = 1
            while most > 0:
                copies = min(copies, most)
                shift = copies * kind.height
                with_it = table[:-shift] + copies * value
                here = table[shift:]
                taken = with_it > here + SLIGHT
                np.copyto(here, with_it, where=taken)
                stacks.steps.append((number, copies, taken))
                most -= copies
                copies *= 2
            ends = place + 1 == len(self.by_width)
            if ends or self.kinds[self.by_width[place + 1]].width != kind.width:
                before = stacks.ends[-1] if stacks.ends else 0
                if len(stacks.steps) > before:
                    stacks.widths.append(kind.width)
                    stacks.tables.append(table.copy())
                    stacks.ends.append(len(stacks.steps))
        return stacks

    def fill(self, values: Values, left: Counts, height: int) -> Strip:
        """One strip `height` high with no more pieces than are left."""
        left = left.copy()
        width = self.width
        found: list[tuple[Stack, int]] = []
        heights = np.array([height], dtype=np.int64)
        while width > 0:
            worth, stacks, steps = self._filled(values, left, heights, width)
            if worth[0] <= SLIGHT:
                break
            taken = self._taken(stacks, steps, height, width)
            taken.sort(key=lambda entry: -entry[0])
            for _, promised, copies in taken:
                stack, most = self._there(promised, left, copies)
                if most:
                    found.append((stack, most))
                    width -= stack.width * most
                    for kind, count in stack.items:
                        left[self.kinds[kind].demand] -= count * most
                if most < copies or stack is not promised:
                    break
        return Strip(self._high(found, height), tuple(found))

    def _taken(
        self, stacks: _Stacks, steps: Sequence[_Step], height: int, width: int
    ) -> list[tuple[float, Stack, int]]:
        """Worth per width, stack and copies of the best filling of the width."""
        x = width
        taken: list[tuple[float, Stack, int]] = []
        rows: set[int] = set()
        for step in reversed(steps):
            at = x - step.shift
            if at < 0 or step.row in rows or not step.taken[0, at]:
                continue
            x = at
            if step.row >= 0:
                rows.add(step.row)
                taken.append((0.0, Stack(step.shift, ((step.row, step.copies),)), 1))
            else:
                items = stacks.items(step.stack, height, self.kinds)
                across = max(self.kinds[kind].width for kind, _ in items)
                worth = float(stacks.tables[step.stack][height]) / across
                taken.append((worth, Stack(across, items), step.copies))
        return taken

    def _there(self, stack: Stack, left: Counts, most: int) -> tuple[Stack, int]:
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

    def _high(self, found: Sequence[tuple[Stack, int]], height: int) -> int:
        high = 0
        for stack, _ in found:
            high = max(
                high,
                sum(self.kinds[k].height * (1 if self.kinds[k].row else n) for k, n in stack.items),
            )
        return high or height


@dataclass(slots=True)
class ThreePriced:
    """See :class:`~seamproof.cloth.columns.Priced`; `worth` may promise too much."""

    heights: Counts
    worth: Values
    pricer: ThreeStages
    values: Values
    left: Counts

    def strip(self, number: int, *, promised: bool = False) -> Strip:
        """See :class:`~seamproof.cloth.columns.Priced`; never more than is left."""
        del promised
        return self.pricer.fill(self.values, self.left, int(self.heights[number]))
