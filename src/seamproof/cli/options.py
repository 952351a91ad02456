"""What the commands share: their usual options, the memory, and how they end."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from seamproof.project import limits

if TYPE_CHECKING:
    from seamproof.answers.model import Answer
    from seamproof.pipeline.memory import Memory

BlockFile = Annotated[Path, typer.Argument(metavar="FILE", help="A block file.")]
AsJson = Annotated[
    bool, typer.Option("--json", help="Answer with one JSON object on standard output.")
]
Fresh = Annotated[
    bool, typer.Option("--fresh", help="Work everything out anew, whatever is remembered.")
]
Beside = Annotated[
    str | None,
    typer.Option(
        metavar="3x4",
        help="Set so many columns and rows of the block edge to edge, and see what that comes to.",
    ),
]
Copies = Annotated[
    int | None,
    typer.Option(
        min=1,
        max=limits.COPIES,
        metavar="N",
        help="How many of the block; else as many as the file says.",
    ),
]


def memory_of(fresh: bool) -> Memory:
    """What was worked out before, in the user's cache folder."""
    from seamproof.pipeline.memory import users_memory

    return users_memory(fresh=fresh)


def end(answer: Answer, as_json: bool) -> int:
    """Show the answer; how the command ends."""
    if as_json:
        from seamproof.cli.telling import write_json

        write_json(answer.to_json())
    else:
        from seamproof.cli.showing import show

        show(answer)
    return answer.exit_code
