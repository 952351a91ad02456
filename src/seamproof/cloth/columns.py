"""The most valuable strip of every height, by one cumulative pass over the width.

Pieces are taken in order of their height; after those of one height the table holds the best
filling of every width with pieces no higher, so that one pass serves all heights of strip.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

from seamproof.cloth.patterns import Kind, Stack, Strip

Values = NDArray[np.float64]
Counts = NDArray[np.int64]

FINE = 1 << 24
"""Values are taken in whole so many parts of a unit, so that nothing is rounded where fillings are
compared, and ties fall alike on every machine."""


class Priced(Protocol):
    """Best strips, one for each height of `heights`, worth `worth` each."""

    heights: Counts
    worth: Values

    def strip(self, number: int, *, promised: bool = False) -> Strip:
        """The strip of height number `number`, with no more pieces than are left; or all that was
        `promised`, which may be more: a demand that lies both ways is there once for each."""
        ...


class Pricer(Protocol):
    """Fills strips of one cloth with pieces that are worth something."""

    kinds: tuple[Kind, ...]
    looks: int
    """So many of the best strips are worked out before one is chosen: more than one where they may
    promise more pieces than are left."""

    def price(self, values: Values, left: Counts, few: Values | None = None) -> Priced:
        """The best strips for `values` per demand, with at most `left` of each demand. Where every
        height takes its time, those of a `few` are enough, chosen by these numbers of 0 … 1."""
        ...


class Pass(NamedTuple):
    """One step of a table: `copies` of number `what`, `shift` units long together; `taken[x]`: so
    at x + shift."""

    what: int
    copies: int
    shift: int
    taken: NDArray[np.bool_]


def whole(values: Values) -> Counts:
    """Values in whole parts of a unit."""
    return np.rint(values * FINE).astype(np.int64)


def take(table: Counts, passes: list[Pass], what: int, size: int, most: int, value: int) -> None:
    """Up to `most` copies of one thing of this size and value, by powers of two."""
    copies = 1
    while most > 0:
        copies = min(copies, most)
        shift = copies * size
        here = table[shift:]
        with_it = table[:-shift] + copies * value
        passes.append(Pass(what, copies, shift, with_it > here))
        np.maximum(here, with_it, out=here)
        most -= copies
        copies *= 2


def take_row(table: Counts, passes: list[Pass], what: int, row: Sequence[int], value: int) -> None:
    """One row of as many as `row` has widths for: the widest first, each from the table as it
    was."""
    before = table.copy()
    for copies in range(len(row), 0, -1):
        shift = row[copies - 1]
        here = table[shift:]
        with_it = before[:-shift] + copies * value
        passes.append(Pass(what, copies, shift, with_it > here))
        np.maximum(here, with_it, out=here)


_Filled = tuple[int, int, Counts, list[Pass]]
"""Number of a kind and how many of it at most; the table with it and all lower ones; its passes."""


class TwoStages:
    """Strips of pieces side by side. `exact`: only pieces as high as the strip, so that nothing is
    trimmed."""

    looks = 1

    def __init__(self, kinds: Sequence[Kind], width: int, *, exact: bool = False) -> None:
        self.kinds = tuple(kinds)
        self.width = width
        self.exact = exact
        self._demand = np.array([kind.demand for kind in self.kinds], dtype=np.int64)
        self._values: Values | None = None
        self._filled: list[_Filled] = []

    def price(self, values: Values, left: Counts, few: Values | None = None) -> TwoPriced:
        """See :class:`Pricer`; every height is priced in one go. Asked again for the very same
        array of values, it begins where fewer pieces are left than before."""
        del few
        there = left[self._demand]
        worth = whole(values)[self._demand]
        filled: list[_Filled] = []
        before = self._filled if values is self._values else []
        heights: list[int] = []
        totals: list[int] = []
        ends: list[int] = [0]
        passes: list[Pass] = []
        table = np.zeros(self.width + 1, dtype=np.int64)
        for number in np.flatnonzero((there > 0) & (worth > 0)).tolist():
            kind = self.kinds[number]
            if not heights or kind.height != heights[-1]:
                heights.append(kind.height)
                totals.append(0)
                ends.append(0)
                if self.exact:
                    table = np.zeros_like(table)
            most = min(int(there[number]), len(kind.row) or self.width // kind.width)
            place = len(filled)
            if place < len(before) and before[place][:2] == (number, most):
                table, some = before[place][2:]
            else:
                before = []
                table, some = self._with(table, number, most, int(worth[number]))
            filled.append((number, most, table, some))
            passes += some
            totals[-1] = int(table[-1])
            ends[-1] = len(passes)
        self._values, self._filled = values, filled
        starts = ends[:-1] if self.exact else [0] * len(heights)
        return TwoPriced(
            np.array(heights, dtype=np.int64),
            np.array(totals, dtype=np.float64) / FINE,
            self,
            passes,
            starts,
            ends[1:],
            left,
        )

    def _with(self, table: Counts, number: int, most: int, value: int) -> tuple[Counts, list[Pass]]:
        """The table with so many of one more kind, and its passes."""
        kind = self.kinds[number]
        passes: list[Pass] = []
        table = table.copy()
        if kind.row:
            take_row(table, passes, number, kind.row[:most], value)
        else:
            take(table, passes, number, kind.width, most, value)
        return table, passes


@dataclass(slots=True)
class TwoPriced:
    """See :class:`Priced`."""

    heights: Counts
    worth: Values
    pricer: TwoStages
    passes: list[Pass]
    starts: list[int]
    ends: list[int]
    left: Counts

    def strip(self, number: int, *, promised: bool = False) -> Strip:
        """See :class:`Priced`."""
        kinds = self.pricer.kinds
        x = self.pricer.width
        left: dict[int, int] = {}
        stacks: list[tuple[Stack, int]] = []
        rows: set[int] = set()
        for step in reversed(self.passes[self.starts[number] : self.ends[number]]):
            at = x - step.shift
            if at < 0 or not step.taken[at]:
                continue
            kind = kinds[step.what]
            if kind.row:
                if step.what in rows:
                    continue
                rows.add(step.what)
            x = at
            copies = step.copies
            if not promised:
                there = left.get(kind.demand, int(self.left[kind.demand]))
                copies = min(copies, there)
                if copies == 0:
                    continue
                left[kind.demand] = there - copies
            if kind.row:
                stacks.append((Stack(kind.row[copies - 1], ((step.what, copies),)), 1))
            elif stacks and stacks[-1][0].items[0][0] == step.what:
                stacks[-1] = (stacks[-1][0], stacks[-1][1] + copies)
            else:
                stacks.append((Stack(kind.width, ((step.what, 1),)), copies))
        height = int(self.heights[number])
        if not self.pricer.exact:
            height = max((kinds[stack.items[0][0]].height for stack, _ in stacks), default=height)
        return Strip(height, tuple(stacks))
