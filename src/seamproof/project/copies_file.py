"""The log of sewn test copies, ``copies.csv`` in the folder of a quilt: one copy a row."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from seamproof.accuracy.checks import COPY_UNREADABLE
from seamproof.accuracy.copies import SewnCopy
from seamproof.errors import InputError, LengthError
from seamproof.findings import Finding
from seamproof.length.notation import Measure, parse
from seamproof.project import limits
from seamproof.project.plain_table import Row, Table, read_table

COPIES_FILE = "copies.csv"

COLUMNS = ("block", "date", "pressed", "top", "middle", "bottom", "minutes", "notes")
SIZES = ("top", "middle", "bottom")

MOST_MINUTES = 10_000
"""A week at the machine."""


def read_copies(
    path: Path, measure: Measure = "in"
) -> tuple[tuple[SewnCopy, ...], tuple[Finding, ...]]:
    """The copies in a file, and what there is to say about rows that cannot be used.

    A number without a unit is in `measure`. Raises InputError, with the place, if the file is no
    such table.
    """
    return copies(read_table(path, COLUMNS, ("block",)), measure)


def copies(
    table: Table, measure: Measure = "in"
) -> tuple[tuple[SewnCopy, ...], tuple[Finding, ...]]:
    """The copies of a table; a row with something that cannot be read is left out, and told of."""
    found: list[SewnCopy] = []
    findings: list[Finding] = []
    for row in table.rows:
        wrong = len(findings)
        block = row.get("block")
        if block is None:
            findings.append(_unreadable(row, "block", "this row names no block", "fill it in"))
            continue
        widths = tuple(
            value for name in SIZES if (value := _length(row, name, measure, findings)) is not None
        )
        minutes = _minutes(row, findings)
        if not widths and len(findings) == wrong and minutes is None:
            findings.append(
                _unreadable(row, "block", "nothing was measured", "fill in top, middle or bottom")
            )
        if len(findings) > wrong:
            continue
        pressed, notes, date = row.get("pressed"), row.get("notes"), row.get("date")
        found.append(
            SewnCopy(
                block=block.text,
                pressed=pressed.text.lower() if pressed else "",
                widths=tuple(map(float, widths)),
                minutes=minutes,
                notes=notes.text if notes else "",
                date=date.text if date else "",
                where=block.where,
            )
        )
    return tuple(found), tuple(findings)


def _length(row: Row, name: str, measure: Measure, findings: list[Finding]) -> Fraction | None:
    cell = row.get(name)
    if cell is None:
        return None
    try:
        value = parse(cell.text, unit=measure)
        if not 0 < value <= limits.LARGEST:
            raise LengthError(f'"{cell.text[:40]}" is no size of a block', mend="check the number")
    except InputError as problem:
        findings.append(_unreadable(row, name, problem.what, problem.mend))
        return None
    return value


def _minutes(row: Row, findings: list[Finding]) -> int | None:
    cell = row.get("minutes")
    if cell is None:
        return None
    if not cell.text.isascii() or not cell.text.isdigit() or not 0 < len(cell.text) <= 5:
        said = f'"{cell.text[:40]}" is no number of minutes'
        findings.append(_unreadable(row, "minutes", said, "write whole minutes, such as 52"))
        return None
    minutes = int(cell.text)
    if not 0 < minutes <= MOST_MINUTES:
        said = f"{minutes} minutes cannot be"
        findings.append(_unreadable(row, "minutes", said, "write whole minutes, such as 52"))
        return None
    return minutes


def _unreadable(row: Row, column: str, what: str, mend: str) -> Finding:
    cell = row.get(column)
    return COPY_UNREADABLE.found(what, mend=mend, where=cell.where if cell else row.where)
