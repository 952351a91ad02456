"""The command ``cloth``, as the terminal knows it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from seamproof.cli.options import AsJson, Copies, Fresh, end, memory_of
from seamproof.project import limits

if TYPE_CHECKING:
    from seamproof.pipeline.laying import Laying


def cloth(
    where: Annotated[
        Path,
        typer.Argument(metavar="FILE_OR_DIR", help="A block file, or a folder with a quilt."),
    ],
    copies: Copies = None,
    kits: Annotated[
        int,
        typer.Option(min=1, max=limits.COPIES, metavar="N", help="Cut everything so many times."),
    ] = 1,
    width: Annotated[
        str | None,
        typer.Option(metavar="WIDTH", help="Usable width of every fabric, such as 42."),
    ] = None,
    cut_from: Annotated[
        list[str] | None,
        typer.Option(
            metavar="PIECE",
            help="Cut from such pieces, as a fat quarter or 10 x 10; and from yardage if it is "
            "named, too.",
        ),
    ] = None,
    shelf: Annotated[
        list[str] | None,
        typer.Option(metavar="PIECE", help="What is there already, such as b: 2 of 18 x 21."),
    ] = None,
    simple: Annotated[
        bool,
        typer.Option("--simple", help="Few strip widths and ruler settings before little cloth."),
    ] = False,
    third_cut: Annotated[
        bool,
        typer.Option(
            "--third-cut", help="Pieces may lie above one another between two cross-cuts."
        ),
    ] = False,
    output: Annotated[
        Path | None,
        typer.Option(
            "--output",
            "-o",
            metavar="DIR",
            help="Write cutting diagrams (SVG) and lists of cutting and shopping (CSV) there.",
        ),
    ] = None,
    as_json: AsJson = False,
    fresh: Fresh = False,
) -> int:
    """Lay the pieces on the cloth: how each fabric is cut, and how much of it to buy."""
    from seamproof.answers import asking
    from seamproof.cli.progress import cloth_of
    from seamproof.cli.stopping import keeping_the_best

    with cloth_of(kept=True) as (told, shown), keeping_the_best() as stop:

        def laying(now: Laying) -> None:
            stop.something = True
            if shown is not None:
                shown(now)

        answer = asking.lay(
            where,
            copies=copies,
            kits=kits,
            width=width,
            cut_from=cut_from or (),
            shelf=shelf or (),
            simple=simple,
            third_cut=third_cut,
            output=output,
            memory=memory_of(fresh),
            progress=told,
            laying=laying,
            stop=stop,
        )
    return end(answer, as_json)
