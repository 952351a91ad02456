"""The tables of a booklet as CSV, guarded: no cell of it is a formula when a spreadsheet opens it."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator

from seamproof.booklet.model import Beside, BookletModel, CuttingTables, Section, Table

STARTS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What a cell of text must not begin with (published advice against CSV injection: OWASP)."""

_NUMBER = re.compile(r"[+-]?\d+(?:\.\d+)?")


def guarded(text: str) -> str:
    """A cell that no spreadsheet takes for a formula; a number stays one.

    >>> guarded("=1+1"), guarded("-2"), guarded("Aa"), guarded(""), guarded("@lamp")
    ("'=1+1", '-2', 'Aa', '', "'@lamp")
    """
    if text.startswith(STARTS_A_FORMULA) and not _NUMBER.fullmatch(text):
        return f"'{text}"
    return text


def written(rows: Iterator[tuple[str, ...]]) -> str:
    """Rows as CSV with LF line ends, every cell guarded."""
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows([map(guarded, row) for row in rows])
    return text.getvalue()


def tables_of(model: BookletModel) -> dict[str, str]:
    """Every table of a booklet as CSV, by its name."""
    found: dict[str, str] = {}
    for section in model.sections:
        for part in section.parts:
            table = part.table if isinstance(part, Beside) else part
            if isinstance(table, Table):
                found[table.name] = written(iter((table.columns, *table.rows)))
            elif isinstance(table, CuttingTables):
                name = "cut-" + section.key.partition(":")[2]
                found[name] = written(_cutting(section, table))
    return found


def _cutting(section: Section, tables: CuttingTables) -> Iterator[tuple[str, ...]]:
    yield ("block", "fabric", "name", "mark", "count", "cut", "then", "for")
    for table in tables.tables:
        for row in table.rows:
            yield (
                *(section.title, table.fabric.paint.letter, table.fabric.name),
                *(row.letter, str(row.count or ""), row.what, row.split, row.purpose),
            )
