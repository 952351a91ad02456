"""A whole pattern in print: the answer of ``seamproof booklet`` for a folder."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, ClassVar

from seamproof.answers.model import HIDDEN, Answer, noted
from seamproof.booklet.model import Paper
from seamproof.pipeline.booklets import BookletWork


@dataclass(frozen=True, slots=True)
class BlockOfPattern:
    """One block of a pattern: how many are made of it."""

    name: str
    copies: int


@dataclass(frozen=True, kw_only=True)
class PatternAnswer(Answer):
    """A pattern: its blocks, and the files that were written; none if something does not come
    out."""

    command: ClassVar[str] = "pattern"

    name: str
    papers: tuple[Paper, ...]
    blocks: tuple[BlockOfPattern, ...]
    files: tuple[str, ...]
    work: Annotated[BookletWork, HIDDEN] = field(repr=False, compare=False)


def pattern_answer(
    work: BookletWork, papers: tuple[Paper, ...], files: tuple[str, ...]
) -> PatternAnswer:
    """What there is to say about a pattern that was written, or was not."""
    return PatternAnswer(
        findings=noted(work.findings),
        name=work.project.name,
        papers=papers,
        blocks=tuple(BlockOfPattern(one.drawing.name, one.copies) for one in work.blocks),
        files=files,
        work=work,
    )
