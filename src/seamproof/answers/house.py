"""What the program says about itself and its files: ``new``, ``schema``, ``doctor``."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, ClassVar

from seamproof.answers.model import FOUND_ERRORS, Answer


@dataclass(frozen=True, kw_only=True)
class NewAnswer(Answer):
    """A new quilt: its folder and the files that were written."""

    command: ClassVar[str] = "new"

    folder: str
    files: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class SchemaAnswer(Answer):
    """A JSON Schema: of block files, of quilt files, or of the answer called `name`."""

    command: ClassVar[str] = "schema"

    name: str
    schema: dict[str, Any]


@dataclass(frozen=True, slots=True)
class CheckLine:
    """One thing that was tried: whether it works, and what was seen."""

    name: str
    fine: bool
    seen: str


@dataclass(frozen=True, kw_only=True)
class DoctorAnswer(Answer):
    """Whether everything that the program needs is there. Nothing in it is private: no names of
    people, machines or folders. A version is null if the package is not installed."""

    command: ClassVar[str] = "doctor"

    seamproof: str | None
    python: str
    system: str
    packages: dict[str, str | None]
    checks: tuple[CheckLine, ...]

    @property
    def exit_code(self) -> int:
        """How the command ends: 0 if every check is fine, else 1."""
        fine = all(check.fine for check in self.checks)
        return super().exit_code if fine else FOUND_ERRORS
