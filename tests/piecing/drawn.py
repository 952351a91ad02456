"""A block as a map, looked at with eyes of our own: which patches meet where, what runs straight.

Knows the words of the draft and nothing else of the program, so that what stands on it is a
witness. Floats throughout, with one tolerance.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from seamproof.draft.model import Block

Spot = tuple[float, float]
Dart = tuple[int, int]
Edge = tuple[int, int]

NEAR = 2.0**-13
"""Inches. A part that was turned by other than quarters is kept to 2**-20 at every step on its way
into the block, and what is drawn alike may differ by 2**-14: points this close are one."""


def edge(a: int, b: int) -> Edge:
    """The edge between two vertices, whichever way it is walked."""
    return (a, b) if a < b else (b, a)


def near(p: Spot, q: Spot) -> bool:
    return math.hypot(p[0] - q[0], p[1] - q[1]) <= NEAR


def beside(a: Spot, b: Spot, p: Spot) -> float:
    """How far p lies from the line a to b: positive to the right as seen, y downwards."""
    length = math.hypot(b[0] - a[0], b[1] - a[1])
    return ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / length


def ring(loop: Iterable[int]) -> list[Dart]:
    """The darts of a loop of vertices."""
    walked = list(loop)
    return list(zip(walked, [*walked[1:], *walked[:1]], strict=True))


@dataclass(frozen=True)
class Drawn:
    """A block's map. `right[(a, b)]` is the patch on the right when walking from a to b."""

    spots: tuple[Spot, ...]
    faces: tuple[tuple[int, ...], ...]
    fabrics: tuple[str, ...]
    right: dict[Dart, int]

    @cached_property
    def seams(self) -> tuple[Edge, ...]:
        """The edges between two patches."""
        return tuple(sorted({edge(a, b) for a, b in self.right if (b, a) in self.right}))

    @cached_property
    def rim(self) -> frozenset[int]:
        """The vertices on the edge of the block."""
        return frozenset(v for a, b in self.right if (b, a) not in self.right for v in (a, b))

    @cached_property
    def spokes(self) -> dict[int, tuple[int, ...]]:
        """Per vertex the vertices at the other ends of its seams."""
        found: dict[int, list[int]] = {}
        for a, b in self.seams:
            found.setdefault(a, []).append(b)
            found.setdefault(b, []).append(a)
        return {v: tuple(ends) for v, ends in sorted(found.items())}

    @cached_property
    def inner(self) -> tuple[int, ...]:
        """The vertices inside the block."""
        return tuple(v for v in self.spokes if v not in self.rim)

    def length(self, e: Edge) -> float:
        return math.dist(self.spots[e[0]], self.spots[e[1]])

    def straight(self, a: int, v: int, b: int) -> bool:
        """Whether a walk from a to v runs straight on to b: sideways over the shorter of the two
        it is off by no more than `NEAR`."""
        p, q, r = self.spots[a], self.spots[v], self.spots[b]
        first, second = math.dist(p, q), math.dist(q, r)
        ahead = (q[0] - p[0]) * (r[0] - q[0]) + (q[1] - p[1]) * (r[1] - q[1])
        off = abs((q[0] - p[0]) * (r[1] - q[1]) - (q[1] - p[1]) * (r[0] - q[0]))
        return ahead > 0 and off / max(first, second) <= NEAR

    def passes(self, v: int) -> list[tuple[int, int]]:
        """The pairs of seams that run straight on into each other over a vertex."""
        ends = self.spokes[v]
        return [(a, b) for i, a in enumerate(ends) for b in ends[i + 1 :] if self.straight(a, v, b)]

    @cached_property
    def corners_to_set_in(self) -> tuple[int, ...]:
        """The vertices inside over which no seam runs straight."""
        return tuple(v for v in self.inner if not self.passes(v))

    def outline(self, patches: frozenset[int]) -> list[int]:
        """The vertices on the edge of a set of patches, clockwise as seen. It must be one loop."""
        onward: dict[int, int] = {}
        for f in patches:
            for a, b in ring(self.faces[f]):
                if self.right.get((b, a), -1) not in patches:
                    assert a not in onward, "the edge passes one point twice"
                    onward[a] = b
        start = min(onward)
        loop = [start]
        while onward[loop[-1]] != start:
            loop.append(onward[loop[-1]])
        assert len(loop) == len(onward), "the edge is more than one loop"
        return loop

    def corners(self, loop: list[int]) -> list[Spot]:
        """The points of a loop at which it turns."""
        return [
            self.spots[v]
            for i, v in enumerate(loop)
            if not self.straight(loop[i - 1], v, loop[(i + 1) % len(loop)])
        ]


def drawn(block: Block) -> Drawn:
    """The map of a block. Every seam must have two sides and every patch lie in one piece."""
    right: dict[Dart, int] = {}
    for f, patch in enumerate(block.patches):
        for dart in ring(patch.corners):
            assert dart not in right, "two patches on one side of an edge"
            right[dart] = f
    return Drawn(
        spots=tuple((float(x), float(y)) for x, y in block.vertices),
        faces=tuple(patch.corners for patch in block.patches),
        fabrics=tuple(patch.fabric for patch in block.patches),
        right=right,
    )
