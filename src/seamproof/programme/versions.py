"""Versions: what was worked out as single facts, and exactly what differs between two of them.

A *fact* is one thing that a reader of the pattern is told: what it is about, what of it, and what
is said. It is *written* if somebody wrote it into a file, and *follows* otherwise. A version is all
its facts. A change is a fact that is said differently, or is said in one version only; nothing else
is listed, and a version with its changes taken in is the other version.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

BOOKLET = "booklet: "
"""What stands before the section of a booklet in what a fact of its text is about."""

_VERSION = re.compile("[0-9]{1,4}(\\.[0-9]{1,4}){0,2}")


@dataclass(frozen=True, slots=True)
class Fact:
    """`about` is a file, a block, a fabric, a release; `what` names the thing said of it."""

    about: str
    what: str
    says: str
    written: bool = False


@dataclass(frozen=True, slots=True)
class Change:
    """One fact that differs. `old` or `new` is None where one version says nothing of it."""

    about: str
    what: str
    old: str | None
    new: str | None
    written: bool = False

    @property
    def printed(self) -> bool:
        """Whether it is a line of the booklet."""
        return self.about.startswith(BOOKLET)

    @property
    def kind(self) -> Literal["new", "gone", "changed"]:
        """What became of it."""
        return "new" if self.old is None else "gone" if self.new is None else "changed"


@dataclass(frozen=True, slots=True)
class Version:
    """All facts of a version, under its number. `dated` is what somebody wrote, or nothing."""

    number: str
    facts: tuple[Fact, ...]
    dated: str = ""


def differences(old: Iterable[Fact], new: Iterable[Fact]) -> tuple[Change, ...]:
    """What is said differently, in the order of the new facts; what is gone stands where it was.

    >>> one = [Fact("Star", "finished", "12 in"), Fact("Star", "patches", "17")]
    >>> two = [Fact("Star", "finished", "13 in"), Fact("Star", "patches", "17")]
    >>> differences(one, two)
    (Change(about='Star', what='finished', old='12 in', new='13 in', written=False),)
    >>> differences(one, one)
    ()
    """
    before = {(fact.written, fact.about, fact.what): fact.says for fact in old}
    after = {(fact.written, fact.about, fact.what): fact.says for fact in new}
    order = _merged(list(before), list(after))
    return tuple(
        Change(key[1], key[2], before.get(key), after.get(key), key[0])
        for key in order
        if before.get(key) != after.get(key)
    )


def _merged(
    old: Sequence[tuple[bool, str, str]], new: Sequence[tuple[bool, str, str]]
) -> list[tuple[bool, str, str]]:
    """All keys: the new ones in their order, each that is gone behind the one it followed."""
    there = set(new)
    behind: dict[tuple[bool, str, str] | None, list[tuple[bool, str, str]]] = {}
    last = None
    for key in old:
        if key in there:
            last = key
        else:
            behind.setdefault(last, []).append(key)
    found = list(behind.get(None, ()))
    for key in new:
        found += [key, *behind.get(key, ())]
    return found


def taken_in(facts: Iterable[Fact], changes: Iterable[Change]) -> frozenset[Fact]:
    """The facts of a version with changes taken in.

    >>> star = Fact("Star", "finished", "12 in")
    >>> taken_in([star], [Change("Star", "finished", "12 in", None)])
    frozenset()
    """
    found = {(f.written, f.about, f.what): f.says for f in facts}
    for change in changes:
        key = (change.written, change.about, change.what)
        if change.new is None:
            found.pop(key, None)
        else:
            found[key] = change.new
    return frozenset(Fact(about, what, says, w) for (w, about, what), says in found.items())


def is_number(text: str) -> bool:
    """Whether a text can number a version: up to three numbers with dots between.

    >>> is_number("1.1"), is_number("2"), is_number("1.1-beta"), is_number("")
    (True, True, False, False)
    """
    return _VERSION.fullmatch(text) is not None


def rank(number: str) -> tuple[int, ...]:
    """By which version numbers are ordered: 1.10 comes after 1.9, and 1 is 1.0.

    >>> rank("1.10") > rank("1.9"), rank("1") == rank("1.0")
    (True, True)
    """
    parts = [int(part) for part in number.split(".")]
    return tuple(parts + [0] * (3 - len(parts)))
