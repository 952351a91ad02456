"""The map of a drawing: which patch lies on which side of which edge.

Purely a matter of vertex numbers. A *dart* is an edge walked in one direction, a pair of vertex
numbers; the face of a dart lies on its **right** as seen, so that faces run clockwise.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from seamproof.length.rounding import SAME
from seamproof.plane.model import Point

Dart = tuple[int, int]

OUTSIDE = -1
"""The face of a dart that has the outside of the drawing on its right."""


@dataclass(frozen=True)
class Subdivision:
    """A partition of the plane into faces that share vertices by number.

    `faces` are loops of vertex numbers, clockwise as seen. `face` maps each dart to the face on
    its right; a dart whose right side is outside is not in it.
    """

    vertices: tuple[Point, ...]
    faces: tuple[tuple[int, ...], ...]
    face: dict[Dart, int]

    def right_of(self, dart: Dart) -> int:
        """The face on the right of a dart, or `OUTSIDE`."""
        return self.face.get(dart, OUTSIDE)

    def left_of(self, dart: Dart) -> int:
        """The face on the left of a dart, or `OUTSIDE`."""
        return self.face.get((dart[1], dart[0]), OUTSIDE)

    def inner_edges(self) -> list[Dart]:
        """Each edge between two faces once, in a fixed order, as a dart from the lower number."""
        return [d for d in self.face if d[0] < d[1] and (d[1], d[0]) in self.face]

    def border(self) -> list[Dart]:
        """The darts that have a face on the right and the outside on the left."""
        return [d for d in self.face if (d[1], d[0]) not in self.face]


def subdivide(vertices: Sequence[Point], faces: Iterable[Sequence[int]]) -> Subdivision:
    """The map of faces that name every vertex on their boundary.

    Raises ValueError if two faces claim the same side of an edge; the draft never gives such.

    >>> square = [(0, 0), (1, 0), (1, 1), (0, 1)]
    >>> m = subdivide(square, [(0, 1, 2), (0, 2, 3)])
    >>> m.inner_edges(), m.right_of((0, 1)), m.left_of((0, 1))
    ([(0, 2)], 0, -1)
    >>> subdivide([], []).inner_edges()
    []
    """
    loops = tuple(tuple(loop) for loop in faces)
    face: dict[Dart, int] = {}
    for number, loop in enumerate(loops):
        for i, v in enumerate(loop):
            dart = (loop[i - 1], v)
            if dart in face:
                raise ValueError(f"faces {face[dart]} and {number} both lie right of edge {dart}")
            face[dart] = number
    return Subdivision(tuple(vertices), loops, face)


def straight_pairs(
    vertices: Sequence[tuple[float, float]], darts: Iterable[Dart]
) -> dict[Dart, Dart]:
    """For each dart that runs straight on over its end vertex, the dart it runs on to.

    `darts` are the edges to look at, each in either direction or both; pairs are found among them
    only. Straight is what :func:`~seamproof.plane.predicates.side` calls so, told from floats,
    which are a million times finer than `SAME`.

    >>> row = [(0, 0), (1, 0), (2, 0), (1, 1)]
    >>> sorted(straight_pairs(row, [(0, 1), (1, 2), (1, 3)]).items())
    [((0, 1), (1, 2)), ((2, 1), (1, 0))]
    """
    spokes: dict[int, list[int]] = {}
    for a, b in sorted({(min(d), max(d)) for d in darts}):
        spokes.setdefault(a, []).append(b)
        spokes.setdefault(b, []).append(a)
    found: dict[Dart, Dart] = {}
    for v, ends in spokes.items():
        x, y = vertices[v]
        arms = [(vertices[w][0] - x, vertices[w][1] - y) for w in ends]
        for i, (ax, ay) in enumerate(arms):
            for j in range(i + 1, len(ends)):
                bx, by = arms[j]
                if ax * bx + ay * by < 0 and abs(ax * by - ay * bx) <= float(SAME) * math.hypot(
                    bx - ax, by - ay
                ):
                    found[(ends[i], v)] = (v, ends[j])
                    found[(ends[j], v)] = (v, ends[i])
    return found
