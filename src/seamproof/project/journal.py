"""The history of a quilt that is open in the page: every step by name, to be undone and redone.

One SQLite file in the project's folder, under `FOLDER`. It holds the texts of files, compressed
and each once, the steps with what they changed, and for every file its *head*: the text that
should now be on the disk, and the one before. A step is written here first and into the file
second; so after a crash at any moment a file is its head, or the text before it (then the step is
finished), or something that another program wrote (then that is a step of its own).

Raised is :class:`~seamproof.errors.SaveError` for whatever the disk refuses.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import sqlite3
import zlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from seamproof.errors import SaveError

FOLDER = ".seamproof"
"""The folder beside ``quilt.yaml`` that holds what is no drawing."""

FILE = "history.sqlite3"

Kind = Literal["edit", "outside"]
State = Literal["done", "undone", "dropped"]

_TABLES = """
CREATE TABLE IF NOT EXISTS texts (mark TEXT PRIMARY KEY, packed BLOB NOT NULL) WITHOUT ROWID;
CREATE TABLE IF NOT EXISTS steps (
    id INTEGER PRIMARY KEY, what TEXT NOT NULL, at TEXT NOT NULL, kind TEXT NOT NULL,
    state TEXT NOT NULL, undone INTEGER);
CREATE INDEX IF NOT EXISTS steps_by_state ON steps (state, id);
CREATE TABLE IF NOT EXISTS changes (
    step INTEGER NOT NULL, file TEXT NOT NULL, before TEXT, after TEXT, PRIMARY KEY (step, file)
    ) WITHOUT ROWID;
CREATE INDEX IF NOT EXISTS changes_by_file ON changes (file, step);
CREATE TABLE IF NOT EXISTS heads (file TEXT PRIMARY KEY, now TEXT, was TEXT) WITHOUT ROWID;
CREATE TABLE IF NOT EXISTS kept (
    id INTEGER PRIMARY KEY, file TEXT NOT NULL, at TEXT NOT NULL, why TEXT NOT NULL,
    mark TEXT NOT NULL);
PRAGMA user_version = 1;
"""


class InUse(SaveError):
    """Another program has the history open."""


@dataclass(frozen=True, slots=True)
class Change:
    """What a step does to a file: its text before and after, None where there is no file. `file`
    is its path from the project's folder, with ``/``."""

    file: str
    before: bytes | None
    after: bytes | None


@dataclass(frozen=True, slots=True)
class Step:
    """One named step. `at` is when it was made, as told; an outside step another program made."""

    id: int
    what: str
    at: str
    kind: Kind
    state: State
    files: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Kept:
    """A text that was not saved, because the file had changed meanwhile, and is not lost either."""

    id: int
    file: str
    at: str
    why: str


@dataclass(frozen=True, slots=True)
class Head:
    """What should be on the disk for a file, and what was there before the last step."""

    now: bytes | None
    was: bytes | None


@dataclass(frozen=True, slots=True)
class Recorded:
    """A step that was written, and the undone steps that can no longer be redone because of it."""

    step: int
    dropped: tuple[int, ...]


class Journal:
    """The open history. Not shared between threads at one time; whoever uses it sees to that."""

    def __init__(self, folder: Path | None) -> None:
        """Open the history in a project's folder, made if it is not there; None: in memory only.

        A damaged file is put aside under another name, which `damaged` then holds. Raises InUse if
        another program has it open.
        """
        self.damaged: Path | None = None
        self._db = self._opened(folder)

    def _opened(self, folder: Path | None) -> sqlite3.Connection:
        if folder is None:
            return _connected(":memory:")
        place = folder / FOLDER
        try:
            place.mkdir(exist_ok=True)
            ignore = place / ".gitignore"
            if not ignore.exists():
                ignore.write_text("*\n", encoding="utf-8")
        except OSError as problem:
            raise SaveError(f"the history of {folder} cannot be kept: {problem}") from problem
        path = place / FILE
        try:
            return _connected(str(path))
        except sqlite3.OperationalError as problem:
            raise _refusal(problem) from problem
        except sqlite3.DatabaseError:
            self.damaged = _aside(path)
            return _connected(str(path))

    def close(self) -> None:
        """Close the file. What was written is safe without it."""
        self._db.close()

    # What there is ------------------------------------------------------------------------------

    def heads(self) -> dict[str, Head]:
        """What should be on the disk, by file."""
        rows = self._db.execute("SELECT file, now, was FROM heads ORDER BY file").fetchall()
        return {file: Head(self._text(now), self._text(was)) for file, now, was in rows}

    def marks(self) -> dict[str, str | None]:
        """The marks of the texts that should be on the disk, None where there should be no file."""
        return dict(self._db.execute("SELECT file, now FROM heads ORDER BY file").fetchall())

    def head(self, file: str) -> Head | None:
        """What should be on the disk for one file; None if it was never seen."""
        row = self._db.execute("SELECT now, was FROM heads WHERE file = ?", (file,)).fetchone()
        return None if row is None else Head(self._text(row[0]), self._text(row[1]))

    def next_undone(self, file: str | None = None) -> Step | None:
        """The step that undoing takes back: the last one done, of that file or of all."""
        return self._one("done", "id", file)

    def next_redone(self, file: str | None = None) -> Step | None:
        """The step that redoing brings back: the one undone last, of that file or of all."""
        return self._one("undone", "undone", file)

    def state(self, step: int) -> State | None:
        """Whether a step is done, undone or dropped; None if there is no such step."""
        row = self._db.execute("SELECT state FROM steps WHERE id = ?", (step,)).fetchone()
        return None if row is None else row[0]

    def steps(self, most: int, file: str | None = None) -> tuple[Step, ...]:
        """The last steps that are done or undone, the newest first."""
        rows = self._db.execute(
            "SELECT id, what, at, kind, state FROM steps WHERE state != 'dropped'"
            " AND (?1 IS NULL OR id IN (SELECT step FROM changes WHERE file = ?1))"
            " ORDER BY id DESC LIMIT ?2",
            (file, most),
        ).fetchall()
        return tuple(self._step(row) for row in rows)

    def changes(self, step: int) -> tuple[Change, ...]:
        """What a step changed."""
        rows = self._db.execute(
            "SELECT file, before, after FROM changes WHERE step = ? ORDER BY file", (step,)
        ).fetchall()
        return tuple(Change(file, self._text(old), self._text(new)) for file, old, new in rows)

    def kept(self, most: int) -> tuple[Kept, ...]:
        """The texts that were not saved, the newest first."""
        rows = self._db.execute(
            "SELECT id, file, at, why FROM kept ORDER BY id DESC LIMIT ?", (most,)
        ).fetchall()
        return tuple(Kept(*row) for row in rows)

    def kept_text(self, number: int) -> tuple[str, bytes] | None:
        """The file and the text of one that was not saved."""
        row = self._db.execute("SELECT file, mark FROM kept WHERE id = ?", (number,)).fetchone()
        if row is None:
            return None
        text = self._text(row[1])
        return None if text is None else (row[0], text)

    # Writing ------------------------------------------------------------------------------------

    def meet(self, texts: Mapping[str, bytes | None]) -> None:
        """Files are seen for the first time, or taken as they are without a step."""
        with self._whole():
            for file, text in texts.items():
                self._set_head(file, text, text)

    def record(
        self, what: str, at: str, changes: Sequence[Change], kind: Kind = "edit"
    ) -> Recorded:
        """Write a step, the new heads of its files, and drop what can no longer be redone."""
        files = [change.file for change in changes]
        marks = ",".join("?" * len(files))
        with self._whole():
            dropped = [
                row[0]
                for row in self._db.execute(
                    "SELECT DISTINCT id FROM steps JOIN changes ON step = id"
                    f" WHERE state = 'undone' AND file IN ({marks})",
                    files,
                )
            ]
            self._set_states(dropped, "dropped")
            step = self._db.execute(
                "INSERT INTO steps (what, at, kind, state) VALUES (?, ?, ?, 'done')",
                (what, at, kind),
            ).lastrowid
            assert step is not None
            for change in changes:
                self._db.execute(
                    "INSERT INTO changes VALUES (?, ?, ?, ?)",
                    (step, change.file, self._put(change.before), self._put(change.after)),
                )
                self._set_head(change.file, change.after, change.before)
        return Recorded(step, tuple(dropped))

    def take_back(self, recorded: Recorded) -> None:
        """The step did not come to pass: as if it had never been written."""
        with self._whole():
            for change in self.changes(recorded.step):
                self._set_head(change.file, change.before, change.before)
            self._db.execute("DELETE FROM changes WHERE step = ?", (recorded.step,))
            self._db.execute("DELETE FROM steps WHERE id = ?", (recorded.step,))
            self._set_states(recorded.dropped, "undone")

    def turn(self, step: int, state: Literal["done", "undone"]) -> None:
        """A step is undone, or done again; the heads of its files follow."""
        with self._whole():
            self._set_states([step], state)
            if state == "undone":
                self._db.execute(
                    "UPDATE steps SET undone = (SELECT COALESCE(MAX(undone), 0) + 1 FROM steps)"
                    " WHERE id = ?",
                    (step,),
                )
            for change in self.changes(step):
                new, old = change.after, change.before
                if state == "undone":
                    new, old = old, new
                self._set_head(change.file, new, old)

    def settle(self) -> None:
        """All heads are on the disk."""
        if self._db.execute("SELECT 1 FROM heads WHERE was IS NOT now LIMIT 1").fetchone():
            with self._whole():
                self._db.execute("UPDATE heads SET was = now")

    def keep(self, file: str, at: str, why: str, text: bytes) -> int:
        """Keep a text that could not be saved; its number."""
        with self._whole():
            number = self._db.execute(
                "INSERT INTO kept (file, at, why, mark) VALUES (?, ?, ?, ?)",
                (file, at, why, self._put(text)),
            ).lastrowid
        assert number is not None
        return number

    # Inside -------------------------------------------------------------------------------------

    @contextlib.contextmanager
    def _whole(self) -> Iterator[None]:
        """All of it or nothing, and on the disk when it ends."""
        try:
            self._db.execute("BEGIN IMMEDIATE")
            try:
                yield
                self._db.execute("COMMIT")
            except BaseException:
                with contextlib.suppress(sqlite3.Error):
                    self._db.execute("ROLLBACK")
                raise
        except sqlite3.Error as problem:
            raise _refusal(problem) from problem

    def _one(self, state: State, order: Literal["id", "undone"], file: str | None) -> Step | None:
        found = self._db.execute(
            "SELECT id, what, at, kind, state FROM steps WHERE state = ?2"
            " AND (?1 IS NULL OR id IN (SELECT step FROM changes WHERE file = ?1))"
            f" ORDER BY {order} DESC LIMIT 1",
            (file, state),
        ).fetchone()
        return None if found is None else self._step(found)

    def _step(self, row: tuple[int, str, str, Kind, State]) -> Step:
        files = self._db.execute(
            "SELECT file FROM changes WHERE step = ? ORDER BY file", (row[0],)
        ).fetchall()
        return Step(*row, tuple(name for (name,) in files))

    def _set_states(self, steps: Iterable[int], state: State) -> None:
        self._db.executemany("UPDATE steps SET state = ? WHERE id = ?", [(state, s) for s in steps])

    def _set_head(self, file: str, now: bytes | None, was: bytes | None) -> None:
        self._db.execute(
            "INSERT INTO heads VALUES (?, ?, ?)"
            " ON CONFLICT (file) DO UPDATE SET now = excluded.now, was = excluded.was",
            (file, self._put(now), self._put(was)),
        )

    def _put(self, text: bytes | None) -> str | None:
        if text is None:
            return None
        mark = mark_of(text)
        self._db.execute("INSERT OR IGNORE INTO texts VALUES (?, ?)", (mark, zlib.compress(text)))
        return mark

    def _text(self, mark: str | None) -> bytes | None:
        if mark is None:
            return None
        row = self._db.execute("SELECT packed FROM texts WHERE mark = ?", (mark,)).fetchone()
        return None if row is None else zlib.decompress(row[0])


def mark_of(text: bytes) -> str:
    """The SHA-256 of a text: the name under which it is kept once."""
    return hashlib.sha256(text).hexdigest()


def _connected(path: str) -> sqlite3.Connection:
    """A connection that nobody else can have at the same time, whose commits are on the disk."""
    db = sqlite3.connect(path, timeout=0.5, isolation_level=None, check_same_thread=False)
    try:
        # Exclusive before the write-ahead log: then no memory is shared between programs, which
        # network disks do not know, and the lock goes when this process ends, however it ends.
        db.execute("PRAGMA locking_mode = EXCLUSIVE")
        db.execute("PRAGMA journal_mode = WAL")
        db.execute("PRAGMA synchronous = FULL")
        db.execute("BEGIN IMMEDIATE")
        db.execute("COMMIT")
        db.executescript(_TABLES)
        if path != ":memory:" and db.execute("PRAGMA quick_check(1)").fetchone() != ("ok",):
            raise sqlite3.DatabaseError("damaged")
    except BaseException:
        db.close()
        raise
    return db


def _aside(path: Path) -> Path:
    """Put a damaged history under a name that is free."""
    number = 1
    while (other := path.with_name(f"damaged-{number}.sqlite3")).exists():
        number += 1
    os.replace(path, other)  # noqa: PTH105 - like the other calls that replace a file
    for ending in ("-wal", "-shm", "-journal"):
        path.with_name(path.name + ending).unlink(missing_ok=True)
    return other


def _refusal(problem: sqlite3.Error) -> SaveError:
    if "locked" in str(problem):
        return InUse("this quilt is open in another seamproof serve: use that page, or stop it")
    return SaveError(f"the history of this quilt cannot be written: {problem}")
