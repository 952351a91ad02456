"""Testers and their forms, as files in the quilt's folder.

``testers.csv`` names whom the user asks; it is read to write forms and invitations, and goes into
no other file. Forms that came back lie in the folder ``tests``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from seamproof.errors import InputError
from seamproof.findings import Finding, Where
from seamproof.programme.checks import FORM_UNREAD
from seamproof.programme.testing import COLUMNS, FormRow
from seamproof.project.plain_table import read_table

TESTERS = "testers.csv"
FORMS = "tests"

TESTER_COLUMNS = ("name", "contact", "size", "colourway")

FIELDS: Mapping[str, str] = {"should measure": "should"}
"""Columns of a form whose rows call them otherwise."""


@dataclass(frozen=True, slots=True)
class Invited:
    """Somebody who sews from the pattern, under whatever name the user gave."""

    name: str
    contact: str = ""
    size: str = ""
    colourway: str = ""


def read_testers(folder: Path) -> tuple[Invited, ...]:
    """The testers of a quilt; none if there is no file. Raises InputError if it cannot be read."""
    path = folder / TESTERS
    if not path.is_file():
        return ()
    return tuple(
        Invited(**{name: cell.text for name, cell in row.cells})
        for row in read_table(path, TESTER_COLUMNS, TESTER_COLUMNS[:1]).rows
        if row.get("name") is not None
    )


def read_forms(folder: Path) -> tuple[tuple[FormRow, ...], tuple[Finding, ...]]:
    """The forms that came back, by name of file, and what is to be said of those that cannot be
    read."""
    rows: list[FormRow] = []
    findings: list[Finding] = []
    place = folder / FORMS
    for path in sorted(place.glob("*.csv")) if place.is_dir() else ():
        try:
            for row in read_table(path, COLUMNS, ("block", "step")).rows:
                values = {FIELDS.get(name, name): cell.text for name, cell in row.cells}
                rows.append(FormRow(**values, where=row.where))
        except InputError as problem:
            findings.append(
                FORM_UNREAD.found(
                    f"the form cannot be read: {problem.what}",
                    mend="save it again as CSV with its headings, or take it out of the folder",
                    where=Where(str(path), problem.place.line or 1, problem.place.column or 1),
                )
            )
    return tuple(rows), tuple(findings)
