"""What the page shows of the quilt as a whole: its top, its cloth, its programme.

Worked out in a worker, from the files as they are. A view is plain JSON: `line` and `facts` in
words, `pictures`, `tables` of rows, `findings`; or `missing`, a sentence that says why there is
nothing to show, with its `mend`.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any, Literal

from seamproof.answers.laying import ClothAnswer
from seamproof.answers.programme import ProgrammeAnswer
from seamproof.answers.setting import TopAnswer
from seamproof.booklet import wording
from seamproof.booklet.cloth_wording import mark_of
from seamproof.errors import InputError
from seamproof.length.notation import Measure, mixed, number, with_unit
from seamproof.length.rounding import INCH_STEP, METRIC_STEP, nearest
from seamproof.pipeline.laying import Laying
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import StageName, Stop
from seamproof.project.quilt_editing import path_at
from seamproof.project.quilt_file import QUILT_FILE
from seamproof.project.yaml_tree import file_bytes

Name = Literal["top", "cloth", "programme"]

VIEWS: tuple[Name, ...] = ("top", "cloth", "programme")
"""What can be looked at besides the blocks."""

View = dict[str, Any]
Told = Callable[[int, int, str], None]
"""Told how much is done, of how much, and what is being done."""


def view(name: Name, folder: Path, memory: Memory, told: Told, stop: Stop) -> View:
    """One view. Raises Stopped if `stop` says so."""
    try:
        return _MADE[name](folder, memory, told, stop)
    except InputError as problem:
        return {"missing": f"{problem.what[:1].upper()}{problem.what[1:]}.", "mend": problem.mend}


def _top(folder: Path, memory: Memory, told: Told, stop: Stop) -> View:
    from seamproof.answers.asking_top import top

    def progress(path: Path, count: int, stage: StageName) -> None:
        del stage
        told(0, count, path.stem)

    answer = top(folder, memory=memory, progress=progress, stop=stop)
    plain = answer.to_json()
    made: View = {"line": "", "facts": [], "pictures": [], "tables": []}
    made["findings"] = _with_paths(plain["findings"], folder)
    if answer.finished is None:
        return made | {"missing": "The top cannot be set.", "mend": "The notes say why."}
    measure = answer.work.measure
    made["line"] = f"{answer.finished} {measure} finished"
    made["facts"] = _top_facts(answer, measure)
    drawn, quilter = answer.svg(), answer.quilter_svg()
    if drawn is not None:
        made["svg"] = drawn
        made["pictures"].append({"title": "The top", "svg": drawn, "caption": ""})
    if quilter is not None:
        caption = " ".join(answer.quilter_says())
        made["pictures"].append(
            {"title": "For the longarm quilter", "svg": quilter, "caption": caption}
        )
    made["tables"] = [
        {"title": "To cut besides the blocks", "rows": _top_pieces(answer, measure)},
        {"title": "Borders", "rows": _borders(answer, measure)},
    ]
    made["tables"] = [table for table in made["tables"] if table["rows"]]
    made["caution"] = {"title": wording.CUTTER_TITLE, "text": wording.CUTTER}
    return made


def _with_paths(findings: list[View], folder: Path) -> list[View]:
    """Findings, each with the `path` in the quilt file to what it speaks of, so that the form which
    changes that can show it."""
    text = file_bytes(folder / QUILT_FILE).decode("utf-8-sig")

    def path(where: View) -> list[str]:
        if Path(where["file"] or "").name != QUILT_FILE or not where["line"]:
            return []
        return list(path_at(text, where["line"], where["column"] or 1))

    return [{**note, "path": path(note["where"])} for note in findings]


def _top_facts(answer: TopAnswer, measure: Measure) -> list[list[str]]:
    top = answer.work.top
    assert top is not None
    assert answer.backing is not None
    assert answer.batting is not None
    assert answer.binding is not None
    backing, batting, binding = top.backing, top.batting, top.binding
    facts = [
        ["Finished", f"{answer.finished} {measure}"],
        ["Layout", f"{top.columns} × {top.rows} blocks, {top.way}"],
        ["Cell", f"{_pair(top.cell, measure)} {measure} finished"],
    ]
    for name, line in (("Sashes", answer.sashes), ("Cornerstones", answer.cornerstones)):
        if line is not None:
            cut = ", ".join(line.cut)
            facts.append([name, f"{line.count} of {line.fabric.upper()}, cut {cut} {measure}"])
    facts += [
        ["Backing", f"{_pair((backing.width, backing.height), measure)} {measure}"],
        ["Backing to buy", f"{answer.backing.across.buy}, or {answer.backing.lengthwise.buy}"],
        ["Batting", f"{_pair((batting.width, batting.height), measure)} {measure}"],
        ["Binding", f"{answer.binding.strips} strips, {with_unit(binding.width, measure)} wide"],
    ]
    return facts


def _top_pieces(answer: TopAnswer, measure: Measure) -> list[list[str]]:
    rows = []
    for piece in answer.pieces:
        size = piece.cut_width
        if piece.cut_height != piece.cut_width:
            size += f" × {piece.cut_height}"
        then = {"whole": "", "once": ", cut once corner to corner"}.get(
            piece.split, ", cut twice corner to corner"
        )
        name = f"{piece.count} × {piece.name} of {mark_of(piece.fabric)}"
        rows.append([name, f"{size} {measure}{then}"])
    return rows


def _borders(answer: TopAnswer, measure: Measure) -> list[list[str]]:
    rows = []
    for count, border in enumerate(answer.borders, start=1):
        fabrics = ", ".join(mark_of(letter) for letter in border.fabrics)
        sides, ends = (_near(n, measure) for n in (border.cut_sides, border.cut_ends))
        said = f"{border.kind}, of {fabrics}, cut {border.cut_width} {measure} wide: "
        rows.append([f"Border {count}", f"{said}sides {sides}, top and bottom {ends}, as measured"])
    return rows


def _near(length: float, measure: Measure) -> str:
    step = METRIC_STEP if measure == "cm" else INCH_STEP
    return with_unit(nearest(Fraction(length), step), measure)


def _pair(size: tuple[Fraction, Fraction], measure: Measure) -> str:
    step = METRIC_STEP if measure == "cm" else INCH_STEP
    return " × ".join(number(nearest(side, step), measure) for side in size)


def _cloth(folder: Path, memory: Memory, told: Told, stop: Stop) -> View:
    from seamproof.answers.asking_cloth import lay

    answer = lay(
        folder, memory=memory, progress=blocks_told(told), laying=fabrics_told(told), stop=stop
    )
    buying = answer.work.buying
    facts = []
    for one in answer.work.fabrics:
        mark = f"{mark_of(one.fabric.letter)} {one.fabric.name}".strip()
        bought = "" if one.purchase is None else buying.told(one.purchase.buy)
        fixed = [f"{piece.count} of {piece.name}" for piece, shelf in one.fixed_used if not shelf]
        facts.append([mark, " + ".join([*fixed, *filter(None, [bought])]) or "–"])
    pictures = [
        {"title": f"Fabric {mark_of(letter)}", "name": title, "svg": drawn, "caption": ""}
        for letter, title, drawn in answer.diagrams()
    ]
    return {
        "line": f"{len(answer.work.fabrics)} fabrics",
        "facts": facts,
        "pictures": pictures,
        "tables": [_bounds(answer)],
        "findings": answer.to_json()["findings"],
        "caution": {"title": wording.CUTTER_TITLE, "text": wording.CUTTER},
    }


def _bounds(answer: ClothAnswer) -> View:
    """How far from the least possible each length is."""
    measure = answer.work.measure
    rows = []
    for line, one in zip(answer.fabrics, answer.work.fabrics, strict=True):
        if line.bare_in is None or line.bound_in is None:
            continue
        said = f"{_near(line.bare_in, measure)} of cloth"
        if line.proved:
            said += ", the least there is"
        else:
            said += f", at least {_near(line.bound_in, measure)}"
        rows.append([f"{mark_of(one.fabric.letter)} {one.fabric.name}", said])
    return {"title": "Before straightening and shrinkage", "rows": rows}


def blocks_told(told: Told) -> Callable[[Path, int, StageName], None]:
    """Tells how many blocks are worked out."""
    seen: list[Path] = []

    def progress(path: Path, count: int, stage: StageName) -> None:
        del stage
        if path not in seen:
            seen.append(path)
        told(len(seen) - 1, count, path.stem)

    return progress


def fabrics_told(told: Told) -> Callable[[Laying], None]:
    """Tells how many fabrics are laid."""

    def laying(now: Laying) -> None:
        told(now.number, now.count, f"fabric {mark_of(now.letter)}")

    return laying


def _programme(folder: Path, memory: Memory, told: Told, stop: Stop) -> View:
    from seamproof.answers.asking_programme import programme

    answer = programme(
        folder, memory=memory, progress=blocks_told(told), laying=fabrics_told(told), stop=stop
    )
    tables = [
        {
            "title": f"Release {release}",
            "rows": [
                [entry.title, entry.begins if entry.begins == entry.ends else _span(entry)]
                for entry in answer.steps
                if entry.release == release
            ],
        }
        for release in sorted({entry.release for entry in answer.steps})
    ]
    return {
        "line": f"{answer.people} people, {answer.kits} kits",
        "facts": _totals(answer),
        "pictures": [],
        "tables": tables,
        "findings": answer.to_json()["findings"],
    }


def _span(entry: Any) -> str:
    return f"{entry.begins} to {entry.ends}"


def _totals(answer: ProgrammeAnswer) -> list[list[str]]:
    return [
        [f"{mark_of(line.fabric)} {line.name}", f"{mixed(Fraction(line.buy))} {line.unit}"]
        for line in answer.totals
    ]


_MADE: dict[Name, Callable[[Path, Memory, Told, Stop], View]] = {
    "top": _top,
    "cloth": _cloth,
    "programme": _programme,
}
