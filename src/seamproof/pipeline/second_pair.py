"""A second process that works out blocks of the same quilt, from the last to the first.

Both processes leave their results in the same memory folder, under the mark of what they were made
from, so the second only ever saves the first some time: what it did not do, or did for files that
changed meanwhile, the first does itself. It ends at once when the first is gone, however that was.
"""

from __future__ import annotations

import contextlib
import json
import os
import queue
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import IO, Any

from seamproof.pipeline.memory import Memory
from seamproof.project.model import Project, Source
from seamproof.project.reading import read_block, read_project

FEWEST = 3
"""Blocks that are not known yet. For fewer another process takes longer to begin than it saves."""

ONE_THREAD = dict.fromkeys(("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"), "1")
"""The other threads of a numerical library would take the room of the first process."""

Turn = Callable[[Path], None]
"""Called with a block's file before it is worked out here: it waits while the other process is at
that block, and tells it to leave the block alone otherwise."""


@contextlib.contextmanager
def second_pair(
    project: Project,
    unknown: Sequence[Path],
    copies: Mapping[Path, int | None],
    memory: Memory,
    *,
    metric: bool = False,
    usual: bool = False,
) -> Iterator[Turn]:
    """A second pair of hands for the blocks of a project that are not known yet, until the end of
    the `with`. Each is worked out for so many `copies` and pressed; also as is usual, if asked.

    There is none, and the same is done by one, if the memory has no folder or asks for fresh work,
    if there are few blocks, or if the machine has one processor.
    """
    alone = memory.folder is None or memory.fresh or project.folder is None
    if alone or len(unknown) < FEWEST or (os.cpu_count() or 1) < 2 or not sys.executable:
        yield lambda _: None
        return
    order = {
        "folder": str(project.folder),
        "memory": str(memory.folder),
        "metric": metric,
        "usual": usual,
        "blocks": [[str(path), copies.get(path)] for path in reversed(unknown)],
    }
    process = subprocess.Popen(
        [sys.executable, "-m", "seamproof.pipeline.second_pair"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        env={**os.environ, **ONE_THREAD},
    )
    assert process.stdin is not None
    assert process.stdout is not None
    said: queue.Queue[tuple[str, str] | None] = queue.Queue()
    threading.Thread(target=_heard, args=(process.stdout, said), daemon=True).start()
    begun: set[str] = set()
    done: set[str] = set()

    def listen(*, wait: bool) -> bool:
        """Take in what was said; whether there may be more."""
        try:
            one = said.get(block=wait)
        except queue.Empty:
            return False
        if one is None:
            said.put(None)
            done.update(begun)  # it is gone: what it had begun is nobody's
            return False
        (begun if one[0] == "begun" else done).add(one[1])
        return True

    def turn(path: Path) -> None:
        while listen(wait=False):
            pass
        name = str(path)
        while name in begun and name not in done:
            listen(wait=True)
        if name not in done:
            _tell(process.stdin, name)

    _tell(process.stdin, json.dumps(order))
    try:
        yield turn
    finally:
        process.kill()
        with contextlib.suppress(OSError):
            process.stdin.close()
        process.wait()
        process.stdout.close()


def _tell(line: IO[str] | None, text: str) -> None:
    assert line is not None
    with contextlib.suppress(OSError, ValueError):
        line.write(text + "\n")
        line.flush()


def _heard(line: IO[str], said: queue.Queue[tuple[str, str] | None]) -> None:
    with contextlib.suppress(OSError, ValueError):
        for text in line:
            what, _, name = text.rstrip("\n").partition(" ")
            said.put((what, name))
    said.put(None)


# In the second process ----------------------------------------------------------------------------


def main() -> None:
    """Do what the first line of standard input says; every line after it is a block that the first
    process does itself, and the end of them the end of this process."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the first process decides when to end
    order = json.loads(sys.stdin.readline())
    taken: set[str] = set()
    threading.Thread(target=_follow, args=(taken,), daemon=True).start()
    with contextlib.suppress(Exception):  # the first process meets the same, and says so
        _work(order, taken)


def _follow(taken: set[str]) -> None:
    for line in sys.stdin:
        taken.add(line.rstrip("\n"))
    os._exit(0)


def _work(order: dict[str, Any], taken: set[str]) -> None:
    from seamproof.pipeline.pressing import press_block
    from seamproof.pipeline.redrafting import in_centimetres, reader_of
    from seamproof.pipeline.working import work_block

    memory = Memory(Path(order["memory"]))
    read: Callable[[Path], Source] = read_block
    if order["metric"]:
        read = reader_of(in_centimetres(read_project(Path(order["folder"]))))
    for name, copies in order["blocks"]:
        if name in taken:
            continue
        _tell(sys.stdout, f"begun {name}")
        work = work_block(read(Path(name)), copies=copies, memory=memory)
        press_block(work, memory=memory)
        if order["usual"]:
            press_block(work, name="usual", memory=memory)
        _tell(sys.stdout, f"done {name}")


if __name__ == "__main__":
    main()
