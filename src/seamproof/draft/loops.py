"""Patches on their way to a block: loops of vertex numbers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
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


def rings_of(darts: Iterable[tuple[int, int]]) -> list[list[int]]:
    """The closed ways that these darts make, each from its first vertex on.

    Where ways meet in a vertex, any of them: of its darts the last is taken. Every way must come
    back to where it began.

    >>> rings_of([(1, 2), (2, 3), (3, 1), (5, 4), (4, 5)])
    [[1, 2, 3], [5, 4]]
    >>> rings_of([])
    []
    """
    ahead = dict(darts)
    left = dict.fromkeys(ahead)
    rings: list[list[int]] = []
    while left:
        v = next(iter(left))
        ring = []
        while v in left:
            del left[v]
            ring.append(v)
            v = ahead[v]
        rings.append(ring)
    return rings
