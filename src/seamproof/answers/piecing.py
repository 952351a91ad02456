"""How a block goes together: the answer of ``seamproof piece``."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Annotated, ClassVar, Literal

from seamproof.answers.model import HIDDEN, Answer, noted
from seamproof.answers.shapes import extent, part_name
from seamproof.drawing.svg import svg
from seamproof.figures.cloth import paints
from seamproof.figures.order import order_scene
from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan
from seamproof.pipeline.model import BlockWork

STEP = 1.5
"""Inches in the picture for the longer side of the whole block."""

SeamKind = Literal["straight", "set-in", "partial", "finish"]
"""How a seam is sewn: in one straight go, with corners set in, half of it first, its other half."""


@dataclass(frozen=True, slots=True)
class UnitLine:
    """One kind of unit in the block's grid: `count` alike, each part number `part`.

    `width` and `height` are finished, in inches, of its bounding box as it first lies in the
    block.
    """

    name: str
    count: int
    part: int
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class SeamLine:
    """One thing to do at the machine. `id` is the part it gives; `left` and `right` are the parts
    it takes, as seen when walking along `seam`, a polyline in inches in the frame of the part that
    it gives. For a "finish" `left` is the part that is finished and `right` is null."""

    id: int
    left: int
    right: int | None
    seam: tuple[tuple[float, float], ...]
    kind: SeamKind


@dataclass(frozen=True, kw_only=True)
class PieceAnswer(Answer):
    """How a block goes together. Counts are for one block, copies included, unless they speak of
    distinct things. `picture` is the file that the steps were drawn to."""

    command: ClassVar[str] = "piece"

    patches: int | None
    joins: int | None
    straight: int | None
    partial: int | None
    set_in_points: int | None
    sessions: int | None
    sessions_bound: int | None
    patch_types: int | None
    grid: tuple[int, int] | None
    units: tuple[UnitLine, ...] | None
    unit_types: int | None
    rounds: tuple[tuple[int, ...], ...] | None
    joins_list: tuple[SeamLine, ...] | None
    picture: Annotated[str | None, HIDDEN] = field(default=None, compare=False)
    work: Annotated[BlockWork, HIDDEN] = field(repr=False, compare=False)

    def svg(self) -> str | None:
        """Every step at the machine in one picture; None if there is no plan or nothing to sew."""
        plan, block = self.work.piecing, self.work.block
        if plan is None or block is None or not plan.rounds:
            return None
        scene = order_scene(plan, paints(self.work.fabrics))
        return svg(scene, STEP / float(max(block.width, block.height)))

    def _repr_svg_(self) -> str | None:
        """What a notebook shows."""
        return self.svg()


def piece_answer(work: BlockWork) -> PieceAnswer:
    """What there is to say about the piecing of a block."""
    plan, findings = work.piecing, noted(work.findings)
    if plan is None:
        return PieceAnswer(
            findings=findings,
            patches=None if work.block is None else len(work.block.patches),
            joins=None,
            straight=None,
            partial=None,
            set_in_points=None,
            sessions=None,
            sessions_bound=None,
            patch_types=None,
            grid=None,
            units=None,
            unit_types=None,
            rounds=None,
            joins_list=None,
            work=work,
        )
    joins = [(part.made, part.uses) for part in plan.parts if isinstance(part.made, Join)]
    units = tuple(_units(plan))
    return PieceAnswer(
        findings=findings,
        patches=plan.patches,
        joins=sum(uses for _, uses in joins),
        straight=sum(uses for join, uses in joins if not join.set_in and not join.partial),
        partial=sum(uses for join, uses in joins if join.partial),
        set_in_points=plan.set_in_points,
        sessions=plan.sessions,
        sessions_bound=plan.sessions_bound,
        patch_types=sum(isinstance(part.made, Leaf) for part in plan.parts),
        grid=(len(plan.rows), max(map(len, plan.rows), default=0)),
        units=units,
        unit_types=len(units),
        rounds=plan.rounds,
        joins_list=tuple(_seams(plan)),
        work=work,
    )


def _units(plan: PiecingPlan) -> Iterator[UnitLine]:
    """The kinds of unit in the grid, in the order in which they are met, row by row."""
    for part, count in Counter(part for row in plan.rows for part in row if part >= 0).items():
        width, height = extent(plan.parts[part].outline)
        yield UnitLine(part_name(plan, part), count, part, float(width), float(height))


def _seams(plan: PiecingPlan) -> Iterator[SeamLine]:
    for number, part in enumerate(plan.parts):
        match part.made:
            case Join(left, right, seam, _, set_in) as join:
                kind: SeamKind = "partial" if join.partial else "set-in" if set_in else "straight"
                line = tuple((float(x), float(y)) for x, y in seam)
                yield SeamLine(number, left.part, right.part, line, kind)
            case Finish(of, runs):
                ends = [runs[0][0], *(end for _, end in runs)]
                line = tuple((float(x), float(y)) for x, y in ends)
                yield SeamLine(number, of.part, None, line, "finish")
