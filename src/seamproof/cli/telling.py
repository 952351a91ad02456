"""How the program speaks: the two streams, notes, and refusals with their place."""

from __future__ import annotations

import contextlib
import json
import os
import sys
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import IO, Any

from rich.cells import cell_len
from rich.console import Console
from rich.text import Text

from seamproof.answers.model import Note, Spot
from seamproof.errors import InputError

SHOWN_BEFORE, SHOWN_AFTER = 60, 40
"""Columns of a source line that are shown before and after the place in question."""

_STYLES = {"error": "bold red", "warning": "bold yellow", "note": "bold cyan"}


def out() -> Console:
    """Standard output: data."""
    return _console(sys.stdout)


def err() -> Console:
    """Standard error: talk."""
    return _console(sys.stderr)


def _console(stream: IO[str]) -> Console:
    return Console(file=stream, highlight=False, markup=False, emoji=False)


def say(*lines: str | Text) -> None:
    """Lines of text on standard output, folded by nobody."""
    for line in lines:
        with _pipe():
            out().print(line, soft_wrap=True)


def show_table(
    columns: Sequence[str], rows: Iterable[Sequence[str]], *, right: Sequence[str] = ()
) -> None:
    """A table on standard output; columns named in `right` stand flush right."""
    table = [tuple(columns), *map(tuple, rows)]
    widths = [max(map(cell_len, column)) for column in zip(*table, strict=True)]
    for number, row in enumerate(table):
        line = "  ".join(
            " " * (width - cell_len(text)) + text
            if name in right
            else text + " " * (width - cell_len(text))
            for name, text, width in zip(columns, row, widths, strict=True)
        )
        say(Text(line.rstrip(), "bold" if number == 0 else ""))


def write_json(plain: dict[str, Any]) -> None:
    """One JSON object on standard output, and nothing else."""
    with _pipe():
        sys.stdout.write(json.dumps(plain, indent=2) + "\n")
        sys.stdout.flush()


@contextlib.contextmanager
def _pipe() -> Any:
    """Whoever reads us may stop reading; what is still to come then goes nowhere."""
    try:
        yield
    except BrokenPipeError:
        hush()


def hush() -> None:
    """From now on standard output goes nowhere."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
    os.close(nowhere)


def show_notes(notes: Iterable[Note], lines: Sequence[str] = ()) -> None:
    """What the checks found, on standard output: how grave, where, what, and what to do.

    Notes that read alike, because they are about like places of a block, are shown once. `lines`
    are those of the file the notes are about; the one in question is shown.
    """
    alike = Counter(replace(note, where=replace(note.where, at=None)) for note in notes)
    for note, times in alike.items():
        text = Text()
        place = _place(note.where)
        if place:
            text.append(f"{place}: ")
        text.append(note.severity, _STYLES[note.severity])
        text.append(f": {note.what} ")
        if times > 1:
            text.append(f"(at {times} places) ")
        text.append(f"[{note.code}]", "dim")
        say("", text)
        if note.where.line and note.where.line <= len(lines) and note.severity != "note":
            say(*pointed(lines[note.where.line - 1], note.where.line, note.where.column or 1))
        if note.mend:
            say(f"  {note.mend}")


def _place(where: Spot) -> str:
    if where.file is None:
        return where.block or ""
    return ":".join(str(part) for part in (where.file, where.line, where.column) if part)


def tell_refusal(error: InputError) -> None:
    """A refusal on standard error, as a compiler tells it: place, what, line with caret, mend."""
    text = Text()
    if error.place.file:
        text.append(f"{error.place}: ")
    text.append(error.what, "bold")
    err().print(text, soft_wrap=True)
    if error.source is not None and error.place.line:
        for line in pointed(error.source, error.place.line, error.place.column or 1):
            err().print(line, soft_wrap=True)
    if error.mend:
        err().print(f"  {error.mend}", soft_wrap=True)


def tell(line: str) -> None:
    """One line of talk on standard error."""
    err().print(line, soft_wrap=True)


def pointed(source: str, line: int, column: int) -> tuple[str, str]:
    r"""A line of a file with its number, and a caret under its `column` (from 1).

    Of a very long line only the part round the column is shown. What cannot be shown stands as a
    replacement sign, so that nothing in a file can move the cursor.

    >>> print("\n".join(pointed("finished: 1/0", 2, 11)))
      2 | finished: 1/0
        |           ^
    >>> print("\n".join(pointed("", 1, 1)))
      1 |
        | ^
    """
    start = max(0, column - 1 - SHOWN_BEFORE)
    part = source[start : column + SHOWN_AFTER]
    seen = "".join(c if c.isprintable() or c == "\t" else "\ufffd" for c in part)
    before = "".join("\t" if c == "\t" else " " for c in seen[: column - 1 - start])
    number = str(line)
    return (
        f"  {number} | {seen}".rstrip(),
        f"  {' ' * len(number)} | {before}^",
    )
