"""The command ``booklet``, as the terminal knows it."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from seamproof.cli.options import AsJson, Copies, Fresh, end, memory_of

if TYPE_CHECKING:
    from seamproof.answers.model import Answer


class Sheet(StrEnum):
    """The papers, as the terminal completes them."""

    letter = "letter"
    a4 = "a4"


def booklet(
    where: Annotated[
        Path,
        typer.Argument(
            metavar="DIR_OR_FILE", help="A folder with a quilt, or with --sheet a block file."
        ),
    ],
    output: Annotated[
        Path,
        typer.Option(
            "--output", "-o", metavar="OUT", help="A folder to write to; for a sheet its file."
        ),
    ],
    sheet: Annotated[
        bool, typer.Option("--sheet", help="One sheet that says how a block is made.")
    ] = False,
    block: Annotated[
        str | None, typer.Option(metavar="NAME", help="Only this block of the quilt.")
    ] = None,
    paper: Annotated[
        Sheet | None,
        typer.Option(help="The paper; else both, or for a sheet the one the quilt prints on."),
    ] = None,
    large_print: Annotated[
        bool, typer.Option("--large-print", help="Set everything in 18 points.")
    ] = False,
    left_handed: Annotated[
        bool, typer.Option("--left-handed", help="Turn over what goes by the hand.")
    ] = False,
    line_art: Annotated[
        bool, typer.Option("--line-art", help="White cloth with its hatch: no colour is needed.")
    ] = False,
    metric: Annotated[
        bool, typer.Option("--metric", help="Draft it anew in centimetres: 12 in become 30 cm.")
    ] = False,
    copies: Copies = None,
    as_json: AsJson = False,
    fresh: Fresh = False,
) -> int:
    """Print a whole pattern as PDF and as one HTML page, or one block as a sheet."""
    paper_name: Literal["letter", "a4"] | None = None if paper is None else paper.value
    answer: Answer
    if sheet:
        if block is not None or large_print or left_handed or line_art or metric:
            raise typer.BadParameter("a sheet has no editions: leave --sheet out, name a folder")
        from seamproof.answers import asking
        from seamproof.cli.progress import one_block

        with one_block() as told:
            answer = asking.sheet(
                where,
                output=output,
                paper=paper_name,
                copies=copies,
                memory=memory_of(fresh),
                progress=told,
            )
        return end(answer, as_json)
    if copies is not None:
        raise typer.BadParameter("the setting says how many of each block: --copies is for --sheet")
    from seamproof.answers.asking_booklet import booklet as asked
    from seamproof.cli.progress import cloth_of

    with cloth_of() as (stages, laying):
        answer = asked(
            where,
            output,
            paper=paper_name,
            block=block,
            large=large_print,
            left=left_handed,
            line_art=line_art,
            metric=metric,
            memory=memory_of(fresh),
            progress=stages,
            laying=laying,
        )
    return end(answer, as_json)
