"""What was understood of a block file: the answer of ``seamproof draft``."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import Annotated, ClassVar

from seamproof.answers.model import HIDDEN, Answer, noted
from seamproof.answers.shapes import extent, shape_name
from seamproof.draft.model import Block, Fabric
from seamproof.drawing.svg import svg
from seamproof.figures.block import block_scene
from seamproof.figures.cloth import paints
from seamproof.pipeline.model import BlockWork
from seamproof.plane.predicates import area, corners_only

PICTURE = 5.0
"""Inches on the screen or the page for the longer side of a block's picture."""


@dataclass(frozen=True, slots=True)
class FabricLine:
    """A fabric of the block: `patches` are cut from it, `area` is theirs together, finished, in
    square inches. `name` and `colour` are null for a letter that the project does not know."""

    letter: str
    name: str | None
    colour: str | None
    patches: int
    area: float


@dataclass(frozen=True, slots=True)
class PatchLine:
    """One patch, in the order of the file: its true corners, clockwise as seen, in inches of the
    finished block, x to the right, y downwards."""

    fabric: str
    shape: str
    width: float
    height: float
    area: float
    corners: tuple[tuple[float, float], ...]


@dataclass(frozen=True, kw_only=True)
class DraftAnswer(Answer):
    """What was understood. `width` and `height` are finished, in inches; `picture` is the file that
    the picture was written to."""

    command: ClassVar[str] = "draft"

    name: str
    file: str | None
    width: float
    height: float
    copies: int
    patches: int | None
    fabrics: tuple[FabricLine, ...] | None
    patches_list: tuple[PatchLine, ...] | None
    picture: str | None
    work: Annotated[BlockWork, HIDDEN] = field(repr=False, compare=False)

    def svg(self) -> str | None:
        """The finished block as a picture, its longer side `PICTURE` long; None if it was not
        understood."""
        block = self.work.block
        if block is None:
            return None
        scene = block_scene(block, paints(self.work.fabrics), measure=self.work.measure)
        return svg(scene, PICTURE / float(max(block.width, block.height)))

    def _repr_svg_(self) -> str | None:
        """What a notebook shows."""
        return self.svg()


def draft_answer(work: BlockWork, picture: str | None = None) -> DraftAnswer:
    """What there is to say about the drawing of a block; `picture` is the file it was drawn to."""
    block, drawing = work.block, work.drawing
    patches = None if block is None else _patches(block)
    return DraftAnswer(
        findings=noted(work.findings),
        name=drawing.name,
        file=drawing.where.file,
        width=float(drawing.finished[0]),
        height=float(drawing.finished[1]),
        copies=work.copies,
        patches=None if patches is None else len(patches),
        fabrics=None if patches is None else _fabrics(patches, work.fabrics),
        patches_list=patches,
        picture=picture,
        work=work,
    )


def _patches(block: Block) -> tuple[PatchLine, ...]:
    lines = []
    for patch in block.patches:
        corners = corners_only(block.corners_of(patch))
        width, height = extent(corners)
        lines.append(
            PatchLine(
                fabric=patch.fabric,
                shape=shape_name(corners),
                width=float(width),
                height=float(height),
                area=float(area(corners)),
                corners=tuple((float(x), float(y)) for x, y in corners),
            )
        )
    return tuple(lines)


def _fabrics(patches: tuple[PatchLine, ...], fabrics: tuple[Fabric, ...]) -> tuple[FabricLine, ...]:
    counts = Counter(patch.fabric for patch in patches)
    known = {fabric.letter: fabric for fabric in fabrics}
    lines = []
    for letter in sorted(counts):
        fabric = known.get(letter)
        lines.append(
            FabricLine(
                letter=letter,
                name=None if fabric is None else fabric.name,
                colour=None if fabric is None else fabric.colour,
                patches=counts[letter],
                area=sum(patch.area for patch in patches if patch.fabric == letter),
            )
        )
    return tuple(lines)
