"""How short a lay can be at all, proved apart from the engine that makes it.

The engine hands over one price per piece. Here the prices become whole multiples of a small
fraction, and the most that a strip of each height can hold of them is found in whole numbers, piece
by piece. If no strip holds more than its height times some factor, then all pieces together, at
their prices, divided by that factor, are a length that no plan can beat (weak duality). Nothing of
the engine's pricing is used.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from seamproof.cloth.model import Demand

PARTS = 1 << 24
"""Prices are rounded down to so many parts of a unit."""


@dataclass(frozen=True, slots=True)
class Claim:
    """`count` pieces that are worth `price` units of length each; `ways`: (height, widths), where
    widths[n - 1] is what n of them, lying that way in one strip, take of its length."""

    count: int
    price: float
    ways: tuple[tuple[int, tuple[int, ...]], ...]


Way = tuple[int, int, tuple[int, ...]]
"""(number of the claim, height, widths): see :class:`Claim`."""


@dataclass(frozen=True, slots=True)
class There:
    """Cloth of one size that may be cut instead, `area` square units each, `count` of it (None: as
    much as is needed). `places`: (width, length, ways) of every frame in which it may be cut into
    strips, in whole units."""

    area: Fraction
    count: int | None
    places: tuple[tuple[int, int, tuple[Way, ...]], ...]


def strip_bound(claims: Sequence[Claim], width: int, there: Sequence[There] = ()) -> Fraction:
    """The length, in units, that the prices prove for strips `width` units long, beside what is
    `there`.

    >>> two = Claim(3, 5.0, ((5, (4, 8)),))
    >>> strip_bound([two], 8), strip_bound([], 8)
    (Fraction(15, 2), Fraction(0, 1))

    One piece of 4 × 9 that is there already holds one of the three:

    >>> strip_bound([two], 8, [There(Fraction(36), 1, ((4, 9, ((0, 5, (4,)),)),))])
    Fraction(5, 1)
    """
    worth = [max(0, int(claim.price * PARTS)) for claim in claims]
    total = sum(value * claim.count for value, claim in zip(worth, claims, strict=True))
    ways = [(n, height, widths) for n, claim in enumerate(claims) for height, widths in claim.ways]
    most = max(
        (Fraction(held, height) for height, held in _held(ways, claims, worth, width)),
        default=Fraction(0),
    )
    for one in there:
        if one.count is None:
            return Fraction(0)
        total -= one.count * _worth_of(one, claims, worth)
    return max(Fraction(0), Fraction(total)) / most if most else Fraction(0)


def pieces_bound(claims: Sequence[Claim], there: Sequence[There]) -> Fraction:
    """How many square units of what is `there`, of any of its sizes, the prices prove.

    >>> two = Claim(3, 5.0, ())
    >>> pieces_bound([two], [There(Fraction(72), None, ((8, 9, ((0, 5, (4, 8)),)),))])
    Fraction(108, 1)
    """
    worth = [max(0, int(claim.price * PARTS)) for claim in claims]
    total = sum(value * claim.count for value, claim in zip(worth, claims, strict=True))
    most = max(
        (_worth_of(one, claims, worth) / one.area for one in there),
        default=Fraction(0),
    )
    return Fraction(total) / most if most else Fraction(0)


def _worth_of(there: There, claims: Sequence[Claim], worth: Sequence[int]) -> int:
    """The most that one such cloth can hold, in any of its frames: the best of all divisions of its
    length into strips, each as if no other were cut."""
    return max(
        (
            _fullest(_held(ways, claims, worth, width), length)
            for width, length, ways in there.places
        ),
        default=0,
    )


def _fullest(strips: Iterable[tuple[int, int]], length: int) -> int:
    best = [0] * (length + 1)
    for height, held in strips:
        for end in range(height, length + 1):
            best[end] = max(best[end], best[end - height] + held)
    return best[length]


def _held(
    ways: Iterable[Way], claims: Sequence[Claim], worth: Sequence[int], width: int
) -> list[tuple[int, int]]:
    """The most that a strip of every height can hold."""
    held = np.zeros(width + 1, dtype=np.int64)
    found: dict[int, int] = {}
    for number, height, widths in sorted(ways, key=lambda way: way[1]):
        before = held.copy()
        for copies, across in enumerate(widths[: claims[number].count], start=1):
            if across > width:
                break
            np.maximum(
                held[across:],
                before[: width + 1 - across] + copies * worth[number],
                out=held[across:],
            )
        found[height] = int(held[width])
    return list(found.items())


def pure_strips_bound(claims: Sequence[Claim], width: int) -> Fraction:
    """The same for strips in which nothing is trimmed, where every piece lies one way: of each
    height so many whole strips.

    >>> claims = [Claim(3, 4.0, ((4, (4, 8)),)), Claim(1, 3.0, ((3, (4,)),))]
    >>> pure_strips_bound(claims, 8)
    Fraction(11, 1)
    """
    heights = sorted({height for claim in claims for height, _ in claim.ways})
    return sum(
        (
            height * Fraction(math.ceil(strip_bound(pure, width) / height))
            for height in heights
            if (pure := [claim for claim in claims if claim.ways[0][0] == height])
        ),
        Fraction(0),
    )


def area_bound(demands: Iterable[Demand], width: Fraction) -> Fraction:
    """The length in inches that the pieces' area alone needs."""
    return sum((area(demand) * demand.count for demand in demands), Fraction(0)) / width


def area(demand: Demand) -> Fraction:
    """Square inches of one piece; in a row with slanted cuts, without the row's ends.

    >>> area(Demand("Aa", Fraction(3), Fraction(2), 4))
    Fraction(6, 1)
    """
    return (demand.row.pitch if demand.row else demand.width) * demand.height


def reached(bound: Fraction, heights: Iterable[int], most: int) -> int:
    """The least length from `bound` on, in units, that heights of strips add up to; `most` if there
    is none below.

    >>> reached(Fraction(21, 2), [4, 6], 100), reached(Fraction(0), [4, 6], 100)
    (12, 0)
    """
    sums = 1
    full = (1 << (most + 1)) - 1
    for height in sorted(set(heights)):
        step = height
        while step <= most:
            sums |= (sums << step) & full
            step *= 2
    least = -(-bound.numerator // bound.denominator)
    above = sums >> least
    return min(most, least + (above & -above).bit_length() - 1) if above else most
