"""Patterns become trees of cuts, in inches."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Literal

from seamproof.cloth.model import Cut, Demand
from seamproof.cloth.patterns import Grid, Kind, Stack, Strip

Along = Literal["across", "length"]


class Trees:
    """Builds the trees for one kind of cloth; `kinds` as its strips number them."""

    def __init__(self, demands: Sequence[Demand], grid: Grid, kinds: Sequence[Kind]) -> None:
        self.demands = demands
        self.grid = grid
        self.kinds = kinds

    def whole(self, width: Fraction, length: Fraction, strips: Sequence[tuple[Strip, int]]) -> Cut:
        """A cloth with these strips, the highest first, and what is left below them. It is cut
        across even if one strip is all of it."""
        parts = [
            replace(self.strip(strip, width), times=times)
            for strip, times in sorted(strips, key=self._rank)
        ]
        return Cut(width, length, "across", _filled(parts, width, length, "across"))

    def strip(self, strip: Strip, width: Fraction) -> Cut:
        """One strip from edge to edge: the highest and widest pieces first."""
        height = strip.height * self.grid.unit
        parts = []
        for stack, times in sorted(strip.stacks, key=lambda s: self._stack_rank(s[0])):
            parts.append(replace(self._stack(stack, height), times=times))
        return _divided(width, height, "length", parts)

    def _stack(self, stack: Stack, height: Fraction) -> Cut:
        width = stack.width * self.grid.unit
        parts = []
        for number, count in stack.items:
            kind = self.kinds[number]
            piece = self._piece(kind, count)
            if not kind.row:
                piece = replace(
                    _divided(width, piece.height, "length", [replace(piece, times=1)]), times=count
                )
            parts.append(piece)
        return _divided(width, height, "across", parts)

    def _piece(self, kind: Kind, count: int) -> Cut:
        demand = self.demands[kind.demand]
        unit = self.grid.unit
        if demand.row is not None:
            width, height = kind.row[count - 1] * unit, kind.height * unit
            return Cut(width, height, piece=demand.name, slope=demand.row.slope, pieces=count)
        return Cut(kind.width * unit, kind.height * unit, piece=demand.name, turned=kind.turned)

    def _rank(self, strip: tuple[Strip, int]) -> tuple[int, list[tuple[int, ...]]]:
        stacks = sorted(self._stack_rank(stack) for stack, _ in strip[0].stacks)
        return (-strip[0].height, stacks)

    def _stack_rank(self, stack: Stack) -> tuple[int, ...]:
        first = self.kinds[stack.items[0][0]]
        high = sum(self.kinds[n].height * (1 if self.kinds[n].row else c) for n, c in stack.items)
        return (-high, -stack.width, first.demand, *(n for n, _ in stack.items))


def flipped(cut: Cut) -> Cut:
    """The same cuts with width and length exchanged: strips along the cloth.

    >>> flipped(Cut(Fraction(2), Fraction(3), piece="Aa")).width
    Fraction(3, 1)
    """
    return replace(
        cut,
        width=cut.height,
        height=cut.width,
        along=None if cut.along is None else "length" if cut.along == "across" else "across",
        parts=tuple(flipped(part) for part in cut.parts),
    )


def _divided(width: Fraction, height: Fraction, along: Along, parts: Sequence[Cut]) -> Cut:
    """A rectangle with its parts and what is left; the part itself if it is all of it."""
    filled = _filled(parts, width, height, along)
    if len(filled) == 1 and filled[0].times == 1:
        return filled[0]
    return Cut(width, height, along, filled)


def _filled(
    parts: Sequence[Cut], width: Fraction, height: Fraction, along: Along
) -> tuple[Cut, ...]:
    """The parts, and what they leave."""
    if along == "across":
        left = height - sum((part.height * part.times for part in parts), Fraction(0))
        rest = Cut(width, left)
    else:
        left = width - sum((part.width * part.times for part in parts), Fraction(0))
        rest = Cut(left, height)
    return (*parts, rest) if left > 0 else tuple(parts)
