"""The master: fractional amounts of patterns that meet every demand at least cost.

Patterns are added as the prices of the demands ask for them until none would be cheaper.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from seamproof.cloth.columns import Counts, Values
from seamproof.cloth.sources import Pattern, Source
from seamproof.solving.linear import Covering

ROUNDS = 400
"""Rounds of new patterns at most; forty kinds of piece need about thirty."""

AT_ONCE = 10
"""New patterns in one round."""

CHEAPER = 1e-6
"""A pattern enters if it is worth more than it costs by this share of its cost."""


@dataclass(frozen=True, slots=True)
class Master:
    """`amounts` of `patterns`, and the price of one more piece of every demand."""

    patterns: tuple[Pattern, ...]
    amounts: Values
    prices: Values


def master(
    sources: Sequence[Source],
    counts: Counts,
    supplies: Sequence[int | None],
    start: Sequence[Pattern],
    stop: Callable[[], bool],
) -> Master:
    """The fractional optimum. `supplies` per stock; `start` meets every demand if taken often
    enough (with patterns that stand for pieces left over, if need be)."""
    limited = [number for number, supply in enumerate(supplies) if supply is not None]
    covering = Covering(
        [float(count) for count in counts], [float(supplies[number] or 0) for number in limited]
    )
    row = {stock: limit for limit, stock in enumerate(limited)}
    patterns: list[Pattern] = []
    known: set[tuple[int | None, bytes]] = set()

    def add(pattern: Pattern) -> bool:
        key = (pattern.source, pattern.counts.tobytes())
        if key in known:
            return False
        known.add(key)
        weights = {int(i): float(pattern.counts[i]) for i in np.nonzero(pattern.counts)[0]}
        supply = None if pattern.source is None else row.get(sources[pattern.source].stock)
        covering.add(pattern.cost, weights, supply)
        patterns.append(pattern)
        return True

    for pattern in start:
        add(pattern)
    amounts, prices, rents = covering.solve()
    for _ in range(ROUNDS):
        if stop():
            break
        entered = False
        for source in sources:
            if supplies[source.stock] == 0:
                continue
            offers = source.offers(prices, counts)
            if offers is None:
                continue
            limit = row.get(source.stock)
            rent = -float(rents[limit]) if limit is not None else 0.0
            gain = offers.worth - (offers.cost + rent) * (1 + CHEAPER)
            for number in np.argsort(-gain, kind="stable")[:AT_ONCE]:
                if gain[number] <= 0:
                    break
                pattern = offers.pattern(int(number), promised=True)
                worth = float(prices @ pattern.counts)
                if worth > (pattern.cost + rent) * (1 + CHEAPER) and add(pattern):
                    entered = True
        if not entered:
            break
        amounts, prices, rents = covering.solve()
    return Master(tuple(patterns), amounts, prices)


def whole_part(found: Master, counts: Counts) -> tuple[list[tuple[Pattern, int]], Counts]:
    """The whole part of every amount, and what it leaves of the demands."""
    left = counts.copy()
    plan = []
    for number in np.argsort(-found.amounts, kind="stable"):
        pattern = found.patterns[number]
        times = math.floor(float(found.amounts[number]) + CHEAPER)
        if times < 1:
            break
        if pattern.source is None:
            continue
        some = pattern.counts > 0
        times = min(times, int((left[some] // pattern.counts[some]).min()))
        if times > 0:
            plan.append((pattern, times))
            left = left - pattern.counts * times
    return plan, left
