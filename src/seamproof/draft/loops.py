"""Patches on their way to a block: loops of vertex numbers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from seamproof.findings import Where
from seamproof.plane.model import Point


@dataclass(frozen=True)
class Loop:
    """One patch on its way to a block: vertex numbers, clockwise, every vertex on its boundary."""

    fabric: str
    corners: tuple[int, ...]
    where: Where

    def darts(self) -> Iterator[tuple[int, int]]:
        """The sides, each walked with the patch on the right."""
        return zip(self.corners, (*self.corners[1:], *self.corners[:1]), strict=True)


@dataclass(frozen=True)
class Partition:
    """Loops that cover `outline` exactly once."""

    vertices: tuple[Point, ...]
    loops: tuple[Loop, ...]
    outline: tuple[int, ...]
