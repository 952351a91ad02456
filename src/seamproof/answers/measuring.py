"""What a maker's measurements say: the answer of ``seamproof measure``."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Literal

from seamproof.accuracy.model import Maker
from seamproof.accuracy.seam_words import next_sentences, seam_sentences
from seamproof.accuracy.spare_cloth import NextUnits, SewnUnits
from seamproof.accuracy.strip_test import Known, SeamFit
from seamproof.answers.model import Answer, Note
from seamproof.length.notation import Measure, number

Measured = Literal["strips", "units", "blocks"]


@dataclass(frozen=True, slots=True)
class KnownLine:
    """A number, in inches, and how well it is known: for 90 of 100 makers who measure the same it
    lies between `low` and `high`."""

    value: float
    sd: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class NextLine:
    """What to cut for `more` further units, so that 95 of 100 makers can square up all of them."""

    more: int
    oversize: float
    cut: str
    cut_in: float
    goose_cut: str | None
    goose_cut_in: float | None
    marks: str
    short: int


@dataclass(frozen=True, slots=True)
class ProfileLine:
    """The profile that was made: see the reference page of files."""

    name: str
    like: str
    seam: float
    between: float
    scatter: float
    cut: float
    cut_bias: float
    fold: float


@dataclass(frozen=True, kw_only=True)
class MeasureAnswer(Answer):
    """What was found, in numbers and in sentences, and the file of the profile."""

    command: ClassVar[str] = "measure"

    measured: Measured
    seams: int | None
    takes_up: KnownLine | None
    seam: KnownLine | None
    scatter: KnownLine | None
    fold: KnownLine | None
    fold_measured: bool
    next: NextLine | None
    says: tuple[str, ...]
    profile: ProfileLine | None
    written: str | None = None


def measure_answer(
    measured: Measured,
    fit: SeamFit | None,
    *,
    units: tuple[SewnUnits, NextUnits] | None = None,
    maker: Maker | None = None,
    like: str = "",
    written: str | None = None,
    measure: Measure = "in",
    findings: tuple[Note, ...] = (),
) -> MeasureAnswer:
    """What a fit and the next units say."""
    says = () if fit is None else seam_sentences(fit, measure)
    if units is not None:
        says = (*next_sentences(*units, measure), *says)
    return MeasureAnswer(
        findings=findings,
        measured=measured,
        seams=None if fit is None else fit.seams,
        takes_up=None if fit is None else _known(fit.takes_up),
        seam=None if fit is None else _known(fit.seam),
        scatter=None if fit is None or fit.scatter is None else _known(fit.scatter),
        fold=None if fit is None else _known(fit.fold),
        fold_measured=fit is not None and fit.fold_measured,
        next=None if units is None else _next(units[1], measure),
        says=says,
        profile=None if maker is None else _profile(maker, like),
        written=written,
    )


def _known(known: Known) -> KnownLine:
    return KnownLine(known.value, known.sd, known.low, known.high)


def _next(asked: NextUnits, measure: Measure) -> NextLine:
    goose = asked.goose_cut
    return NextLine(
        more=asked.more,
        oversize=asked.oversize,
        cut=number(asked.cut, measure),
        cut_in=float(asked.cut),
        goose_cut=None if goose is None else number(goose, measure),
        goose_cut_in=None if goose is None else float(goose),
        marks=number(asked.marks, measure),
        short=asked.short,
    )


def _profile(maker: Maker, like: str) -> ProfileLine:
    return ProfileLine(
        maker.name,
        like,
        maker.seam,
        maker.between,
        maker.scatter,
        maker.cut,
        maker.cut_bias,
        maker.fold,
    )
