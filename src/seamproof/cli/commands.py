"""The commands, as the terminal knows them. Each asks its question and shows the answer.

What is heavy to load (the stages, the solver, the type-setter) is loaded by the command that needs
it, so that help and version come at once. The commands return how they end.
"""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from seamproof import __version__
from seamproof.cli.booklet_command import booklet
from seamproof.cli.cloth_command import cloth
from seamproof.cli.kits_command import kits
from seamproof.cli.measure_command import measure
from seamproof.cli.options import AsJson, Beside, BlockFile, Copies, Fresh, end, memory_of
from seamproof.cli.programme_command import programme
from seamproof.cli.serve_command import serve
from seamproof.cli.top_command import top
from seamproof.cli.version_commands import redline, release
from seamproof.pressing.model import WISHES
from seamproof.project import limits

if TYPE_CHECKING:
    from seamproof.answers.model import Answer

app = typer.Typer(
    name="seamproof",
    help="Works out how a pieced quilt block is cut and sewn, and proves that its sizes come out.",
    epilog="Example: seamproof demo",
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)


class Plan(StrEnum):
    """The press plans, as the terminal completes them."""

    best = "best"
    b = "b"
    usual = "usual"
    open = "open"
    spun = "spun"
    thin = "thin"
    nested = "nested"
    as_given = "as-given"


@app.callback(invoke_without_command=True)
def _everywhere(
    ctx: typer.Context,
    version: Annotated[
        bool, typer.Option("--version", help="Show the version and leave.", is_eager=True)
    ] = False,
    debug: Annotated[
        bool, typer.Option("--debug", help="Show where in the program a fault happened.")
    ] = False,
) -> None:
    del debug  # read by `starting` from the command line, so that it works at any time
    if version:
        typer.echo(f"seamproof {__version__}")
        raise typer.Exit
    if ctx.invoked_subcommand is None:
        typer.echo(ctx.get_help())
        raise typer.Exit(2)


@app.command(epilog="Example: seamproof new my-quilt")
def new(
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="Where the quilt shall lie.")],
    as_json: AsJson = False,
) -> int:
    """Begin a quilt: a folder with a quilt file and one block to change."""
    from seamproof.answers import asking

    return end(asking.new(folder), as_json)


@app.command(epilog="Example: seamproof draft first-star.yaml -o first-star.svg")
def draft(
    file: BlockFile,
    output: Annotated[
        Path | None,
        typer.Option(
            "--output", "-o", metavar="PICTURE.svg", help="Write a picture of the block there."
        ),
    ] = None,
    as_json: AsJson = False,
) -> int:
    """Show what was understood of a block: its patches, fabrics and finished sizes."""
    from seamproof.answers import asking

    return end(asking.understand(file, picture=output), as_json)


@app.command(epilog="Example: seamproof piece first-star.yaml")
def piece(
    file: BlockFile,
    offers: Annotated[
        bool,
        typer.Option(
            "--offers", help="Show the drawing with more seams, so that no corner is set in."
        ),
    ] = False,
    output: Annotated[
        Path | None,
        typer.Option(
            "--output",
            "-o",
            metavar="BLOCK.yaml",
            help="With --offers: write the drawing with more seams there, as a new block file.",
        ),
    ] = None,
    picture: Annotated[
        Path | None,
        typer.Option(metavar="STEPS.svg", help="Draw every step at the machine there."),
    ] = None,
    as_json: AsJson = False,
    fresh: Fresh = False,
) -> int:
    """Find the order in which a block is sewn: units, rounds, and every seam."""
    from seamproof.answers import asking
    from seamproof.cli.progress import one_block

    if output is not None and not offers:
        raise typer.BadParameter("-o goes with --offers: it writes the drawing with more seams")
    if picture is not None and offers:
        raise typer.BadParameter("--picture draws the steps: leave --offers out")
    answer: Answer
    with one_block() as told:
        if offers:
            answer = asking.more_seams(file, output=output, memory=memory_of(fresh), progress=told)
        else:
            answer = asking.piece(file, picture=picture, memory=memory_of(fresh), progress=told)
    return end(answer, as_json)


@app.command(epilog="Example: seamproof cut first-star.yaml --copies 12")
def cut(
    file: BlockFile,
    copies: Copies = None,
    compare: Annotated[
        bool,
        typer.Option(
            "--compare", help="Show the ways to make each unit side by side, and what they cost."
        ),
    ] = False,
    as_json: AsJson = False,
    fresh: Fresh = False,
) -> int:
    """List what is cut for a block, with the size of every piece, proved to come out."""
    from seamproof.answers import asking
    from seamproof.cli.progress import one_block

    asked = asking.compare if compare else asking.cut
    with one_block() as told:
        answer = asked(file, copies=copies, memory=memory_of(fresh), progress=told)
    return end(answer, as_json)


@app.command(epilog="Example: seamproof press first-star.yaml --compare")
def press(
    file: BlockFile,
    plan: Annotated[
        Plan, typer.Option(help="Another press plan than the one the wishes ask for.")
    ] = Plan.best,
    wish: Annotated[
        str | None,
        typer.Option(
            metavar="WISH,WISH",
            help=f"What to aim at, the first wish first: {', '.join(WISHES)}.",
        ),
    ] = None,
    compare: Annotated[
        bool, typer.Option("--compare", help="Show press plans side by side.")
    ] = False,
    beside: Beside = None,
    as_json: AsJson = False,
    fresh: Fresh = False,
) -> int:
    """Say which way each seam is pressed and why, and how thick the block gets."""
    from seamproof.answers.asking_press import press as asked
    from seamproof.cli.progress import one_block

    with one_block() as told:
        answer = asked(
            file,
            plan=plan.value,
            wishes=_wishes(wish),
            compare=compare,
            beside=beside,
            memory=memory_of(fresh),
            progress=told,
        )
    return end(answer, as_json)


@app.command(epilog="Example: seamproof bulk first-star.yaml -o first-star-bulk.svg")
def bulk(
    file: BlockFile,
    output: Annotated[
        Path | None,
        typer.Option(
            "--output",
            "-o",
            metavar="MAP.svg",
            help="Draw the back and the layers of the block there.",
        ),
    ] = None,
    plan: Annotated[
        Plan, typer.Option(help="Another press plan than the one the wishes ask for.")
    ] = Plan.best,
    beside: Beside = None,
    as_json: AsJson = False,
    fresh: Fresh = False,
) -> int:
    """Show how many layers of cloth lie where, once every seam is pressed."""
    from seamproof.answers.asking_press import bulk as asked
    from seamproof.cli.progress import one_block

    with one_block() as told:
        answer = asked(
            file,
            output=output,
            plan=plan.value,
            beside=beside,
            memory=memory_of(fresh),
            progress=told,
        )
    return end(answer, as_json)


@app.command(epilog="Example: seamproof rehearse first-star.yaml --maker new -o first-star.svg")
def rehearse(
    file: BlockFile,
    maker: Annotated[
        str | None,
        typer.Option(
            metavar="NAME",
            help="Whose hands: careful, everyday, new, or one measured; else the quilt's maker.",
        ),
    ] = None,
    makers: Annotated[
        int, typer.Option(min=100, max=limits.MAKERS, metavar="N", help="How many makers sew it.")
    ] = 10_000,
    seed: Annotated[
        int, typer.Option(min=0, metavar="N", help="The same number gives the same makers.")
    ] = 1,
    output: Annotated[
        Path | None,
        typer.Option(
            "--output", "-o", metavar="PICTURE.svg", help="Draw a hundred makers over a ruler."
        ),
    ] = None,
    as_json: AsJson = False,
    fresh: Fresh = False,
) -> int:
    """Let many makers sew the block: will it come out square, and what should be changed?"""
    from seamproof.answers.asking_rehearsal import rehearse as asked
    from seamproof.cli.progress import one_block

    with one_block() as told:
        answer = asked(
            file,
            maker=maker,
            makers=makers,
            seed=seed,
            picture=output,
            memory=memory_of(fresh),
            progress=told,
        )
    return end(answer, as_json)


app.command(epilog="Example: seamproof measure --strips 6 --cut '1 1/2' --side '6 1/4'")(measure)


app.command(epilog="Example: seamproof top my-quilt -o my-quilt.svg")(top)


@app.command(epilog="Example: seamproof proof my-quilt")
def proof(
    where: Annotated[
        Path,
        typer.Argument(metavar="FILE_OR_DIR", help="A block file, or a folder with a quilt."),
    ],
    as_json: AsJson = False,
    fresh: Fresh = False,
) -> int:
    """Check that every cut piece sews to the size that is stated, for a block or a whole quilt."""
    from seamproof.answers import asking
    from seamproof.cli.progress import many_blocks

    with many_blocks() as told:
        answer = asking.prove(where, memory=memory_of(fresh), progress=told)
    return end(answer, as_json)


app.command(epilog="Example: seamproof cloth my-quilt -o cloth")(cloth)


app.command(epilog="Example: seamproof programme my-quilt -o programme")(programme)


app.command(epilog="Example: seamproof kits my-quilt --people 60 --spares 5% --release 3")(kits)


app.command(epilog="Example: seamproof release my-quilt --version 1.1")(release)


app.command(epilog="Example: seamproof redline my-quilt 1.0 1.1 --errata notice.pdf")(redline)


app.command(epilog="Example: seamproof booklet my-quilt -o printed")(booklet)


@app.command(epilog="Example: seamproof demo lamps")
def demo(
    folder: Annotated[
        Path, typer.Argument(metavar="DIR", help="Where the demo quilt shall lie.")
    ] = Path("demo-out"),
    as_json: AsJson = False,
    fresh: Fresh = False,
) -> int:
    """Copy the demo quilt to a folder, work it out, and print a sheet for each of its blocks."""
    from seamproof.answers import asking
    from seamproof.cli.progress import many_blocks

    with many_blocks(sheets=True) as told:
        answer = asking.demo(folder, memory=memory_of(fresh), progress=told)
    return end(answer, as_json)


@app.command(epilog="Example: seamproof schema --answer piece")
def schema(
    what: Annotated[
        str, typer.Argument(metavar="[block|quilt]", help="Which file the schema is of.")
    ] = "block",
    answer: Annotated[
        str | None,
        typer.Option(metavar="NAME", help="The JSON answer of this command instead, or error."),
    ] = None,
    as_json: AsJson = False,
) -> int:
    """Show the JSON Schema of block files, of quilt files, or of an answer."""
    from seamproof.answers import asking

    return end(asking.schema(what, answer=answer), as_json)


@app.command(epilog="Example: seamproof doctor")
def doctor(as_json: AsJson = False) -> int:
    """Check that everything the program needs is there; the report holds nothing private."""
    from seamproof.answers import asking

    return end(asking.doctor(), as_json)


app.command(epilog="Example: seamproof serve my-quilt")(serve)


COMMANDS = tuple(
    command.name or command.callback.__name__
    for command in app.registered_commands
    if command.callback is not None
)
"""The names of all commands."""


def _wishes(text: str | None) -> tuple[str, ...] | None:
    """The wishes named in an option, parted by commas."""
    if text is None:
        return None
    wishes = tuple(word.strip() for word in text.split(",") if word.strip())
    for number, word in enumerate(wishes):
        if word not in WISHES:
            raise typer.BadParameter(f"there is no wish {word}: there are {', '.join(WISHES)}")
        if word in wishes[:number]:
            raise typer.BadParameter(f"the wish {word} is there twice")
    if not wishes:
        raise typer.BadParameter(f"name a wish: {', '.join(WISHES)}")
    return wishes
