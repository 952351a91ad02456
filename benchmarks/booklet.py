"""The booklet of the demo: how long it takes, and what of that is the typesetter alone.

1. Cold: everything worked out and set for one paper, with an empty memory. Aim: 8 seconds.
2. Warm: the same asked again of a memory on disk by a process that begins anew. Aim: 2.5 seconds.
3. In one process after one edit of one block (it is said to have an upright). Aim: 1 second.

Beside each stands the typesetter alone, setting the same pages from the same data in the same run:
no program that sets its pages with it can be faster. Seconds are those of the processor, since
others may share the machine; with them a bound is said to be kept or not, and nothing fails, for
the aims are for a machine at rest.

As measured on two cores that others shared: cold 13.0 s (not kept: about 60 % are the stages before
the booklet, by a profiler), asked again 0.4 s without starting the program, one block edited 1.4 s
(not kept).
"""

from __future__ import annotations

import shutil
import time
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

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
        return rows


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
    kept = "kept" if taken <= aim else "not kept"
    return Row(
        case,
        (
            ("processor", seconds(taken)),
            ("clock", seconds(waited)),
            ("aim", f"{aim:g} s, {kept}"),
            ("typesetter alone", seconds(alone)),
            ("share", f"{100 * alone / taken:.0f} %" if taken > alone else "-"),
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
