"""A block beside itself: edge to edge in rows, as a top of one kind of block."""

from __future__ import annotations

import re
from dataclasses import replace

from seamproof.errors import InputError, Place
from seamproof.findings import Finding
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork, Progress, Stop
from seamproof.pipeline.setting import TopWork, available
from seamproof.pipeline.top_pressing import PressedTop, press_top
from seamproof.plane.predicates import area, same_length
from seamproof.setting.model import SetCell, Setting
from seamproof.setting.top import set_top

MOST_BESIDE = 20
"""Blocks in a row or a column: more show nothing new."""


def press_beside(
    work: BlockWork,
    columns: int,
    rows: int,
    *,
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> tuple[PressedTop | None, tuple[Finding, ...]]:
    """A block worked out until it is cut, `columns` by `rows` of it sewn together and pressed.

    Raises InputError if there are none or too many of them, or the block is no rectangle.
    """
    if not (1 <= columns <= MOST_BESIDE and 1 <= rows <= MOST_BESIDE):
        raise InputError(
            f"{columns} by {rows} blocks cannot be shown beside each other",
            mend=f"take 1 to {MOST_BESIDE} in a row and in a column, such as 3x4",
        )
    block = work.block
    if block is None:
        return None, ()
    if not same_length(
        area([block.vertices[v] for v in block.outline]), block.width * block.height
    ):
        raise InputError(
            f"{block.name} is no rectangle, so it does not lie edge to edge in rows",
            mend="leave --beside out, or set it in a quilt",
            place=Place(str(work.source.path)),
        )
    project = work.source.project
    setting = Setting(rows=((SetCell(block.name),) * columns,) * rows)
    one = replace(available(work), copies=columns * rows)
    top, _ = set_top(setting, [one], (), project.cutting())
    told = None if progress is None else (lambda _path, _count, stage: progress(stage))
    return press_top(
        TopWork(project, setting, (work,), top, ()), memory=memory, progress=told, stop=stop
    )


def grid(text: str) -> tuple[int, int]:
    """Columns and rows as somebody types them. Raises InputError.

    >>> grid("3x4"), grid("2 × 2")
    ((3, 4), (2, 2))
    """
    found = re.fullmatch(r"\s*(\d{1,3})\s*[x×X]\s*(\d{1,3})\s*", text)
    if found is None:
        raise InputError(
            f'"{text}" does not say how many blocks lie beside each other',
            mend="write columns x rows, such as 3x4",
        )
    return int(found[1]), int(found[2])
