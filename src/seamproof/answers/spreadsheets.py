"""Tables for a spreadsheet (RFC 4180, with LF as everywhere here)."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def csv_text(rows: Iterable[Sequence[object]]) -> str:
    """Rows as comma-separated values, the first with the headings. Text that a spreadsheet would
    take for a formula gets an apostrophe in front; numbers stay as they are.

    >>> print(csv_text([("name", "in"), ("Sea mist, new", 2.5), ("=1+1", -3)]))
    name,in
    "Sea mist, new",2.5
    '=1+1,-3
    <BLANKLINE>
    >>> csv_text([])
    ''
    """
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows([_safe(cell) for cell in row] for row in rows)
    return text.getvalue()


def _safe(cell: object) -> object:
    if not isinstance(cell, str):
        return cell
    text = cell.replace("\r\n", "\n").replace("\r", "\n")  # a bare CR would end the row
    return f"'{text}" if cell.startswith(_FORMULA) and not _number(cell) else text


def _number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True
