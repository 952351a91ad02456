"""What is cut for a block: the answer of ``seamproof cut``."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, ClassVar

from seamproof.answers.model import HIDDEN, Answer, noted
from seamproof.answers.shapes import size_text
from seamproof.cutting.model import Hand, Piece
from seamproof.length.notation import Measure, number
from seamproof.pipeline.model import BlockWork


@dataclass(frozen=True, slots=True)
class PieceLine:
    """One line of the cutting list: `count` alike pieces, for all copies of the block.

    `letter` marks the pieces, `fabric` is the letter of their cloth as the files write it.
    `cut_width` and `cut_height` are as read on the project's ruler, the same with ``_in`` in
    inches; `need_in` is the width that the geometry asks for. `trim_to` is the size to which the
    unit is trimmed once it is sewn; `trim_to_in` the same in inches, as one number if it is
    square, else as [width, height]; both are null if nothing is trimmed.
    """

    letter: str
    fabric: str
    shape: str
    cut_width: str
    cut_width_in: float
    cut_height: str
    cut_height_in: float
    need_in: float
    count: int
    method: str
    unit: str
    hand: Hand
    trim_to: str | None
    trim_to_in: float | tuple[float, float] | None


@dataclass(frozen=True, kw_only=True)
class CutAnswer(Answer):
    """What is cut for all copies of a block."""

    command: ClassVar[str] = "cut"

    pieces: tuple[PieceLine, ...] | None
    work: Annotated[BlockWork, HIDDEN] = field(repr=False, compare=False)


def cut_answer(work: BlockWork) -> CutAnswer:
    """What there is to say about the cutting of a block."""
    cutting = work.cutting
    return CutAnswer(
        findings=noted(work.findings),
        pieces=None
        if cutting is None
        else tuple(_line(piece, work.measure) for piece in cutting.pieces),
        work=work,
    )


def _line(piece: Piece, measure: Measure) -> PieceLine:
    trim = piece.trim
    return PieceLine(
        letter=piece.letter,
        fabric=piece.fabric,
        shape=piece.shape,
        cut_width=number(piece.width.ruler, measure),
        cut_width_in=float(piece.width.ruler),
        cut_height=number(piece.height.ruler, measure),
        cut_height_in=float(piece.height.ruler),
        need_in=piece.width.need,
        count=piece.count,
        method=piece.method,
        unit=piece.unit,
        hand=piece.hand,
        trim_to=None if trim is None else size_text(*trim, measure),
        trim_to_in=None
        if trim is None
        else float(trim[0])
        if trim[0] == trim[1]
        else (float(trim[0]), float(trim[1])),
    )
