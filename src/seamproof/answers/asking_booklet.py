"""The question for a booklet: from a project's folder to the files of its pattern."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from seamproof.answers.booklets import PatternAnswer, pattern_answer
from seamproof.answers.pictures import save_picture
from seamproof.answers.spreadsheets import csv_text
from seamproof.booklet.matter import Matter
from seamproof.booklet.model import Edition, Paper
from seamproof.errors import InputError, Place
from seamproof.pipeline.booklets import (
    check_pattern,
    page_of_pattern,
    pictures_of_pattern,
    print_lesson,
    print_pattern,
    tables_of_pattern,
    work_booklet,
)
from seamproof.pipeline.laying import ClothProgress
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import ProjectProgress, Stop
from seamproof.project.quilt_file import slug
from seamproof.project.reading import no_blocks, read_project
from seamproof.project.saving import make_folder, save_bytes, save_text

PAPERS: tuple[Paper, ...] = ("letter", "a4")


def booklet(
    folder: Path | str,
    output: Path | str,
    *,
    paper: Paper | None = None,
    block: str | None = None,
    large: bool = False,
    left: bool = False,
    line_art: bool = False,
    metric: bool = False,
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    laying: ClothProgress | None = None,
    stop: Stop | None = None,
) -> PatternAnswer:
    """The pattern of the quilt in a folder, written into the folder `output`: as PDF on both
    papers, or on `paper`, as one HTML page, and its tables as CSV, its
    pictures as SVG, a lesson sheet for each block; of one `block` alone if that is
    named; drafted anew in centimetres if it shall be `metric`.

    A quilt of which something does not come out gets none: no file is written, and the findings
    say why. Raises InputError if the folder has no block, or none of that name, and SaveError if
    a file cannot be written.
    """
    memory = memory or Memory()
    project = read_project(folder)
    if not project.blocks:
        raise no_blocks(project)
    work = work_booklet(
        project,
        metric=metric,
        lessons=True,
        memory=memory,
        progress=progress,
        laying=laying,
        stop=stop,
    )
    papers = PAPERS if paper is None else (paper,)
    if work.matter is None:
        return pattern_answer(work, papers, ())
    only = None if block is None else _named(work.matter, block, folder)
    first = Edition(papers[0], large, left, line_art)
    found = check_pattern(work.matter, first, only=only, memory=memory)
    if found:
        return pattern_answer(replace(work, findings=(*work.findings, *found)), papers, ())
    output = Path(output)
    make_folder(output)
    stem = _stem(
        work.matter.name if only is None else only,
        (("metric", metric), ("large-print", large), ("left-handed", left), ("line-art", line_art)),
    )
    files = []
    for sheet in papers:
        edition = Edition(sheet, large, left, line_art)
        pdf = print_pattern(work.matter, edition, only=only, memory=memory, stop=stop)
        path = output / f"{stem}-{sheet}.pdf"
        save_bytes(path, pdf)
        files.append(str(path))
    page = page_of_pattern(work.matter, first, only=only, memory=memory, stop=stop)
    save_text(output / f"{stem}.html", page)
    files.append(str(output / f"{stem}.html"))
    make_folder(output / "tables")
    for name, rows in tables_of_pattern(work.matter, first, only=only, memory=memory).items():
        save_text(output / "tables" / f"{name}.csv", csv_text(rows))
    files.append(str(output / "tables"))
    make_folder(output / "pictures")
    drawn = pictures_of_pattern(work.matter, first, only=only, memory=memory)
    for name, text in drawn.items():
        save_text(output / "pictures" / f"{name}.svg", text)
    if "top" in drawn:
        save_picture(output / "pictures" / "top.png", drawn["top"])
    files.append(str(output / "pictures"))
    make_folder(output / "lessons")
    for one in work.blocks:
        if only is None or one.drawing.name == only:
            pdf, film = print_lesson(work.matter, one, first, memory=memory, stop=stop)
            name = slug(one.drawing.name)
            save_bytes(output / "lessons" / f"{name}.pdf", pdf)
            save_text(output / "lessons" / f"{name}.vtt", film)
    files.append(str(output / "lessons"))
    return pattern_answer(work, papers, tuple(files))


def _named(matter: Matter, name: str, folder: Path | str) -> str:
    """The block of that name, however it is spelt in a file name."""
    for one in matter.blocks:
        if name in (one.name, one.slug) or slug(name) == one.slug:
            return one.name
    there = ", ".join(one.name for one in matter.blocks)
    raise InputError(
        f"there is no block {name} in this quilt",
        mend=f"there are {there}",
        place=Place(str(folder)),
    )


def _stem(name: str, editions: Sequence[tuple[str, bool]]) -> str:
    """The name of the files, without paper and ending."""
    return "-".join([slug(name), *(word for word, asked in editions if asked)])
