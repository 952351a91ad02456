"""A quilt that is open in the page: its files, their revisions, and the way back.

The folder is the state. A *revision* is the mark of a text; who saves says which one the change
was made to, and if the file is another by now nothing is written: `Stale` is raised, and both
texts are kept. What another program writes is met by `look` and becomes a step like any other.
"""

from __future__ import annotations

import contextlib
import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from seamproof.errors import InputError, SaveError
from seamproof.project.journal import Change, InUse, Journal, Step, mark_of
from seamproof.project.model import Project, Source
from seamproof.project.quilt_file import QUILT_FILE, block_files, quilt_project
from seamproof.project.reading import read_block_bytes
from seamproof.project.saving import remove, save_bytes, sweep
from seamproof.project.yaml_tree import document, file_bytes

OUTSIDE = "Changed by another program"
REVISION_LENGTH = 16
"""Hexadecimal digits of a revision: 64 bits, and only texts of one file are ever compared."""

SOURCES = 64
"""Texts that are kept as read: each edit asks for the one before and the one after it."""


class Stale(InputError):
    """A change was made to a text that is no longer the file's. `kept` is the number under which
    the journal has what was not saved, `theirs` what the file says now, None if it is gone."""

    def __init__(self, file: str, kept: int, theirs: bytes | None) -> None:
        super().__init__(
            f"{file} has changed meanwhile", mend="look at both, and take one or the other"
        )
        self.file, self.kept, self.theirs = file, kept, theirs


@dataclass(frozen=True, slots=True)
class Turned:
    """A step that was undone or redone, and the files that it changed."""

    step: Step
    files: tuple[str, ...]


def revision(text: bytes | None) -> str:
    """The mark of a text; of a file that is not there, ``gone``.

    >>> revision(b"name: One"), revision(None)
    ('14bd9b66d3dab981', 'gone')
    """
    return "gone" if text is None else hashlib.sha256(text).hexdigest()[:REVISION_LENGTH]


class OpenQuilt:
    """The files of a quilt and their history. One thread at a time."""

    def __init__(self, folder: Path, *, at: str) -> None:
        """Open a folder. `told` then says what was found: what a crash left and what was done.

        A folder that cannot be written to is opened without a lasting history. Raises InUse if
        another program has it open.
        """
        self.folder = folder.resolve()
        if not self.folder.is_dir():
            raise InputError(
                f"there is no folder {folder}", mend="name the folder that your quilt lies in"
            )
        self.told: list[str] = []
        self._project: tuple[tuple[bytes | None, tuple[Path, ...]], Project] | None = None
        self._sources: dict[tuple[str, bytes], tuple[Project, Source]] = {}
        for left in (*sweep(self.folder), *sweep(self.folder / "blocks")):
            self.told.append(f"A half-written file of an earlier run was removed ({left.name}).")
        self.journal = self._journal()
        self._recover(at)

    def close(self) -> None:
        """Let go of the history."""
        with contextlib.suppress(SaveError):
            self.settle()
        self.journal.close()

    def settle(self) -> None:
        """Note that the last steps are on the disk. Until then a file that says what it said
        before them is taken for one that a crash kept from being written."""
        self.journal.settle()

    # Reading ------------------------------------------------------------------------------------

    def text(self, file: str) -> bytes | None:
        """What a file says now, None if there is none. Raises InputError if it cannot be read."""
        path = self.folder / file
        return file_bytes(path) if path.is_file() else None

    def project(self) -> Project:
        """The project as its files say. Raises InputError if the quilt file cannot be read."""
        text, blocks = self.text(QUILT_FILE), block_files(self.folder)
        if self._project is None or self._project[0] != (text, blocks):
            if text is None:
                made = Project(folder=self.folder, name=self.folder.name, blocks=blocks)
            else:
                made = quilt_project(document(text, QUILT_FILE), self.folder)
            self._project = ((text, blocks), made)
        return self._project[1]

    def check(self, text: bytes) -> None:
        """Raises InputError, with the place, if that could not be read as the quilt file."""
        quilt_project(document(text, QUILT_FILE), self.folder)

    def files(self) -> dict[str, str]:
        """The block files by the names they have in addresses: a file's name without its ending;
        the second of two of a name, in another folder, has the folder's before it."""
        found: dict[str, str] = {}
        try:
            paths = self.project().blocks
        except InputError:
            paths = block_files(self.folder)
        for path in paths:
            file = path.relative_to(self.folder).as_posix()
            name = path.stem if path.stem not in found else file.replace("/", "-")
            found[name] = file
        return found

    def source(self, file: str, text: bytes) -> Source:
        """A text of a block file, read in this project. Raises InputError."""
        project, key = self.project(), (file, text)
        known = self._sources.get(key)
        if known is None or known[0] is not project:
            while len(self._sources) >= SOURCES:
                del self._sources[next(iter(self._sources))]
            known = (project, read_block_bytes(text, self.folder / file, project))
            self._sources[key] = known
        return known[1]

    def revision(self) -> str:
        """The mark of the project as a whole: of the quilt file, and of which blocks there are."""
        listed = "\n".join(self.files().values()).encode()
        return revision((self.text(QUILT_FILE) or b"") + b"\0" + listed)

    # Writing ------------------------------------------------------------------------------------

    def save(self, file: str, text: bytes, *, base: str, what: str, at: str) -> str:
        """Write one file as a step called `what`; the new revision. `base` is the revision that
        the change was made to. Raises Stale or SaveError; then the file is as it was."""
        self.change({file: text}, bases={file: base}, what=what, at=at)
        return revision(text)

    def change(
        self,
        texts: Mapping[str, bytes | None],
        *,
        bases: Mapping[str, str],
        what: str,
        at: str,
    ) -> None:
        """Write several files as one step, None to remove one. Raises Stale or SaveError; then
        all are as they were."""
        self.look(at)
        now = {file: self.text(file) for file in texts}
        for file, base in bases.items():
            if revision(now.get(file)) != base:
                mine = texts.get(file)
                kept = self.journal.keep(file, at, what, mine or b"")
                raise Stale(file, kept, now.get(file))
        changes = [Change(f, now[f], text) for f, text in texts.items() if now[f] != text]
        if not changes:
            return
        recorded = self.journal.record(what, at, changes)
        try:
            self._write(changes)
        except SaveError:
            self.journal.take_back(recorded)
            raise

    def undo(self, at: str, file: str | None = None) -> Turned | None:
        """Take the last step back, of one file or of all; None if there is none. Raises
        InputError if something later stands in the way."""
        self.look(at)
        return self._turn(self.journal.next_undone(file), undo=True)

    def redo(self, at: str, file: str | None = None) -> Turned | None:
        """Do the next undone step again; None if there is none."""
        self.look(at)
        return self._turn(self.journal.next_redone(file), undo=False)

    def go_to(self, step: int, at: str, file: str | None = None) -> Turned | None:
        """Go to a point of the history of one file or of all: what was done after this step is
        undone, or, if it is itself undone, redone until it is done. 0 undoes everything.

        Gives back what was turned last, with all files that changed; None if nothing was. Raises
        InputError if something stands in the way: what was turned until then stays so.
        """
        self.look(at)
        turned: list[Turned] = []
        if self.journal.state(step) == "undone":
            while self.journal.state(step) == "undone":
                again = self._turn(self.journal.next_redone(file), undo=False)
                if again is None:
                    break  # it is a step of another file
                turned.append(again)
        else:
            while (last := self.journal.next_undone(file)) is not None and last.id > step:
                turned += filter(None, [self._turn(last, undo=True)])
        if not turned:
            return None
        files = dict.fromkeys(name for one in turned for name in one.files)
        return Turned(turned[-1].step, tuple(files))

    def look(self, at: str) -> tuple[str, ...]:
        """The files that another program changed since we looked; each becomes a step."""
        marks = self.journal.marks()
        met = {file: self.text(file) for file in self._present() if file not in marks}
        changed = []
        for file, mark in marks.items():
            text = self.text(file)
            if mark == (None if text is None else mark_of(text)):
                continue
            head = self.journal.head(file)
            if head is None or head.now is None:
                met[file] = text
            else:
                self.journal.record(OUTSIDE, at, [Change(file, head.now, text)], "outside")
                changed.append(file)
        if met:
            self.journal.meet(met)
        return tuple(sorted([*changed, *met]))

    # Inside -------------------------------------------------------------------------------------

    def _journal(self) -> Journal:
        try:
            journal = Journal(self.folder)
        except InUse:
            raise
        except SaveError as problem:
            self.told.append(f"Nothing can be saved here: {problem}.")
            return Journal(None)
        if journal.damaged:
            self.told.append(
                f"The history was damaged and begins anew; the old one is {journal.damaged.name}."
            )
        return journal

    def _recover(self, at: str) -> None:
        """Finish what a crash cut off, and meet what changed while nobody looked."""
        for file, head in self.journal.heads().items():
            text = self.text(file)
            if text not in (head.now, head.was) or text == head.now:
                continue
            with contextlib.suppress(SaveError):
                self._write([Change(file, text, head.now)])
                self.told.append(f"The last change to {file} was not yet saved; now it is.")
        known = bool(self.journal.heads())
        changed = self.look(at)
        if known:
            self.told += [f"{file} was changed while the page was closed." for file in changed]

    def _present(self) -> list[str]:
        paths = [*block_files(self.folder)]
        if (self.folder / QUILT_FILE).is_file():
            paths.append(self.folder / QUILT_FILE)
        return [path.relative_to(self.folder).as_posix() for path in paths]

    def _turn(self, step: Step | None, *, undo: bool) -> Turned | None:
        if step is None:
            return None
        changes = self.journal.changes(step.id)
        if undo:
            changes = tuple(Change(c.file, c.after, c.before) for c in changes)
        for change in changes:
            if self.text(change.file) != change.before:
                raise InputError(
                    f"{change.file} was changed after “{step.what}”",
                    mend="undo the later changes first",
                )
        self.journal.turn(step.id, "undone" if undo else "done")
        try:
            self._write(changes)
        except SaveError:
            self.journal.turn(step.id, "done" if undo else "undone")
            raise
        return Turned(step, tuple(change.file for change in changes))

    def _write(self, changes: list[Change] | tuple[Change, ...]) -> None:
        """Bring changes to the disk; if one fails those before it are taken back."""
        begun: list[Change] = []
        try:
            for change in changes:
                begun.append(change)
                self._put(change.file, change.after)
        except SaveError:
            # The last one too: a disk may take a file and then not confirm it.
            for change in reversed(begun):
                with contextlib.suppress(SaveError, InputError):
                    if self.text(change.file) != change.before:
                        self._put(change.file, change.before)
            raise

    def _put(self, file: str, text: bytes | None) -> None:
        path = self.folder / file
        if text is None:
            remove(path)
        else:
            if not path.parent.is_dir():  # the first block of a quilt that has none
                try:
                    path.parent.mkdir()
                except OSError as problem:
                    said = f"{path.parent} cannot be made ({problem.strerror or problem})"
                    raise SaveError(said) from problem
            save_bytes(path, text)
