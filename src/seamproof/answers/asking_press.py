"""The questions about pressing: from a file to the answer about it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from seamproof.answers.pictures import save_picture
from seamproof.answers.pressing import BulkAnswer, PressAnswer, bulk_answer, press_answer
from seamproof.pipeline.beside import grid, press_beside
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork, Progress, Stop
from seamproof.pipeline.pressing import press_block
from seamproof.pipeline.top_pressing import PressedTop
from seamproof.pipeline.working import work_block
from seamproof.pressing.model import PlanName
from seamproof.project.reading import read_block


def press(
    file: Path | str,
    *,
    plan: PlanName = "best",
    wishes: tuple[str, ...] | None = None,
    compare: bool = False,
    beside: str | None = None,
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> PressAnswer:
    """Which way each seam of the block in a file is pressed, and how thick it gets.

    `wishes` go before those of the project. With `compare` other plans stand beside it, with
    `beside` (columns x rows, "3x4") the block itself.
    """
    work = work_block(
        read_block(file), until="cutting", memory=memory, progress=progress, stop=stop
    )
    pressed = press_block(
        work,
        name=plan,
        wishes=wishes,
        compare=compare,
        memory=memory,
        progress=progress,
        stop=stop,
    )
    many = _many(work, beside, memory, progress, stop)
    return press_answer(pressed, plan, many)


def bulk(
    file: Path | str,
    *,
    output: Path | str | None = None,
    plan: PlanName = "best",
    beside: str | None = None,
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> BulkAnswer:
    """How many layers lie where in the block in a file; drawn to `output` as SVG if that is given.
    With `beside` (columns x rows, "3x4") the picture shows so many of it sewn together.

    Raises SaveError if it cannot be written.
    """
    work = work_block(
        read_block(file), until="cutting", memory=memory, progress=progress, stop=stop
    )
    pressed = press_block(work, name=plan, memory=memory, progress=progress, stop=stop)
    many = _many(work, beside, memory, progress, stop)
    answer = bulk_answer(pressed, plan, many)
    drawn = answer.svg() if output is not None else None
    if output is None or drawn is None:
        return answer
    save_picture(output, drawn)
    return replace(answer, picture=str(output))


def _many(
    work: BlockWork,
    beside: str | None,
    memory: Memory | None,
    progress: Progress | None,
    stop: Stop | None,
) -> PressedTop | None:
    """The block beside itself, if that is asked for."""
    if beside is None:
        return None
    columns, rows = grid(beside)
    many, _ = press_beside(work, columns, rows, memory=memory, progress=progress, stop=stop)
    return many
