"""Sewn test copies beside the forecast: the answer of ``seamproof measure DIR``."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, ClassVar

from seamproof.accuracy.copies import Beside, copy_sentence
from seamproof.accuracy.model import Maker
from seamproof.answers.model import HIDDEN, Answer, Note
from seamproof.length.notation import Measure


@dataclass(frozen=True, slots=True)
class CopyLine:
    """A sewn copy and its forecast. Widths in inches, raw edge to raw edge; null is not known."""

    block: str
    date: str
    pressed: str
    widths: tuple[float, ...]
    width: float | None
    planned: float
    off: float | None
    wide: float | None
    forecast: float | None
    forecast_p05: float | None
    forecast_p95: float | None
    minutes: int | None
    notes: str
    say: str


@dataclass(frozen=True, kw_only=True)
class CopiesAnswer(Answer):
    """The log of sewn test copies, each beside the forecast of its block for one maker."""

    command: ClassVar[str] = "copies"

    file: str
    maker: str
    assumed: bool
    copies: tuple[CopyLine, ...]
    measure: Annotated[Measure, HIDDEN] = field(default="in", repr=False, compare=False)
    lines: Annotated[tuple[str, ...], HIDDEN] = field(default=(), repr=False, compare=False)


def copy_line(one: Beside, measure: Measure) -> CopyLine:
    """One copy, as it is shown."""
    forecast = None if one.forecast is None else one.forecast.width
    return CopyLine(
        block=one.copy.block,
        date=one.copy.date,
        pressed=one.copy.pressed,
        widths=one.copy.widths,
        width=one.copy.width,
        planned=one.planned,
        off=one.off,
        wide=one.wide,
        forecast=None if forecast is None else forecast.mean,
        forecast_p05=None if forecast is None else forecast.p05,
        forecast_p95=None if forecast is None else forecast.p95,
        minutes=one.copy.minutes,
        notes=one.copy.notes,
        say=copy_sentence(one, measure),
    )


def copies_answer(
    file: str,
    maker: Maker,
    copies: tuple[Beside, ...],
    *,
    measure: Measure,
    findings: tuple[Note, ...],
    lines: tuple[str, ...] = (),
) -> CopiesAnswer:
    """The log as an answer."""
    return CopiesAnswer(
        findings=findings,
        file=file,
        maker=maker.name,
        assumed=maker.assumed,
        copies=tuple(copy_line(one, measure) for one in copies),
        measure=measure,
        lines=lines,
    )
