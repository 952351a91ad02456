"""Small problems in variables that are 0 or 1, solved to proof with HiGHS.

The only module that knows the solver. It is silent, runs on one thread, stops at counted effort
(nodes of the search, never seconds) and with no gap, so that the same problem has the same answer
on every machine.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import highspy
import numpy as np

EFFORT = 20_000
"""Nodes of the search tree before the best answer so far is taken."""


@dataclass(frozen=True, slots=True)
class Row:
    """A linear condition: lowest ≤ Σ weight × variable ≤ highest."""

    weights: Mapping[int, float]
    lowest: float = -highspy.kHighsInf
    highest: float = highspy.kHighsInf


@dataclass(frozen=True, slots=True)
class Solution:
    """`values` are 0 or 1 per variable; `cost` per wish, `bound` on the first wish."""

    values: tuple[int, ...]
    cost: tuple[float, ...]
    bound: float
    proved: bool


@dataclass
class Problem:
    """0/1 variables 0 … count − 1, rows, and wishes solved one after the other."""

    count: int
    rows: list[Row] = field(default_factory=list)

    def solve(
        self, wishes: Sequence[Mapping[int, float]], *, effort: int = EFFORT
    ) -> Solution | None:
        """The best values, the first wish first and each later one without giving up an earlier.

        A wish is a cost per variable, to be made least. None if the rows contradict each other.

        >>> p = Problem(2, [Row({0: 1, 1: 1}, lowest=1)])
        >>> p.solve([{0: 1, 1: 1}, {0: 2, 1: 1}]).values
        (0, 1)
        >>> Problem(1, [Row({0: 1}, lowest=2)]).solve([{0: 1}]) is None
        True
        >>> Problem(0).solve([{}]).values
        ()
        """
        if self.count == 0:
            return Solution((), tuple(0.0 for _ in wishes), 0.0, True)
        rows = list(self.rows)
        values: tuple[int, ...] = ()
        costs: list[float] = []
        bound, proved = 0.0, True
        for i, wish in enumerate(wishes):
            found = _run(self.count, rows, wish, effort)
            if found is None:
                if i == 0:
                    return None
                break
            values, cost, its_bound, its_proved = found
            costs.append(cost)
            if i == 0:
                bound = its_bound
            proved = proved and its_proved
            if wish:
                rows.append(Row(dict(wish), highest=cost + 1e-6))
        return Solution(values, tuple(costs), bound, proved)


def _run(
    count: int, rows: Sequence[Row], wish: Mapping[int, float], effort: int
) -> tuple[tuple[int, ...], float, float, bool] | None:
    solver = highspy.Highs()
    solver.silent()
    for name, value in (
        ("threads", 1),
        ("random_seed", 1),
        ("mip_rel_gap", 0.0),
        ("mip_abs_gap", 0.0),
        ("mip_max_nodes", effort),
    ):
        solver.setOptionValue(name, value)
    cost = np.zeros(count)
    for variable, weight in wish.items():
        cost[variable] = weight
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = count, len(rows)
    lp.col_cost_ = cost
    lp.col_lower_, lp.col_upper_ = np.zeros(count), np.ones(count)
    lp.integrality_ = [highspy.HighsVarType.kInteger] * count
    lp.row_lower_ = np.array([row.lowest for row in rows])
    lp.row_upper_ = np.array([row.highest for row in rows])
    starts, index, value_list = [0], [], []
    for row in rows:
        for variable, weight in sorted(row.weights.items()):
            index.append(variable)
            value_list.append(weight)
        starts.append(len(index))
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.array(starts)
    lp.a_matrix_.index_ = np.array(index)
    lp.a_matrix_.value_ = np.array(value_list, dtype=float)
    solver.passModel(lp)
    solver.run()
    status = solver.getModelStatus()
    info = solver.getInfo()
    if info.primal_solution_status != 2:
        return None
    proved = status == highspy.HighsModelStatus.kOptimal
    values = tuple(round(v) for v in solver.getSolution().col_value)
    exact = float(sum(weight * values[v] for v, weight in wish.items()))
    return values, exact, exact if proved else float(info.mip_dual_bound), proved
