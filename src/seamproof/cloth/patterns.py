"""What a strip can hold, in whole units of the grid, and how it becomes a tree of cuts.

Inside the engine sizes are whole numbers of one *unit*, the largest length that divides every size
there is. A *kind* is a demand as it may lie: upright or a quarter turned. A *stack* is what lies
above one another between two cross-cuts of a strip; with two stages it is one piece.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from seamproof.cloth.model import Demand, Settings

FINEST = 6_000
"""So many units across the cloth at most: sizes that would need a finer grid are rounded up to the
ruler's step. An engine pass takes time in proportion."""

ROW_UNIT = Fraction(1, 16)
"""Rows with slanted cuts end at no size of a rectangle: the grid is at least this fine for them."""


@dataclass(frozen=True, slots=True)
class Kind:
    """Demand number `demand`, lying `width` × `height` units. `row[n - 1]` is the width of n of
    them in a row with slanted cuts; empty for rectangles."""

    demand: int
    turned: bool
    width: int
    height: int
    row: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Stack:
    """`items`: (number of the kind, how many) from the top down; a row of n is (kind, n)."""

    width: int
    items: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip `height` units high; `stacks` with their times, from left to right."""

    height: int
    stacks: tuple[tuple[Stack, int], ...]

    def used(self, kinds: Sequence[Kind], demands: int) -> list[int]:
        """How many of each demand one strip gives."""
        counts = [0] * demands
        for stack, times in self.stacks:
            for number, count in stack.items:
                counts[kinds[number].demand] += count * times
        return counts


@dataclass(frozen=True, slots=True)
class Grid:
    """The `unit` in inches; `sizes` (width, height) of every demand in units."""

    unit: Fraction
    sizes: tuple[tuple[int, int], ...]

    def floor(self, length: Fraction) -> int:
        """Whole units in a length."""
        return math.floor(length / self.unit)


def grid_of(demands: Sequence[Demand], widest: Fraction, settings: Settings) -> Grid:
    """The coarsest grid that holds every size, for cloth up to `widest`.

    >>> piece = Demand("Aa", Fraction(5, 2), Fraction(9, 2), 4)
    >>> grid = grid_of([piece], Fraction(40), Settings())
    >>> str(grid.unit), grid.sizes
    ('1/2', ((5, 9),))
    >>> grid_of([], Fraction(40), Settings()).sizes
    ()
    """
    rows = any(demand.row for demand in demands)
    unit = _common(_lengths(demands))
    if unit == 0:
        unit = settings.step
    if rows:
        unit /= math.ceil(unit / ROW_UNIT)
    if widest / unit > FINEST:
        unit = settings.step / (math.ceil(settings.step / ROW_UNIT) if rows else 1)
    while widest / unit > FINEST:
        unit *= 2
    return Grid(
        unit, tuple((math.ceil(d.width / unit), math.ceil(d.height / unit)) for d in demands)
    )


def _lengths(demands: Iterable[Demand]) -> Iterable[Fraction]:
    for demand in demands:
        yield demand.height
        if demand.row is None:
            yield demand.width


def _common(lengths: Iterable[Fraction]) -> Fraction:
    """The largest length that divides all; 0 if there is none."""
    unit = Fraction(0)
    for length in lengths:
        while length:
            unit, length = length, unit % length  # noqa: PLW2901  Euclid's rule reads best so
    return unit


def kinds_of(
    demands: Sequence[Demand],
    grid: Grid,
    width: int,
    length: int | None,
    *,
    flipped: bool = False,
) -> tuple[Kind, ...]:
    """Every way in which a demand may lie on cloth `width` × `length` units, lowest first.

    `flipped`: in the frame in which the strips run along the cloth; sizes are exchanged, and rows
    with slanted cuts, which lie across the cloth, are left out.
    """
    kinds = []
    for number, demand in enumerate(demands):
        if demand.count <= 0:
            continue
        w, h = grid.sizes[number]
        if demand.row is not None:
            row = [] if flipped else _row(demand, grid, width)
            if row and (length is None or h <= length):
                kinds.append(Kind(number, False, row[0], h, tuple(row)))
            continue
        ways = [(w, h, False)]
        if demand.may_turn and w != h:
            ways.append((h, w, True))
        for across, along, turned in ways:
            x, y = (along, across) if flipped else (across, along)
            if x <= width and (length is None or y <= length):
                kinds.append(Kind(number, turned, x, y))
    return tuple(sorted(kinds, key=lambda k: (k.height, k.width, k.demand, k.turned)))


def _row(demand: Demand, grid: Grid, width: int) -> list[int]:
    assert demand.row is not None
    widths: list[int] = []
    while len(widths) < demand.count:
        need = demand.row.offset + (len(widths) + 1) * demand.row.pitch
        across = math.ceil(need / grid.unit)
        if across > width:
            break
        widths.append(across)
    return widths
