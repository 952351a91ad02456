"""The questions: from a file to the answer about it. Terminal and Python ask them alike.

Each reads the file and works out only what its answer needs. Raised is
:class:`~seamproof.errors.InputError` for a file that cannot be used, and
:class:`~seamproof.errors.Stopped` if `stop` said so.
"""

from __future__ import annotations

import functools
from dataclasses import replace
from pathlib import Path

from seamproof.answers.asking_cloth import lay
from seamproof.answers.booklets import PatternAnswer
from seamproof.answers.comparing import CompareAnswer, compare_answer
from seamproof.answers.copying import CopiesAnswer
from seamproof.answers.cutting import CutAnswer, cut_answer
from seamproof.answers.diagnosing import DiagnoseAnswer
from seamproof.answers.drafting import DraftAnswer, draft_answer
from seamproof.answers.examining import doctor
from seamproof.answers.house import DoctorAnswer, NewAnswer, SchemaAnswer
from seamproof.answers.kits import KitsAnswer
from seamproof.answers.laying import ClothAnswer
from seamproof.answers.measuring import MeasureAnswer
from seamproof.answers.model import Answer, RefusalAnswer, noted
from seamproof.answers.offering import OfferAnswer, offer_answer
from seamproof.answers.pictures import save_picture
from seamproof.answers.piecing import PieceAnswer, piece_answer
from seamproof.answers.pressing import BulkAnswer, PressAnswer
from seamproof.answers.programme import ProgrammeAnswer
from seamproof.answers.proving import ProofAnswer, proof_answer
from seamproof.answers.rehearsing import RehearseAnswer
from seamproof.answers.serving import ServeAnswer
from seamproof.answers.setting import TopAnswer
from seamproof.answers.sheets import DemoAnswer, SheetAnswer, demo_answer
from seamproof.answers.versions import RedlineAnswer, ReleaseAnswer
from seamproof.booklet.model import Paper
from seamproof.errors import InputError, Place
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import Progress, ProjectProgress, Stop
from seamproof.pipeline.offering import offer
from seamproof.pipeline.sheets import make_sheet
from seamproof.pipeline.working import work_block, work_project
from seamproof.project.reading import no_blocks, read_block, read_project
from seamproof.project.saving import make_folder, save_bytes, save_new_text
from seamproof.project.schema import block_schema, quilt_schema
from seamproof.project.starting import copy_demo, demo_files, new_project
from seamproof.project.writing import drawing_of, write_block


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
    save_picture(picture, drawn)
    return replace(answer, picture=str(picture))


def piece(
    file: Path | str,
    *,
    picture: Path | str | None = None,
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> PieceAnswer:
    """In which order the block in a file is sewn, and from which units.

    If there is anything to sew, every step is drawn to `picture` as SVG. Raises SaveError if it
    cannot be.
    """
    source = read_block(file)
    answer = piece_answer(
        work_block(source, until="piecing", memory=memory, progress=progress, stop=stop)
    )
    drawn = answer.svg() if picture is not None else None
    if picture is None or drawn is None:
        return answer
    save_picture(picture, drawn)
    return replace(answer, picture=str(picture))


def more_seams(
    file: Path | str,
    *,
    output: Path | str | None = None,
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> OfferAnswer:
    """What one more seam would bring where a corner of the block in a file must be set in.

    The drawing with the seams that are offered is written to `output` as a block file, if there
    are any. Raises SaveError if it cannot be, or if a file is there already.
    """
    source = read_block(file)
    work = work_block(source, until="piecing", memory=memory, progress=progress, stop=stop)
    made = offer(work)
    answer = offer_answer(work, made)
    if output is None or made is None:
        return answer
    save_new_text(output, write_block(drawing_of(made.variant.block), work.measure))
    return replace(answer, written=str(output))


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


def compare(
    file: Path | str,
    *,
    copies: int | None = None,
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> CompareAnswer:
    """The ways to make the units for `copies` of the block in a file, side by side."""
    source = read_block(file)
    return compare_answer(
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
        raise no_blocks(project)
    return proof_answer(work_project(project, memory=memory, progress=progress, stop=stop).blocks)


def sheet(
    file: Path | str,
    *,
    output: Path | str | None = None,
    paper: Paper | None = None,
    copies: int | None = None,
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> SheetAnswer:
    """The printed sheet of the block in a file, as a PDF, written to `output` if that is given.

    A block that does not come out gets none: then `pdf` is None, nothing is written, and the
    findings say why. Raises SaveError if it cannot be written.
    """
    memory = memory or Memory()
    source = read_block(file)
    work = work_block(source, copies=copies, memory=memory, progress=progress, stop=stop)
    pdf = make_sheet(work, paper=paper, memory=memory, progress=progress, stop=stop)
    if output is not None and pdf is not None:
        save_bytes(output, pdf)
    return SheetAnswer(
        findings=noted(work.findings),
        name=work.drawing.name,
        paper=paper or source.project.preferences.sheet,
        file=None if output is None or pdf is None else str(output),
        pdf=pdf,
        work=work,
    )


def demo(
    folder: Path | str,
    *,
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    stop: Stop | None = None,
) -> DemoAnswer:
    """The demo quilt, copied into a folder and worked out, with one sheet a block in ``sheets``.

    What somebody changed in it since an earlier call is kept. Raises InputError if another quilt
    lies there, and SaveError if a file cannot be written.
    """
    memory, folder = memory or Memory(), Path(folder)
    there = [name for name in demo_files() if (folder / name).exists()]
    if there == [demo_files()[0]]:
        raise InputError(
            "there is another quilt in this folder",
            mend="give the demo a folder of its own",
            place=Place(str(folder)),
        )
    as_shipped = set(copy_demo(folder, keep=True))
    kept = [folder / name for name in demo_files() if folder / name not in as_shipped]
    project = read_project(folder)
    make_folder(folder / "sheets")
    works, sheets = [], []
    for path in project.blocks:
        told = None if progress is None else functools.partial(progress, path, len(project.blocks))
        work = work_block(read_block(path), memory=memory, progress=told, stop=stop)
        pdf = make_sheet(work, memory=memory, progress=told, stop=stop)
        output = folder / "sheets" / f"{path.stem}.pdf"
        if pdf is not None:
            save_bytes(output, pdf)
        works.append(work)
        sheets.append(None if pdf is None else output)
    return demo_answer(project.name, folder, kept, works, sheets)


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


__all__ = [
    "ANSWERS",
    "cut",
    "demo",
    "doctor",
    "lay",
    "more_seams",
    "new",
    "piece",
    "prove",
    "schema",
    "sheet",
    "understand",
]

ANSWERS: dict[str, type[Answer | RefusalAnswer]] = {
    kind.command: kind
    for kind in (
        NewAnswer,
        DraftAnswer,
        PieceAnswer,
        OfferAnswer,
        CutAnswer,
        CompareAnswer,
        PressAnswer,
        BulkAnswer,
        RehearseAnswer,
        MeasureAnswer,
        DiagnoseAnswer,
        CopiesAnswer,
        ProofAnswer,
        ClothAnswer,
        ProgrammeAnswer,
        KitsAnswer,
        ReleaseAnswer,
        RedlineAnswer,
        PatternAnswer,
        SheetAnswer,
        TopAnswer,
        DemoAnswer,
        SchemaAnswer,
        DoctorAnswer,
        ServeAnswer,
        RefusalAnswer,
    )
}
"""Every form of answer, by the command that gives it; ``error`` is what all of them may give."""
