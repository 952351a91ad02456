"""One more seam: the answer of ``seamproof piece --offers``."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, ClassVar

from seamproof.answers.model import HIDDEN, Answer, noted
from seamproof.drawing.svg import svg
from seamproof.figures.block import block_scene
from seamproof.figures.cloth import paints
from seamproof.piecing.merging import mergers
from seamproof.piecing.model import Join, PiecingPlan
from seamproof.pipeline.model import BlockWork
from seamproof.pipeline.offering import Offered
from seamproof.plane.model import Line

PICTURE = 5.0
"""Inches on the screen or the page for the longer side of a block's picture."""


@dataclass(frozen=True, slots=True)
class OfferedSeam:
    """A seam to be added, from and to points in inches of the finished block, and how many corners
    it spares."""

    line: tuple[tuple[float, float], tuple[float, float]]
    removes: int


@dataclass(frozen=True, slots=True)
class MergerLine:
    """Two neighbours of one fabric that could be one patch: the seam between them, from and to
    points in inches of the finished block, and how many corners would have to be set in for it.
    `free` if it costs nothing and the one patch has no corner that points inwards."""

    fabric: str
    line: tuple[tuple[float, float], tuple[float, float]]
    corners: int
    free: bool


@dataclass(frozen=True, slots=True)
class PriceLine:
    """What a drawing asks of its maker: patches, seams, corners to set in, seams sewn in two goes,
    steps at the machine."""

    patches: int
    seams: int
    set_in_points: int
    partial: int
    sessions: int


@dataclass(frozen=True, kw_only=True)
class OfferAnswer(Answer):
    """The drawing with more seams beside the drawing as it is. `seams` is empty if none would
    help; then `offered` is null. `mergers` are seams that could go. `written` is the block file
    that the variant was written to."""

    command: ClassVar[str] = "offer"

    name: str
    seams: tuple[OfferedSeam, ...]
    drawn: PriceLine | None
    offered: PriceLine | None
    mergers: tuple[MergerLine, ...]
    written: str | None = None
    work: Annotated[BlockWork, HIDDEN] = field(repr=False, compare=False)
    made: Annotated[Offered | None, HIDDEN] = field(repr=False, compare=False)

    def svg(self) -> str | None:
        """The block with the seams that are offered, its longer side `PICTURE` long; None if there
        are none."""
        if self.made is None:
            return None
        block = self.made.variant.block
        scene = block_scene(block, paints(self.work.fabrics), measure=self.work.measure)
        return svg(scene, PICTURE / float(max(block.width, block.height)))

    def _repr_svg_(self) -> str | None:
        """What a notebook shows."""
        return self.svg()


def offer_answer(work: BlockWork, made: Offered | None) -> OfferAnswer:
    """What one more seam would bring, and what it costs."""
    plan = work.piecing
    return OfferAnswer(
        findings=noted(work.findings),
        name=work.drawing.name,
        seams=()
        if made is None
        else tuple(OfferedSeam(_line(seam.line), seam.removes) for seam in made.variant.seams),
        drawn=None if plan is None else _price(plan),
        offered=None if made is None else _price(made.piecing),
        mergers=tuple(
            MergerLine(merger.fabric, _line(merger.seam), merger.corners, merger.free)
            for merger in (() if work.block is None else mergers(work.block))
        ),
        work=work,
        made=made,
    )


def _line(line: Line) -> tuple[tuple[float, float], tuple[float, float]]:
    (ax, ay), (bx, by) = line
    return (float(ax), float(ay)), (float(bx), float(by))


def _price(plan: PiecingPlan) -> PriceLine:
    joins = [(part.made, part.uses) for part in plan.parts if isinstance(part.made, Join)]
    return PriceLine(
        patches=plan.patches,
        seams=sum(uses for _, uses in joins),
        set_in_points=plan.set_in_points,
        partial=sum(uses for join, uses in joins if join.partial),
        sessions=plan.sessions,
    )
