"""The command ``top``, as the terminal knows it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from seamproof.cli.options import AsJson, Fresh, end, memory_of


def top(
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="A folder with a quilt.")],
    output: Annotated[
        Path | None,
        typer.Option(
            "--output", "-o", metavar="PICTURE.svg", help="Write a picture of the top there."
        ),
    ] = None,
    bulk: Annotated[
        Path | None,
        typer.Option(
            metavar="MAP.svg", help="Draw how many layers of cloth lie where in the whole top."
        ),
    ] = None,
    hand_off: Annotated[
        Path | None,
        typer.Option(
            metavar="PAGE.pdf",
            help="Write the page for the longarm quilter there, and a table beside it.",
        ),
    ] = None,
    what_if: Annotated[
        str | None,
        typer.Option(
            metavar="SIZES",
            help="Show the settings of the same blocks nearest to these sizes, such as "
            "wall,throw,queen.",
        ),
    ] = None,
    as_json: AsJson = False,
    fresh: Fresh = False,
) -> int:
    """Set the blocks of a quilt together: its size, what is cut, the order of sewing, finishing."""
    from seamproof.answers.asking_top import top as asked
    from seamproof.cli.progress import many_blocks

    targets = tuple(word.strip() for word in (what_if or "").split(",") if word.strip())
    with many_blocks() as told:
        answer = asked(
            folder,
            picture=output,
            bulk=bulk,
            hand_off=hand_off,
            targets=targets,
            memory=memory_of(fresh),
            progress=told,
        )
    return end(answer, as_json)
