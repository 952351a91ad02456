"""What somebody typed about a maker, as text, and which question it answers."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Literal

from seamproof.accuracy.diagnosis import Sizes
from seamproof.accuracy.spare_cloth import SquaredUp
from seamproof.answers import asking_maker
from seamproof.answers.model import Answer
from seamproof.errors import InputError
from seamproof.length.notation import Measure
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import Progress, Stop
from seamproof.project.measured_file import (
    Readings,
    read_measured,
    sewn_units,
    strip_set,
    typed,
    typed_named,
    typed_size,
)
from seamproof.project.reading import read_block, read_project
from seamproof.project.unit_fields import KINDS

Units = Literal["hst", "geese"]

_UNITS: dict[Units, SquaredUp] = {"hst": "half-square triangle", "geese": "flying geese"}

Texts = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Typed:
    """Sizes as they were typed: each text holds one or several. `strips` to `inner` are of strips,
    `units` to `more` of units, `got` to `pressed_again` of a block. See the reference page of
    commands."""

    strips: int | None = None
    cut: Texts = ()
    side: Texts = ()
    opened: Texts = ()
    inner: Texts = ()
    units: Units | None = None
    finished: str | None = None
    raw: Texts = ()
    overhang: Texts = ()
    more: int = 8
    got: Texts = ()
    unit: Texts = ()
    piece: Texts = ()
    allowance: Texts = ()
    pressed_again: bool = False


def measure_maker(
    table: Path | str | None,
    sizes: Typed,
    *,
    quilt: Path | str = ".",
    name: str | None = None,
    replaced: bool = False,
) -> Answer:
    """What strips or units say, from a `table` or typed. Raises InputError for what cannot be."""
    project = read_project(quilt)
    measure, seam = project.preferences.measure, project.cutting().seam
    cut = typed(sizes.cut, "cut", measure)
    if table is None:
        sets: tuple[Readings, ...] = (_readings(sizes, cut, measure),)
    else:
        sets = read_measured(Path(table), measure)
    if sizes.units is not None:
        if len(sets) > 1:
            raise InputError("units are measured in one set", mend="leave out the column set")
        finished = None if sizes.finished is None else typed([sizes.finished], "finished", measure)
        sewn = sewn_units(
            _UNITS[sizes.units],
            sets[0],
            finished=None if finished is None else finished[0],
            cut=_one(cut) or _one(sets[0].of("cut")),
            seam=seam,
            measure=measure,
        )
        return asking_maker.measure_units(
            sewn, sizes.more, quilt=quilt, name=name, replaced=replaced
        )
    planned_cut = _one(cut) if table is not None else None
    made = [
        strip_set(one, strips=sizes.strips, cut=planned_cut, seam=seam, measure=measure)
        for one in sets
    ]
    planned = [0.0 if plan is None else float(plan) for _, plan in made]
    return asking_maker.measure_strips(
        [some for some, _ in made],
        planned=planned if all(planned) else (),
        quilt=quilt,
        name=name,
        replaced=replaced,
    )


def measure_block(
    file: Path | str,
    sizes: Typed,
    *,
    maker: str | None = None,
    name: str | None = None,
    replaced: bool = False,
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> Answer:
    """Why the block in a file came out as it did; with a `name`, or for several copies, what it
    says of its maker. Raises InputError for what cannot be."""
    measure = read_block(file).project.preferences.measure
    got = [typed_size(text, measure) for text in sizes.got]
    if not got:
        raise InputError("what did the block measure?", mend="say --got 9 1/4")
    if name is not None or len(got) > 1:
        return asking_maker.measure_blocks(
            file,
            [(float(width), None if height is None else float(height)) for width, height in got],
            name=name,
            replaced=replaced,
            memory=memory,
            progress=progress,
            stop=stop,
        )
    width, height = got[0]
    units = [typed_named(text, "unit", measure) for text in sizes.unit]
    pieces = [typed_named(text, "piece", measure) for text in sizes.piece]
    told = Sizes(
        width=float(width),
        height=None if height is None else float(height),
        units=tuple((KINDS.get(kind.lower(), kind), float(size)) for kind, size in units),
        pieces=tuple((letter, float(size)) for letter, size in pieces),
        allowances=tuple(map(float, typed(sizes.allowance, "allowance", measure))),
        pressed_again=sizes.pressed_again,
    )
    return asking_maker.diagnose(
        file, told, maker=maker, memory=memory, progress=progress, stop=stop
    )


def _readings(sizes: Typed, cut: tuple[Fraction, ...], measure: Measure) -> Readings:
    return Readings(
        "",
        (
            ("cut", cut),
            ("side", typed(sizes.side, "side", measure)),
            ("open", typed(sizes.opened, "open", measure)),
            ("inner", typed(sizes.inner, "inner", measure)),
            ("raw", typed(sizes.raw, "raw", measure)),
            ("overhang", typed(sizes.overhang, "overhang", measure, signed=True)),
        ),
    )


def _one(sizes: tuple[Fraction, ...]) -> Fraction | None:
    return sizes[0] if len(sizes) == 1 else None
