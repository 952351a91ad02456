"""A drawing as the text of a block file: canonical, readable, and read back equal."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from seamproof.draft.model import (
    Block,
    Cells,
    Drawing,
    DrawnPatch,
    Fixing,
    Polygons,
    Seams,
)
from seamproof.length.exact import MAX_DENOMINATOR
from seamproof.length.notation import Measure, exactly, mixed
from seamproof.plane.model import Line, Point
from seamproof.project.block_file import FORMAT
from seamproof.project.unit_fields import written_units

TYPED_PLACES = 6
"""Decimals of a point that lies on no grid: a millionth of an inch, far below what the reader
brings together."""


@dataclass(frozen=True, slots=True)
class Listed:
    """The value of a key as a list, one item a line."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Indented:
    """The value of a key as lines of a group, indented by two spaces."""

    lines: tuple[str, ...]


Value = str | Listed | Indented


def write_block(drawing: Drawing, measure: Measure = "in") -> str:
    r"""The text of a block file. Lengths are in `measure`, with the unit only where it differs.

    Reading it with the same measure gives a drawing that is equal but for the places. Raises
    ValueError for a cell that no line of a file can hold.

    >>> from seamproof.draft.model import Written, Where
    >>> row = tuple(Written(text, Where()) for text in ("a/b", "c"))
    >>> size = (Fraction(6), Fraction(9, 2))
    >>> print(write_block(Drawing("Two", size, Cells((row,)))), end="")
    seamproof: 1
    name: Two
    finished: [6, 4 1/2]
    cells:
      - a/b c
    """
    parts = {"seamproof": str(FORMAT), **values(drawing, measure)}
    return "\n".join(line for key, value in parts.items() for line in entry(key, value)) + "\n"


def drawing_of(block: Block) -> Drawing:
    """A block as a drawing of polygons, to be written; points on no grid as they would be typed."""

    def typed(value: Fraction) -> Fraction:
        return value if value.denominator <= MAX_DENOMINATOR else round(value, TYPED_PLACES)

    patches = tuple(
        DrawnPatch(patch.fabric, tuple((typed(x), typed(y)) for x, y in block.corners_of(patch)))
        for patch in block.patches
    )
    return Drawing(
        name=block.name,
        finished=(typed(block.width), typed(block.height)),
        drawn=Polygons(patches),
        upright=block.upright,
        fixings=block.fixings,
    )


def values(drawing: Drawing, measure: Measure, cell: Point | None = None) -> dict[str, Value]:
    """The keys of a drawing and their values as text, in the order of a file.

    `cell` is the size of a grid cell if the file's points count grid cells.
    """
    pen = _Pen(measure, cell)
    found: dict[str, Value] = {
        "name": text(drawing.name),
        "finished": pen.finished(drawing.finished),
        **pen.drawn(drawing.drawn),
    }
    if drawing.upright:
        found["upright"] = "yes"
    if drawing.copies != 1:
        found["copies"] = str(drawing.copies)
    if drawing.methods:
        lines = (
            f"{written_units(units, measure)}: {text(method.text)}"
            for units, method in drawing.methods
        )
        found["method"] = Indented(tuple(lines))
    pressed = [fixing for fixing in drawing.fixings if fixing.way != "last"]
    if pressed:
        found["press"] = Listed(tuple(map(pen.pressed, pressed)))
    last = [pen.line(f.line) for f in drawing.fixings if f.way == "last" and f.line]
    order = (*drawing.order, *(f"{{last: {line}}}" for line in last))
    if order:
        found["order"] = Listed(order)
    return found


def entry(key: str, value: Value) -> list[str]:
    """The lines of one key of a file."""
    match value:
        case Listed(items):
            return [f"{key}:", *(f"  - {item}" for item in items)]
        case Indented(lines):
            return [f"{key}:", *(f"  {line}" for line in lines)]
        case _:
            return [f"{key}: {value}"]


# Words that YAML readers take for something else than a text.
_TAKEN = {"null", "true", "false", "yes", "no", "on", "off", "y", "n"}
_SAFE = re.compile(r"[^\W\d_](?:[\w .'’()+/&-]*[\w.'’)+/&-])?")


def text(value: str) -> str:
    r"""A text as a value, in quotes if it could be taken for something else.

    >>> text("Lit Window"), text("Star: small"), text("no"), text('Say "a\\b"')
    ('Lit Window', '"Star: small"', '"no"', '"Say \\"a\\\\b\\""')
    """
    if _SAFE.fullmatch(value) and value.lower() not in _TAKEN:
        return value
    escaped = value.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


@dataclass(frozen=True)
class _Pen:
    measure: Measure
    cell: Point | None

    def length(self, value: Fraction) -> str:
        return exactly(value, self.measure)

    def finished(self, size: Point) -> str:
        if size[0] == size[1]:
            return self.length(size[0])
        return f"[{self.length(size[0])}, {self.length(size[1])}]"

    def point(self, point: Point) -> str:
        if self.cell is None:
            return f"[{self.length(point[0])}, {self.length(point[1])}]"
        return f"[{mixed(point[0] / self.cell[0])}, {mixed(point[1] / self.cell[1])}]"

    def line(self, line: Line) -> str:
        return f"[{self.point(line[0])}, {self.point(line[1])}]"

    def drawn(self, drawn: Cells | Polygons | Seams) -> dict[str, Value]:
        match drawn:
            case Cells():
                return self.cells(drawn)
            case Polygons(patches):
                return {"patches": Listed(tuple(map(self.patch, patches)))}
            case Seams(seams, fabrics):
                lines = [f"  - {self.line(seam.line)}" for seam in seams]
                places = [f"  - {{fabric: {f.fabric}, at: {self.point(f.at)}}}" for f in fabrics]
                return {"seams": Indented(("lines:", *lines, "fabrics:", *places))}

    def patch(self, patch: DrawnPatch) -> str:
        points = ", ".join(map(self.point, patch.points))
        return f"{{fabric: {patch.fabric}, points: [{points}]}}"

    def cells(self, cells: Cells) -> dict[str, Value]:
        found: dict[str, Value] = {"cells": Listed(tuple(_rows(cells)))}
        if cells.columns is not None:
            found["columns"] = self.shares(cells.columns)
        if cells.rows is not None:
            found["rows"] = self.shares(cells.rows)
        if cells.units:
            lines: list[str] = []
            for name, unit in cells.units:
                lines.append(f"{name}:")
                for key, value in self.cells(unit).items():
                    lines += (f"  {line}" for line in entry(key, value))
            found["units"] = Indented(tuple(lines))
        return found

    def shares(self, sizes: Sequence[Fraction]) -> str:
        return f"[{', '.join(map(self.length, sizes))}]"

    def pressed(self, fixing: Fixing) -> str:
        if fixing.crossing is not None:
            way = {None: "", True: ", way: clockwise", False: ", way: anticlockwise"}
            return f"{{spin: {self.point(fixing.crossing)}{way[fixing.clockwise]}}}"
        if fixing.line is None:
            raise ValueError("a fixing has neither a seam nor a crossing")
        seam = self.line(fixing.line)
        if fixing.towards is None:
            return f"{{seam: {seam}, open: yes}}"
        return f"{{seam: {seam}, towards: {self.point(fixing.towards)}}}"


def _rows(cells: Cells) -> list[str]:
    """Rows with their cells one under another."""
    widths: dict[int, int] = {}
    for row in cells.cells:
        for number, cell in enumerate(row[:-1]):
            widths[number] = max(widths.get(number, 0), len(cell.text))
    lines = []
    for row in cells.cells:
        padded = [cell.text.ljust(widths.get(number, 0)) for number, cell in enumerate(row)]
        lines.append(_row_text(" ".join(padded).rstrip()))
    return lines


_ROW_BEGINS_BADLY = re.compile(r"[-?:,\[\]{}#&*!|>'\"%@`]")
_ROW_BREAKS = re.compile(r"\s#|:\s|:$")


def _row_text(row: str) -> str:
    """A row as the reader takes it: literally, whatever stands in it."""
    if not _ROW_BEGINS_BADLY.match(row) and not _ROW_BREAKS.search(row):
        return row
    if re.fullmatch(r'(?:[^"\\]|\\.)*', row):
        return f'"{row}"'
    if "'" not in row:
        return f"'{row}'"
    raise ValueError(f"no line of a file can hold the cells {row}")
