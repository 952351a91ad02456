"""The command ``serve``, as the terminal knows it: it starts the page and stays until Ctrl-C."""

from __future__ import annotations

import webbrowser
from pathlib import Path
from typing import Annotated

import typer

from seamproof.cli.options import AsJson


def serve(
    folder: Annotated[
        Path, typer.Argument(metavar="DIR", help="The folder that the quilt lies in.")
    ] = Path(),
    port: Annotated[
        int | None,
        typer.Option(min=1, max=65535, metavar="N", help="The port to listen on; else a free one."),
    ] = None,
    quiet: Annotated[
        bool, typer.Option("--no-browser", help="Show the address and open no browser.")
    ] = False,
    as_json: AsJson = False,
) -> int:
    """Open a quilt as a page in the browser, to draw in and to look at."""
    from seamproof.answers.serving import ServeAnswer
    from seamproof.cli.telling import say, tell, write_json
    from seamproof.web.serving import serve as serving

    def opened(address: str, told: list[str]) -> None:
        if as_json:
            write_json(ServeAnswer(folder=str(folder), address=address, told=tuple(told)).to_json())
        else:
            say(*told, address)
            tell("This address opens the page once. Ctrl-C ends it; everything is saved as you go.")
        if not quiet:
            webbrowser.open(address)

    serving(folder, port=port, opened=opened)
    return 0
