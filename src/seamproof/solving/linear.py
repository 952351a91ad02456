"""Linear covering problems that grow by columns, with the price of every row.

Least Σ cost × amount of columns that cover every row's need; used where columns are generated as
their prices ask for them. Silent, one thread, the simplex method: the same problem, grown in the
same order, has the same answer.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import highspy
import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]


class Covering:
    """Rows `need[i]` ≤ Σ columns; `limits[k]` ≥ Σ of the columns that use up supply k.

    Columns are numbered in the order in which they are added.

    >>> covering = Covering([3.0])
    >>> covering.add(2.0, {0: 2.0})
    >>> amounts, prices, _ = covering.solve()
    >>> float(amounts[0]), float(prices[0])
    (1.5, 1.0)
    """

    def __init__(self, need: Sequence[float], limits: Sequence[float] = ()) -> None:
        self._solver = highspy.Highs()
        self._solver.silent()
        for name, value in (("threads", 1), ("random_seed", 1), ("presolve", "off")):
            self._solver.setOptionValue(name, value)
        infinity = highspy.kHighsInf
        for amount in need:
            self._solver.addRow(float(amount), infinity, 0, [], [])
        for amount in limits:
            self._solver.addRow(-infinity, float(amount), 0, [], [])
        self._rows = len(need)

    def add(self, cost: float, weights: Mapping[int, float], supply: int | None = None) -> None:
        """One more column; `weights` per row, `supply` the number of the limit it uses up."""
        rows = sorted(weights)
        index = [*rows, *([self._rows + supply] if supply is not None else [])]
        values = [*(float(weights[row]) for row in rows), *([1.0] if supply is not None else [])]
        self._solver.addCol(float(cost), 0.0, highspy.kHighsInf, len(index), index, values)

    def solve(self) -> tuple[Numbers, Numbers, Numbers]:
        """Amount per column, price per row (≥ 0), price per limit (≤ 0)."""
        self._solver.run()
        found = self._solver.getSolution()
        prices = np.array(found.row_dual, dtype=float)
        amounts = np.maximum(np.array(found.col_value, dtype=float), 0.0)
        return amounts, np.maximum(prices[: self._rows], 0.0), prices[self._rows :]
