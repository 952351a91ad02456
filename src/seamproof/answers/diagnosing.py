"""Why a block came out wrong: the answer of ``seamproof measure FILE --got``."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, ClassVar

from seamproof.accuracy.diagnosis import CauseName, Reckoned
from seamproof.accuracy.student_help import Help
from seamproof.answers.model import HIDDEN, Answer, noted
from seamproof.pipeline.model import BlockWork


@dataclass(frozen=True, slots=True)
class CauseLine:
    """A likely cause: what of the difference most likely comes of it, its reason, and the test
    that tells it from the next one."""

    cause: CauseName
    unit: str | None
    brings: float
    share: float
    say: str
    why: str
    test: str


@dataclass(frozen=True, kw_only=True)
class DiagnoseAnswer(Answer):
    """How far a block is off, the likely causes, how to save it, and what not to do; null if the
    block could not be worked out."""

    command: ClassVar[str] = "diagnose"

    name: str
    off_width: float | None
    off_height: float | None
    seams_across: float | None
    each: float | None
    says: str | None
    first: str | None
    causes: tuple[CauseLine, ...] | None
    save: tuple[str, ...] | None
    never: tuple[str, ...] | None
    work: Annotated[BlockWork, HIDDEN] = field(repr=False, compare=False)


def diagnose_answer(work: BlockWork, told: tuple[Reckoned, Help] | None) -> DiagnoseAnswer:
    """What was reckoned of a worked-out block, and how it is told."""
    reckoned, help_ = told if told is not None else (None, None)
    return DiagnoseAnswer(
        findings=noted(work.findings),
        name=work.drawing.name,
        off_width=None if reckoned is None else reckoned.off[0],
        off_height=None if reckoned is None else reckoned.off[1],
        seams_across=None if reckoned is None else reckoned.lies.seams,
        each=None if reckoned is None else reckoned.each,
        says=None if help_ is None else help_.says,
        first=None if help_ is None else help_.first or None,
        causes=None
        if reckoned is None or help_ is None
        else tuple(
            CauseLine(
                one.name, cause.what or None, cause.brings, cause.share, one.say, one.why, one.test
            )
            for cause, one in zip(reckoned.causes, help_.causes, strict=True)
        ),
        save=None if help_ is None else help_.save,
        never=None if help_ is None else help_.never,
        work=work,
    )
