"""How much larger to cut what is squared up, so that nearly every maker can.

Slack grows in a straight line with the oversize, so one drawing of lots is enough: the oversize a
unit would have needed is known for every copy of every maker.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

import numpy as np
from numpy.random import Generator  # noqa: TID251  the type of what is passed in

from seamproof.accuracy.lines import Array
from seamproof.accuracy.model import Maker, UnitSlack
from seamproof.accuracy.sampling import Single, squared_up
from seamproof.accuracy.trimming import Overhang
from seamproof.accuracy.workshop import Setup, Squaring
from seamproof.length.rounding import up


def enough(
    setup: Setup,
    maker: Maker,
    generator: Generator,
    wanted: Mapping[str, int],
    *,
    step: Fraction,
    makers: int,
) -> tuple[tuple[str, Fraction], ...]:
    """The oversize, by kind of unit, that lets so many of 100 makers square up all they need.

    `wanted` says of which kinds, and how many of 100; what the block does not square up is not in
    the result. If a block has several units of a kind, it is enough for all of them.
    """
    workshop = setup.workshop()
    _, least = squared_up(workshop, maker, makers, generator)
    found: dict[str, Fraction] = {}
    for unit, slack in least.items():
        squaring = setup.squarings[unit]
        if squaring.kind not in wanted:
            continue
        needed = float(squaring.oversize) - slack / workshop.overhang(unit).per_oversize
        share = float(np.quantile(needed, wanted[squaring.kind] / 100))
        found[squaring.kind] = max(found.get(squaring.kind, Fraction(0)), mark(share, step))
    return tuple(sorted(found.items()))


def unit_slack(
    squaring: Squaring, overhang: Overhang, slack: Single, least: Array, step: Fraction
) -> UnitSlack:
    """What the slacks of one unit, shape (copies, makers), and the least one of every maker say
    about it. `step` is that of the ruler."""
    needed = float(squaring.oversize) - slack / overhang.per_oversize
    makers = float(squaring.oversize) - least / overhang.per_oversize
    p95, p99 = (float(q) for q in np.quantile(needed, (0.95, 0.99)))
    all95, all99 = (float(q) for q in np.quantile(makers, (0.95, 0.99)))
    return UnitSlack(
        unit=squaring.unit,
        kind=squaring.kind,
        uses=len(slack),
        oversize=squaring.oversize,
        trimmable=float(np.mean(slack >= 0)),
        makers=float(np.mean(least >= 0)),
        p95=p95,
        p99=p99,
        all95=all95,
        all99=all99,
        marks95=mark(all95, step),
        marks99=mark(all99, step),
    )


def mark(oversize: float, step: Fraction) -> Fraction:
    """The first mark of the ruler that is enough; never less than nothing.

    >>> mark(0.114, Fraction(1, 8)), mark(-0.01, Fraction(1, 8)), mark(0.126, Fraction(1, 16))
    (Fraction(1, 8), Fraction(0, 1), Fraction(3, 16))
    """
    return max(up(oversize, step), Fraction(0))
