"""Saving: whole or not at all, whatever the disk does and whenever the program dies."""

from __future__ import annotations

import errno
import os
import signal
import stat
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from seamproof.errors import SaveError
from seamproof.project import saving
from seamproof.project.saving import make_folder, save_bytes, save_new_text, save_text, sweep

OLD, NEW = b"old\n", b"new\n" * 100

CALLS = ("open", "write", "fsync", "close", "replace", "fchmod")
FAULTS = (errno.ENOSPC, errno.EIO, errno.EROFS, errno.EACCES, errno.EDQUOT)


def strays(folder: Path) -> list[Path]:
    return [path for path in folder.iterdir() if path.name.endswith(".tmp")]


class Failing:
    """Makes the n-th call of one function of `os` fail, and counts the calls."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, call: str, nth: int, fault: int) -> None:
        self.calls = 0
        real: Callable[..., Any] = getattr(os, call)

        def faulty(*args: Any, **kwargs: Any) -> Any:
            self.calls += 1
            if self.calls == nth:
                if call == "close":
                    real(*args, **kwargs)  # a close that reports a fault has closed all the same
                raise OSError(fault, os.strerror(fault))
            return real(*args, **kwargs)

        monkeypatch.setattr(saving.os, call, faulty)


def refusal(path: Path) -> str | None:
    """What saving says when it cannot; None if it can."""
    try:
        save_bytes(path, NEW)
    except SaveError as refused:
        return str(refused)
    return None


@pytest.mark.parametrize("call", CALLS)
@pytest.mark.parametrize("fault", FAULTS)
@pytest.mark.parametrize("there", [True, False])
def test_a_fault_of_the_disk_leaves_a_whole_file(
    call: str, fault: int, there: bool, tmp_path: Path
) -> None:
    """Every call of each kind fails once: first the first, then the second, until none is left."""
    path = tmp_path / "star.yaml"
    failed = 0
    while True:
        path.unlink(missing_ok=True)
        if there:
            path.write_bytes(OLD)
        with pytest.MonkeyPatch.context() as patch:
            failing = Failing(patch, call, failed + 1, fault)
            said = refusal(path)
        assert not strays(tmp_path)
        if said is None:
            assert failing.calls <= failed  # nothing failed any more
            break
        failed += 1
        assert str(path) in said
        assert os.strerror(fault) not in said  # in our words
        content = path.read_bytes() if path.exists() else None
        saved = "was saved, but" in said
        assert content == (NEW if saved else OLD if there else None)
    assert path.read_bytes() == NEW
    assert failed >= (0 if call == "fchmod" and not there else 1)


def test_a_short_write_is_continued(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.write
    monkeypatch.setattr(saving.os, "write", lambda handle, data: real(handle, bytes(data[:7])))
    save_bytes(tmp_path / "a", NEW)
    assert (tmp_path / "a").read_bytes() == NEW


def test_an_interrupt_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "star.yaml"
    path.write_bytes(OLD)

    def interrupted(_: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(saving.os, "fsync", interrupted)
    with pytest.raises(KeyboardInterrupt):
        save_bytes(path, NEW)
    assert path.read_bytes() == OLD
    assert not strays(tmp_path)


def test_text_is_utf_8_with_lf(tmp_path: Path) -> None:
    save_text(tmp_path / "a.yaml", "name: Ærø\r\nfinished: 2⅞\rx\n")
    assert (tmp_path / "a.yaml").read_bytes() == "name: Ærø\nfinished: 2⅞\nx\n".encode()


@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664, 0o755])
def test_permissions_stay(tmp_path: Path, mode: int) -> None:
    path = tmp_path / "star.yaml"
    path.write_bytes(OLD)
    path.chmod(mode)
    save_bytes(path, NEW)
    assert stat.S_IMODE(path.stat().st_mode) == mode


def test_a_new_file_has_the_permissions_of_any_new_file(tmp_path: Path) -> None:
    save_bytes(tmp_path / "ours", NEW)
    (tmp_path / "theirs").write_bytes(NEW)
    assert (tmp_path / "ours").stat().st_mode == (tmp_path / "theirs").stat().st_mode


def test_a_link_stays_and_its_target_is_written(tmp_path: Path) -> None:
    (tmp_path / "store").mkdir()
    target = tmp_path / "store" / "star.yaml"
    target.write_bytes(OLD)
    link = tmp_path / "star.yaml"
    link.symlink_to(target)
    save_bytes(link, NEW)
    assert link.is_symlink()
    assert target.read_bytes() == NEW
    assert not strays(tmp_path)
    assert not strays(target.parent)


def test_of_two_hard_links_the_one_named_gets_the_new_content(tmp_path: Path) -> None:
    (tmp_path / "kept").write_bytes(OLD)
    (tmp_path / "saved").hardlink_to(tmp_path / "kept")
    save_bytes(tmp_path / "saved", NEW)
    assert (tmp_path / "saved").read_bytes() == NEW
    assert (tmp_path / "kept").read_bytes() == OLD


@pytest.mark.parametrize("name", ["a star.yaml", "☆ Ærø.yaml", "x" * 200, "-x", "a'b\"c"])
def test_odd_names(tmp_path: Path, name: str) -> None:
    save_bytes(tmp_path / name, NEW)
    assert (tmp_path / name).read_bytes() == NEW


def test_refusals_say_why(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(OLD)
    (tmp_path / "circle").symlink_to(tmp_path / "circle")
    cases = {
        tmp_path / "none" / "a": "the folder does not exist",
        tmp_path / "file" / "a": "the folder does not exist",
        tmp_path: "there is a folder of this name",
        tmp_path / ("x" * 300): "the name is too long",
        tmp_path / "circle": "the links lead in a circle",
        tmp_path / "a\0b": "its name cannot be used",
    }
    for path, why in cases.items():
        with pytest.raises(SaveError, match=why):
            save_bytes(path, NEW)
    assert not strays(tmp_path)


def test_a_file_that_may_not_be_written_is_not_replaced(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "star.yaml"
    path.write_bytes(OLD)
    monkeypatch.setattr(saving.os, "access", lambda *_: False)
    with pytest.raises(SaveError, match="you may not write there"):
        save_bytes(path, NEW)
    assert path.read_bytes() == OLD


def test_a_new_file_is_not_written_over_another(tmp_path: Path) -> None:
    save_new_text(tmp_path / "a", "one")
    with pytest.raises(SaveError, match="there is a file of this name already"):
        save_new_text(tmp_path / "a", "two")
    assert (tmp_path / "a").read_text() == "one"


def test_folders_are_made_or_refused(tmp_path: Path) -> None:
    make_folder(tmp_path / "a" / "b")
    make_folder(tmp_path / "a" / "b")
    assert (tmp_path / "a" / "b").is_dir()
    (tmp_path / "file").write_bytes(OLD)
    for path in (tmp_path / "file", tmp_path / "file" / "below", tmp_path / "a\0b"):
        with pytest.raises(SaveError):
            make_folder(path)


def gone_process() -> int:
    done = subprocess.Popen([sys.executable, "-c", ""])
    done.wait()
    return done.pid


def test_what_a_killed_program_left_is_swept(tmp_path: Path) -> None:
    stale = tmp_path / f".seamproof-{gone_process()}-0123456789abcdef.tmp"
    busy = tmp_path / f".seamproof-{os.getpid()}-0123456789abcdef.tmp"
    other = tmp_path / ".seamproof-notes.tmp"
    for path in (stale, busy, other):
        path.write_bytes(OLD)
    assert sweep(tmp_path) == (stale,)
    assert busy.exists()
    assert other.exists()
    assert sweep(tmp_path / "none") == ()


def test_a_save_sweeps_its_folder(tmp_path: Path) -> None:
    (tmp_path / f".seamproof-{gone_process()}-0123456789abcdef.tmp").write_bytes(OLD)
    save_bytes(tmp_path / "a", NEW)
    assert not strays(tmp_path)


SAVER = """
import sys
from seamproof.project.saving import save_bytes
path, size = sys.argv[1], int(sys.argv[2])
print("ready", flush=True)
while True:
    for letter in b"ab":
        save_bytes(path, bytes([letter]) * size)
"""


def killed_savers(path: Path, size: int, times: int) -> Iterator[bytes]:
    """Content of the file after each kill of a program that saves it again and again."""
    for number in range(times):
        saver = subprocess.Popen(
            [sys.executable, "-c", SAVER, str(path), str(size)], stdout=subprocess.PIPE
        )
        assert saver.stdout is not None
        saver.stdout.readline()
        time.sleep(0.002 * (number % 13))  # a different moment each time
        saver.send_signal(signal.SIGKILL)
        saver.wait()
        saver.stdout.close()
        yield path.read_bytes()


def check_killed(folder: Path, times: int) -> None:
    path = folder / "star.yaml"
    size = 300_000
    path.write_bytes(b"a" * size)
    for content in killed_savers(path, size, times):
        assert content in (b"a" * size, b"b" * size)
    sweep(folder)
    assert not strays(folder)


def test_killed_at_any_moment_the_file_is_whole(tmp_path: Path) -> None:
    check_killed(tmp_path, 20)


@pytest.mark.soak
def test_killed_a_thousand_times_the_file_is_whole(tmp_path: Path) -> None:
    check_killed(tmp_path, 1000)
