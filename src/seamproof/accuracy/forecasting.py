"""The answer at once: how the block comes out, and what costs most, without drawing any lots.

The weights of the block's width and height are carried back through the seams, down to every error
of every copy. What they are for the maker's own bias adds up over all seams; all else errs copy by
copy, so its squares add up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from seamproof.accuracy.edges import DIAGONALS, HEIGHT, WIDTH
from seamproof.accuracy.lines import Array
from seamproof.accuracy.model import TOLERANCES, Cost, Forecast, Maker, Source
from seamproof.accuracy.sewing import COMMON, FOLD, OPEN, SEAM
from seamproof.accuracy.spreads import (
    both_within,
    common,
    deviations,
    folded_spread,
    means,
    normal_spread,
)
from seamproof.accuracy.workshop import Workshop

STRETCHES: tuple[Source, Source] = ("stretch", "shrink")


@dataclass(frozen=True, slots=True)
class Linear:
    """Width, height and difference of the diagonals as weighted sums, for any maker.

    `shared` are their weights on the common columns, shape (3, common). `squares` holds, for each
    source, the sums of products of weights of single errors, shape (3, 3), and `sums` the sums of
    weights. Stretch and shrink of a seam go together: under "stretch" are those of both.
    """

    shared: Array
    squares: dict[Source, Array]
    sums: dict[Source, Array]

    def opened(self) -> Linear:
        """The same with every seam pressed open."""
        shared = self.shared.copy()
        shared[:, FOLD] = shared[:, OPEN]
        return replace(self, shared=shared)

    def mean(self, maker: Maker) -> Array:
        """The means of the three."""
        total: Array = self.shared @ common(maker)
        for source, weights in self.sums.items():
            total = total + weights * means(maker, (source,))[0]
        return total

    def parts(self, maker: Maker) -> dict[Source, Array]:
        """What each source brings to their covariance, shape (3, 3)."""
        bias = self.shared[:, SEAM] * maker.between
        found: dict[Source, Array] = {"seam bias": np.outer(bias, bias)}
        for source, squares in self.squares.items():
            found[source] = squares * deviations(maker, (source,))[0] ** 2
        return found


def linear(workshop: Workshop) -> Linear:
    """The weights of a block's width, height and diagonals."""
    shared = np.zeros((3, COMMON))
    squares: dict[Source, Array] = {}
    sums: dict[Source, Array] = {}
    top = workshop.edges().weights[[WIDTH, HEIGHT, DIAGONALS]]
    for columns, weights in _back(workshop, workshop.plan.whole, top):
        if columns is None:
            shared += weights
            continue
        for source in dict.fromkeys(columns):
            chosen = weights[:, [i for i, error in enumerate(columns) if error == source]]
            sums[source] = sums.get(source, np.zeros(3)) + chosen.sum(axis=1)
            if source == STRETCHES[1]:
                continue
            if source == STRETCHES[0]:
                chosen = chosen - weights[:, [i for i, e in enumerate(columns) if e == "shrink"]]
            squares[source] = squares.get(source, np.zeros((3, 3))) + chosen @ chosen.T
    return Linear(shared, squares, sums)


def _back(
    workshop: Workshop, part: int, weights: Array
) -> Iterator[tuple[tuple[Source, ...] | None, Array]]:
    """The weights on errors, and under None on the common columns, of one copy of a part, from the
    weights on the rows of its lines."""
    if workshop.small(part):
        made = workshop.made(part)
        carried = weights @ made.table
        yield None, carried[:, :COMMON]
        yield made.errors, carried[:, COMMON:]
        return
    sewing = workshop.sewing(part)
    lines = 2 * len(sewing.lines)
    first = len(sewing.carried)
    inputs = (weights[:, :first] @ sewing.arms) @ sewing.motion
    inputs += weights[:, first:lines] @ sewing.new[: lines - first]
    inputs[:, sewing.carried] += weights[:, :first]
    begin = 0
    for child, _ in workshop.children(part):
        end = begin + 2 * len(workshop.lines(child))
        yield from _back(workshop, child, inputs[:, begin:end])
        begin = end
    yield None, inputs[:, begin : begin + COMMON]
    yield sewing.errors, inputs[:, begin + COMMON :]


def costs(weights: Linear, maker: Maker) -> tuple[Cost, ...]:
    """What each source brings to the spread of width and height together, the costliest first."""
    brought = {
        source: float(found[WIDTH, WIDTH] + found[HEIGHT, HEIGHT]) / 2
        for source, found in weights.parts(maker).items()
    }
    total = sum(brought.values())
    if total <= 0:
        return ()
    named = [
        Cost(source, part / total, math.sqrt(part)) for source, part in brought.items() if part > 0
    ]
    return tuple(sorted(named, key=lambda cost: -cost.share))


def within(weights: Linear, maker: Maker, tolerance: float) -> float:
    """The share of makers whose block comes within a tolerance of its width and of its height."""
    covariance = np.sum(list(weights.parts(maker).values()), axis=0)
    return both_within(weights.mean(maker)[:2], covariance[:2, :2], tolerance)


def forecast(
    workshop: Workshop, maker: Maker, wanted: tuple[float, float], weights: Linear | None = None
) -> Forecast:
    """How the block comes out in the hands of such makers. `wanted` is its width and height, raw
    edge to raw edge."""
    weights = weights or linear(workshop)
    mean = weights.mean(maker)
    covariance = np.sum(list(weights.parts(maker).values()), axis=0)
    sd = np.sqrt(np.maximum(np.diag(covariance), 0.0))
    return Forecast(
        maker=maker,
        width=normal_spread(wanted[0] + float(mean[WIDTH]), float(sd[WIDTH])),
        height=normal_spread(wanted[1] + float(mean[HEIGHT]), float(sd[HEIGHT])),
        out_of_square=folded_spread(float(sd[DIAGONALS])),
        within=tuple((t, within(weights, maker, float(t))) for t in TOLERANCES),
        costs=costs(weights, maker),
    )
