"""The command ``programme``, as the terminal knows it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from seamproof.cli.options import AsJson, Fresh, end, memory_of


def programme(
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="A folder with a quilt.")],
    output: Annotated[
        Path | None,
        typer.Option(
            "--output",
            "-o",
            metavar="DIR",
            help="Write the calendar (iCalendar) and lists (CSV) there; a calendar that is there "
            "is brought up to date.",
        ),
    ] = None,
    forms: Annotated[
        Path | None,
        typer.Option(
            metavar="DIR", help="Write a form (CSV) for every tester and release, and invitations."
        ),
    ] = None,
    with_contacts: Annotated[
        bool, typer.Option("--with-contacts", help="Put into the invitations how to reach them.")
    ] = False,
    as_json: AsJson = False,
    fresh: Fresh = False,
) -> int:
    """Say what goes out when: days counted backwards, what each release takes, what it teaches."""
    from seamproof.answers.asking_programme import programme as asked
    from seamproof.cli.progress import cloth_of

    with cloth_of() as (told, laying):
        answer = asked(
            folder,
            output=output,
            forms=forms,
            contacts=with_contacts,
            memory=memory_of(fresh),
            progress=told,
            laying=laying,
        )
    return end(answer, as_json)
