"""Many makers sew the block: what comes out, drawn by lot.

Every maker has a bias of her own that goes into all her seams; everything else errs copy by copy.
Small parts are drawn at once, by one product of their weights with all their errors; larger ones
are put together of their parts, so that the work grows with the number of seams. Makers come in
batches: nothing needs more room than one batch.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.random import Generator  # noqa: TID251  the type of what is passed in; nothing is drawn here unasked

from seamproof.accuracy.lines import Array, Putting
from seamproof.accuracy.model import SHOWS, Maker, Source
from seamproof.accuracy.parts import Made
from seamproof.accuracy.sewing import COMMON, SEAM, Mark
from seamproof.accuracy.spreads import common, deviations, means
from seamproof.accuracy.workshop import Workshop

BATCH = 1000
"""Makers drawn at once: their numbers for one part fit into the processor's own memory."""

AT_ONCE = 600
"""Errors up to which a part is drawn by one product: about where that stops being faster."""

KEPT = 20_000_000
"""Numbers of crossings and points that are kept to count percentiles by, 80 megabytes; of larger
blocks the first makers only."""

MISSES = 1 / 16
"""A crossing that misses by more than this shows (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came out, maker by maker.

    `edges` are the first rows of :class:`~seamproof.accuracy.edges.Edges` for all makers, `corners`
    of them angles. `marks` are the crossings and points of the block, `values` theirs, shape
    (marks, makers), for as many makers as were kept; `mean`, `square`, `above` and `below` are
    averages over all of them: of the value, of its square, of whether it is more than `SHOWS`
    (`MISSES` for crossings, either way), or less than that below nothing. `slacks` are the slacks
    of the copies of each unit that is trimmed, shape (copies, makers).
    """

    edges: Array
    corners: int
    marks: tuple[Mark, ...]
    values: np.ndarray[tuple[int, int], np.dtype[np.float32]]
    mean: Array
    square: Array
    above: Array
    below: Array
    slacks: dict[int, Array]


def draw(
    workshop: Workshop, maker: Maker, makers: int, generator: Generator, *, slacks: bool = True
) -> Outcome:
    """Let `makers` of one profile sew the block. Same generator, same outcome."""
    return _Drawing(workshop, maker, makers, slacks).drawn(generator)


class _Weights:
    """A table made ready for one maker: what a batch of errors and biases is multiplied with."""

    def __init__(self, table: Array, errors: tuple[Source, ...], maker: Maker) -> None:
        self.errors = errors
        self.sd, self.mean = np.abs(deviations(maker, errors)), means(maker, errors)
        self.stretches = [i for i, error in enumerate(errors) if error == "stretch"]
        shared = common(maker)
        shared[SEAM] = 0.0
        sizes = self.sd.copy()
        for i in self.stretches:  # drawn as they are: what shrinks is no straight-line matter
            sizes[i : i + 2] = 1.0
        self.table = np.column_stack(
            [
                table[:, COMMON:] * sizes,
                table[:, SEAM],
                table[:, :COMMON] @ shared,
            ]
        )

    def draw(self, bias: Array, generator: Generator) -> Array:
        """The rows for one batch of makers, one copy each."""
        count = len(self.errors)
        lots = np.empty((count + 2, len(bias)))
        generator.standard_normal(out=lots[:count])
        for i in self.stretches:
            lots[i] = self.mean[i] + self.sd[i] * lots[i]
            lots[i + 1] = 1 / (1 + lots[i]) - 1
        lots[count], lots[count + 1] = bias, 1.0
        drawn: Array = self.table @ lots
        return drawn


class _Drawing:
    """One draw of a block."""

    def __init__(self, workshop: Workshop, maker: Maker, makers: int, slacks: bool) -> None:
        self.workshop, self.maker, self.makers = workshop, maker, makers
        self.top = workshop.plan.whole
        self.edges = workshop.edges()
        self.inner = tuple(workshop.marks(self.top, Putting(1 + 0j, 0j)))
        self.marks = (*self.inner, *self.edges.marks)
        self.known = 3 + self.edges.corners
        self.counts: dict[int, int] = {}
        self.weights: dict[int, _Weights] = {}
        self.shared = common(maker)
        self.slacks = sorted(workshop.squarings) if slacks else []
        if self.at_once(self.top):
            made = workshop.made(self.top)
            inner = np.concatenate([self.edges.weights @ made.table, made.marked])
            beyond = np.zeros((len(inner), self.edges.beyond.shape[1]))
            beyond[: len(self.edges.beyond)] = self.edges.beyond
            inner[:, :COMMON] += beyond[:, :COMMON]
            rows = np.column_stack([inner, beyond[:, COMMON:]])
            self.weights[self.top] = _Weights(rows, (*made.errors, *self.edges.errors), maker)

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
        kept = min(self.makers, max(BATCH, KEPT // max(len(self.marks), 1)))
        edges = np.empty((self.known, self.makers))
        values = np.empty((len(self.marks), kept), dtype=np.float32)
        sums = np.zeros((4, len(self.marks)))
        plan = self.workshop.plan
        slacks = {u: np.empty((plan.parts[u].uses, self.makers)) for u in self.slacks}
        tables = {u: self.workshop.overhang(u) for u in self.slacks}
        ready = {u: _Weights(t.table, t.errors, self.maker) for u, t in tables.items()}
        misses = np.array([MISSES if m.kind == "crossing" else float(SHOWS) for m in self.marks])
        for begin in range(0, self.makers, BATCH):
            end = min(begin + BATCH, self.makers)
            bias = generator.standard_normal(end - begin)
            bias *= self.maker.between
            bias += self.maker.seam
            rows = self.block(bias, generator)
            edges[:, begin:end] = rows[: self.known]
            marks = np.concatenate(
                [
                    rows[self.known + len(self.edges.marks) :],
                    rows[self.known :][: len(self.edges.marks)],
                ]
            )
            if begin < kept:
                values[:, begin:end] = marks[:, : kept - begin]
            sums[0] += marks.sum(axis=1)
            sums[1] += np.einsum("ij,ij->i", marks, marks)
            sums[2] += np.count_nonzero(marks > misses[:, None], axis=1)
            sums[3] += np.count_nonzero(marks < -misses[:, None], axis=1)
            for unit, weights in ready.items():
                for copy in range(plan.parts[unit].uses):
                    drawn = weights.draw(bias, generator)
                    slacks[unit][copy, begin:end] = tables[unit].slack(drawn)
        sums /= self.makers
        return Outcome(
            edges,
            self.edges.corners,
            self.marks,
            values,
            sums[0],
            sums[1],
            sums[2],
            sums[3],
            slacks,
        )

    def block(self, bias: Array, generator: Generator) -> Array:
        """The rows of the block's edges, of the points along them, and of the marks inside."""
        if self.at_once(self.top):
            return self.weights[self.top].draw(bias, generator)
        lines, marks = self.part(self.top, bias, generator)
        edges = self.edges.weights @ lines
        edges += self.edges.beyond @ self.seam(self.edges.errors, bias, generator)
        return np.concatenate([edges, *marks])

    def part(self, part: int, bias: Array, generator: Generator) -> tuple[Array, list[Array]]:
        """The rows of the lines and of the marks of one copy of a part, for one batch."""
        if self.at_once(part):
            made: Made = self.workshop.made(part)
            if part not in self.weights:
                rows = np.concatenate([made.table, made.marked])
                self.weights[part] = _Weights(rows, made.errors, self.maker)
            drawn = self.weights[part].draw(bias, generator)
            cut = 2 * len(made.lines)
            return drawn[:cut], [drawn[cut:]]
        values, marks = [], []
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
