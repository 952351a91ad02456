"""How large each error is in a maker's hands, and the arithmetic of means and spreads."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from seamproof.accuracy.lines import Array
from seamproof.accuracy.model import Maker, Source, Spread
from seamproof.accuracy.sewing import COMMON, CUT, FOLD, PLAN, SEAM

FIELDS: dict[Source, str] = {
    "cut": "cut",
    "tilt": "tilt",
    "seam scatter": "scatter",
    "drift": "drift",
    "edges not flush": "flush",
    "pins": "pin",
    "marking": "mark",
    "ruler": "ruler",
    "trimming": "trim",
    "stretch": "stretch_scatter",
    "shrink": "stretch_scatter",
}
"""Where in a maker profile the standard deviation of each error stands."""


def deviations(maker: Maker, errors: Sequence[Source]) -> Array:
    """The standard deviation of each error. What shrinks goes against what stretches."""
    sizes = {source: float(getattr(maker, field)) for source, field in FIELDS.items()}
    sizes["shrink"] = -sizes["shrink"]
    return np.array([sizes[error] for error in errors])


def means(maker: Maker, errors: Sequence[Source]) -> Array:
    """The mean of each error: 0 but for the stretch of bias seams."""
    shrunk = 1 / (1 + maker.stretch) - 1
    sizes = {"stretch": maker.stretch, "shrink": shrunk}
    return np.array([sizes.get(error, 0.0) for error in errors])


def common(maker: Maker) -> Array:
    """What the common columns are multiplied with, on average over such makers."""
    row = np.zeros(COMMON)
    row[[PLAN, FOLD, SEAM, CUT]] = 1.0, maker.fold, maker.seam, maker.cut_bias
    return row


def spread(values: Array) -> Spread:
    """Mean, standard deviation and the 5th and 95th of a hundred of what was drawn.

    >>> spread(np.array([1.0, 3.0])).mean
    2.0
    """
    low, high = np.quantile(values, (0.05, 0.95))
    return Spread(float(values.mean()), float(values.std()), float(low), float(high))


def normal_spread(mean: float, sd: float) -> Spread:
    """The same of a normal distribution.

    >>> round(normal_spread(0.0, 1.0).p95, 3)
    1.645
    """
    return Spread(mean, sd, mean - _Z95 * sd, mean + _Z95 * sd)


_Z95 = 1.6448536269514722


def folded_spread(sd: float) -> Spread:
    """The same of the size, regardless of sign, of a normal value with mean 0."""
    mean = sd * math.sqrt(2 / math.pi)
    return Spread(mean, math.sqrt(max(sd * sd - mean * mean, 0.0)), 0.0627 * sd, 1.95996 * sd)


def both_within(mean: Array, covariance: Array, tolerance: float) -> float:
    """The chance that both of two jointly normal values lie within `tolerance` of 0.

    >>> round(both_within(np.zeros(2), np.eye(2), 1.0), 4)  # 0.6827 squared
    0.4661
    >>> both_within(np.zeros(2), np.zeros((2, 2)), 0.1)
    1.0
    """
    first = math.sqrt(max(covariance[0, 0], 0.0))
    if first < _NONE:
        inside = abs(mean[0]) <= tolerance
        return _within(mean[1], math.sqrt(max(covariance[1, 1], 0.0)), tolerance) if inside else 0.0
    slope = covariance[0, 1] / covariance[0, 0]
    rest = math.sqrt(max(covariance[1, 1] - slope * covariance[0, 1], 0.0))
    low = max(-tolerance, mean[0] - _FAR * first)
    high = min(tolerance, mean[0] + _FAR * first)
    if low >= high:
        return 0.0
    nodes, weights = _NODES
    places = (high + low) / 2 + (high - low) / 2 * nodes
    density = np.exp(-0.5 * ((places - mean[0]) / first) ** 2) / (first * math.sqrt(2 * math.pi))
    given = [_within(mean[1] + slope * (x - mean[0]), rest, tolerance) for x in places]
    return float((high - low) / 2 * np.sum(weights * density * np.array(given)))


_NONE = 1e-12
_FAR = 8.0
_NODES = np.polynomial.legendre.leggauss(96)


def _within(mean: float, sd: float, tolerance: float) -> float:
    """The chance that one normal value lies within `tolerance` of 0."""
    if sd < _NONE:
        return float(abs(mean) <= tolerance)
    scale = sd * math.sqrt(2)
    return 0.5 * (math.erf((tolerance - mean) / scale) - math.erf((-tolerance - mean) / scale))
