"""Which way each seam lies and how thick the block gets: the answers of ``press`` and ``bulk``."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Annotated, ClassVar, Literal

from pydantic import Field, InstanceOf

from seamproof.answers.model import HIDDEN, Answer, noted
from seamproof.answers.top_press import BesideLine, beside_line, top_bulk_svg
from seamproof.drawing.scene import Label, Scene
from seamproof.drawing.svg import svg
from seamproof.figures.back import pressed_back
from seamproof.figures.bulk import GAP, LARGE, bulk_scene
from seamproof.figures.cloth import paints
from seamproof.pipeline.pressing import PressedWork
from seamproof.pipeline.top_pressing import PressedTop
from seamproof.pressing.model import PressedRun, limit_of

Spot = tuple[float, float]

SCALE = 0.75
"""Inches on paper to the inch of the picture."""


@dataclass(frozen=True, slots=True)
class PressLine:
    """How one seam is pressed, in every copy of it. `id` counts the seams in sewing order from 1,
    `part` is what sewing it gives, `start` and `end` (``from`` and ``to`` in the JSON) are its ends
    in the block where it first lies, `towards` is a point on the side its allowances go to.
    `clockwise` is the turn of the first spun crossing as seen from the back."""

    id: int
    part: int
    start: Annotated[Spot, Field(serialization_alias="from")]
    end: Annotated[Spot, Field(serialization_alias="to")]
    round: int
    way: Literal["open", "towards", "spin"]
    towards: Spot | None
    spun: tuple[Spot, ...]
    clockwise: bool | None
    fixed: bool
    usual: bool
    reason: str


@dataclass(frozen=True, slots=True)
class SpotLine:
    """A place above the limit, from the upper left corner of the finished block, front view."""

    x: float
    y: float
    layers: int
    mm: float
    area: float


@dataclass(frozen=True, slots=True)
class WishLine:
    """A wish, what the plan reaches, and the best that is possible; less is better."""

    name: str
    value: float
    bound: float


@dataclass(frozen=True, slots=True)
class PlanLine:
    """One plan beside others; `thick_area` is under six layers and more, in square inches."""

    name: str
    max_layers: int
    thick_area: float
    nested: int
    crossings: int
    usual: int
    seams: int


@dataclass(frozen=True, kw_only=True)
class PressAnswer(Answer):
    """Which way each seam lies, why, and how thick the block gets: from raw edge to raw edge, once
    it is trimmed. Lengths in inches, areas in square inches."""

    command: ClassVar[str] = "press"

    plan: str
    seams: tuple[PressLine, ...] | None
    max_layers: int | None
    max_at: Spot | None
    max_mm: float | None
    layers_area: dict[str, float] | None
    thick_spots: tuple[SpotLine, ...] | None
    crossings: int | None
    nested: int | None
    usual: int | None
    proved: bool | None
    wishes: tuple[WishLine, ...] | None
    missed: tuple[str, ...] | None
    plans: tuple[PlanLine, ...] | None
    beside: BesideLine | None = None
    work: Annotated[PressedWork, HIDDEN] = field(repr=False, compare=False)


@dataclass(frozen=True, kw_only=True)
class BulkAnswer(Answer):
    """How many layers lie where. `picture` is the file that shows it; null if there is none."""

    command: ClassVar[str] = "bulk"

    plan: str
    max_layers: int | None
    max_at: Spot | None
    max_mm: float | None
    layers_area: dict[str, float] | None
    thick_spots: tuple[SpotLine, ...] | None
    beside: BesideLine | None = None
    picture: str | None = None
    work: Annotated[PressedWork, HIDDEN] = field(repr=False, compare=False)
    many: Annotated[InstanceOf[PressedTop] | None, HIDDEN] = field(
        default=None, repr=False, compare=False
    )

    def svg(self) -> str | None:
        """The back of the block and its layer map, or the map of many of it beside each other;
        None if there is none."""
        if self.many is not None:
            return top_bulk_svg(self.many)
        block, pressed = self.work.work.block, self.work.pressed
        if block is None or pressed is None:
            return None
        outline = tuple((float(x), float(y)) for x, y in (block.vertices[v] for v in block.outline))
        size = (float(block.width), float(block.height))
        limit = limit_of(self.work.settings)
        layers = bulk_scene(pressed.layers, outline, size, limit, block.name)
        return svg(self._back().moved(-LARGE - GAP, 0.0) + layers, SCALE)

    def _back(self) -> Scene:
        work, pressed = self.work.work, self.work.pressed
        assert work.block is not None
        assert work.piecing is not None
        assert pressed is not None
        back = pressed_back(
            *(work.block, work.piecing, work.cutting, self.work.settings, pressed),
            paints(work.fabrics),
            LARGE,
        )
        words = Label((LARGE / 2, LARGE), "the back", below=6)
        return Scene((*back.shapes, words), back.says)

    def _repr_svg_(self) -> str | None:
        """What a notebook shows."""
        return self.svg()


def press_answer(work: PressedWork, plan: str, many: PressedTop | None = None) -> PressAnswer:
    """What there is to say about the pressing of a block."""
    pressed, findings = work.pressed, noted(work.findings)
    if pressed is None:
        return PressAnswer(
            findings=findings,
            plan=plan,
            seams=None,
            max_layers=None,
            max_at=None,
            max_mm=None,
            layers_area=None,
            thick_spots=None,
            crossings=None,
            nested=None,
            usual=None,
            proved=None,
            wishes=None,
            missed=None,
            plans=None,
            work=work,
        )
    layers = pressed.layers
    return PressAnswer(
        findings=findings,
        plan=plan,
        seams=tuple(_seams(pressed.runs)),
        max_layers=layers.most,
        max_at=layers.most_at,
        max_mm=layers.mm,
        layers_area=_areas(work),
        thick_spots=_spots(work),
        crossings=pressed.here.crossings,
        nested=pressed.here.nested,
        usual=sum(run.press.usual for run in pressed.runs),
        proved=pressed.plan.proved,
        wishes=tuple(WishLine(w.name, w.value, w.bound) for w in pressed.plan.wishes),
        missed=pressed.plan.missed,
        plans=tuple(
            PlanLine(
                row.name,
                row.layers,
                row.thick_area,
                row.nested,
                row.crossings,
                row.usual,
                row.seams,
            )
            for row in pressed.beside
        ),
        beside=None if many is None else beside_line(many),
        work=work,
    )


def bulk_answer(work: PressedWork, plan: str, many: PressedTop | None = None) -> BulkAnswer:
    """How thick a block gets."""
    layers = None if work.pressed is None else work.pressed.layers
    return BulkAnswer(
        findings=noted(work.findings),
        plan=plan,
        max_layers=None if layers is None else layers.most,
        max_at=None if layers is None else layers.most_at,
        max_mm=None if layers is None else layers.mm,
        layers_area=None if layers is None else _areas(work),
        thick_spots=None if layers is None else _spots(work),
        beside=None if many is None else beside_line(many),
        work=work,
        many=many,
    )


def _areas(work: PressedWork) -> dict[str, float]:
    assert work.pressed is not None
    return {str(count): area for count, area in work.pressed.layers.areas}


def _spots(work: PressedWork) -> tuple[SpotLine, ...]:
    assert work.pressed is not None
    return tuple(
        SpotLine(*spot.at, spot.layers, spot.mm, spot.area) for spot in work.pressed.layers.spots
    )


def _seams(runs: tuple[PressedRun, ...]) -> Iterator[PressLine]:
    for number, run in enumerate(runs, start=1):
        press = run.press
        yield PressLine(
            number,
            press.part,
            run.start,
            run.end,
            run.round,
            "spin" if press.spun else "open" if press.way == "open" else "towards",
            run.towards,
            tuple((float(x), float(y)) for x, y in press.spun),
            press.clockwise,
            press.fixed,
            press.usual,
            press.reason,
        )
