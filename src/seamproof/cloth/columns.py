"""The most valuable strip of every height, by one cumulative pass over the width.

Pieces are taken in order of their height; after those of one height the table holds the best
filling of every width with pieces no higher, so that one pass serves all heights of strip.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from seamproof.cloth.patterns import Kind, Stack, Strip

Values = NDArray[np.float64]
Counts = NDArray[np.int64]

SLIGHT = 1e-9
"""Values closer than this are taken as equal, so that ties fall alike on every machine."""


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

    def price(self, values: Values, left: Counts) -> Priced:
        """The best strips for `values` per demand, with at most `left` of each demand."""
        ...


@dataclass(frozen=True, slots=True)
class _Pass:
    """One step of the table: `copies` of a kind, `shift` units wide together; `taken[x]`: so at
    width x + shift."""

    kind: int
    copies: int
    shift: int
    taken: NDArray[np.bool_]


class TwoStages:
    """Strips of pieces side by side. `exact`: only pieces as high as the strip, so that nothing is
    trimmed."""

    looks = 1

    def __init__(self, kinds: Sequence[Kind], width: int, *, exact: bool = False) -> None:
        self.kinds = tuple(kinds)
        self.width = width
        self.exact = exact

    def price(self, values: Values, left: Counts) -> TwoPriced:
        """See :class:`Pricer`."""
        width = self.width
        table = np.zeros(width + 1)
        passes: list[_Pass] = []
        heights: list[int] = []
        worth: list[float] = []
        ends: list[int] = []
        starts: list[int] = []
        start = 0
        last = len(self.kinds) - 1
        for number, kind in enumerate(self.kinds):
            there = int(left[kind.demand])
            value = float(values[kind.demand])
            if there > 0 and value > SLIGHT:
                if kind.row:
                    _take_row(table, passes, number, kind, min(there, len(kind.row)), value)
                else:
                    _take(table, passes, number, kind.width, min(there, width // kind.width), value)
            if number == last or self.kinds[number + 1].height != kind.height:
                if len(passes) > (ends[-1] if ends else 0):
                    heights.append(kind.height)
                    worth.append(float(table[width]))
                    ends.append(len(passes))
                    starts.append(start)
                if self.exact:
                    table[:] = 0.0
                    start = len(passes)
        return TwoPriced(
            np.array(heights, dtype=np.int64), np.array(worth), self, passes, starts, ends, left
        )


def _take(
    table: Values, passes: list[_Pass], number: int, width: int, most: int, value: float
) -> None:
    """Up to `most` copies of one kind, by powers of two."""
    copies = 1
    while most > 0:
        copies = min(copies, most)
        shift = copies * width
        with_it = table[:-shift] + copies * value
        here = table[shift:]
        taken = with_it > here + SLIGHT
        np.copyto(here, with_it, where=taken)
        passes.append(_Pass(number, copies, shift, taken))
        most -= copies
        copies *= 2


def _take_row(
    table: Values, passes: list[_Pass], number: int, kind: Kind, most: int, value: float
) -> None:
    """One row of up to `most`: the widest first, each from the table as it was."""
    before = table.copy()
    for copies in range(most, 0, -1):
        shift = kind.row[copies - 1]
        with_it = before[:-shift] + copies * value
        here = table[shift:]
        taken = with_it > here + SLIGHT
        np.copyto(here, with_it, where=taken)
        passes.append(_Pass(number, copies, shift, taken))


@dataclass(slots=True)
class TwoPriced:
    """See :class:`Priced`."""

    heights: Counts
    worth: Values
    pricer: TwoStages
    passes: list[_Pass]
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
            kind = kinds[step.kind]
            if kind.row:
                if step.kind in rows:
                    continue
                rows.add(step.kind)
            x = at
            copies = step.copies
            if not promised:
                there = left.get(kind.demand, int(self.left[kind.demand]))
                copies = min(copies, there)
                if copies == 0:
                    continue
                left[kind.demand] = there - copies
            if kind.row:
                stacks.append((Stack(kind.row[copies - 1], ((step.kind, copies),)), 1))
            elif stacks and stacks[-1][0].items[0][0] == step.kind:
                stacks[-1] = (stacks[-1][0], stacks[-1][1] + copies)
            else:
                stacks.append((Stack(kind.width, ((step.kind, 1),)), copies))
        height = int(self.heights[number])
        if not self.pricer.exact:
            height = max((kinds[stack.items[0][0]].height for stack, _ in stacks), default=height)
        return Strip(height, tuple(stacks))
