"""The booklet of the demo: how long it takes, and what of that is the typesetter alone.

1. Cold: everything worked out and set for one paper, with an empty memory. Aim: 8 seconds.
2. Warm: the same asked again of a memory on disk by a process that begins anew. Aim: 2.5 seconds.
3. In one process after one edit of one block (it is said to have an upright). Aim: 1 second.
4. The command that makes everything (two papers, the page for the screen, tables, pictures, lesson
   sheets) with an empty memory, and again. Aim for the second time: 2.5 seconds.

Beside each of the first three stands the typesetter alone, setting the same pages from the same
data in the same run: no program that sets its pages with it can be faster. An aim is compared with
the clock and said to be kept or not; nothing fails, since others may share the machine.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

import seamproof
from benchmarks.measuring import Row, seconds
from seamproof.booklet.book import book
from seamproof.booklet.model import Edition
from seamproof.booklet.printing import book_data
from seamproof.booklet.typesetting import typeset
from seamproof.pipeline.booklets import print_pattern, work_booklet
from seamproof.pipeline.memory import Memory
from seamproof.project.reading import read_project
from seamproof.project.starting import copy_demo

COLD, WARM, EDITED = 8.0, 2.5, 1.0
"""Seconds that are aimed at."""

SOURCES = Path(seamproof.__file__).parent.parent
BLOCK = "lamp-room.yaml"
QUICK_BLOCKS = ("deck-light.yaml", "dinghy.yaml")


def run(quick: bool = False) -> list[Row]:
    with TemporaryDirectory() as place:
        folder = Path(place) / "quilt"
        copy_demo(folder)
        if quick:
            _shortened(folder)
        memory = Memory(Path(place) / "memory")
        rows = [_row("cold", COLD, lambda: printed(folder, memory), folder, memory)]
        again = Memory(Path(place) / "memory")
        rows.append(_row("asked again", WARM, lambda: printed(folder, again), folder, again))
        path = folder / "blocks" / (QUICK_BLOCKS[0] if quick else BLOCK)
        text = path.read_text("utf-8")
        path.write_text(text + "\nupright: yes\n", "utf-8")
        rows.append(_row("one block edited", EDITED, lambda: printed(folder, again), folder, again))
        rows.append(_commanded("command, cold", folder, None))
        rows.append(_commanded("command again", folder, WARM))
        return rows


def _commanded(case: str, folder: Path, aim: float | None) -> Row:
    """The command in a process of its own, with a memory beside the quilt."""
    place = {"XDG_CACHE_HOME": str(folder.parent / "cache"), "PYTHONPATH": str(SOURCES)}
    command = ("booklet", str(folder), "-o", str(folder.parent / "made"))
    begin = time.perf_counter()
    subprocess.run(
        [sys.executable, "-m", "seamproof", *command],
        check=True,
        capture_output=True,
        env={**os.environ, **place},
    )
    waited = time.perf_counter() - begin
    told = "" if aim is None else f"{aim:g} s, {'kept' if waited <= aim else 'not kept'}"
    heads = ("processor", "clock", "aim", "typesetter alone", "share", "bytes")
    made = sum(path.stat().st_size for path in (folder.parent / "made").rglob("*.*"))
    return Row(
        case, tuple(zip(heads, ("", seconds(waited), told, "", "", f"{made:,}"), strict=True))
    )


def printed(folder: Path, memory: Memory) -> bytes:
    """The pattern on one paper."""
    matter = work_booklet(read_project(folder), memory=memory).matter
    assert matter is not None
    return print_pattern(matter, Edition(), memory=memory)


def _row(case: str, aim: float, work: Callable[[], bytes], folder: Path, memory: Memory) -> Row:
    begin, wall = time.process_time(), time.perf_counter()
    pdf = work()
    taken, waited = time.process_time() - begin, time.perf_counter() - wall
    matter = work_booklet(read_project(folder), memory=memory).matter
    assert matter is not None
    data = book_data(book(matter), Edition())
    data = {**data, "version": f"{case} "}  # so that nothing is set from memory
    begin = time.process_time()
    typeset("booklet", data)
    alone = time.process_time() - begin
    kept = "kept" if waited <= aim else "not kept"
    return Row(
        case,
        (
            ("processor", seconds(taken)),
            ("clock", seconds(waited)),
            ("aim", f"{aim:g} s, {kept}"),
            ("typesetter alone", seconds(alone)),
            ("share", f"{100 * alone / waited:.0f} %" if waited > alone else "-"),
            ("bytes", f"{len(pdf):,}"),
        ),
    )


def _shortened(folder: Path) -> None:
    """Two blocks and no setting."""
    quilt = folder / "quilt.yaml"
    text = quilt.read_text("utf-8")
    head = text.partition("\nblocks:")[0]
    quilt.write_text(head + "\n", "utf-8")
    for path in (folder / "blocks").iterdir():
        if path.name not in QUICK_BLOCKS:
            path.unlink()
    shutil.rmtree(folder / "sheets", ignore_errors=True)
