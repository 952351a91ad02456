"""The question of the cloth: from a block or a quilt to its cutting diagrams and amounts."""

from __future__ import annotations

import functools
import re
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from seamproof.answers.laying import ClothAnswer, cloth_answer, cutting_csv, shopping_csv
from seamproof.cloth.model import Fixed
from seamproof.errors import InputError, Place
from seamproof.length.notation import Measure, parse
from seamproof.pipeline.laying import ClothProgress, ClothWishes, ClothWork, lay_cloth
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork, ProjectProgress, Stop
from seamproof.pipeline.working import work_block, work_project
from seamproof.project import limits
from seamproof.project.cloth_fields import YARDAGE
from seamproof.project.cloth_pieces import cloth_piece
from seamproof.project.model import Project
from seamproof.project.reading import read_block, read_project
from seamproof.project.saving import make_folder, save_text

_FOR = re.compile(r" *([A-Za-z]{1,2}) *: *(.+)", re.DOTALL)


def lay(
    where: Path | str,
    *,
    copies: int | None = None,
    kits: int = 1,
    width: str | None = None,
    cut_from: Iterable[str] = (),
    shelf: Iterable[str] = (),
    simple: bool = False,
    output: Path | str | None = None,
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    laying: ClothProgress | None = None,
    stop: Stop | None = None,
) -> ClothAnswer:
    """How the cloth for a block file, or for all blocks of the quilt in a folder, is cut, and how
    much of it to buy.

    `copies` is how many of the block; of a whole quilt each as its file says. All of it is cut
    `kits` times over. `width` is the usable width of every fabric. `cut_from` and `shelf` name
    pieces of cloth as a quilt file does, and go before it; with ``b:`` in front they are of fabric
    b only. `simple` asks for few strip widths first.

    With `output` a cutting diagram for each lay, a cutting list and a shopping list are written to
    that folder. Raises InputError for what cannot be used, and SaveError if a file cannot be
    written.
    """
    memory, where = memory or Memory(), Path(where)
    project, name, works = _worked(where, copies, memory, progress, stop)
    measure = project.preferences.measure
    cut_from = tuple(cut_from)
    wishes = ClothWishes(
        width=None if width is None else _width(width, measure),
        fixed=tuple(_pieces(cut_from, measure)),
        shelf=tuple((f, replace(p, count=p.count or 1)) for f, p in _pieces(shelf, measure)),
        yardage=any(text.strip().lower() == YARDAGE for text in cut_from),
        kits=kits,
        simple=simple,
    )
    laid = lay_cloth(project, works, wishes, memory=memory, progress=laying, stop=stop)
    if output is None:
        return cloth_answer(laid, name)
    return _written(laid, name, Path(output))


def _worked(
    where: Path,
    copies: int | None,
    memory: Memory,
    progress: ProjectProgress | None,
    stop: Stop | None,
) -> tuple[Project, str, tuple[BlockWork, ...]]:
    if not where.is_dir():
        source = read_block(where)
        told = None if progress is None else functools.partial(progress, where, 1)
        work = work_block(source, copies=copies, memory=memory, progress=told, stop=stop)
        return source.project, source.drawing.name, (work,)
    if copies is not None:
        raise InputError(
            "copies are of one block",
            mend="write copies: into the block files, or ask for kits of the whole quilt",
            place=Place(str(where)),
        )
    project = read_project(where)
    if not project.blocks:
        raise InputError(
            "there is no block in this folder",
            mend="give a folder with a quilt, or a block file",
            place=Place(str(where)),
        )
    return (
        project,
        project.name,
        work_project(project, memory=memory, progress=progress, stop=stop).blocks,
    )


def _width(text: str, measure: Measure) -> Fraction:
    width = parse(text, unit=measure, signed=True)
    if width > limits.WIDEST_CLOTH:
        raise InputError(f"no cloth is wider than {limits.WIDEST_CLOTH} in", mend="check the width")
    return width


def _pieces(texts: Iterable[str], measure: Measure) -> Iterable[tuple[str, Fixed]]:
    """Pieces of cloth with the letter of the fabric they are of, "" for every fabric."""
    for text in texts:
        if text.strip().lower() == YARDAGE:
            continue
        found = _FOR.fullmatch(text)
        letter, piece = ("", text) if found is None else (found[1].lower(), found[2])
        yield letter, cloth_piece(piece, measure)


def _written(laid: ClothWork, name: str, folder: Path) -> ClothAnswer:
    """The answer, its pictures and lists in a folder."""
    make_folder(folder)
    pictures: dict[str, tuple[str, ...]] = {}
    for letter, title, drawn in cloth_answer(laid, name).diagrams():
        picture = folder / f"{title}.svg"
        save_text(picture, drawn)
        pictures[letter] = (*pictures.get(letter, ()), str(picture))
    cutting, shopping = folder / "cutting-list.csv", folder / "shopping-list.csv"
    save_text(cutting, cutting_csv(laid))
    save_text(shopping, shopping_csv(laid))
    return cloth_answer(
        laid, name, pictures=pictures, cutting_list=str(cutting), shopping_list=str(shopping)
    )
