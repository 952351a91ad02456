"""The rehearsal of a block: drawn, counted, and told what to do about it."""

from __future__ import annotations

import math
from fractions import Fraction

import numpy as np
from numpy.random import Generator  # noqa: TID251  the type of what is passed in

from seamproof.accuracy.advising import advise
from seamproof.accuracy.edges import DIAGONALS, HEIGHT, WIDTH
from seamproof.accuracy.forecasting import costs, linear
from seamproof.accuracy.lines import Array
from seamproof.accuracy.model import (
    SHOWS,
    TOLERANCES,
    Crossing,
    Maker,
    Rehearsal,
    Tip,
)
from seamproof.accuracy.oversize import unit_slack
from seamproof.accuracy.sampling import Outcome, draw
from seamproof.accuracy.spreads import spread
from seamproof.accuracy.workshop import Setup
from seamproof.length.rounding import INCH_STEP

SHOWN = 100
"""Makers whose blocks are drawn one by one: those who stand for a hundredth of all each."""


def rehearse(
    setup: Setup,
    maker: Maker,
    generator: Generator,
    *,
    makers: int = 10_000,
    seed: int = 1,
    step: Fraction = INCH_STEP,
) -> Rehearsal:
    """What comes out when `makers` of one profile sew the block.

    `generator` was made from `seed`, which is only noted. `step` is that of the ruler.
    """
    workshop = setup.workshop()
    outcome = draw(workshop, maker, makers, generator)
    outline = setup.plan.parts[setup.plan.whole].outline
    size = [float(max(p[axis] for p in outline) - min(p[axis] for p in outline)) for axis in (0, 1)]
    wanted = (size[0] + 2 * setup.allowance, size[1] + 2 * setup.allowance)
    weights = linear(workshop)
    off = outcome.edges[[WIDTH, HEIGHT]]
    widths, heights = wanted[0] + off[0], wanted[1] + off[1]
    angles = outcome.edges[3 : 3 + outcome.corners]
    return Rehearsal(
        maker=maker,
        makers=makers,
        seed=seed,
        wanted=wanted,
        width=spread(widths),
        height=spread(heights),
        out_of_square=spread(np.abs(outcome.edges[DIAGONALS])),
        angle=spread(np.degrees(np.abs(angles)).max(axis=0)),
        within=tuple((t, _share(np.abs(off).max(axis=0) <= float(t))) for t in TOLERANCES),
        whole=_whole(outcome),
        crossings=_crossings(outcome),
        points=_points(outcome),
        costs=costs(weights, maker),
        units=tuple(
            unit_slack(
                setup.squarings[unit],
                workshop.overhang(unit),
                slack,
                outcome.least[unit],
                step,
            )
            for unit, slack in outcome.slacks.items()
        ),
        advice=advise(setup, maker, weights, workshop),
        shown=tuple((float(widths[i]), float(heights[i])) for i in _evenly(off)),
    )


def _evenly(off: Array) -> list[int]:
    """The numbers of the makers who are shown: lined up by the side that came out worse, from too
    small to too large, the middle one of each hundredth, so that a picture of them tells what the
    shares tell."""
    worse = np.where(np.abs(off[0]) >= np.abs(off[1]), off[0], off[1])
    shown = min(SHOWN, len(worse))
    middles = ((np.arange(shown) + 0.5) * len(worse) / shown).astype(int)
    chosen: list[int] = np.argsort(worse, kind="stable")[middles].tolist()
    return chosen


def _share(hits: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]) -> float:
    return float(np.count_nonzero(hits)) / len(hits)


def _whole(outcome: Outcome) -> float | None:
    """The share of makers (of those kept) who cut off no point."""
    points = [i for i, mark in enumerate(outcome.marks) if mark.kind == "point"]
    if not points:
        return None
    return _share(outcome.values[points].min(axis=0) >= -float(SHOWS))


def _crossings(outcome: Outcome) -> tuple[Crossing, ...]:
    return tuple(
        Crossing(
            x=_place(mark.at.real),
            y=_place(mark.at.imag),
            rms=math.sqrt(float(outcome.square[i])),
            p95=float(np.quantile(np.abs(outcome.values[i]), 0.95)),
            over=float(outcome.above[i] + outcome.below[i]),
        )
        for i, mark in enumerate(outcome.marks)
        if mark.kind == "crossing"
    )


def _points(outcome: Outcome) -> tuple[Tip, ...]:
    variance: Array = np.maximum(outcome.square - outcome.mean**2, 0.0)
    return tuple(
        Tip(
            x=_place(mark.at.real),
            y=_place(mark.at.imag),
            cut_off=float(outcome.below[i]),
            floating=float(outcome.above[i]),
            mean=float(outcome.mean[i]),
            sd=math.sqrt(float(variance[i])),
        )
        for i, mark in enumerate(outcome.marks)
        if mark.kind == "point"
    )


def _place(value: float) -> float:
    """A coordinate without the noise of turning."""
    return round(value, 4) + 0.0
