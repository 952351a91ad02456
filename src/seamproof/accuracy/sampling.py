"""Many makers sew the block: what comes out, drawn by lot.

Every maker has a bias of her own that goes into all her seams; everything else errs copy by copy.
Small parts are drawn at once, by one product of their weights with all their errors; larger ones
are put together of their parts, so that the work grows with the number of seams. Makers come in
batches: nothing needs more room than one batch.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.random import Generator  # noqa: TID251  the type of what is passed in; nothing is drawn here unasked

from seamproof.accuracy.lines import Array, Drawn, Putting
from seamproof.accuracy.model import MISSES, SHOWS, Maker, Source
from seamproof.accuracy.sewing import COMMON, SEAM, Mark
from seamproof.accuracy.spreads import common, deviations, means
from seamproof.accuracy.trimming import Overhang
from seamproof.accuracy.workshop import Workshop

BATCH = 1000
"""Makers drawn at once: their numbers for one part fit into the processor's own memory."""

FEWEST = 50
"""Makers drawn at once of the largest block: fewer would cost more time than room they save."""

AT_HAND = 2_000_000
"""Crossings and points of all makers of one batch, 16 megabytes: of larger blocks fewer at once."""

AT_ONCE = 3000
"""Errors up to which a part is drawn by one product: about where that stops being faster."""

KEPT = 10_000_000
"""Numbers that are kept to count percentiles by, 40 megabytes of crossings and points and as many
of units that are squared up; of larger blocks the first makers only."""

NOTHING = 1e-12
"""What is left of the square of a row is nothing if it is a smaller share of it: rounding leaves
1e-15, and a millionth of a spread is none."""

Single = np.ndarray[tuple[int, int], np.dtype[np.float32]]
"""What is only counted is kept to seven places."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came out, maker by maker.

    `edges` are the first rows of :class:`~seamproof.accuracy.edges.Edges` for all makers, `corners`
    of them angles. `marks` are the crossings and points of the block, `values` theirs, shape
    (marks, makers), for as many makers as were kept; `mean`, `square`, `above` and `below` are
    averages over all of them: of the value, of its square, of whether it is more than `SHOWS`
    (`MISSES` for crossings, either way), or less than that below nothing. `slacks` are the slacks
    of the copies of each unit that is trimmed, shape (copies, makers), for as many makers as were
    kept, and `least` the least slack that each maker has among her copies of it.
    """

    edges: Array
    corners: int
    marks: tuple[Mark, ...]
    values: Single
    mean: Array
    square: Array
    above: Array
    below: Array
    slacks: dict[int, Single]
    least: dict[int, Array]


def draw(
    workshop: Workshop,
    maker: Maker,
    makers: int,
    generator: Generator,
    *,
    slacks: bool = True,
    singly: bool = False,
) -> Outcome:
    """Let `makers` of one profile sew the block. Same generator, same outcome.

    Errors are normal, so what depends on many of them needs only as many numbers drawn by lot as
    there are such results. With `singly` every error gets its own: the same distribution, slower.
    """
    return _Drawing(workshop, maker, makers, slacks, singly).drawn(generator)


def squared_up(
    workshop: Workshop, maker: Maker, makers: int, generator: Generator
) -> tuple[dict[int, Single], dict[int, Array]]:
    """`Outcome.slacks` and `Outcome.least` alone: how much there is to cut off each unit."""
    units = _squared(workshop, maker, makers, singly=False)
    for begin in range(0, makers, BATCH):
        bias = _biases(maker, min(BATCH, makers - begin), generator)
        for unit in units.values():
            unit.draw(begin, bias, generator)
    return (
        {number: unit.slacks for number, unit in units.items()},
        {number: unit.least for number, unit in units.items()},
    )


def _biases(maker: Maker, makers: int, generator: Generator) -> Array:
    """How much wider than planned each maker of a batch sews all her seams."""
    bias: Array = generator.standard_normal(makers)
    bias *= maker.between
    bias += maker.seam
    return bias


def _kept(makers: int, rows: int) -> int:
    """Of how many makers so many numbers are kept."""
    return min(makers, max(BATCH, KEPT // max(rows, 1)))


class _Weights:
    """A table made ready for one maker: what a batch of numbers drawn by lot is multiplied with,
    a number for each error if `singly`, else for each row of its :func:`triangle`."""

    def __init__(
        self, table: Array, errors: tuple[Source, ...], maker: Maker, singly: bool
    ) -> None:
        sd, mean = np.abs(deviations(maker, errors)), means(maker, errors)
        # Stretch is drawn as it is: what shrinks by it is no straight-line matter.
        first = [i for i, error in enumerate(errors) if error == "stretch"]
        self.stretches = [(mean[i], sd[i]) for i in first]
        bent = [j for i in first for j in (i, i + 1)]
        plain = np.delete(np.arange(len(errors)), bent)
        straight = table[:, COMMON + plain] * sd[plain]
        if not singly:
            straight = triangle(straight)
        shared = common(maker)
        shared[SEAM] = 0.0
        self.count = straight.shape[1]
        self.table = np.column_stack(
            [
                straight,
                table[:, [COMMON + j for j in bent]],
                table[:, SEAM],
                table[:, :COMMON] @ shared,
            ]
        ).astype(np.float32)
        self.lots = np.ones((self.table.shape[1], 0), np.float32)

    def draw(self, bias: Array, generator: Generator) -> Single:
        """The rows for one batch of makers, one copy each."""
        if self.lots.shape[1] != len(bias):
            self.lots = np.ones((self.table.shape[1], len(bias)), np.float32)
        lots = self.lots
        generator.standard_normal(out=lots[: self.count], dtype=np.float32)
        for i, (mean, sd) in enumerate(self.stretches):
            stretch = lots[self.count + 2 * i : self.count + 2 * i + 2]
            generator.standard_normal(out=stretch[0], dtype=np.float32)
            stretch[0] = mean + sd * stretch[0]
            stretch[1] = -stretch[0] / (1 + stretch[0])
        lots[-2] = bias
        drawn: Single = self.table @ lots
        return drawn


def triangle(table: Array) -> Array:
    """A table with the same products of its rows, and no more columns than rows.

    Row after row is told by those before it; what that leaves of it, if it leaves anything, is a
    column of its own.

    >>> triangle(np.array([[3.0, 4.0, 0.0], [3.0, 4.0, 0.0]])).tolist()
    [[5.0], [5.0]]
    """
    if table.shape[0] >= table.shape[1]:
        return table
    products = table @ table.T
    small = np.zeros_like(products)
    rank = 0
    for i, whole in enumerate(np.diag(products)):
        left = whole - small[i, :rank] @ small[i, :rank]
        if left > NOTHING * whole:
            column = products[i:, i] - small[i:, :rank] @ small[i, :rank]
            small[i:, rank] = column / math.sqrt(left)
            rank += 1
    return small[:, :rank]


class _Drawing:
    """One draw of a block."""

    def __init__(
        self, workshop: Workshop, maker: Maker, makers: int, slacks: bool, singly: bool
    ) -> None:
        self.workshop, self.maker, self.makers, self.singly = workshop, maker, makers, singly
        self.top = workshop.plan.whole
        self.edges = workshop.edges()
        self.inner = tuple(workshop.marks(self.top, Putting(1 + 0j, 0j)))
        self.marks = (*self.inner, *self.edges.marks)
        self.known = 3 + self.edges.corners
        self.counts: dict[int, int] = {}
        self.weights: dict[int, _Weights] = {}
        self.shared = common(maker)
        self.slacks = slacks
        if self.at_once(self.top):
            made = workshop.made(self.top)
            inner = np.concatenate([self.edges.weights @ made.table, made.marked])
            beyond = np.zeros((len(inner), self.edges.beyond.shape[1]))
            beyond[: len(self.edges.beyond)] = self.edges.beyond
            inner[:, :COMMON] += beyond[:, :COMMON]
            rows = np.column_stack([inner, beyond[:, COMMON:]])
            self.weights[self.top] = self.ready(rows, (*made.errors, *self.edges.errors))
            workshop.forget()

    def ready(self, table: Array, errors: tuple[Source, ...]) -> _Weights:
        return _Weights(table, errors, self.maker, self.singly)

    def count(self, part: int) -> int:
        """How many errors go into a part."""
        if part not in self.counts:
            self.counts[part] = (
                len(self.workshop.made(part).errors)
                if self.workshop.small(part)
                else len(self.workshop.sewing(part).errors)
                + sum(self.count(child) for child, _ in self.workshop.children(part))
            )
        return self.counts[part]

    def at_once(self, part: int) -> bool:
        return self.workshop.small(part) or self.count(part) <= AT_ONCE

    def drawn(self, generator: Generator) -> Outcome:
        marks = len(self.marks)
        kept = _kept(self.makers, marks)
        edges = np.empty((self.known, self.makers))
        values = np.empty((marks, kept), dtype=np.float32)
        sums = np.zeros((4, marks))
        units = _squared(self.workshop, self.maker, self.makers, self.singly) if self.slacks else {}
        limits = (MISSES if mark.kind == "crossing" else SHOWS for mark in self.marks)
        misses = np.array([float(limit) for limit in limits])
        batch = max(FEWEST, min(BATCH, AT_HAND // max(marks, 1)))
        for begin in range(0, self.makers, batch):
            end = min(begin + batch, self.makers)
            bias = _biases(self.maker, end - begin, generator)
            rows = self.block(bias, generator)
            edges[:, begin:end] = rows[: self.known]
            # Those along the edges came first, and stand last.
            found = np.roll(rows[self.known :], -len(self.edges.marks), axis=0)
            if begin < kept:
                values[:, begin:end] = found[:, : kept - begin]
            sums[0] += found.sum(axis=1)
            sums[1] += np.einsum("ij,ij->i", found, found)
            sums[2] += np.count_nonzero(found > misses[:, None], axis=1)
            sums[3] += np.count_nonzero(found < -misses[:, None], axis=1)
            for unit in units.values():
                unit.draw(begin, bias, generator)
        mean, square, above, below = sums / self.makers
        return Outcome(
            edges,
            self.edges.corners,
            self.marks,
            values,
            mean,
            square,
            above,
            below,
            {number: unit.slacks for number, unit in units.items()},
            {number: unit.least for number, unit in units.items()},
        )

    def block(self, bias: Array, generator: Generator) -> Drawn:
        """The rows of the block's edges, of the points along them, and of the marks inside."""
        if self.at_once(self.top):
            return self.weights[self.top].draw(bias, generator)
        lines, marks = self.part(self.top, bias, generator)
        edges = self.edges.weights @ lines
        edges += self.edges.beyond @ self.seam(self.edges.errors, bias, generator)
        return np.concatenate([edges, *marks])

    def part(self, part: int, bias: Array, generator: Generator) -> tuple[Drawn, list[Drawn]]:
        """The rows of the lines and of the marks of one copy of a part, for one batch."""
        if self.at_once(part):
            if part not in self.weights:
                made = self.workshop.made(part)
                rows = np.concatenate([made.table, made.marked])
                self.weights[part] = self.ready(rows, made.errors)
                self.workshop.forget()
            drawn = self.weights[part].draw(bias, generator)
            cut = 2 * len(self.workshop.lines(part))
            return drawn[:cut], [drawn[cut:]]
        values: list[Drawn] = []
        marks: list[Drawn] = []
        for child, _ in self.workshop.children(part):
            lines, found = self.part(child, bias, generator)
            values.append(lines)
            marks += found
        sewing = self.workshop.sewing(part)
        lines, here = sewing.of(
            np.concatenate([*values, self.seam(sewing.errors, bias, generator)])
        )
        return lines, [*marks, here]

    def seam(self, errors: tuple[Source, ...], bias: Array, generator: Generator) -> Array:
        """The common rows for one batch, and a row for each error of a seam."""
        shared = np.repeat(self.shared[:, None], len(bias), axis=1)
        shared[SEAM] = bias
        own = generator.standard_normal((len(errors), len(bias)))
        own *= deviations(self.maker, errors)[:, None]
        return np.concatenate([shared, own])


def _squared(workshop: Workshop, maker: Maker, makers: int, singly: bool) -> dict[int, _Squared]:
    """The units that are squared up, ready to be drawn."""
    parts = workshop.plan.parts
    units = sorted(workshop.squarings)
    kept = _kept(makers, sum(parts[unit].uses for unit in units))
    return {
        unit: _Squared(
            table := workshop.overhang(unit),
            _Weights(table.table, table.errors, maker, singly),
            np.empty((parts[unit].uses, kept), dtype=np.float32),
            np.full(makers, np.inf),
        )
        for unit in units
    }


@dataclass(frozen=True, slots=True)
class _Squared:
    """How much there is to cut off the copies of one unit: filled in batch by batch."""

    overhang: Overhang
    weights: _Weights
    slacks: Single
    least: Array

    def draw(self, begin: int, bias: Array, generator: Generator) -> None:
        """One batch of makers, of whom the first has the number `begin`."""
        end = begin + len(bias)
        copies, kept = self.slacks.shape
        for copy in range(copies):
            slack = self.overhang.slack(self.weights.draw(bias, generator))
            np.minimum(self.least[begin:end], slack, out=self.least[begin:end])
            if begin < kept:
                self.slacks[copy, begin:end] = slack[: kept - begin]
