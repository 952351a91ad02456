"""The command ``measure``, as the terminal knows it."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from seamproof.cli.options import AsJson, Fresh, end, memory_of

if TYPE_CHECKING:
    from seamproof.answers.model import Answer


class Units(StrEnum):
    """The units whose oversize can be measured, as the terminal completes them."""

    hst = "hst"
    geese = "geese"


def measure(
    where: Annotated[
        Path | None,
        typer.Argument(
            metavar="FILE_OR_DIR",
            help="A table of measurements (.csv), a block file with --got, or a quilt's folder "
            "for its log of test copies.",
        ),
    ] = None,
    strips: Annotated[
        int | None, typer.Option(metavar="N", help="How many strips were sewn side by side.")
    ] = None,
    cut: Annotated[
        list[str] | None,
        typer.Option(
            "--cut",
            metavar="SIZES",
            help="How wide the strips were cut, one for all or each as measured; of units, their "
            "squares.",
        ),
    ] = None,
    side: Annotated[
        list[str] | None,
        typer.Option(
            "--side",
            metavar="SIZES",
            help="The sewn set across, in several places, pressed to one side.",
        ),
    ] = None,
    opened: Annotated[
        list[str] | None, typer.Option("--open", metavar="SIZES", help="The same pressed open.")
    ] = None,
    inner: Annotated[
        list[str] | None,
        typer.Option("--inner", metavar="SIZES", help="Each inner strip, from seam to seam."),
    ] = None,
    units: Annotated[
        Units | None, typer.Option(help="Measure units instead: half-square triangles or geese.")
    ] = None,
    finished: Annotated[
        str | None,
        typer.Option(metavar="SIZE", help="Finished size of the units; of geese their height."),
    ] = None,
    raw: Annotated[
        list[str] | None,
        typer.Option(
            "--raw",
            metavar="SIZES",
            help="Each half-square triangle before it is trimmed, its smaller side.",
        ),
    ] = None,
    overhang: Annotated[
        list[str] | None,
        typer.Option(
            "--overhang",
            metavar="SIZES",
            help="What each unit sticks out under the ruler; a minus if it is short.",
        ),
    ] = None,
    more: Annotated[
        int, typer.Option("--next", min=1, max=1000, metavar="N", help="How many units are next.")
    ] = 8,
    got: Annotated[
        list[str] | None,
        typer.Option(
            metavar="SIZE", help="What the block measures, such as '9 1/4' or '9 1/4 x 9 3/8'."
        ),
    ] = None,
    unit: Annotated[
        list[str] | None,
        typer.Option(metavar="NAME:SIZE", help="With --got: a unit of it, raw edge to raw edge."),
    ] = None,
    piece: Annotated[
        list[str] | None,
        typer.Option(metavar="NAME:SIZE", help="With --got: a cut piece by its letter."),
    ] = None,
    allowance: Annotated[
        list[str] | None,
        typer.Option(
            "--allowance", metavar="SIZES", help="With --got: seam allowances read on the back."
        ),
    ] = None,
    pressed_again: Annotated[
        bool, typer.Option("--pressed-again", help="With --got: it was pressed once more.")
    ] = False,
    maker: Annotated[
        str | None,
        typer.Option(metavar="NAME", help="Whose hands: a profile, for the block or the log."),
    ] = None,
    name: Annotated[
        str | None, typer.Option(metavar="NAME", help="Write a maker profile of this name.")
    ] = None,
    replace: Annotated[
        bool, typer.Option("--replace", help="With --name: replace what was measured before.")
    ] = False,
    quilt: Annotated[
        Path | None, typer.Option(metavar="DIR", help="The quilt's folder; here if not said.")
    ] = None,
    as_json: AsJson = False,
    fresh: Fresh = False,
) -> int:
    """Tell a maker's seam from strips, units or blocks; find out why a block came out wrong."""
    from seamproof.answers.asking_maker import compare_copies
    from seamproof.answers.typed import Typed, measure_block, measure_maker
    from seamproof.cli.progress import many_blocks, one_block

    table = where is not None and where.suffix.lower() == ".csv"
    log = where is not None and where.is_dir()
    if replace and name is None:
        raise typer.BadParameter("--replace goes with --name")
    if got and (where is None or table or log):
        raise typer.BadParameter("--got goes with a block file")
    if (unit or piece or allowance or pressed_again) and not got:
        raise typer.BadParameter("--unit, --piece, --allowance, --pressed-again go with --got")
    sizes = Typed(
        strips=strips,
        cut=tuple(cut or ()),
        side=tuple(side or ()),
        opened=tuple(opened or ()),
        inner=tuple(inner or ()),
        units=None if units is None else units.value,
        finished=finished,
        raw=tuple(raw or ()),
        overhang=tuple(overhang or ()),
        more=more,
        got=tuple(got or ()),
        unit=tuple(unit or ()),
        piece=tuple(piece or ()),
        allowance=tuple(allowance or ()),
        pressed_again=pressed_again,
    )
    answer: Answer
    if log and where is not None:
        with many_blocks() as told:
            answer = compare_copies(where, maker=maker, memory=memory_of(fresh), progress=told)
    elif table or where is None:
        answer = measure_maker(where, sizes, quilt=quilt or Path(), name=name, replaced=replace)
    else:
        with one_block() as said:
            answer = measure_block(
                where,
                sizes,
                maker=maker,
                name=name,
                replaced=replace,
                memory=memory_of(fresh),
                progress=said,
            )
    return end(answer, as_json)
