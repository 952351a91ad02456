"""Sewn test copies set beside the forecast of their block. Lengths are in inches."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from seamproof.accuracy.checks import COPY_OF_ANOTHER_SIZE, COPY_UNLIKE_FORECAST
from seamproof.accuracy.model import Forecast
from seamproof.accuracy.seam_words import thin
from seamproof.findings import Finding, Where
from seamproof.length.notation import Measure, number, with_unit

UNLIKE = 0.98
"""A copy further out than this share of the forecast is told of: one in fifty is by chance."""

FAR = 1.0
"""A copy that differs by more than this, in inches, from its planned size is another block."""


@dataclass(frozen=True, slots=True)
class SewnCopy:
    """A test copy of a block. `pressed` is the variant in the maker's words, `widths` what it
    measured from raw edge to raw edge at up to three places, `where` its row in the log."""

    block: str
    pressed: str
    widths: tuple[float, ...]
    minutes: int | None
    notes: str
    date: str
    where: Where

    @property
    def width(self) -> float | None:
        """What it measures on average; None if it was not measured."""
        return sum(self.widths) / len(self.widths) if self.widths else None


@dataclass(frozen=True, slots=True)
class Beside:
    """A copy beside the forecast. `off` is its width less the planned one, `wide` by how much its
    three places differ; `further` is the share of the forecast that lies nearer to its own middle
    than this copy does. None is not known."""

    copy: SewnCopy
    planned: float
    off: float | None
    wide: float | None
    forecast: Forecast | None
    further: float | None


def beside(copy: SewnCopy, planned: float, forecast: Forecast | None) -> Beside:
    """A copy of a block that is planned to measure `planned`, beside its forecast."""
    width = copy.width
    if width is None:
        return Beside(copy, planned, None, None, forecast, None)
    further = None
    if forecast is not None and forecast.width.sd > 0:
        z = abs(width - forecast.width.mean) / forecast.width.sd
        further = math.erf(z / math.sqrt(2))
    spread = max(copy.widths) - min(copy.widths) if len(copy.widths) > 1 else None
    return Beside(copy, planned, width - planned, spread, forecast, further)


def copy_sentence(one: Beside, measure: Measure = "in") -> str:
    """How a copy came out, and whether that was to be expected."""
    if one.off is None:
        return "It was not measured."
    if abs(one.off) < 1 / 64:
        said = "It came out as planned"
    else:
        said = f"It is {thin(one.off, measure)} too {'narrow' if one.off < 0 else 'wide'}"
    if one.forecast is None or one.further is None:
        return f"{said}."
    width = one.forecast.width
    low, high = (number(_hundredth(v), measure) for v in (width.p05, width.p95))
    unit = "in" if measure == "in" else "cm"
    if one.further < 0.9:
        return f"{said}, as forecast: 90 of 100 lie between {low} and {high} {unit}."
    side = "narrower" if (one.copy.width or 0) < width.mean else "wider"
    return f"{said}, {side} than forecast: 90 of 100 lie between {low} and {high} {unit}."


def _hundredth(value: float) -> Fraction:
    return Fraction(round(value * 100), 100)


def copy_findings(copies: Iterable[Beside], measure: Measure = "in") -> tuple[Finding, ...]:
    """What there is to say about copies beside their forecast."""
    found = []
    for one in copies:
        if one.off is None:
            continue
        if abs(one.off) > FAR:
            planned = with_unit(_hundredth(one.planned), measure)
            found.append(
                COPY_OF_ANOTHER_SIZE.found(
                    f"{one.copy.block} is planned {planned} from raw edge to raw edge, and this "
                    f"copy differs by {thin(one.off, measure)}",
                    mend="measure it before it is joined to anything, and check the block's name",
                    where=one.copy.where,
                )
            )
        elif one.further is not None and one.further > UNLIKE:
            found.append(
                COPY_UNLIKE_FORECAST.found(
                    f"this copy lies outside of {round(100 * UNLIKE)} of 100 of the forecast",
                    mend="sew a strip test, so that the forecast is yours; then look for the "
                    "fault with seamproof measure FILE --got",
                    where=one.copy.where,
                )
            )
    return tuple(found)
