"""Whatever happens between two saves, a file is one whole text or the other; nothing is lost."""

from __future__ import annotations

import errno
import os
import sqlite3
import stat
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    Bundle,
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
)

from seamproof.errors import InputError, SaveError
from seamproof.project import saving
from seamproof.project.journal import FILE, FOLDER, InUse, Journal
from seamproof.project.open_quilt import OUTSIDE, OpenQuilt, Stale, revision

AT = "2026-01-01T10:00:00+00:00"
ONE, TWO = "blocks/one.yaml", "two.yaml"


def text(word: str) -> bytes:
    return f"# {word}\nname: One\nfinished: 6\ncells:\n  - a\n".encode()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "blocks").mkdir()
    (tmp_path / ONE).write_bytes(text("first"))
    return tmp_path


def opened(folder: Path) -> OpenQuilt:
    return OpenQuilt(folder, at=AT)


def crash(quilt: OpenQuilt) -> None:
    """The process ends here: the lock goes, nothing else is done."""
    quilt.journal.close()


def test_a_save_names_what_it_was_made_to(folder: Path) -> None:
    quilt = opened(folder)
    base = revision(text("first"))
    new = quilt.save(ONE, text("second"), base=base, what="Named", at=AT)
    assert new == revision(text("second"))
    with pytest.raises(Stale) as stale:
        quilt.save(ONE, text("mine"), base=base, what="Mine", at=AT)
    assert (folder / ONE).read_bytes() == text("second") == stale.value.theirs
    assert quilt.journal.kept_text(stale.value.kept) == (ONE, text("mine"))
    assert [kept.why for kept in quilt.journal.kept(9)] == ["Mine"]
    quilt.save(ONE, text("mine"), base=new, what="Mine", at=AT)


def test_any_point_of_the_history_can_be_gone_to(folder: Path) -> None:
    quilt = OpenQuilt(folder, at=AT)
    first = (folder / ONE).read_bytes()
    mark = revision(first)
    for number in (1, 2, 3):
        text = first + f"# {number}\n".encode()
        mark = quilt.save(ONE, text, base=mark, what=f"Step {number}", at=AT)
    ids = [step.id for step in quilt.journal.steps(10)][::-1]
    for step, text in ((ids[0], b"# 1\n"), (ids[2], b"# 3\n"), (0, b""), (ids[1], b"# 2\n")):
        turned = quilt.go_to(step, AT)
        assert turned is not None
        assert turned.files == (ONE,)
        assert (folder / ONE).read_bytes() == first + text
    assert quilt.go_to(ids[1], AT) is None
    quilt.close()


def test_a_second_program_is_refused_and_may_come_after_the_first(folder: Path) -> None:
    quilt = opened(folder)
    with pytest.raises(InUse):
        opened(folder)
    quilt.close()
    opened(folder).close()


def test_a_change_of_another_program_is_a_step_that_can_be_undone(folder: Path) -> None:
    quilt = opened(folder)
    (folder / ONE).write_bytes(text("theirs"))
    assert quilt.look(AT) == (ONE,)
    assert quilt.look(AT) == ()
    step = quilt.journal.next_undone(ONE)
    assert step is not None
    assert (step.what, step.kind) == (OUTSIDE, "outside")
    quilt.undo(AT)
    assert (folder / ONE).read_bytes() == text("first")
    quilt.redo(AT)
    assert (folder / ONE).read_bytes() == text("theirs")
    (folder / ONE).unlink()
    assert quilt.look(AT) == (ONE,)
    quilt.undo(AT)
    assert (folder / ONE).read_bytes() == text("theirs")


def test_a_new_file_of_another_program_is_met_and_never_removed(folder: Path) -> None:
    quilt = opened(folder)
    (folder / TWO).write_bytes(text("new"))
    assert quilt.look(AT) == (TWO,)
    assert quilt.undo(AT) is None
    assert (folder / TWO).exists()


def test_a_save_that_a_crash_cut_off_is_finished_and_told(folder: Path) -> None:
    quilt = opened(folder)
    quilt.save(ONE, text("second"), base=revision(text("first")), what="Two", at=AT)
    crash(quilt)
    (folder / ONE).write_bytes(text("first"))  # the history was written, the file was not
    quilt = opened(folder)
    assert (folder / ONE).read_bytes() == text("second")
    assert any("now it is" in line for line in quilt.told)
    quilt.undo(AT)
    assert (folder / ONE).read_bytes() == text("first")


def test_an_old_text_put_back_while_the_page_was_closed_stays(folder: Path) -> None:
    quilt = opened(folder)
    quilt.save(ONE, text("second"), base=revision(text("first")), what="Two", at=AT)
    quilt.close()
    (folder / ONE).write_bytes(text("first"))
    quilt = opened(folder)
    assert (folder / ONE).read_bytes() == text("first")
    assert quilt.told == [f"{ONE} was changed while the page was closed."]
    quilt.undo(AT)
    assert (folder / ONE).read_bytes() == text("second")


def test_what_a_killed_program_left_is_swept_and_told(folder: Path) -> None:
    left = folder / "blocks" / ".seamproof-999999-0123456789abcdef.tmp"
    left.write_bytes(b"half")
    quilt = opened(folder)
    assert not left.exists()
    assert any(left.name in line for line in quilt.told)


@pytest.mark.parametrize("damage", [b"", b"nonsense" * 200, None])
def test_a_damaged_history_is_put_aside(folder: Path, damage: bytes | None) -> None:
    quilt = opened(folder)
    quilt.save(ONE, text("second"), base=revision(text("first")), what="Two", at=AT)
    quilt.close()
    path = folder / FOLDER / FILE
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2] if damage is None else damage)
    quilt = opened(folder)
    assert (folder / ONE).read_bytes() == text("second")
    assert quilt.journal.next_undone() is None
    quilt.save(ONE, text("third"), base=revision(text("second")), what="Three", at=AT)
    assert damage == b"" or any("damaged" in line for line in quilt.told)


def test_a_step_over_two_files_is_undone_whole_or_not_at_all(folder: Path) -> None:
    quilt = opened(folder)
    both = {ONE: text("both"), TWO: text("new")}
    quilt.change(both, bases={}, what="Both", at=AT)
    quilt.save(TWO, text("newer"), base=revision(text("new")), what="Newer", at=AT)
    with pytest.raises(InputError, match="was changed after"):
        quilt.undo(AT, ONE)
    quilt.undo(AT)
    quilt.undo(AT, ONE)
    assert not (folder / TWO).exists()
    assert (folder / ONE).read_bytes() == text("first")
    quilt.redo(AT)
    assert (folder / TWO).read_bytes() == text("new")


def test_links_and_permissions_stay(folder: Path) -> None:
    target = folder / "elsewhere.yaml"
    target.write_bytes(text("first"))
    os.chmod(target, 0o640)  # noqa: PTH101 - like the call below
    name = "blocks/" + "ä ✂ " * 20 + ".yaml"
    (folder / name).symlink_to(target)
    os.link(target, folder / "twin.txt")
    quilt = opened(folder)
    quilt.save(name, text("second"), base=revision(text("first")), what="Two", at=AT)
    assert (folder / name).is_symlink()
    assert target.read_bytes() == text("second")
    assert stat.S_IMODE(target.stat().st_mode) == 0o640
    assert (folder / "twin.txt").read_bytes() == text("first")


# Disks that fail ----------------------------------------------------------------------------------

CALLS = ("open", "write", "fsync", "replace")


class Disk:
    """The calls of `os` that saving makes, of which the N-th fails."""

    def __init__(self, fails_at: int, number: int) -> None:
        self.fails_at, self.number, self.calls = fails_at, number, 0

    def __getattr__(self, name: str) -> Any:
        real = getattr(os, name)
        if name not in CALLS:
            return real

        def call(*arguments: Any, **named: Any) -> Any:
            self.calls += 1
            if self.calls == self.fails_at:
                raise OSError(self.number, "")
            return real(*arguments, **named)

        return call


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EROFS, errno.EACCES, errno.EIO])
def test_whichever_call_fails_nothing_is_lost(
    folder: Path, number: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    quilt = opened(folder)
    failures = 0
    for fails_at in range(1, 100):
        disk = Disk(fails_at, number)
        before = (folder / ONE).read_bytes()
        new = text(f"number {fails_at}")
        with monkeypatch.context() as patched:
            patched.setattr(saving, "os", disk)
            try:
                quilt.save(ONE, new, base=revision(before), what="Try", at=AT)
            except SaveError:
                failures += 1
            if disk.calls < fails_at:
                break
        now = (folder / ONE).read_bytes()
        assert now in (before, new)
        assert quilt.look(AT) == (), "the history and the disk agree"
        assert list((folder / "blocks").glob("*.tmp")) == []
        quilt.save(ONE, text("again"), base=revision(now), what="Again", at=AT)
    assert failures >= 4
    assert (folder / ONE).read_bytes() == new


def test_a_disk_too_full_for_the_history_changes_nothing(folder: Path) -> None:
    quilt = opened(folder)
    pages = quilt.journal._db.execute("PRAGMA page_count").fetchone()[0]
    quilt.journal._db.execute(f"PRAGMA max_page_count = {pages + 1}")
    large = os.urandom(40_000).hex().encode()
    with pytest.raises(SaveError, match="cannot be written"):
        quilt.save(ONE, b"# " + large, base=revision(text("first")), what="Large", at=AT)
    assert (folder / ONE).read_bytes() == text("first")
    quilt.journal._db.execute(f"PRAGMA max_page_count = {pages + 1000}")
    quilt.save(ONE, b"# " + large, base=revision(text("first")), what="Large", at=AT)


def test_a_folder_that_cannot_be_written_to_is_shown_all_the_same(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_arguments: Any, **_named: Any) -> None:
        raise PermissionError(errno.EACCES, "denied")

    monkeypatch.setattr(Path, "mkdir", refuse)
    quilt = opened(folder)
    assert quilt.files() == {"one": ONE}
    assert any("Nothing can be saved" in line for line in quilt.told)


def test_a_database_that_is_locked_is_in_use(folder: Path) -> None:
    Journal(folder).close()
    other = sqlite3.connect(folder / FOLDER / FILE)
    other.execute("BEGIN EXCLUSIVE")
    with pytest.raises(InUse):
        Journal(folder)
    other.close()


# Any order of steps -------------------------------------------------------------------------------

WORDS = st.sampled_from(["red", "green", "blue", "white"])
FILES = st.sampled_from([ONE, TWO])


class Steps(RuleBasedStateMachine):
    """Edits, undo, redo, crashes and other programs, against a history that is two lists."""

    made = Bundle("made")

    @initialize()
    def begin(self) -> None:
        import tempfile

        self.home = tempfile.TemporaryDirectory()
        self.folder = Path(self.home.name)
        (self.folder / "blocks").mkdir()
        (self.folder / ONE).write_bytes(text("first"))
        (self.folder / TWO).write_bytes(text("first"))
        self.quilt = opened(self.folder)
        self.should = {ONE: text("first"), TWO: text("first")}
        self.done: list[tuple[int, str, bytes, bytes]] = []
        self.undone: list[tuple[int, str, bytes, bytes]] = []
        self.count = 0

    def teardown(self) -> None:
        if hasattr(self, "quilt"):
            self.quilt.close()
            self.home.cleanup()

    def note(self, file: str, new: bytes) -> None:
        self.done.append((self.count, file, self.should[file], new))
        self.undone = [step for step in self.undone if step[1] != file]
        self.should[file] = new

    @rule(file=FILES, word=WORDS)
    def edit(self, file: str, word: str) -> None:
        self.count += 1
        new = text(f"{word} {self.count}")
        self.quilt.save(file, new, base=revision(self.should[file]), what=word, at=AT)
        self.note(file, new)

    @rule(file=FILES, word=WORDS)
    def edit_outside(self, file: str, word: str) -> None:
        self.count += 1
        new = text(f"{word} {self.count}")
        (self.folder / file).write_bytes(new)
        self.quilt.look(AT)
        self.note(file, new)

    @rule(file=FILES)
    def a_stale_save_changes_nothing(self, file: str) -> None:
        with pytest.raises(Stale):
            self.quilt.save(file, text("stale"), base="0" * 16, what="stale", at=AT)

    def back(self, file: str | None) -> bool:
        """Note the last step as undone; whether there was one."""
        mine = [step for step in self.done if file in (None, step[1])]
        if mine:
            self.done.remove(mine[-1])
            self.undone.append(mine[-1])
            self.should[mine[-1][1]] = mine[-1][2]
        return bool(mine)

    def forth(self, file: str | None) -> bool:
        """Note the step undone last as done again; whether there was one."""
        mine = [step for step in self.undone if file in (None, step[1])]
        if mine:
            self.undone.remove(mine[-1])
            self.done = sorted([*self.done, mine[-1]])
            self.should[mine[-1][1]] = mine[-1][3]
        return bool(mine)

    @rule(file=st.one_of(st.none(), FILES))
    def undo(self, file: str | None) -> None:
        assert (self.quilt.undo(AT, file) is not None) == self.back(file)

    @rule(file=st.one_of(st.none(), FILES))
    def redo(self, file: str | None) -> None:
        assert (self.quilt.redo(AT, file) is not None) == self.forth(file)

    @rule(file=st.one_of(st.none(), FILES), place=st.integers(0, 30))
    def go_to(self, file: str | None, place: int) -> None:
        """Any point of the history of one file or of both; the first is before all steps."""
        mine = sorted(step for step in self.done + self.undone if file in (None, step[1]))
        place %= len(mine) + 1
        steps = self.quilt.journal.steps(len(mine) + 1, file)[::-1]
        assert len(steps) == len(mine)
        turned = self.quilt.go_to(steps[place - 1].id if place else 0, AT, file)
        aim = mine[place - 1] if place else None
        count = 0
        if aim in self.undone:
            while aim in self.undone:
                count += self.forth(file)
        else:
            later = sum(step in self.done for step in mine[place:])
            count = sum(self.back(file) for _ in range(later))
        assert (turned is not None) == (count > 0)

    @rule()
    def close_and_open(self) -> None:
        self.quilt.close()
        self.quilt = opened(self.folder)
        assert self.quilt.told == []

    @rule()
    def crash(self) -> None:
        crash(self.quilt)
        self.quilt = opened(self.folder)

    @precondition(lambda self: self.done)
    @rule(cut_off=st.booleans())
    def back_and_forth(self, cut_off: bool) -> None:
        """All the way back and all the way forth gives the same bytes."""
        before = dict(self.should)
        steps = 0
        while self.quilt.undo(AT) is not None:
            steps += 1
            if cut_off and steps == 2:
                crash(self.quilt)
                self.quilt = opened(self.folder)
        assert steps == len(self.done)
        for _ in range(steps):
            assert self.quilt.redo(AT) is not None
        for file, should in before.items():
            assert (self.folder / file).read_bytes() == should

    @invariant()
    def the_disk_says_what_it_should(self) -> None:
        for file, should in getattr(self, "should", {}).items():
            assert (self.folder / file).read_bytes() == should


class TestSteps(Steps.TestCase):  # type: ignore[name-defined,misc]
    settings = settings(max_examples=12, stateful_step_count=25)


@pytest.mark.soak
class TestManySteps(Steps.TestCase):  # type: ignore[name-defined,misc]
    settings = settings(max_examples=100, stateful_step_count=10_000)
