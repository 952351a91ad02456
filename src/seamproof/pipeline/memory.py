"""What was worked out before, found again by what it was worked out from.

A result is kept under the SHA-256 of the canonical JSON of everything it depends on: the stage's
inputs, its own settings, and the code. So nothing has to be told that something changed: what
changed has another key. Results are kept in the process and, as JSON, in a folder that is safe to
delete at any time. A file that cannot be read back whole is as good as none.

The law that makes this harmless: with memory or without, results are equal to the last byte.
"""

from __future__ import annotations

import contextlib
import functools
import hashlib
import json
import os
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from types import GenericAlias
from typing import Any, Generic, TypeVar

from pydantic import ConfigDict, TypeAdapter, ValidationError

Taken = TypeVar("Taken")
Given = TypeVar("Given")

MOST_BYTES = 200 * 1024 * 1024
"""The folder is kept below this. A block of the trade leaves about 100 kB, so it holds the work of
a thousand."""

KEPT_AFTER_CLEARING = 0.8
"""Clearing goes on until this share of the limit is left, so that it does not happen every time."""

_MARK_LENGTH = 64  # hexadecimal digits of a SHA-256


@dataclass(frozen=True)
class Stage(Generic[Taken, Given]):
    """One thing worth remembering: its name, the types of what it takes and gives, and the
    distributions whose versions change what comes out."""

    name: str
    takes: Any
    gives: Any
    stands_on: tuple[str, ...] = ()

    @functools.cached_property
    def taken(self) -> TypeAdapter[tuple[Taken]]:
        """Writes what the stage takes, as one of a tuple, which can have settings of its own: bytes
        such as a photograph's are written in base 64, and what is no number is not hidden."""
        one: Any = GenericAlias(tuple, (self.takes,))
        config = ConfigDict(ser_json_bytes="base64", ser_json_inf_nan="constants")
        return TypeAdapter(one, config=config)

    @functools.cached_property
    def given(self) -> TypeAdapter[Given]:
        """Writes and reads what the stage gives."""
        return TypeAdapter(self.gives)

    def key(self, inputs: Taken) -> str:
        """The name under which the result for these inputs is kept: 64 hexadecimal digits.

        Settings in another order are other inputs: what comes first may matter to a stage.
        """
        before = [self.name, code_mark(), [[name, version_of(name)] for name in self.stands_on]]
        return _mark(json.dumps(before).encode() + self.taken.dump_json((inputs,)))


class Memory:
    """Results kept in the process, and in `folder` if there is one.

    `fresh` looks nothing up; what is worked out is still kept. `most_here` is how many results are
    kept in the process, those used last; None: all. Not shared between threads.
    """

    def __init__(
        self,
        folder: Path | None = None,
        *,
        most_bytes: int = MOST_BYTES,
        fresh: bool = False,
        most_here: int | None = None,
    ) -> None:
        self.folder = folder
        self.fresh = fresh
        self._most_bytes = most_bytes
        self._most_here = most_here
        self._here: dict[str, Any] = {}
        self._bytes: int | None = None

    def recall(self, stage: Stage[Taken, Given], inputs: Taken, make: Callable[[], Given]) -> Given:
        """The result of a stage for these inputs: remembered, or made now and kept.

        What `make` raises is passed on, and nothing is kept.
        """
        key = stage.key(inputs)
        if not self.fresh:
            if key in self._here:
                found: Given = self._here.pop(key)
                self._hold(key, found)
                return found
            kept = self._read(stage, key)
            if kept is not None:
                self._hold(key, kept[0])
                return kept[0]
        made = make()
        self._hold(key, made)
        self._write(stage, key, made)
        return made

    def knows(self, stage: Stage[Taken, Any], inputs: Taken) -> bool:
        """Whether the result for these inputs is kept, as far as can be told without reading it."""
        key = stage.key(inputs)
        path = self._path(stage, key)
        return not self.fresh and (key in self._here or (path is not None and path.is_file()))

    def _hold(self, key: str, found: Any) -> None:
        """Keep a result in the process, as the one used last."""
        self._here[key] = found
        if self._most_here is not None and len(self._here) > self._most_here:
            del self._here[next(iter(self._here))]

    def _path(self, stage: Stage[Taken, Given], key: str) -> Path | None:
        return None if self.folder is None else self.folder / f"{stage.name}-{key}.json"

    def _read(self, stage: Stage[Taken, Given], key: str) -> tuple[Given] | None:
        """What is kept, in a tuple of one so that None can be a result; None if there is none."""
        path = self._path(stage, key)
        if path is None:
            return None
        try:
            text = path.read_bytes()
        except OSError:
            return None
        mark, _, plain = text.partition(b"\n")
        try:
            if mark.decode("ascii") != _mark(plain):
                return None
            found = stage.given.validate_json(plain)
        except (UnicodeDecodeError, ValidationError):
            return None
        with contextlib.suppress(OSError):
            os.utime(path)  # the oldest are removed first, and this one was just of use
        return (found,)

    def _write(self, stage: Stage[Taken, Given], key: str, made: Given) -> None:
        """Keep a result. A folder that cannot be written to is not the maker's concern."""
        path = self._path(stage, key)
        if path is None:
            return
        plain = stage.given.dump_json(made)
        text = _mark(plain).encode("ascii") + b"\n" + plain
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            descriptor, written = tempfile.mkstemp(prefix="writing-", dir=path.parent)
            try:
                with os.fdopen(descriptor, "wb") as file:
                    file.write(text)
                Path(written).replace(path)
            except BaseException:
                Path(written).unlink()
                raise
        except OSError:
            return
        self._clear(path.parent, len(text))

    def _clear(self, folder: Path, added: int) -> None:
        """Remove the files that were of no use for longest, once there is too much."""
        if self._bytes is not None:
            self._bytes += added
            if self._bytes <= self._most_bytes:
                return
        found = []
        for path in folder.iterdir():
            try:
                state = path.stat()
            except OSError:
                continue
            found.append((state.st_mtime_ns, path.name, state.st_size))
        self._bytes = sum(size for _, _, size in found)
        if self._bytes <= self._most_bytes:
            return
        for _, name, size in sorted(found):
            if self._bytes <= self._most_bytes * KEPT_AFTER_CLEARING:
                break
            try:
                (folder / name).unlink()
            except OSError:
                continue
            self._bytes -= size


def users_memory(*, fresh: bool = False) -> Memory:
    """The memory in the user's cache folder."""
    return Memory(users_folder(), fresh=fresh)


def users_folder() -> Path:
    """The user's cache folder, by the custom of the system; it need not exist."""
    from platformdirs import user_cache_path

    return user_cache_path("seamproof", appauthor=False) / "memory"


@functools.cache
def code_mark() -> str:
    """The mark of the code that is running.

    The package's version would do for those who install it. Whoever works on the code changes it
    without changing the version, and must not be shown what yesterday's code worked out. Page
    designs and fonts count as code.
    """
    roof = Path(__file__).parent.parent
    files = (p for kind in ("py", "typ", "ttf", "css") for p in roof.rglob(f"*.{kind}"))
    sources = sorted(path.relative_to(roof).as_posix() for path in files)
    mark = hashlib.sha256(str(version_of("seamproof")).encode())
    for name in sources:
        mark.update(name.encode() + b"\0" + (roof / name).read_bytes() + b"\0")
    return mark.hexdigest()


@functools.cache
def version_of(name: str) -> str | None:
    """The version of an installed distribution; None if it is not installed.

    >>> version_of("no-such-thing") is None
    True
    """
    try:
        return version(name)
    except PackageNotFoundError:
        return None


def _mark(text: bytes) -> str:
    return hashlib.sha256(text).hexdigest()
