"""The commands ``release`` and ``redline``, as the terminal knows them."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from seamproof.cli.options import AsJson, Fresh, end, memory_of

Folder = Annotated[Path, typer.Argument(metavar="DIR", help="A folder with a quilt.")]


def release(
    folder: Folder,
    version: Annotated[
        str | None, typer.Option(metavar="NUMBER", help="Freeze this version, such as 1.1.")
    ] = None,
    date: Annotated[
        str, typer.Option(metavar="DAY", help="What stands as its day; nothing if absent.")
    ] = "",
    as_json: AsJson = False,
    fresh: Fresh = False,
) -> int:
    """Freeze a version of a quilt, or say what keeps it from being released."""
    from seamproof.answers.asking_versions import release as asked
    from seamproof.cli.progress import many_blocks

    with many_blocks() as told:
        answer = asked(folder, version=version, dated=date, memory=memory_of(fresh), progress=told)
    return end(answer, as_json)


def redline(
    folder: Folder,
    old: Annotated[str, typer.Argument(metavar="OLD", help="A frozen version.")],
    new: Annotated[
        str | None,
        typer.Argument(metavar="[NEW]", help="A later one; else the quilt as it is now."),
    ] = None,
    output: Annotated[
        Path | None,
        typer.Option("--output", "-o", metavar="LIST.csv", help="Write the list there."),
    ] = None,
    errata: Annotated[
        Path | None,
        typer.Option(
            metavar="NOTICE.pdf", help="Write the notice for those who have the old version there."
        ),
    ] = None,
    as_json: AsJson = False,
    fresh: Fresh = False,
) -> int:
    """List what differs between two versions of a quilt, and nothing else."""
    from seamproof.answers.asking_versions import redline as asked
    from seamproof.cli.progress import many_blocks

    with many_blocks() as told:
        answer = asked(
            folder,
            old,
            new,
            output=output,
            errata=errata,
            memory=memory_of(fresh),
            progress=told,
        )
    return end(answer, as_json)
