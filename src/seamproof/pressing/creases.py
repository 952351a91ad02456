"""The lines over which seams of a setting turn the cloth of leaves, all of them in arrays."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from seamproof.pressing.meetings import NEAR
from seamproof.pressing.numbering import Bools, Floats, Ints, spread
from seamproof.pressing.sheets import REACH, Seam
from seamproof.pressing.tables import LEFT
from seamproof.pressing.tiles import Lying


class Creases:
    """The creases of all leaves. `along` and `off` have a row for every seam and side: which way it
    goes (what lies right of it is turned over), and that direction across a point of the line. Leaf
    k is turned over `rows[first[k] : first[k] + count[k]]`, what is sewn first first."""

    def __init__(self, leaves: Sequence[Lying], depth: float, seam: float) -> None:
        numbers: dict[tuple[int, int], int] = {}
        self.above: list[tuple[Seam, int]] = []
        rows: list[int] = []
        for leaf in leaves:
            for pair in leaf.above:
                key = (id(pair[0]), pair[1])
                number = numbers.get(key)
                if number is None:
                    number = numbers[key] = len(self.above)
                    self.above.append(pair)
                rows.append(number)
        self._far = REACH * seam
        way = np.array([seam.along for seam, _ in self.above]).reshape(-1, 2)
        at = np.array([seam.a for seam, _ in self.above]).reshape(-1, 2)
        side = np.array([1.0 if side == LEFT else -1.0 for _, side in self.above])
        self._way, self._start = way, (way * at).sum(axis=1)
        self._length = np.array([seam.length for seam, _ in self.above])
        self.along = way * side[:, None]
        self.off = self.along[:, 0] * at[:, 1] - self.along[:, 1] * at[:, 0]
        # Those that pass the cloth of their leaf are all that is looked at again.
        owner = np.repeat(np.arange(len(leaves)), [len(leaf.above) for leaf in leaves])
        every = np.array(rows, dtype=np.int64)
        box = np.array([leaf.box for leaf in leaves]) + 4 * depth * np.array([-1, -1, 1, 1])
        passing = self._pass(every, box[owner])
        self.rows = every[passing]
        self.count = np.bincount(owner[passing], minlength=len(leaves)).astype(np.int64)
        self.first = np.cumsum(self.count) - self.count

    def passing(self, leaf: Ints, reach: Floats) -> tuple[Ints, Ints]:
        """The creases of leaves that pass boxes, one leaf to a box: pairs (box, row)."""
        box, number = spread(self.first[leaf], self.count[leaf])
        rows = self.rows[number]
        passing = self._pass(rows, reach[box])
        return box[passing], rows[passing]

    def _pass(self, rows: Ints, box: Floats) -> Bools:
        """Which creases pass boxes with their seams not far from them. Where in there such a seam
        begins and ends is no matter: what is sewn at it lies along all of it."""
        x, y = (box[:, 0] + box[:, 2]) / 2, (box[:, 1] + box[:, 3]) / 2
        w, h = box[:, 2] - box[:, 0], box[:, 3] - box[:, 1]
        ux, uy = self.along[rows].T
        passes: Bools = np.abs(ux * y - uy * x - self.off[rows]) <= (
            (np.abs(uy) * w + np.abs(ux) * h) / 2 - NEAR
        )
        far = (w + h) / 2 + self._far
        at = self._way[rows, 0] * x + self._way[rows, 1] * y - self._start[rows]
        passes &= (-far <= at) & (at <= self._length[rows] + far)
        return passes
