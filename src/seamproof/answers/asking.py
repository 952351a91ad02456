"""The questions: from a file to the answer about it. Terminal and Python ask them alike.

Each reads the file and works out only what its answer needs. Raised is
:class:`~seamproof.errors.InputError` for a file that cannot be used, and
:class:`~seamproof.errors.Stopped` if `stop` said so.
"""

from __future__ import annotations

import functools
from dataclasses import replace
from pathlib import Path

from seamproof.answers.cutting import CutAnswer, cut_answer
from seamproof.answers.drafting import DraftAnswer, draft_answer
from seamproof.answers.examining import doctor
from seamproof.answers.house import DoctorAnswer, NewAnswer, SchemaAnswer
from seamproof.answers.model import Answer, RefusalAnswer
from seamproof.answers.piecing import PieceAnswer, piece_answer
from seamproof.answers.proving import ProofAnswer, proof_answer
from seamproof.errors import InputError, Place
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import Progress, ProjectProgress, Stop
from seamproof.pipeline.working import work_block, work_project
from seamproof.project.reading import read_block, read_project
from seamproof.project.saving import save_text
from seamproof.project.schema import block_schema, quilt_schema
from seamproof.project.starting import new_project


def understand(
    file: Path | str, *, picture: Path | str | None = None, stop: Stop | None = None
) -> DraftAnswer:
    """What was understood of a block file: its patches and fabrics, with sizes.

    If it was understood, its picture is written to `picture` as SVG. Raises SaveError if it cannot
    be.
    """
    answer = draft_answer(work_block(read_block(file), until="draft", stop=stop))
    drawn = answer.svg() if picture is not None else None
    if picture is None or drawn is None:
        return answer
    save_text(picture, drawn)
    return replace(answer, picture=str(picture))


def piece(
    file: Path | str,
    *,
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> PieceAnswer:
    """In which order the block in a file is sewn, and from which units."""
    source = read_block(file)
    return piece_answer(
        work_block(source, until="piecing", memory=memory, progress=progress, stop=stop)
    )


def cut(
    file: Path | str,
    *,
    copies: int | None = None,
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> CutAnswer:
    """What is cut for `copies` of the block in a file (as many as the file says, if None), proved
    to come out."""
    source = read_block(file)
    return cut_answer(
        work_block(source, copies=copies, memory=memory, progress=progress, stop=stop)
    )


def prove(
    file_or_folder: Path | str,
    *,
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    stop: Stop | None = None,
) -> ProofAnswer:
    """Whether every size comes out, for the block in a file or for all blocks of a project."""
    path = Path(file_or_folder)
    if not path.is_dir():
        told = None if progress is None else functools.partial(progress, path, 1)
        return proof_answer([work_block(read_block(path), memory=memory, progress=told, stop=stop)])
    project = read_project(path)
    if not project.blocks:
        raise InputError(
            "there is no block in this folder",
            mend="name a folder with block files, or make one with seamproof new",
            place=Place(str(path)),
        )
    return proof_answer(work_project(project, memory=memory, progress=progress, stop=stop).blocks)


def new(folder: Path | str) -> NewAnswer:
    """Begin a quilt in a folder: a quilt file and one block. Raises SaveError if it cannot be
    written, or would write over a file."""
    files = new_project(folder)
    return NewAnswer(folder=str(folder), files=tuple(map(str, files)))


def schema(of: str = "block", *, answer: str | None = None) -> SchemaAnswer:
    """The JSON Schema of ``block`` files, of the ``quilt`` file, or of the answer of a command."""
    if answer is not None:
        if answer not in ANSWERS:
            raise InputError(
                f"there is no answer called {answer}", mend=f"there are {', '.join(ANSWERS)}"
            )
        return SchemaAnswer(name=answer, schema=ANSWERS[answer].json_schema())
    files = {"block": block_schema, "quilt": quilt_schema}
    if of not in files:
        raise InputError(f"there is no file called {of} here", mend="there are block and quilt")
    return SchemaAnswer(name=of, schema=files[of]())


__all__ = ["ANSWERS", "cut", "doctor", "new", "piece", "prove", "schema", "understand"]

ANSWERS: dict[str, type[Answer | RefusalAnswer]] = {
    kind.command: kind
    for kind in (
        NewAnswer,
        DraftAnswer,
        PieceAnswer,
        CutAnswer,
        ProofAnswer,
        SchemaAnswer,
        DoctorAnswer,
        RefusalAnswer,
    )
}
"""Every form of answer, by the command that gives it; ``error`` is what all of them may give."""
