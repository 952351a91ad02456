"""Versions of a quilt: the answers of ``seamproof release`` and ``seamproof redline``."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import ClassVar, Literal

from seamproof.answers.model import Answer
from seamproof.answers.spreadsheets import csv_text
from seamproof.programme.versions import Change


@dataclass(frozen=True, slots=True)
class BuyLine:
    """What is bought of a fabric."""

    fabric: str
    name: str
    buy: str


@dataclass(frozen=True, slots=True)
class EditionLine:
    """One size in one colourway; an empty name is the quilt's own."""

    size: str
    colourway: str
    finished_in: tuple[float, float] | None
    buys: tuple[BuyLine, ...]
    sewn: bool
    says: str


@dataclass(frozen=True, kw_only=True)
class ReleaseAnswer(Answer):
    """A version that was frozen, or what keeps one from being frozen. `version` is null if none
    was asked for or it could not be; `versions` are all that are frozen."""

    command: ClassVar[str] = "release"

    name: str
    version: str | None
    versions: tuple[str, ...]
    facts: int
    invited: int
    forms: int
    answered: int
    open_points: int
    editions: tuple[EditionLine, ...]
    files: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ChangeLine:
    """One thing that is said differently. `written`: somebody changed it; else it follows."""

    about: str
    what: str
    kind: Literal["new", "gone", "changed"]
    old: str | None
    new: str | None
    written: bool


@dataclass(frozen=True, slots=True)
class ExtraLine:
    """A fabric of which those who bought by the old version need another amount."""

    fabric: str
    old: str | None
    new: str | None
    more: str


@dataclass(frozen=True, kw_only=True)
class RedlineAnswer(Answer):
    """What differs between two versions, and nothing else; `new` null is the quilt as it is."""

    command: ClassVar[str] = "redline"

    name: str
    old: str
    new: str | None
    changes: tuple[ChangeLine, ...]
    extra: tuple[ExtraLine, ...]
    files: tuple[str, ...]


def change_lines(changes: Iterable[Change]) -> tuple[ChangeLine, ...]:
    """Changes as they are shown: those that somebody wrote first."""
    lines = [ChangeLine(c.about, c.what, c.kind, c.old, c.new, c.written) for c in changes]
    return tuple(sorted(lines, key=lambda line: not line.written))


def changes_csv(changes: Sequence[ChangeLine]) -> str:
    """The redline: a line for each thing that is said differently."""
    rows = [("written or follows", "about", "what", "old", "new")]
    for line in changes:
        how = "written" if line.written else "follows"
        rows.append((how, line.about, line.what, line.old or "", line.new or ""))
    return csv_text(rows)
