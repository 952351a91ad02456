"""Testers and their forms, as files in the quilt's folder.

``testers.csv`` names whom the user asks; it is read to write forms and invitations, and goes into
no other file. Forms that came back lie in the folder ``tests``.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from seamproof.errors import InputError, Place
from seamproof.findings import Finding, Where
from seamproof.programme.checks import FORM_UNREAD
from seamproof.programme.testing import COLUMNS, FormRow
from seamproof.project import limits
from seamproof.project.yaml_tree import file_bytes

TESTERS = "testers.csv"
FORMS = "tests"

TESTER_COLUMNS = ("name", "contact", "size", "colourway")

MOST_ROWS = 10_000
"""Lines of one form: every step of a quilt of 200 blocks."""

_FIELDS: Mapping[str, str] = {"should measure": "should"}


@dataclass(frozen=True, slots=True)
class Tester:
    """Somebody who sews from the pattern, under whatever name the user gave."""

    name: str
    contact: str = ""
    size: str = ""
    colourway: str = ""


def read_testers(folder: Path) -> tuple[Tester, ...]:
    """The testers of a quilt; none if there is no file. Raises InputError if it cannot be read."""
    path = folder / TESTERS
    if not path.is_file():
        return ()
    found = []
    for _, row in _rows(path, TESTER_COLUMNS[:1]):
        if row.get("name"):
            found.append(Tester(**{key: row.get(key, "") for key in TESTER_COLUMNS}))
    return tuple(found)


def read_forms(folder: Path) -> tuple[tuple[FormRow, ...], tuple[Finding, ...]]:
    """The forms that came back, by name of file, and what is to be said of those that cannot be
    read."""
    rows: list[FormRow] = []
    findings: list[Finding] = []
    place = folder / FORMS
    for path in sorted(place.glob("*.csv")) if place.is_dir() else ():
        try:
            for line, row in _rows(path, ("block", "step")):
                values = {_FIELDS.get(key, key): row.get(key, "") for key in COLUMNS}
                rows.append(FormRow(**values, where=Where(str(path), line, 1)))
        except InputError as problem:
            findings.append(
                FORM_UNREAD.found(
                    f"the form cannot be read: {problem.what}",
                    mend="save it again as CSV with its headings, or take it out of the folder",
                    where=Where(str(path), problem.place.line or 1, 1),
                )
            )
    return tuple(rows), tuple(findings)


def written_form(rows: Iterable[FormRow]) -> str:
    """Rows as a form.

    >>> written_form([FormRow(block="Star", step="1")]).splitlines()[1]
    ',,,,Star,1,,,,,,,'
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    for row in rows:
        writer.writerow([getattr(row, _FIELDS.get(key, key)) for key in COLUMNS])
    return text.getvalue()


def _rows(path: Path, needed: Iterable[str]) -> Iterator[tuple[int, dict[str, str]]]:
    """The lines of a table by their headings, with their numbers; spaces round values are dropped.

    Commas and semicolons part values: some programs write those.
    """
    here = Place(str(path), 1, 1)
    try:
        text = file_bytes(path).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError("it is not in UTF-8", mend="save it as CSV, UTF-8", place=here) from None
    head = text.split("\n", 1)[0]
    reader = csv.DictReader(io.StringIO(text), delimiter=";" if ";" in head else ",", strict=True)
    try:
        names = [(name or "").strip().lower() for name in reader.fieldnames or ()]
        for name in needed:
            if name not in names:
                raise InputError(f"it has no column {name}", mend=f"add {name}", place=here)
        reader.fieldnames = names
        for n, row in enumerate(reader):
            if n >= MOST_ROWS:
                raise InputError(f"it has more than {MOST_ROWS:,} lines", place=here)
            plain = {
                key: " ".join(value.split())[: limits.TEXT_LENGTH]
                for key, value in row.items()
                if isinstance(key, str) and isinstance(value, str)
            }
            if any(plain.values()):
                yield reader.line_num, plain
    except csv.Error:
        line = max(reader.line_num, 1)
        raise InputError("a quote is not closed", place=Place(str(path), line, 1)) from None
