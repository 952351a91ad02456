"""The command ``kits``, as the terminal knows it."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from seamproof.cli.options import AsJson, Fresh, end, memory_of
from seamproof.project import limits


class Bagged(StrEnum):
    """What lies in the bag, as the terminal completes it."""

    yardage = "yardage"
    strips = "strips"
    patches = "patches"


def kits(
    where: Annotated[
        Path,
        typer.Argument(metavar="FILE_OR_DIR", help="A block file, or a folder with a quilt."),
    ],
    people: Annotated[
        int | None,
        typer.Option(
            min=1, max=limits.COPIES, metavar="N", help="For how many; else as the programme says."
        ),
    ] = None,
    spares: Annotated[
        str | None, typer.Option(metavar="SHARE", help="Kits on top, such as 5%.")
    ] = None,
    level: Annotated[Bagged | None, typer.Option(help="What lies in the bag.")] = None,
    release: Annotated[
        int | None,
        typer.Option(min=1, metavar="N", help="Of this release only; else of the whole quilt."),
    ] = None,
    have: Annotated[
        list[str] | None,
        typer.Option(
            metavar="BOLTS", help="The bolts that are there, such as 'a: 12 yd, 9 1/2 yd'."
        ),
    ] = None,
    size: Annotated[
        str | None, typer.Option(metavar="NAME", help="In this size; else the quilt's own.")
    ] = None,
    colourway: Annotated[
        str | None, typer.Option(metavar="NAME", help="In this colourway; else the quilt's own.")
    ] = None,
    output: Annotated[
        Path | None,
        typer.Option(
            "--output",
            "-o",
            metavar="DIR",
            help="Write sheets and labels to print (PDF) and lists (CSV) there.",
        ),
    ] = None,
    as_json: AsJson = False,
    fresh: Fresh = False,
) -> int:
    """Cut kits for many people: cloth by the bolt, stacks, bags, what they cost."""
    from seamproof.answers.asking_kits import kits as asked
    from seamproof.cli.progress import cloth_of

    with cloth_of() as (told, laying):
        answer = asked(
            where,
            people=people,
            spares=spares,
            level=None if level is None else level.value,
            release=release,
            have=have or (),
            size=size,
            colourway=colourway,
            output=output,
            memory=memory_of(fresh),
            progress=told,
            laying=laying,
        )
    return end(answer, as_json)
