"""All strips that a shorter plan can hold, and the shortest plan of them.

At the prices of the fractional optimum every strip costs at least what its pieces are worth. A plan
is longer than that optimum by what its strips cost more, together; so one shorter than the best
known holds no strip that costs more by itself than lies between the two. Where these strips are few
they are listed, and a program in whole numbers chooses among them. Where they are many, those that
cost least more stand for all, and nothing is proved.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from seamproof.cloth.columns import FINE, Counts, Pass, Values, take, take_row, whole
from seamproof.cloth.patterns import Kind, Stack, Strip
from seamproof.cloth.sources import Pattern, Source
from seamproof.solving.whole_numbers import least_cover

FEW = 3_200
"""Strips in the list, at most."""

STEPS = 400_000
"""Steps of the listing, at most: about half a second."""

FIRST = 1 / 64
"""Share of what lies between with which the listing begins …"""

WIDER = 1.5
"""… and by how much more each time, while the list stays short enough."""

NODES = 16
"""Nodes of the search in whole numbers."""

ROUNDED = 1e-6
"""Prices are rounded: so much of its height a strip may cost more than its pieces seem worth."""

Choice = tuple[tuple[int, int], ...]
"""(number of the kind, how many), the highest first."""


def shorter(
    source: Source, prices: Values, counts: Counts, least: float, best: float
) -> list[tuple[Pattern, int]] | None:
    """A plan of yardage at least one unit shorter than `best`, if one is found; `least` is the
    fractional optimum, and `prices` are its prices."""
    limit = best - 1
    between = limit - least
    if between < 0:
        return None
    kinds = source.pricer.kinds
    lister = _Lister(kinds, source.width, prices, counts)
    choices: list[Choice] = []
    share = FIRST
    while True:
        more = lister.listed(between * min(1.0, share))
        if more is None:
            break
        choices = more
        if share >= 1:
            break
        share *= WIDER
    if not choices:
        return None
    columns = np.array([_used(choice, kinds, len(counts)) for choice in choices])
    heights = [kinds[choice[0][0]].height for choice in choices]
    times = least_cover(columns, heights, counts.tolist(), limit, NODES)
    if times is None:
        return None
    return _exactly(
        source, [c for c, n in zip(choices, times, strict=True) for _ in range(n)], counts
    )


def _used(choice: Choice, kinds: Sequence[Kind], demands: int) -> list[int]:
    used = [0] * demands
    for number, copies in choice:
        used[kinds[number].demand] += copies
    return used


def _exactly(
    source: Source, choices: Sequence[Choice], counts: Counts
) -> list[tuple[Pattern, int]]:
    """One pattern for every choice, without the pieces that nobody asked for."""
    kinds = source.pricer.kinds
    left = counts.copy()
    plan = []
    for choice in choices:
        stacks: list[tuple[Stack, int]] = []
        used = np.zeros_like(counts)
        height = 0
        for number, promised in choice:
            kind = kinds[number]
            copies = min(promised, int(left[kind.demand]))
            if copies == 0:
                continue
            left[kind.demand] -= copies
            used[kind.demand] += copies
            height = max(height, kind.height)
            if kind.row:
                stacks.append((Stack(kind.row[copies - 1], ((number, copies),)), 1))
            else:
                stacks.append((Stack(kind.width, ((number, 1),)), copies))
        if stacks:
            strip = Strip(height, tuple(stacks))
            plan.append((Pattern(source.number, used, height * source.cost, (strip,)), 1))
    return plan


class _Lister:
    """Lists strips of one cloth. `tables[n][x]` is the most that pieces of the first n kinds, which
    lie lowest first, are worth in width x."""

    def __init__(self, kinds: Sequence[Kind], width: int, prices: Values, counts: Counts) -> None:
        self.kinds = kinds
        self.width = width
        self.worth = whole(prices)[[kind.demand for kind in kinds]].tolist()
        self.left: list[int] = counts.tolist()
        table = np.zeros(width + 1, dtype=np.int64)
        self.tables = [table.tolist()]
        passes: list[Pass] = []
        for number, kind in enumerate(kinds):
            there, value = self.left[kind.demand], self.worth[number]
            if kind.row:
                take_row(table, passes, number, kind.row[:there], value)
            else:
                take(table, passes, number, kind.width, min(there, width // kind.width), value)
            passes.clear()
            self.tables.append(table.tolist())
        self.steps = 0
        self.need = 0
        self.taken = [0] * len(kinds)
        self.found: list[Choice] = []

    def listed(self, more: float) -> list[Choice] | None:
        """Every strip that costs at most so much more than its pieces are worth and has no room for
        another piece; None if they are too many."""
        self.found = []
        self.steps = 0
        heights = [kind.height for kind in self.kinds]
        for last, height in enumerate(heights):
            if height in heights[last + 1 : last + 2]:
                continue
            self.need = int((height - more - ROUNDED * height) * FINE)
            self._go(last, self.width, 0, height)
        return None if self._many() else self.found

    def _many(self) -> bool:
        return self.steps > STEPS or len(self.found) > FEW

    def _go(self, number: int, room: int, value: int, height: int) -> None:
        """Every number of copies of this kind, and of all lower ones, in the room there is.
        `height`: that of the strip as long as nothing so high is in it, then 0."""
        self.steps += 1
        if number < 0 or self.kinds[number].height < height:
            if not height and self._full(room):
                chosen = [(n, copies) for n, copies in enumerate(self.taken) if copies]
                self.found.append(tuple(reversed(chosen)))
            return
        kind = self.kinds[number]
        table = self.tables[number]
        for copies in range(_most(kind, room, self.left[kind.demand]), -1, -1):
            rest = room - _across(kind, copies)
            worth = value + copies * self.worth[number]
            if worth + table[rest] < self.need:
                continue
            self.taken[number] = copies
            self.left[kind.demand] -= copies
            self._go(number - 1, rest, worth, 0 if copies else height)
            self.left[kind.demand] += copies
            self.taken[number] = 0
            if self._many():
                return

    def _full(self, room: int) -> bool:
        """Whether no piece that is left over and no higher than the strip has room."""
        highest = max(n for n, copies in enumerate(self.taken) if copies)
        for number, kind in enumerate(self.kinds):
            if kind.height > self.kinds[highest].height:
                return True
            if self.left[kind.demand]:
                copies = self.taken[number]
                if kind.row and copies == len(kind.row):
                    continue
                if _across(kind, copies + 1) - _across(kind, copies) <= room:
                    return False
        return True


def _across(kind: Kind, copies: int) -> int:
    """What so many take of the strip's length."""
    if kind.row:
        return kind.row[copies - 1] if copies else 0
    return copies * kind.width


def _most(kind: Kind, room: int, left: int) -> int:
    """So many have room, of those left."""
    if kind.row:
        return min(left, sum(across <= room for across in kind.row))
    return min(left, room // kind.width)
