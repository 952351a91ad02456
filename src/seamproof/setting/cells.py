"""What lies in the cells of a layout: blocks, coped up to the cell, and plain pieces."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from seamproof.plane.model import Point
from seamproof.plane.predicates import box
from seamproof.setting.assembling import ORIGIN, Builder, Lying
from seamproof.setting.model import Available, Coped, Frame, Role, SetCell


@dataclass(frozen=True)
class Cells:
    """All that is needed to fill a cell: its size, the blocks with the size they really have, and
    the frames of those that are smaller."""

    size: Point
    blocks: Mapping[str, Available]
    frames: Mapping[str, tuple[Frame, ...]]

    def lay(self, builder: Builder, cell: SetCell, low: Point) -> Lying:
        """What a cell holds, its upper left corner at `low`."""
        if cell.plain:
            high = (low[0] + self.size[0], low[1] + self.size[1])
            return builder.rectangle(cell.name, low, high, "plain block")
        return builder.lay(self._framed(builder, cell.name), Fraction(cell.quarters, 4), low)

    def _framed(self, builder: Builder, name: str) -> int:
        block = self.blocks[name]
        lying = builder.lay(builder.whole(name, (block.width, block.height)), Fraction(0), ORIGIN)
        for frame in self.frames.get(name, ()):
            lying = framed(builder, lying, frame, "coping")
        return lying.placed.part


def framed(builder: Builder, lying: Lying, frame: Frame, role: Role) -> Lying:
    """What lies there with a frame round it: strips at the sides, then above and below."""
    (x0, y0), (x1, y1) = box(lying.outline)
    a, b = frame.beside, frame.above
    fabric = frame.fabric
    if a:
        left = builder.rectangle(fabric, (x0 - a, y0), (x0, y1), role)
        right = builder.rectangle(fabric, (x1, y0), (x1 + a, y1), role)
        lying = builder.join(builder.join(left, lying), right)
    if b:
        above = builder.rectangle(fabric, (x0 - a, y0 - b), (x1 + a, y0), role)
        below = builder.rectangle(fabric, (x0 - a, y1), (x1 + a, y1 + b), role)
        lying = builder.join(builder.join(above, lying), below)
    return lying


def turned_size(cell: SetCell, blocks: Mapping[str, Available]) -> Point | None:
    """The size of a block as it lies in the layout; None for a plain piece or an unknown block."""
    block = blocks.get(cell.name)
    if cell.plain or block is None:
        return None
    size = (block.width, block.height)
    return size if cell.quarters % 2 == 0 else (size[1], size[0])


def coped(frames: Mapping[str, tuple[Frame, ...]], counts: Mapping[str, int]) -> tuple[Coped, ...]:
    """The kinds of block that are framed, in their order, with how often each is set."""
    return tuple(Coped(name, counts[name], made) for name, made in frames.items() if made)
