"""Writing files so that nothing is ever half-written.

A file is written under another name in the same folder, brought to the disk, and then given its
own name in one step; a program killed at any moment leaves the old file or the new one, whole. What
it may leave behind besides is the other name; `sweep` removes it, at the latest at the next save.
"""

from __future__ import annotations

import contextlib
import errno
import os
import re
import secrets
import stat
import sys
from pathlib import Path

from seamproof.errors import SaveError

_PREFIX = ".seamproof-"
_TEMPORARY = re.compile(re.escape(_PREFIX) + r"(\d+)-[0-9a-f]{16}\.tmp")

_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is full",
    errno.EFBIG: "the file is too large for this disk",
    errno.EROFS: "the disk can only be read",
    errno.EACCES: "you may not write there",
    errno.EPERM: "you may not write there",
    errno.ENOENT: "the folder does not exist",
    errno.ENOTDIR: "the folder does not exist",
    errno.EISDIR: "there is a folder of this name",
    errno.ENAMETOOLONG: "the name is too long",
    errno.EIO: "the disk reports a fault",
    errno.ELOOP: "the links lead in a circle",
    errno.ETXTBSY: "another program is using the file",
}


def save_text(path: Path | str, text: str) -> None:
    """Writes `text` to `path` as UTF-8 with LF line ends, whole or not at all; see `save_bytes`."""
    save_bytes(path, text.replace("\r\n", "\n").replace("\r", "\n").encode("utf-8"))


def save_bytes(path: Path | str, data: bytes) -> None:
    """Writes `data` to `path`, whole or not at all, and returns when it is on the disk.

    A symbolic link stays and its target is written; the permissions of an existing file stay. If
    a file has several hard links, only this name gets the new content. Raises SaveError with the
    reason in plain words; the old file, if there was one, is then as it was.
    """
    shown = Path(path)
    try:
        target = shown.resolve()
        sweep(target.parent)
        temporary = target.parent / f"{_PREFIX}{os.getpid()}-{secrets.token_hex(8)}.tmp"
        mode = _mode(target)
        try:
            _write(temporary, data, mode)
            os.replace(temporary, target)  # noqa: PTH105 - one place for all calls that can fail
        except BaseException:
            with contextlib.suppress(OSError):
                temporary.unlink()
            raise
    except (OSError, ValueError, RuntimeError) as problem:
        # ValueError: a NUL in the name. RuntimeError: pathlib's word for links in a circle.
        raise SaveError(f"{shown} was not saved: {_reason(problem)}") from problem
    try:
        _settle(target.parent)
    except OSError as problem:
        raise SaveError(
            f"{shown} was saved, but the disk does not confirm it: {_reason(problem)}"
        ) from problem


def save_new_text(path: Path | str, text: str) -> None:
    """Like `save_text`, but refuses with SaveError if there is something of this name."""
    refuse_old(path)
    save_text(path, text)


def refuse_old(path: Path | str) -> None:
    """Refuses with SaveError if there is something of this name, be it a broken link."""
    if os.path.lexists(path):
        raise SaveError(f"{path} was not written: there is a file of this name already")


def make_folder(folder: Path | str) -> None:
    """Makes a folder and those above it, if they are not there. Raises SaveError."""
    try:
        Path(folder).mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        raise SaveError(f"{folder} was not made: there is a file of this name") from None
    except (OSError, ValueError) as problem:
        raise SaveError(f"{folder} was not made: {_reason(problem)}") from problem


def remove(path: Path | str) -> None:
    """Removes a file, if it is there. Raises SaveError with the reason in plain words."""
    shown = Path(path)
    try:
        shown.unlink(missing_ok=True)
        _settle(shown.resolve().parent)
    except (OSError, ValueError, RuntimeError) as problem:
        raise SaveError(f"{shown} was not removed: {_reason(problem)}") from problem


def sweep(folder: Path | str) -> tuple[Path, ...]:
    """Removes what killed programs left behind in a folder; returns what was removed.

    A file that a running program is just writing is left alone.
    """
    removed = []
    with contextlib.suppress(OSError):
        for path in sorted(Path(folder).iterdir()):
            match = _TEMPORARY.fullmatch(path.name)
            if match and not _running(int(match[1])):
                with contextlib.suppress(OSError):
                    path.unlink()
                    removed.append(path)
    return tuple(removed)


def _mode(target: Path) -> int | None:
    """Permissions of an existing file, None if there is none. Refuses folders and locked files."""
    try:
        status = target.stat()
    except FileNotFoundError:
        return None
    if stat.S_ISDIR(status.st_mode):
        raise IsADirectoryError(errno.EISDIR, "")
    if not os.access(target, os.W_OK):
        # Replacing it would work, but whoever took the right to write away meant it.
        raise PermissionError(errno.EACCES, "")
    return stat.S_IMODE(status.st_mode)


def _write(temporary: Path, data: bytes, mode: int | None) -> None:
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    handle = os.open(temporary, flags, 0o666)  # less the user's umask, as for any new file
    try:
        if mode is not None and hasattr(os, "fchmod"):
            os.fchmod(handle, mode)
        rest = memoryview(data)
        while rest:
            rest = rest[os.write(handle, rest) :]
        os.fsync(handle)
    finally:
        os.close(handle)


def _settle(folder: Path) -> None:
    """Brings the folder's new entry to the disk, where the system lets one open a folder."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    except OSError as problem:
        # Some network disks have no such thing for folders; that is not a fault of theirs.
        if problem.errno not in (errno.EINVAL, errno.ENOTSUP, errno.EBADF):
            raise
    finally:
        os.close(handle)


def _running(process: int) -> bool:
    """Whether a program of this number may be running. Windows does not let one remove a file that
    is being written, and has no harmless way to ask, so there the answer is always no."""
    if sys.platform == "win32":
        return False
    if process == os.getpid():
        return True
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):
        return True
    return True


def _reason(problem: Exception) -> str:
    number = getattr(problem, "errno", None)
    if number in _REASONS:
        return _REASONS[number]
    if isinstance(problem, RuntimeError):
        return _REASONS[errno.ELOOP]
    words = getattr(problem, "strerror", None) or "its name cannot be used"
    return str(words).lower()
