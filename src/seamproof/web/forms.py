"""The JSON of a drawing, out and in. Lengths are text, exact, in the measure of the project."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from seamproof.draft.model import Fixing
from seamproof.errors import InputError, LimitError
from seamproof.length.notation import Measure, exactly, parse
from seamproof.plane.model import Line, Point
from seamproof.project import limits
from seamproof.web.sketches import Sketch, grid_of

Text = Annotated[str, Field(max_length=limits.TEXT_LENGTH)]
Length = Annotated[str, Field(max_length=40)]
Spot = tuple[Length, Length]
Letter = Annotated[str, Field(pattern="^[a-z]{1,2}$")]


class Form(BaseModel):
    """What the page may send: these keys and no others."""

    model_config = ConfigDict(extra="forbid", strict=False)


class SeamForm(Form):
    """A seam from end to end; `id` is the page's own business."""

    id: Annotated[str, Field(max_length=40)] | int | None = None
    start: Annotated[Spot, Field(alias="from")]
    end: Annotated[Spot, Field(alias="to")]


class PatchForm(Form):
    """The fabric of the patch that this point lies in."""

    at: Spot
    fabric: Letter


class PressForm(Form):
    """How a seam or a crossing shall be pressed, as a block file says it."""

    seam: tuple[Spot, Spot] | None = None
    towards: Spot | None = None
    open: bool | None = None
    spin: Spot | None = None
    clockwise: bool | None = None


class FixingsForm(Form):
    """What the maker fixed."""

    press: Annotated[list[PressForm], Field(max_length=limits.FIXINGS)] = []
    last: Annotated[list[tuple[Spot, Spot]], Field(max_length=limits.FIXINGS)] = []
    rows: bool = False


class DrawingForm(Form):
    """A drawing as the page has it. Without `fixings` those of the file stay."""

    title: Annotated[str, Field(min_length=1, max_length=limits.NAME_LENGTH)]
    width: Length
    height: Length
    grid: list[int] | None = None
    seams: Annotated[list[SeamForm], Field(max_length=limits.SEAMS)]
    patches: Annotated[list[PatchForm], Field(max_length=limits.PATCHES)]
    fixings: FixingsForm | None = None


def shown(sketch: Sketch, measure: Measure) -> dict[str, Any]:
    """The JSON of a drawing."""
    pen = _Pen(measure)
    grid = grid_of(sketch)
    return {
        "title": sketch.name,
        "width": exactly(sketch.size[0], measure),
        "height": exactly(sketch.size[1], measure),
        "grid": None if grid is None else list(grid),
        "seams": [
            {"id": f"s{number}", "from": pen.point(a), "to": pen.point(b)}
            for number, (a, b) in enumerate(sketch.seams, start=1)
        ],
        "patches": [{"at": pen.point(at), "fabric": fabric} for at, fabric in sketch.patches],
        "fixings": fixings_shown(sketch.fixings, sketch.rows, measure),
    }


def fixings_shown(fixings: Sequence[Fixing], rows: bool, measure: Measure) -> dict[str, Any]:
    """The JSON of what the maker fixed."""
    pen = _Pen(measure)
    press: list[dict[str, Any]] = []
    last = []
    for fixing in fixings:
        if fixing.crossing is not None:
            press.append({"spin": pen.point(fixing.crossing), "clockwise": fixing.clockwise})
        elif fixing.line is not None and fixing.way == "last":
            last.append(pen.line(fixing.line))
        elif fixing.line is not None and fixing.towards is not None:
            press.append({"seam": pen.line(fixing.line), "towards": pen.point(fixing.towards)})
        elif fixing.line is not None:
            press.append({"seam": pen.line(fixing.line), "open": True})
    return {"press": press, "last": last, "rows": rows}


def understood(form: DrawingForm, measure: Measure, before: Sketch | None) -> Sketch:
    """The drawing that a form says. Raises InputError naming the place in it."""
    reader = _Reader(measure)
    size = (reader.size(form.width, "the width"), reader.size(form.height, "the height"))
    seams = []
    for number, seam in enumerate(form.seams, start=1):
        a = reader.point(seam.start, f"seam {number}")
        b = reader.point(seam.end, f"seam {number}")
        if a == b:
            raise InputError(f"seam {number} ends where it begins", mend="give it two ends")
        seams.append((a, b))
    patches = tuple(
        (reader.point(patch.at, f"patch {number}"), patch.fabric)
        for number, patch in enumerate(form.patches, start=1)
    )
    fixings = before.fixings if before else ()
    rows = before.rows if before else False
    if form.fixings is not None:
        fixings, rows = reader.fixings(form.fixings), form.fixings.rows
    name = form.title.strip()
    if not name:
        raise InputError("the block has no title", mend="give it one")
    return Sketch(name, size, tuple(seams), patches, fixings, rows)


def pressing(form: PressForm, measure: Measure) -> Fixing:
    """One fixing of pressing. Raises InputError."""
    return _Reader(measure).pressed(form)


class _Reader:
    """Reads lengths and says where one is wrong."""

    def __init__(self, measure: Measure) -> None:
        self.measure = measure

    def size(self, text: str, what: str) -> Any:
        value = self.length(text, what)
        if not limits.SMALLEST <= value <= limits.LARGEST:
            raise LimitError(
                f"{what} is not between {limits.SMALLEST} in and {limits.LARGEST} in",
                mend="choose another size",
            )
        return value

    def length(self, text: str, what: str) -> Any:
        try:
            value = parse(text, unit=self.measure, signed=True)
        except InputError as problem:
            raise InputError(f"{what}: {problem.what}", mend=problem.mend) from problem
        if abs(value) > limits.COORDINATE:
            raise LimitError(f"{what} lies too far out", mend="keep it near the block")
        return value

    def point(self, spot: Spot, what: str) -> Point:
        return self.length(spot[0], what), self.length(spot[1], what)

    def line(self, line: tuple[Spot, Spot], what: str) -> Line:
        return self.point(line[0], what), self.point(line[1], what)

    def fixings(self, form: FixingsForm) -> tuple[Fixing, ...]:
        pressed = [self.pressed(one) for one in form.press]
        last = [Fixing(self.line(line, "a last seam"), None, "last") for line in form.last]
        return (*pressed, *last)

    def pressed(self, form: PressForm) -> Fixing:
        if form.spin is not None and form.seam is None:
            crossing = self.point(form.spin, "the crossing")
            return Fixing(None, crossing, "spin", clockwise=form.clockwise)
        if form.seam is not None and form.spin is None:
            line = self.line(form.seam, "the seam")
            if form.towards is not None and not form.open:
                return Fixing(line, None, "towards", self.point(form.towards, "the side"))
            if form.open and form.towards is None:
                return Fixing(line, None, "open")
        raise InputError(
            "this says neither how a seam nor how a crossing is pressed",
            mend="name a seam with towards or open, or a crossing to spin",
        )


class _Pen:
    def __init__(self, measure: Measure) -> None:
        self.measure = measure

    def point(self, point: Point) -> list[str]:
        return [exactly(value, self.measure) for value in point]

    def line(self, line: Line) -> list[list[str]]:
        return [self.point(line[0]), self.point(line[1])]


Way = Literal["open", "towards", "spin"]


def same_place(one: Fixing, other: Fixing) -> bool:
    """Whether two fixings of pressing are about the same seam or crossing."""
    if one.crossing is not None or other.crossing is not None:
        return one.crossing == other.crossing
    if one.line is None or other.line is None or "last" in (one.way, other.way):
        return False
    return set(one.line) == set(other.line)


def with_fixing(fixings: Sequence[Fixing], fixing: Fixing, *, remove: bool) -> tuple[Fixing, ...]:
    """Fixings with one of pressing in the place of that at the same seam, or without it."""
    others = tuple(old for old in fixings if not same_place(old, fixing))
    return others if remove else (*others, fixing)
