"""Frozen versions of a quilt, in its folder: what was told, and the files it was told from.

    releases/1.1/version.json    number, day, and all facts
    releases/1.1/quilt.yaml      the files as they were
    releases/1.1/blocks/…

A version that is there is never written over. Nothing of testers or other people is in it.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError

from seamproof.errors import InputError, Place, SaveError
from seamproof.programme.versions import Fact, Version, is_number, rank
from seamproof.project.model import Project
from seamproof.project.quilt_file import QUILT_FILE
from seamproof.project.saving import make_folder, save_bytes, save_text
from seamproof.project.words_file import WORDS_FILE
from seamproof.project.yaml_tree import Items, Keys, Node, file_bytes, read_document

FOLDER = "releases"
FILE = "version.json"
FORM = 1
"""Number of the form of ``version.json``."""

MOST_BYTES = 50_000_000
"""Of a frozen version: the facts of a quilt of 200 blocks take about 5 MB."""

_VERSION = TypeAdapter(Version)


def source_facts(project: Project) -> Iterator[Fact]:
    """What somebody wrote, key by key, in the quilt file, the own words and the block files."""
    for path in _files(project):
        name = _name(project, path)
        for what, says in _leaves(read_document(path).root):
            yield Fact(name, what, says, written=True)


def _files(project: Project) -> Iterator[Path]:
    if project.folder is not None and project.given:
        yield project.folder / QUILT_FILE
        if (project.folder / WORDS_FILE).is_file():
            yield project.folder / WORDS_FILE
    yield from project.blocks


def _name(project: Project, path: Path) -> str:
    if project.folder is None:
        return path.name
    return path.relative_to(project.folder).as_posix()


def _leaves(node: Node, at: str = "") -> Iterator[tuple[str, str]]:
    """Every text of a tree with the way to it, as ``setting > rows > 2``."""
    if isinstance(node, Keys):
        for key, value in node.entries:
            yield from _leaves(value, f"{at} > {key.text}" if at else key.text)
    elif isinstance(node, Items):
        for n, item in enumerate(node.items, start=1):
            yield from _leaves(item, f"{at} > {n}")
    else:
        yield at, " ".join(node.text.split())


def versions(folder: Path) -> tuple[str, ...]:
    """The numbers of the versions that are frozen in a quilt's folder, the oldest first."""
    place = folder / FOLDER
    if not place.is_dir():
        return ()
    found = (path.name for path in place.iterdir() if (path / FILE).is_file())
    return tuple(sorted(filter(is_number, found), key=rank))


def freeze(
    project: Project, number: str, facts: Iterable[Fact], dated: str = ""
) -> tuple[Path, ...]:
    """Write a version; returns its files. Raises InputError if it cannot follow those that are
    there, and SaveError if it cannot be written."""
    assert project.folder is not None
    there = versions(project.folder)
    where = Place(str(project.folder / FOLDER))
    if not is_number(number):
        raise InputError(f'"{number[:20]}" does not number a version', mend="write 1.0 or 1.1")
    if there and rank(number) <= rank(there[-1]):
        raise InputError(
            f"version {there[-1]} is frozen already, so the next cannot be {number}",
            mend=f"choose a number after {there[-1]}",
            place=where,
        )
    target = project.folder / FOLDER / number
    if target.exists():
        raise SaveError(f"{target} was not written: there is something of this name already")
    sources = [(_name(project, path), file_bytes(path)) for path in _files(project)]
    made = Version(number, tuple(facts), dated)
    text = json.dumps(
        {"seamproof": FORM, **_VERSION.dump_python(made, mode="json")}, indent=1, ensure_ascii=False
    )
    written = []
    for name, data in sources:
        make_folder((target / name).parent)
        save_bytes(target / name, data)
        written.append(target / name)
    save_text(target / FILE, text + "\n")  # last: without it there is no version
    return (target / FILE, *written)


def read_version(folder: Path, number: str) -> Version:
    """A frozen version. Raises InputError if there is none, or it cannot be read."""
    path = folder / FOLDER / number / FILE
    if not is_number(number) or not path.is_file():
        there = ", ".join(versions(folder)) or "none yet"
        raise InputError(
            f"there is no version {number[:20]}",
            mend=f"frozen are: {there}",
            place=Place(str(folder / FOLDER)),
        )
    try:
        if path.stat().st_size > MOST_BYTES:
            raise ValueError
        plain: Any = json.loads(path.read_text(encoding="utf-8"))
        if plain.pop("seamproof") != FORM:
            raise InputError(
                "this version was frozen by a newer program", place=Place(str(path)), mend="update"
            )
        return _VERSION.validate_python(plain)
    except (OSError, ValueError, KeyError, AttributeError, ValidationError):
        raise InputError(
            "this version cannot be read: its file is damaged",
            mend="take it from a copy of the folder",
            place=Place(str(path)),
        ) from None
