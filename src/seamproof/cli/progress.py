"""What shows while something is worked out: in a terminal only, on standard error."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from pathlib import Path

from rich.progress import BarColumn, MofNCompleteColumn, TextColumn, TimeElapsedColumn
from rich.progress import Progress as Bar

from seamproof.cli.telling import err
from seamproof.cloth.tops import LOOSE
from seamproof.length.notation import with_unit
from seamproof.pipeline.laying import ClothProgress, Laying
from seamproof.pipeline.model import STAGES, Progress, ProjectProgress, StageName

_WORDS: dict[StageName, str] = {
    "draft": "reading the drawing",
    "piecing": "finding the order of sewing",
    "cutting": "working out what to cut",
    "proof": "checking that it comes out",
    "sheet": "setting its sheet",
    "pressing": "choosing which way each seam lies",
    "rehearsal": "letting many makers sew it",
}


@contextlib.contextmanager
def one_block() -> Iterator[Progress | None]:
    """A line that tells what is being done; nothing if this is no terminal."""
    if not err().is_terminal:
        yield None
        return
    with err().status("…") as status:
        yield lambda stage: status.update(f"{_WORDS[stage].capitalize()} …")


@contextlib.contextmanager
def many_blocks(*, sheets: bool = False) -> Iterator[ProjectProgress | None]:
    """A bar over the stages of all blocks, with their `sheets` or without; nothing if this is no
    terminal."""
    if not err().is_terminal:
        yield None
        return
    bar = _bar()
    with bar:
        task = bar.add_task("reading", total=None)
        stages = len(STAGES) if sheets else STAGES.index("sheet")
        order: dict[Path, int] = {}

        def told(path: Path, blocks: int, stage: StageName) -> None:
            number = order.setdefault(path, len(order))
            bar.update(
                task,
                description=f"{path.stem}: {_WORDS[stage]}",
                completed=number * stages + _place(stage),
                total=blocks * stages,
            )

        yield told


def _place(stage: StageName) -> int:
    """Where a stage stands in the bar; pressing is part of what comes before the sheet.

    >>> _place("draft"), _place("pressing") == _place("sheet")
    (0, True)
    """
    return STAGES.index(stage if stage in STAGES else "sheet")


@contextlib.contextmanager
def cloth_of(
    *, kept: bool = False
) -> Iterator[tuple[ProjectProgress | None, ClothProgress | None]]:
    """A bar over the stages of all blocks and then over the fabrics, which tells if Ctrl-C keeps
    the best lay so far; nothing if this is no terminal."""
    if not err().is_terminal:
        yield None, None
        return
    bar = _bar()
    with bar:
        task = bar.add_task("reading", total=None)

        def stages(path: Path, blocks: int, stage: StageName) -> None:
            del blocks
            bar.update(task, description=f"{path.stem}: {_WORDS[stage]}")

        def laying(now: Laying) -> None:
            name = now.letter if now.letter in LOOSE else f"fabric {now.letter.upper()}"
            words = f"laying {name}"
            if now.length:
                words += f": {with_unit(now.length, now.measure)} so far"
                words += ", Ctrl-C keeps it" if kept else ""
            done = now.number + (now.rounds / now.of if now.of else 0)
            bar.update(task, description=words, completed=done, total=now.count)

        yield stages, laying


def _bar() -> Bar:
    return Bar(
        TextColumn("{task.description}"),
        BarColumn(),
        MofNCompleteColumn(),
        TimeElapsedColumn(),
        console=err(),
        transient=True,
    )
