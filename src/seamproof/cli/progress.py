"""What shows while something is worked out: in a terminal only, on standard error."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from pathlib import Path

from rich.progress import BarColumn, MofNCompleteColumn, TextColumn, TimeElapsedColumn
from rich.progress import Progress as Bar

from seamproof.cli.telling import err
from seamproof.pipeline.model import STAGES, Progress, ProjectProgress, StageName

_WORDS: dict[StageName, str] = {
    "draft": "reading the drawing",
    "piecing": "finding the order of sewing",
    "cutting": "working out what to cut",
    "proof": "checking that it comes out",
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
def many_blocks() -> Iterator[ProjectProgress | None]:
    """A bar over the stages of all blocks; nothing if this is no terminal."""
    if not err().is_terminal:
        yield None
        return
    bar = Bar(
        TextColumn("{task.description}"),
        BarColumn(),
        MofNCompleteColumn(),
        TimeElapsedColumn(),
        console=err(),
        transient=True,
    )
    with bar:
        task = bar.add_task("reading", total=None)
        begun = 0

        def told(path: Path, blocks: int, stage: StageName) -> None:
            nonlocal begun
            doing = f"{path.stem}: {_WORDS[stage]}"
            bar.update(task, description=doing, completed=begun, total=blocks * len(STAGES))
            begun += 1

        yield told
