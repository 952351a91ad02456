r"""A table as plain text (RFC 4180) in which every cell knows its place.

Columns go by their name in the first line, in any order; cells are parted by commas, semicolons or
tabs, whichever that line has. A cell in quotes may hold the sign that parts and doubled quotes, but
ends on its line. Lines that begin with # and empty ones are passed over.
"""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from seamproof.errors import InputError
from seamproof.findings import Where
from seamproof.project import limits
from seamproof.project.yaml_tree import Document, decoded_text, file_bytes, shortened

_PARTING = ",;\t"


@dataclass(frozen=True, slots=True)
class Cell:
    """A text and its place in the file; `offset` is where it begins."""

    text: str
    offset: int
    where: Where


@dataclass(frozen=True, slots=True)
class Row:
    """The cells of one line by the name of their column. An empty cell is left out."""

    cells: tuple[tuple[str, Cell], ...]
    where: Where

    def get(self, column: str) -> Cell | None:
        """The cell of a column, None if it is empty."""
        return dict(self.cells).get(column)


@dataclass(frozen=True, slots=True)
class Table:
    """The rows of a file, and the document that they are placed in."""

    document: Document
    rows: tuple[Row, ...]


def read_table(path: Path, columns: Sequence[str], required: Sequence[str]) -> Table:
    """The table in a file. Raises InputError, with the place, for whatever cannot be read."""
    return table(file_bytes(path), str(path), columns, required)


def table(data: bytes, file: str, columns: Sequence[str], required: Sequence[str]) -> Table:
    r"""The table in bytes. `columns` are those it may have, `required` those it must.

    >>> made = table(b"what,size\ncut,1 1/2\n", "strips.csv", ("what", "size"), ("size",))
    >>> [(cell.text, cell.where.line, cell.where.column) for _, cell in made.rows[0].cells]
    [('cut', 2, 1), ('1 1/2', 2, 5)]
    """
    document = Document(file, decoded_text(data, file))
    lines: list[tuple[int, str]] = []
    begin = 0
    for line in document.text.split("\n"):
        if line.strip() and not line.lstrip().startswith("#"):
            lines.append((begin, line))
        begin += len(line) + 1
    if not lines:
        raise document.refusal(0, "the table is empty", f"begin it with {','.join(columns)}")
    if len(lines) > limits.TABLE_ROWS + 1:
        raise document.refusal(
            lines[limits.TABLE_ROWS + 1][0], f"the table has more than {limits.TABLE_ROWS:,} rows"
        )
    parting = max(_PARTING, key=lines[0][1].count)
    names = _names(document, _cells(document, *lines[0], parting), columns, required)
    rows = []
    for begin, line in lines[1:]:
        cells = _cells(document, begin, line, parting)
        if len(cells) > len(names) and any(cell.text for cell in cells[len(names) :]):
            raise document.refusal(
                cells[len(names)].offset,
                f"this row has more cells than the {len(names)} columns",
                "put a text with commas in quotes",
            )
        filled = tuple((name, cell) for name, cell in zip(names, cells, strict=False) if cell.text)
        rows.append(Row(filled, document.where(begin)))
    return Table(document, tuple(rows))


def _names(
    document: Document, cells: Sequence[Cell], columns: Sequence[str], required: Sequence[str]
) -> list[str]:
    names: list[str] = []
    for cell in cells:
        name = " ".join(cell.text.lower().split())
        if name not in columns:
            near = difflib.get_close_matches(shortened(name), columns, n=1, cutoff=0.6)
            mend = f'did you mean "{near[0]}"?' if near else f"known are {', '.join(columns)}"
            raise document.refusal(cell.offset, f'"{shortened(name)}" is not a column here', mend)
        if name in names:
            raise document.refusal(cell.offset, f'the column "{name}" is there twice', "keep one")
        names.append(name)
    for name in required:
        if name not in names:
            raise document.refusal(cells[0].offset, f"there is no column {name}", f"add {name}")
    return names


def _cells(document: Document, begin: int, line: str, parting: str) -> list[Cell]:
    cells, at = [], 0
    while True:
        start = at + len(line[at:]) - len(line[at:].lstrip(" "))
        if line.startswith('"', start):
            text, at = _quoted(document, begin, line, start)
            after = line[at:].lstrip(" ")
            if after and not after.startswith(parting):
                raise document.refusal(begin + at, "something stands behind a closed quote")
            at += len(line[at:]) - len(after)
        else:
            end = line.find(parting, at)
            end = len(line) if end < 0 else end
            text, at = line[at:end].strip(), end
        offset = begin + min(start, len(line))
        cells.append(Cell(text, offset, document.where(offset)))
        if at >= len(line):
            return cells
        at += 1


def _quoted(document: Document, begin: int, line: str, start: int) -> tuple[str, int]:
    at, text = start + 1, ""
    while True:
        end = line.find('"', at)
        if end < 0:
            raise document.refusal(
                begin + start, "this quote is not closed", "close it on the same line"
            )
        text += line[at:end]
        if line.startswith('"', end + 1):
            text, at = text + '"', end + 2
            continue
        return text.strip(), end + 1


def cell_error(document: Document, cell: Cell, problem: InputError) -> InputError:
    """What is wrong with a cell's text, told where it stands."""
    return document.placed(problem, cell.offset)
