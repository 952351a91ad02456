"""Convex pieces of cloth, many at once: put down, cut along lines, turned over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from seamproof.pressing.folding import TOUCH, Convex
from seamproof.pressing.numbering import Floats, Ints, spread


@dataclass(frozen=True, slots=True, eq=False)
class Convexes:
    """Convex pieces: `points` has their corners, shape (n, 2), one piece after the other; piece k
    begins at `first[k]`, and the last number of `first` is n."""

    points: Floats
    first: Ints

    @staticmethod
    def of(pieces: Sequence[Convex]) -> Convexes:
        """The same in arrays."""
        points = np.array([p for piece in pieces for p in piece], dtype=np.float64).reshape(-1, 2)
        return Convexes(points, _begins(np.array([len(p) for p in pieces], dtype=np.int64)))

    @property
    def owner(self) -> Ints:
        """The piece that each corner is of."""
        return np.repeat(np.arange(len(self.first) - 1), np.diff(self.first))

    def taken(self, which: Ints) -> Convexes:
        """Some of the pieces, in this order and as often as they are named."""
        count = np.diff(self.first)[which]
        _, number = spread(self.first[which], count)
        return Convexes(self.points[number], _begins(count))

    def below(self, height: Floats) -> tuple[Convexes, Ints]:
        """What of the pieces has height 0 at most, told by the height of every corner, and which
        piece each is of. What only touches is left out.

        >>> square = Convexes.of([((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))])
        >>> found, of = square.below(square.points[:, 0] - 1)
        >>> found.points.tolist(), of.tolist()
        ([[0.0, 0.0], [1.0, 0.0], [1.0, 2.0], [0.0, 2.0]], [0])
        >>> square.below(square.points[:, 0])[1].tolist()
        []
        """
        if not len(self.points):
            return self, np.empty(0, dtype=np.int64)
        begins, owner = self.first[:-1], self.owner
        height = np.where(np.abs(height) <= TOUCH, 0.0, height)
        some = np.minimum.reduceat(height, begins) < 0
        after = np.arange(1, len(owner) + 1)
        after[self.first[1:] - 1] = begins
        kept = (height <= 0) & some[owner]
        crosses = height * height[after] < 0
        count = kept.astype(np.int64) + crosses
        at = np.cumsum(count) - count
        points = np.empty((int(count.sum()), 2))
        points[at[kept]] = self.points[kept]
        # A line cuts an edge in the same point, whichever side of it is asked for.
        high, low = height[crosses], height[after[crosses]]
        begin, end = self.points[crosses], self.points[after[crosses]]
        cut = begin + (high / (high - low))[:, None] * (end - begin)
        points[(at + kept)[crosses]] = cut
        return (
            Convexes(points, _begins(np.add.reduceat(count, begins)[some])),
            np.flatnonzero(some),
        )

    def within(self, box: Floats) -> tuple[Convexes, Ints]:
        """What of the pieces lies in upright rectangles, one for every piece, shape (pieces, 4)
        (left, upper, right, lower), and which piece each is of."""
        found, of = self, np.arange(len(self.first) - 1)
        for side in range(4):
            line, axis = box[of, side][found.owner], side % 2
            off = found.points[:, axis] - line
            found, those = found.below(-off if side < 2 else off)
            of = of[those]
        return found, of

    def reversed(self) -> Convexes:
        """The same corners, the other way round."""
        owner = self.owner
        back = (self.first[:-1] + self.first[1:] - 1)[owner] - np.arange(len(owner))
        return Convexes(self.points[back], self.first)

    def folded(self, along: Floats, off: Floats) -> tuple[Convexes, Ints]:
        """The pieces once what lies right of lines is turned over, one line for every piece: its
        direction, shape (pieces, 2), and that across a point of it; and which piece each is of.

        >>> square = Convexes.of([((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))])
        >>> found, of = square.folded(np.array([[1.0, 0.0]]), np.array([1.5]))
        >>> found.points.tolist()[4:], of.tolist()
        ([[0.0, 1.5], [0.0, 1.0], [2.0, 1.0], [2.0, 1.5]], [0, 0])
        """
        stays, kept = self.below(_beyond(self, along, off))
        goes, gone = self.below(-_beyond(self, along, off))
        far = 2 * _beyond(goes, along[gone], off[gone])
        way = along[gone][goes.owner]
        over = goes.points + far[:, None] * np.column_stack([way[:, 1], -way[:, 0]])
        return joined([stays, Convexes(over, goes.first).reversed()]), np.append(kept, gone)


def _beyond(pieces: Convexes, along: Floats, off: Floats) -> Floats:
    """How far right of its piece's line every corner lies."""
    owner, (x, y) = pieces.owner, pieces.points.T
    found: Floats = along[owner, 0] * y - along[owner, 1] * x - off[owner]
    return found


def joined(some: Sequence[Convexes]) -> Convexes:
    """Pieces, one list after the other."""
    counts = np.concatenate([np.diff(one.first) for one in some])
    return Convexes(np.concatenate([one.points for one in some]), _begins(counts))


def _begins(count: Ints) -> Ints:
    return np.append(0, np.cumsum(count)).astype(np.int64)
