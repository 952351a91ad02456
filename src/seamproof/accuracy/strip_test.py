"""What a strip test says about a maker's seam.

Strips sewn side by side come out narrower than planned by what each seam takes up beyond its two
allowances: twice what the allowance is too wide, and the fold. Of `n` strips cut c_i wide, seamed
with a planned allowance s, the whole set measures

    W = sum(c_i) - (n - 1) (2 s + B) - 2 sum(u_j),     B = 2 b + fold

and the inner strips c_i - 2 s - B - (u before + u behind), with u_j the scatter from seam to seam
(standard tolerance stack; the covariance of the inner widths is that of a moving average).
B gets a wide normal prior and is integrated exactly; the scatter of seams and, if the cuts were not
measured, that of cuts run over a grid. Lengths are in inches.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from seamproof.accuracy.model import FOLD, THREAD

Pressed = Literal["side", "open"]

READING = 1 / 128
"""How far one reading of a ruler with sixteenths errs, as a standard deviation (assumption)."""

TAKES_UP, TAKES_UP_SPREAD = 0.031, 0.05
"""What a seam takes up beyond its allowances before anything is measured: the fold of a true
quarter, and half of all makers within 1/30 in of it (assumption)."""

SCATTER_SPREAD = 0.8
"""Standard deviation of the logarithm of a maker's scatter round one thread (assumption)."""

FOLD_SPREAD = FOLD / 2
"""How much the radius of the fold differs from cloth to cloth and iron to iron (assumption)."""

SURE = 0.9
"""The share of makers whose true value lies within the limits that are stated."""

MOST_STRIPS = 40
"""Strips of one set, and `MOST_SETS` sets: more are a slip of the keys."""
MOST_SETS = 20

Numbers = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class StripSet:
    """One set of strips that was sewn and measured. At least two strips.

    `cuts` are the widths of the strips in their order, `measured` whether they were measured one
    by one or are as planned. `side` are the overall widths, raw edge to raw edge, at several places
    along the set, pressed to one side; `open` the same pressed open. `inner` are the widths of the
    inner strips, seam to seam, in their order: none or all. They are measured pressed to one side,
    unless the set was measured pressed open only.
    """

    cuts: tuple[float, ...]
    measured: bool = False
    side: tuple[float, ...] = ()
    open: tuple[float, ...] = ()
    inner: tuple[float, ...] = ()

    @property
    def seams(self) -> int:
        """How many seams it has."""
        return len(self.cuts) - 1

    @property
    def pressed(self) -> Pressed:
        """How it lay when its seams are judged."""
        return "side" if self.side else "open"


@dataclass(frozen=True, slots=True)
class Known:
    """A number and how well it is known: 90 of 100 makers who measure the same lie between `low`
    and `high`. `sd` is its standard deviation."""

    value: float
    sd: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class SeamFit:
    """What measurements say about a seam.

    `takes_up` is what one seam, pressed to one side, takes up beyond its two allowances; `seam`
    what of that is the allowance being wider than planned, on each side. `scatter` is that of the
    allowance from seam to seam, None if nothing told it. `fold` is the radius of the fold, and
    `fold_measured` whether it was told by pressing both ways. `seams` were counted in all.
    """

    takes_up: Known
    seam: Known
    scatter: Known | None
    fold: Known
    fold_measured: bool
    seams: int


def fit_strips(sets: Sequence[StripSet], *, seam: float = 0.25) -> SeamFit:
    """What `sets` say about the seam of the maker who sewed them; `seam` is the planned allowance.

    Raises ValueError if there is no set, or one without an overall width, with fewer than two
    strips, or with another number of inner widths than of inner strips.

    >>> set_of_six = StripSet(cuts=(1.5,) * 6, side=(6.31, 6.3, 6.32), inner=(0.96,) * 4)
    >>> round(fit_strips([set_of_six]).takes_up.value, 2)
    0.04
    >>> fit_strips([])
    Traceback (most recent call last):
    ...
    ValueError: there is no strip test
    """
    if not sets:
        raise ValueError("there is no strip test")
    fold, fold_measured = fold_of(sets)
    observed = [_observed(some, seam, fold) for some in sets]
    scatters = THREAD * np.exp(SCATTER_SPREAD * np.linspace(-3, 3, 49))
    cuts = scatters[::2] if not all(some.measured for some in sets) else np.array([0.0])
    mean, sd, weight = _posterior(observed, scatters, cuts)
    takes_up = _mixture(mean, sd, weight)
    of_scatter = weight.sum(axis=1)
    told = any(some.inner for some in sets) or len(sets) > 2
    return SeamFit(
        takes_up=takes_up,
        seam=seam_of(takes_up, fold),
        scatter=_of_grid(scatters, of_scatter) if told else None,
        fold=fold,
        fold_measured=fold_measured,
        seams=sum(some.seams for some in sets),
    )


def seam_of(takes_up: Known, fold: Known) -> Known:
    """What of a seam's take-up, pressed to one side, is its allowance being too wide, a side.

    >>> exact = Known(0.0, 0.0, 0.0, 0.0)
    >>> seam_of(Known(1 / 8, 0, 1 / 8, 1 / 8), exact).value
    0.0625
    """
    value = (takes_up.value - math.pi * fold.value) / 2
    sd = math.hypot(takes_up.sd, math.pi * fold.sd) / 2
    return normal(value, sd)


def normal(value: float, sd: float) -> Known:
    """What is known by a mean and a standard deviation alone."""
    return Known(value, sd, value - NINETY * sd, value + NINETY * sd)


NINETY = 1.6448536
"""Half the width, in standard deviations, of the middle 90 of 100 of a normal spread."""


def fold_of(sets: Sequence[StripSet]) -> tuple[Known, bool]:
    """The radius of the fold, and whether it was measured.

    A seam pressed open takes up 2 r less than one pressed to a side. Each set that was measured
    both ways tells r = (open - side) / (2 seams); else the usual radius stands.

    >>> fold, measured = fold_of([StripSet((1.5, 1.5, 1.5), side=(3.44,), open=(3.5,))])
    >>> measured, round(fold.value, 3)
    (True, 0.014)
    """
    precision, weighted = 1 / FOLD_SPREAD**2, FOLD / FOLD_SPREAD**2
    both = [some for some in sets if some.side and some.open]
    for some in both:
        told = (float(np.mean(some.open)) - float(np.mean(some.side))) / (2 * some.seams)
        sd = READING * math.sqrt(1 / len(some.open) + 1 / len(some.side)) / (2 * some.seams)
        precision += 1 / sd**2
        weighted += told / sd**2
    return normal(max(weighted / precision, 0.0), precision**-0.5), bool(both)


@dataclass(frozen=True, slots=True)
class _Observed:
    """y = short of plan for no take-up, in units of B: y ~ N(x B, u² U + sc² C + R)."""

    y: Numbers
    x: Numbers
    of_scatter: Numbers
    of_cuts: Numbers
    of_reading: Numbers


def _observed(some: StripSet, seam: float, fold: Known) -> _Observed:
    n, seams = len(some.cuts), some.seams
    overall = some.side or some.open
    if n < 2 or not overall or len(some.inner) not in (0, n - 2):
        raise ValueError("a strip test needs two strips, an overall width, and all inner widths")
    # Rows: inner strips, then the whole. What is short of the cuts and the planned allowances.
    inner = len(some.inner)
    seam_map = np.zeros((inner + 1, seams))
    cut_map = np.zeros((inner + 1, n))
    for row in range(inner):
        seam_map[row, row : row + 2] = 1.0
        cut_map[row, row + 1] = 1.0
    seam_map[-1], cut_map[-1] = 2.0, 1.0
    x = np.array([1.0] * inner + [float(seams)])
    measured = np.array([*some.inner, float(np.mean(overall))])
    y = cut_map @ np.array(some.cuts) - 2 * seam * x - measured
    reading = np.diag([1.0] * inner + [1 / len(overall)])
    if some.pressed == "open":  # pressed to a side every seam would take up two radii more
        y = y + 2 * fold.value * x
        reading = reading + np.outer(x, x) * (2 * fold.sd / READING) ** 2
    cuts = cut_map @ cut_map.T
    if some.measured:
        reading, cuts = reading + cuts, cuts * 0
    return _Observed(y, x, seam_map @ seam_map.T, cuts, reading * READING**2)


def _posterior(
    observed: Sequence[_Observed], scatters: Numbers, cuts: Numbers
) -> tuple[Numbers, Numbers, Numbers]:
    """Mean and standard deviation of B for each scatter (rows) and cut (columns), and weights."""
    shape = (len(scatters), len(cuts))
    precision = np.full(shape, 1 / TAKES_UP_SPREAD**2)
    weighted = np.full(shape, TAKES_UP / TAKES_UP_SPREAD**2)
    square = np.full(shape, TAKES_UP**2 / TAKES_UP_SPREAD**2)
    log = _log_prior(scatters)[:, None] + np.zeros(shape)
    if len(cuts) > 1:
        log = log + _log_prior(cuts)[None, :]
    for some in observed:
        covariance = (
            scatters[:, None, None, None] ** 2 * some.of_scatter
            + cuts[None, :, None, None] ** 2 * some.of_cuts
            + some.of_reading
        )
        inverse = np.linalg.inv(covariance)
        log -= np.linalg.slogdet(covariance)[1] / 2
        precision = precision + np.einsum("i,abij,j->ab", some.x, inverse, some.x)
        weighted = weighted + np.einsum("i,abij,j->ab", some.x, inverse, some.y)
        square = square + np.einsum("i,abij,j->ab", some.y, inverse, some.y)
    log = log - np.log(precision) / 2 - (square - weighted**2 / precision) / 2
    weight = np.exp(log - log.max())
    return weighted / precision, precision**-0.5, weight / weight.sum()


def _log_prior(scatters: Numbers) -> Numbers:
    """Of a grid that is even in the logarithm."""
    return -((np.log(scatters / THREAD) / SCATTER_SPREAD) ** 2) / 2


def _mixture(mean: Numbers, sd: Numbers, weight: Numbers) -> Known:
    value = float((weight * mean).sum())
    spread = math.sqrt(float((weight * (sd**2 + (mean - value) ** 2)).sum()))
    at = np.linspace(value - 6 * spread, value + 6 * spread, 301)  # limits to 1/1000 of a spread
    heavy = weight > weight.max() * 1e-6
    z = (at[:, None] - mean[heavy]) / sd[heavy]
    density = (weight[heavy] / sd[heavy] * np.exp(-(z**2) / 2)).sum(axis=1)
    low, high = _limits(at, density)
    return Known(value, spread, low, high)


def _of_grid(at: Numbers, weight: Numbers) -> Known:
    value = float((weight * at).sum())
    sd = math.sqrt(float((weight * (at - value) ** 2).sum()))
    low, high = _limits(np.log(at), weight)
    return Known(value, sd, math.exp(low), math.exp(high))


def _limits(at: Numbers, density: Numbers) -> tuple[float, float]:
    """Where the middle `SURE` share of what an even grid holds begins and ends."""
    step = at[1] - at[0]
    share = np.cumsum(density) / density.sum()
    edge = at + step / 2
    low, high = np.interp([(1 - SURE) / 2, (1 + SURE) / 2], share, edge)
    return float(low), float(high)
