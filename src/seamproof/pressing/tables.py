"""What every way of pressing does to every cluster of crossings, in numbers.

A *choice* is the press of one run of one part, the same in every copy: choice c of a plan is the
c-th run in sewing order. Its ways are numbered `OPEN` 0, `LEFT` 1, `RIGHT` 2, `SPUN` 3 and
`SPUN_BACK` 4. A cluster is a group of crossings whose allowances meet; equal clusters are one
:class:`Table` with `copies` > 1. What lies in no cluster depends on one choice at most and is never
thicker than three layers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

OPEN, LEFT, RIGHT, SPUN, SPUN_BACK = range(5)
"""How the allowances of a run lie: split apart, all left, all right, or changing over at each of
the run's spun crossings so that they turn clockwise (`SPUN`) or anticlockwise (`SPUN_BACK`) round
them, as seen from the back."""


@dataclass(frozen=True, slots=True)
class Table:
    """The layers of one cluster under every combination of the choices that reach it.

    `seams` are the numbers of these choices, ascending, and `ways` the ways each may take, in the
    order of the table; the first choice varies slowest (C order). For each combination `most`
    holds the greatest count of layers, shape (combinations,), and `areas` the square inches under
    exactly k layers in column k, shape (combinations, layers + 1). `copies` counts the equal
    clusters of the block, `at` is the middle of the first in inches of the finished block.
    """

    seams: tuple[int, ...]
    ways: tuple[tuple[int, ...], ...]
    most: npt.NDArray[np.int16]
    areas: npt.NDArray[np.float64]
    copies: int = 1
    at: tuple[float, float] = (0.0, 0.0)

    def row(self, plan: Sequence[int]) -> int | None:
        """Which combination a plan (one way per choice of the block) is; None if the table does
        not have it.

        >>> import numpy as np
        >>> t = Table((0, 2), ((0, 1, 2), (0, 3)), np.zeros(6, np.int16), np.zeros((6, 1)))
        >>> t.row((2, 0, 3)), t.row((0, 0, 0)), t.row((0, 0, 1))
        (5, 0, None)
        """
        found = 0
        for seam, ways in zip(self.seams, self.ways, strict=True):
            if plan[seam] not in ways:
                return None
            found = found * len(ways) + ways.index(plan[seam])
        return found
