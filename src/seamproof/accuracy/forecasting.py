"""The answer at once: how the block comes out, and what costs most, without drawing any lots.

The weights of the block's width and height are carried back through the seams, down to every error
of every copy. What they are for the maker's own bias adds up over all seams; all else errs copy by
copy, so its squares add up.
"""

from __future__ import annotations

import functools
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
    for columns, common_weights, weights in _back(workshop, top):
        shared += common_weights.sum(axis=0)
        for source, places in _by_source(columns).items():
            chosen = weights[:, :, places]
            sums[source] = sums.get(source, np.zeros(3)) + chosen.sum(axis=(0, 2))
            if source == STRETCHES[1]:
                continue
            if source == STRETCHES[0]:
                chosen = chosen - weights[:, :, _by_source(columns)[STRETCHES[1]]]
            flat = chosen.transpose(1, 0, 2).reshape(3, -1)
            squares[source] = squares.get(source, np.zeros((3, 3))) + flat @ flat.T
    return Linear(shared, squares, sums)


@functools.lru_cache(maxsize=1024)
def _by_source(errors: tuple[Source, ...]) -> dict[Source, list[int]]:
    """The places of each source among errors."""
    found: dict[Source, list[int]] = {}
    for place, source in enumerate(errors):
        found.setdefault(source, []).append(place)
    return found


def _back(workshop: Workshop, top: Array) -> Iterator[tuple[tuple[Source, ...], Array, Array]]:
    """For each distinct part its errors, and the weights of all its copies on the common columns
    and on the errors, shape (copies, 3, columns), from the weights on the block's lines.

    Parts come before those that they are sewn of, so that all copies of one are done at once."""
    waiting: dict[int, list[Array]] = {workshop.plan.whole: [top[None]]}
    for part in _from_the_top(workshop):
        weights = np.concatenate(waiting.pop(part))
        if workshop.small(part):
            made = workshop.made(part)
            carried = weights @ made.table
            yield made.errors, carried[:, :, :COMMON], carried[:, :, COMMON:]
            continue
        sewing = workshop.sewing(part)
        lines = 2 * len(sewing.lines)
        first = len(sewing.carried)
        inputs = (weights[:, :, :first] @ sewing.arms) @ sewing.motion
        inputs += weights[:, :, first:] @ sewing.new[: lines - first]
        inputs[:, :, sewing.carried] += weights[:, :, :first]
        begin = 0
        for child, _ in workshop.children(part):
            end = begin + 2 * len(workshop.lines(child))
            waiting.setdefault(child, []).append(inputs[:, :, begin:end])
            begin = end
        own = begin + COMMON
        yield sewing.errors, inputs[:, :, begin:own], inputs[:, :, own:]


def _from_the_top(workshop: Workshop) -> list[int]:
    """The parts that are worked with, each before those that it is sewn of."""
    order: list[int] = []
    seen: set[int] = set()
    going: list[tuple[int, bool]] = [(workshop.plan.whole, False)]
    while going:
        part, done = going.pop()
        if done:
            order.append(part)
        elif part not in seen:
            seen.add(part)
            going.append((part, True))
            if not workshop.small(part):
                going += [(child, False) for child, _ in workshop.children(part)]
    return order[::-1]


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
