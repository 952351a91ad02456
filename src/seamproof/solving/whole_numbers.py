"""Covering problems in whole numbers: so many of every column, none in part.

Silent, one thread, no gap, counted effort; without the solver's own guesses, which take longer than
they help where the columns are few and a good answer is known already.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Sequence

import highspy
import numpy as np
from numpy.typing import NDArray

Columns = NDArray[np.int64]

OPTIONS = (
    ("threads", 1),
    ("random_seed", 1),
    ("mip_rel_gap", 0.0),
    ("mip_abs_gap", 0.0),
    ("mip_heuristic_effort", 0.0),
    ("mip_heuristic_run_feasibility_jump", False),
    ("mip_heuristic_run_root_reduced_cost", False),
)


def least_cover(
    columns: Columns,
    costs: Sequence[float],
    need: Sequence[int],
    limit: float,
    effort: int,
) -> tuple[int, ...] | None:
    """Times of every column, so that Σ times × `columns`[column, row] ≥ `need`[row] costs least,
    and at most `limit`. None if nothing so cheap is found in `effort` nodes of the search.

    >>> least_cover(np.array([[2, 0], [1, 1]]), [3.0, 4.0], [2, 1], 10.0, 10)
    (1, 1)
    >>> least_cover(np.array([[2, 0], [1, 1]]), [3.0, 4.0], [2, 1], 6.0, 10) is None
    True
    """
    solver = highspy.Highs()
    solver.silent()
    for name, value in (*OPTIONS, ("mip_max_nodes", effort)):
        solver.setOptionValue(name, value)
    infinity = highspy.kHighsInf
    for amount in need:
        solver.addRow(float(amount), infinity, 0, [], [])
    for column, cost in zip(columns, costs, strict=True):
        rows = np.flatnonzero(column).tolist()
        most = max(math.ceil(need[row] / int(column[row])) for row in rows)
        weights = [float(column[row]) for row in rows]
        solver.addCol(float(cost), 0.0, float(most), len(rows), rows, weights)
    count = len(columns)
    kinds = np.array([highspy.HighsVarType.kInteger] * count)
    solver.changeColsIntegrality(count, np.arange(count, dtype=np.int32), kinds)
    solver.run()
    if solver.getInfo().primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return None
    times = tuple(round(amount) for amount in solver.getSolution().col_value)
    return times if sum(map(operator.mul, times, costs)) <= limit else None
