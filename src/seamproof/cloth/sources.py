"""What the engine may cut from: cloth by length, strip after strip, or cloth of a fixed size."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from seamproof.cloth.columns import Counts, Pass, Priced, Pricer, Values, take, whole
from seamproof.cloth.patterns import Strip

SHELF_RATE = 1e-3
"""What an inch of cloth from the shelf counts beside an inch bought: it is used first, but of two
plans that buy as much the one that leaves more on the shelf is better."""

FIXED_RATE = 1 / 3
"""Likewise for fixed pieces: they are cut before yardage, unless three quarters of one would be
waste."""


@dataclass(frozen=True, slots=True, eq=False)
class Pattern:
    """One strip of yardage, or one whole fixed piece, as it is cut. `source` is its number, None
    for a piece that no cloth is left for; `cost` in units of yardage; `counts` per demand."""

    source: int | None
    counts: Counts
    cost: float
    strips: tuple[Strip, ...]


@dataclass(frozen=True, slots=True)
class Source:
    """Cloth of one size. `length` None: by length. `flipped`: its strips run along the cloth, so
    that width and length are exchanged. `stock` is the number of the cloth, which two sources share
    if it may be cut either way. `cost` is that of a unit of yardage, or of a whole fixed piece."""

    number: int
    stock: int
    width: int
    length: int | None
    flipped: bool
    cost: float
    pricer: Pricer

    def offers(self, values: Values, left: Counts, few: Values | None = None) -> Offers | None:
        """The best patterns for `values` with what is left, None if nothing fits; see
        :class:`~seamproof.cloth.columns.Pricer`."""
        if self.length is None:
            priced = self.pricer.price(values, left, few)
            if not len(priced.heights):
                return None
            cost = priced.heights.astype(np.float64) * self.cost
            return Offers(self, priced.worth, cost, priced, None, len(left))
        filled = self._filled(values, left)
        if filled is None:
            return None
        worth = np.array([float(values @ filled.counts)])
        return Offers(self, worth, np.array([self.cost]), None, filled, len(left))

    def pattern(self, strip: Strip, demands: int) -> Pattern:
        """A strip of what is bought by length, as a pattern of so many demands."""
        used = np.array(strip.used(self.pricer.kinds, demands), dtype=np.int64)
        return Pattern(self.number, used, strip.height * self.cost, (strip,))

    def _filled(self, values: Values, left: Counts) -> Pattern | None:
        """One fixed piece, strip after strip: each the best of the best division of what is left
        of the length."""
        assert self.length is not None
        room = self.length
        left = left.copy()
        total = np.zeros_like(left)
        strips: list[Strip] = []
        while room > 0:
            priced = self.pricer.price(values, left)
            best = _best_first(priced.heights.tolist(), priced.worth, room)
            if best is None:
                break
            strip = priced.strip(best)
            used = np.array(strip.used(self.pricer.kinds, len(left)), dtype=np.int64)
            strips.append(strip)
            left -= used
            total += used
            room -= strip.height
        return Pattern(self.number, total, self.cost, tuple(strips)) if strips else None


def _best_first(heights: Sequence[int], worth: Values, room: int) -> int | None:
    """Of the strips that together are worth most in `room`, the one worth most for its height.

    >>> worth = np.array([3.0, 4.5])
    >>> _best_first([3, 4], worth, 7), _best_first([3, 4], worth, 2)
    (1, None)
    """
    table = np.zeros(room + 1, dtype=np.int64)
    passes: list[Pass] = []
    for number, value in enumerate(whole(worth).tolist()):
        take(table, passes, number, heights[number], room // heights[number], value)
    best: int | None = None
    for number, _, shift, taken in reversed(passes):
        if shift <= room and taken[room - shift]:
            room -= shift
            if best is None or worth[number] * heights[best] > worth[best] * heights[number]:
                best = number
    return best


@dataclass(frozen=True, slots=True)
class Offers:
    """Patterns that one source offers: `worth` and `cost` of each."""

    source: Source
    worth: Values
    cost: Values
    priced: Priced | None
    filled: Pattern | None
    demands: int

    def pattern(self, number: int, *, promised: bool = False) -> Pattern:
        """The pattern of this number, worked out; see :class:`~seamproof.cloth.columns.Priced`."""
        if self.filled is not None:
            return self.filled
        assert self.priced is not None
        return self.source.pattern(self.priced.strip(number, promised=promised), self.demands)
