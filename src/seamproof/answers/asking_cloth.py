"""The question of the cloth: from a block or a quilt to its cutting diagrams and amounts."""

from __future__ import annotations

import functools
import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from seamproof.answers.cloth_lists import cutting_csv, order_csv, shopping_csv
from seamproof.answers.laying import ClothAnswer, cloth_answer
from seamproof.cloth.model import Fixed
from seamproof.errors import InputError, Place
from seamproof.findings import Finding
from seamproof.length.notation import Measure, parse
from seamproof.pipeline.cloth_there import ClothWishes
from seamproof.pipeline.laying import ClothProgress, ClothWork, lay_cloth
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork, ProjectProgress, Stop
from seamproof.pipeline.setting import TopWork, work_top
from seamproof.pipeline.working import work_block, work_project
from seamproof.project import limits
from seamproof.project.cloth_fields import YARDAGE
from seamproof.project.cloth_pieces import cloth_piece
from seamproof.project.model import Project
from seamproof.project.reading import no_blocks, read_block, read_project
from seamproof.project.saving import make_folder, save_text
from seamproof.setting.model import Top

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
    third_cut: bool = False,
    output: Path | str | None = None,
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    laying: ClothProgress | None = None,
    stop: Stop | None = None,
) -> ClothAnswer:
    """How the cloth for a block file, or for the quilt in a folder, is cut, and how much of it to
    buy.

    `copies` is how many of the block. Of a quilt with a setting each block is cut as often as it
    lies in the top, with sashing, borders, binding and backing; without one as its file says. All
    of it is cut `kits` times over. `width` is the usable width of every fabric. `cut_from` and
    `shelf` name pieces of cloth as a quilt file does, and go before it; with ``b:`` in front they
    are of fabric b only. `simple` asks for few strip widths first. With `third_cut` pieces
    may lie above one another between two cross-cuts.

    With `output` a cutting diagram for each lay, a cutting list and a shopping list are written to
    that folder. Raises InputError for what cannot be used, and SaveError if a file cannot be
    written.
    """
    memory, where = memory or Memory(), Path(where)
    asked = _asked(where, copies, memory, progress, stop)
    project, name = asked.project, asked.name
    measure = project.preferences.measure
    cut_from = tuple(cut_from)
    wishes = ClothWishes(
        width=None if width is None else _width(width, measure),
        fixed=tuple(_pieces(cut_from, measure)),
        shelf=tuple((f, replace(p, count=p.count or 1)) for f, p in _pieces(shelf, measure)),
        yardage=any(text.strip().lower() == YARDAGE for text in cut_from),
        kits=kits,
        simple=simple,
        third_cut=third_cut,
    )
    _known(wishes, asked)
    laid = lay_cloth(
        project, asked.works, wishes, top=asked.top, memory=memory, progress=laying, stop=stop
    )
    laid = replace(laid, findings=(*asked.findings, *laid.findings))
    if output is None:
        return cloth_answer(laid, name)
    return _written(laid, name, Path(output))


@dataclass(frozen=True, slots=True)
class _Asked:
    """What cloth is for: blocks, and the top that they are set into; `findings` are the top's."""

    project: Project
    name: str
    works: tuple[BlockWork, ...]
    top: Top | None = None
    findings: tuple[Finding, ...] = ()


def _asked(
    where: Path,
    copies: int | None,
    memory: Memory,
    progress: ProjectProgress | None,
    stop: Stop | None,
) -> _Asked:
    if not where.exists():
        raise InputError(
            "there is no such file or folder",
            mend="name a block file, or the folder of a quilt",
            place=Place(str(where)),
        )
    if not where.is_dir():
        source = read_block(where)
        told = None if progress is None else functools.partial(progress, where, 1)
        work = work_block(source, copies=copies, memory=memory, progress=told, stop=stop)
        return _Asked(source.project, source.drawing.name, (work,))
    if copies is not None:
        raise InputError(
            "copies are of one block",
            mend="write copies: into the block files, or ask for kits of the whole quilt",
            place=Place(str(where)),
        )
    project = read_project(where)
    if not project.blocks:
        raise no_blocks(project)
    set_ = work_top(project, memory=memory, stop=stop) if project.setting else None
    if set_ is not None and set_.top is not None:
        return _set(set_, set_.top, memory, progress, stop)
    works = work_project(project, memory=memory, progress=progress, stop=stop).blocks
    return _Asked(project, project.name, works, findings=_own(set_, works) if set_ else ())


def _set(
    work: TopWork,
    top: Top,
    memory: Memory,
    progress: ProjectProgress | None,
    stop: Stop | None,
) -> _Asked:
    """A quilt whose top is known: as many of each block as lie in it."""
    counts = Counter(block.name for block in top.blocks)
    paths = [one.source.path for one in work.blocks if counts[one.drawing.name]]
    works = []
    for path in paths:
        told = None if progress is None else functools.partial(progress, path, len(paths))
        source = read_block(path)
        copies = counts[source.drawing.name]
        works.append(work_block(source, copies=copies, memory=memory, progress=told, stop=stop))
    project = work.project
    return _Asked(project, project.name, tuple(works), top, _own(work, works))


def _own(work: TopWork, works: Iterable[BlockWork]) -> tuple[Finding, ...]:
    """What the setting has to say, without what its blocks say themselves."""
    told = {finding for one in works for finding in one.findings}
    return tuple(finding for finding in work.findings if finding not in told)


def _known(wishes: ClothWishes, asked: _Asked) -> None:
    """Raises InputError if pieces of cloth are of a fabric that nothing here is cut from."""
    letters = {fabric.letter for work in asked.works for fabric in work.fabrics}
    letters |= {fabric.letter for fabric in asked.project.fabrics}
    letters |= set() if asked.top is None else {piece.fabric for piece in asked.top.pieces}
    for letter, piece in (*wishes.fixed, *wishes.shelf):
        if letter and letter not in letters:
            known = ", ".join(one.upper() for one in sorted(letters))
            raise InputError(
                f"{piece.name} is of fabric {letter.upper()}, which is not here",
                mend=f"the fabrics are {known}",
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
    lists = {
        "cutting_list": (folder / "cutting-list.csv", cutting_csv),
        "cutting_order": (folder / "cutting-order.csv", order_csv),
        "shopping_list": (folder / "shopping-list.csv", shopping_csv),
    }
    for path, made in lists.values():
        save_text(path, made(laid))
    return cloth_answer(
        laid, name, pictures=pictures, **{key: str(path) for key, (path, _) in lists.items()}
    )
