"""What every answer has: its form, what the checks found, and how it ends.

An answer is what a command has to say: terminal, page and ``--json`` all show the same object. Its
fields are the keys of the JSON, under the names of `docs/reference/json.md`; a key that could not
be worked out is null. What is only for showing (the work behind the answer) is left out of it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, ClassVar, Final, Literal

from pydantic import Field, TypeAdapter

from seamproof.errors import InputError
from seamproof.findings import Finding, Severity, Where

FORMAT: Final = 1
"""Number of the form of every JSON answer. It grows when a key changes its meaning or goes away."""

FINE, FOUND_ERRORS, UNUSABLE, STOPPED = 0, 1, 2, 130
"""How a command ends: fine, with findings of severity error, with input that it cannot use, or
because somebody stopped it."""

HIDDEN = Field(exclude=True)
"""Marks a field that is no key of the JSON: ``Annotated[BlockWork, HIDDEN]``."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a note belongs: in a file, and at a point of the finished block, in inches from the
    upper left corner of its bounding box, x to the right, y downwards."""

    file: str | None
    line: int | None
    column: int | None
    block: str | None
    at: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class Note:
    """A finding as it is shown."""

    code: int
    severity: Severity
    where: Spot
    what: str
    mend: str


def noted(findings: Iterable[Finding]) -> tuple[Note, ...]:
    """Findings as they are shown, in their order.

    >>> from fractions import Fraction
    >>> found = Finding(104, "error", Where(at=(Fraction(1, 2), Fraction(3))), "a gap", "fill it")
    >>> noted([found])[0].where.at
    (0.5, 3.0)
    """
    return tuple(Note(f.code, f.severity, _spot(f.where), f.what, f.mend) for f in findings)


def _spot(where: Where) -> Spot:
    at = None if where.at is None else (float(where.at[0]), float(where.at[1]))
    return Spot(where.file, where.line, where.column, where.block, at)


_ADAPTERS: dict[type, TypeAdapter[Any]] = {}


def _adapter(kind: type) -> TypeAdapter[Any]:
    """What writes an answer, made once: making it takes longer than writing many."""
    if kind not in _ADAPTERS:
        _ADAPTERS[kind] = TypeAdapter(kind)
    return _ADAPTERS[kind]


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What every command's answer has. `command` is its name in the terminal and of its schema."""

    command: ClassVar[str] = ""

    format: Literal[1] = FORMAT
    findings: tuple[Note, ...] = ()

    def to_json(self) -> dict[str, Any]:
        """The answer as plain lists, texts, numbers and None, keyed as in the reference."""
        plain: dict[str, Any] = _adapter(type(self)).dump_python(self, mode="json", by_alias=True)
        findings = plain.pop("findings")
        return {**plain, "findings": findings}

    @classmethod
    def json_schema(cls) -> dict[str, Any]:
        """The JSON Schema (2020-12) that every `to_json` of this class validates against."""
        return _strict(_adapter(cls).json_schema(mode="serialization"))

    @property
    def exit_code(self) -> int:
        """How the command ends: 0 fine, 1 if a finding is of severity error."""
        grave = any(note.severity == "error" for note in self.findings)
        return FOUND_ERRORS if grave else FINE


@dataclass(frozen=True, slots=True)
class Refused:
    """What could not be used, where, and what to do about it. Lines and columns count from 1."""

    file: str | None
    line: int | None
    column: int | None
    what: str
    mend: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RefusalAnswer:
    """What a command answers instead if its input cannot be used; it ends with 2."""

    command: ClassVar[str] = "error"

    format: Literal[1] = FORMAT
    error: Refused

    def to_json(self) -> dict[str, Any]:
        """The refusal as plain texts, numbers and None."""
        plain: dict[str, Any] = _adapter(type(self)).dump_python(self, mode="json")
        return plain

    @classmethod
    def json_schema(cls) -> dict[str, Any]:
        """The JSON Schema (2020-12) of a refusal."""
        return _strict(_adapter(cls).json_schema(mode="serialization"))

    @property
    def exit_code(self) -> int:
        """Always 2."""
        return UNUSABLE


def refused(error: InputError) -> RefusalAnswer:
    """A refusal, as it is shown.

    >>> refused(InputError("there is no size", mend="write one")).error.line is None
    True
    """
    place = error.place
    return RefusalAnswer(
        error=Refused(place.file, place.line or None, place.column or None, error.what, error.mend)
    )


def _strict(schema: dict[str, Any]) -> dict[str, Any]:
    """The schema with every key of ours required and no other allowed: we write them all."""
    for part in [schema, *schema.get("$defs", {}).values()]:
        if part.get("type") == "object" and "properties" in part:
            part["required"] = list(part["properties"])
            part["additionalProperties"] = False
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}
