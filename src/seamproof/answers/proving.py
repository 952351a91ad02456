"""Whether everything adds up: the answer of ``seamproof proof``."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Annotated, ClassVar

from seamproof.answers.model import HIDDEN, Answer, noted
from seamproof.pipeline.model import BlockWork


@dataclass(frozen=True, slots=True)
class ProvenLine:
    """One block: how many pieces are cut for all its copies, in how many steps it is made, and
    whether every size comes out. Null is what could not be worked out."""

    name: str
    file: str
    pieces: int | None
    steps: int | None
    proven: bool | None


@dataclass(frozen=True, kw_only=True)
class ProofAnswer(Answer):
    """Whether every block comes out; `proven` is true only if each of them does."""

    command: ClassVar[str] = "proof"

    proven: bool
    blocks: tuple[ProvenLine, ...]
    works: Annotated[tuple[BlockWork, ...], HIDDEN] = field(repr=False, compare=False)


def proof_answer(works: Sequence[BlockWork]) -> ProofAnswer:
    """What the proof has to say about some blocks."""
    lines = tuple(_line(work) for work in works)
    return ProofAnswer(
        findings=noted(finding for work in works for finding in work.findings),
        proven=all(line.proven for line in lines),
        blocks=lines,
        works=tuple(works),
    )


def _line(work: BlockWork) -> ProvenLine:
    cutting, errors = work.cutting, any(f.severity == "error" for f in work.findings)
    return ProvenLine(
        name=work.drawing.name,
        file=str(work.source.path),
        pieces=None if cutting is None else pieces_cut(work),
        steps=None if cutting is None else len(cutting.steps),
        proven=None if cutting is None else not errors,
    )


def pieces_cut(work: BlockWork) -> int:
    """Pieces cut for all copies of a block, before any of them is split."""
    return 0 if work.cutting is None else sum(piece.count for piece in work.cutting.pieces)
