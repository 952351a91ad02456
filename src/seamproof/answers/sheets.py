"""Printed sheets: the answers of ``seamproof booklet`` and ``seamproof demo``."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Annotated, ClassVar

from seamproof.answers.model import HIDDEN, Answer, noted
from seamproof.answers.piecing import piece_answer
from seamproof.answers.proving import pieces_cut
from seamproof.booklet.model import Paper
from seamproof.pipeline.model import BlockWork


@dataclass(frozen=True, kw_only=True)
class SheetAnswer(Answer):
    """A printed sheet: the file it was written to, null if it was not. A block that does not come
    out gets no sheet: `pdf` is None."""

    command: ClassVar[str] = "booklet"

    name: str
    paper: Paper
    file: str | None
    pdf: Annotated[bytes | None, HIDDEN] = field(repr=False, compare=False)
    work: Annotated[BlockWork, HIDDEN] = field(repr=False, compare=False)


@dataclass(frozen=True, slots=True)
class DemoLine:
    """One block of the demo quilt. `width` and `height` are finished, in inches; `set_in` counts
    corners to set in, `steps` those at the machine, `pieces` what is cut, `notes` the findings."""

    name: str
    file: str
    width: float
    height: float
    patches: int | None
    seams: int | None
    set_in: int | None
    steps: int | None
    pieces: int | None
    notes: int
    sheet: str | None


@dataclass(frozen=True, kw_only=True)
class DemoAnswer(Answer):
    """The demo quilt: where it lies, which of its files somebody changed and were kept, and its
    blocks."""

    command: ClassVar[str] = "demo"

    quilt: str
    folder: str
    kept: tuple[str, ...]
    blocks: tuple[DemoLine, ...]
    works: Annotated[tuple[BlockWork, ...], HIDDEN] = field(repr=False, compare=False)


def demo_answer(
    quilt: str,
    folder: Path,
    kept: Sequence[Path],
    works: Sequence[BlockWork],
    sheets: Sequence[Path | None],
) -> DemoAnswer:
    """What there is to say about the demo: `sheets` are the files written, one a block."""
    return DemoAnswer(
        findings=noted(finding for work in works for finding in work.findings),
        quilt=quilt,
        folder=str(folder),
        kept=tuple(map(str, kept)),
        blocks=tuple(_line(work, sheet) for work, sheet in zip(works, sheets, strict=True)),
        works=tuple(works),
    )


def _line(work: BlockWork, sheet: Path | None) -> DemoLine:
    pieced = piece_answer(work)
    return DemoLine(
        name=work.drawing.name,
        file=str(work.source.path),
        width=float(work.drawing.finished[0]),
        height=float(work.drawing.finished[1]),
        patches=pieced.patches,
        seams=pieced.joins,
        set_in=pieced.set_in_points,
        steps=pieced.sessions,
        pieces=None if work.cutting is None else pieces_cut(work),
        notes=len(work.findings),
        sheet=None if sheet is None else str(sheet),
    )
