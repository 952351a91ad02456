"""Aims solved one after the other, each without giving up an earlier one.

An aim is a sum over small sets of choices (square inches, crossings, seams), or the greatest count
of layers anywhere. Everything is brought to whole numbers, so that "as good" is exact: square
inches are counted in ten-millionths.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from seamproof.pressing.model import Wish
from seamproof.pressing.networks import EFFORT, FORBIDDEN, Costs, Factor, Least, least
from seamproof.pressing.tables import Table

LEAST_EFFORT = 500
"""Steps that every aim may take, however many those before it took."""

SQUARE_INCH = 10_000_000
"""Parts of a square inch that areas are counted in. Tables are exact to far less."""


@dataclass(frozen=True, slots=True)
class Term:
    """What each combination of a few choices costs; `seams` and `ways` as in a table, `costs` in
    C order."""

    seams: tuple[int, ...]
    ways: tuple[tuple[int, ...], ...]
    costs: npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Sum:
    """Make the sum of terms least, counted in parts: `parts` of them are one."""

    name: str
    terms: tuple[Term, ...]
    parts: int = 1


@dataclass(frozen=True, slots=True)
class Worst:
    """Make the greatest count of layers anywhere least."""

    name: str
    tables: tuple[Table, ...]


Aim = Sum | Worst


@dataclass(frozen=True, slots=True)
class Chosen:
    """`plan` holds a way per choice; `wishes` what it reaches, aim by aim, and what is possible.
    `steps` counts the effort. If not `possible`, the ways that are allowed contradict each other
    and there is no plan."""

    plan: tuple[int, ...]
    wishes: tuple[Wish, ...]
    steps: int = 0
    possible: bool = True

    @property
    def proved(self) -> bool:
        """Whether every aim reached its bound."""
        return self.possible and all(wish.value == wish.bound for wish in self.wishes)


def area_above(name: str, tables: Sequence[Table], layers: int) -> Sum:
    """The square inches with more layers than `layers`."""
    terms = [
        Term(t.seams, t.ways, t.copies * t.areas[:, layers + 1 :].sum(axis=1))
        for t in tables
        if t.areas.shape[1] > layers + 1
    ]
    return Sum(name, tuple(terms), SQUARE_INCH)


def value(aim: Aim, plan: Sequence[int]) -> float:
    """What a plan reaches of an aim.

    >>> by_seam = Sum("seams to the dark", (Term((0,), ((0, 1),), np.array([0.0, 1.0])),))
    >>> value(by_seam, (1,)), value(Worst("flat", ()), (1,))
    (1.0, 0.0)
    """
    if isinstance(aim, Worst):
        return float(max((int(t.most[_row(t, plan)]) for t in aim.tables), default=0))
    return sum(round(float(t.costs[_row(t, plan)]) * aim.parts) for t in aim.terms) / aim.parts


def _row(table: Table | Term, plan: Sequence[int]) -> int:
    found = 0
    for seam, ways in zip(table.seams, table.ways, strict=True):
        found = found * len(ways) + ways.index(plan[seam])
    return found


def chosen(
    allowed: Sequence[Sequence[int]],
    aims: Sequence[Aim],
    *,
    bars: Sequence[Term] = (),
    effort: int = EFFORT,
) -> Chosen:
    """A plan that is best in the first aim, of those best in the second, and so on.

    `allowed` are the ways each choice may take. Every table and term must know each way that is
    allowed to its choices; what it knows besides is left out. What costs anything in `bars` is
    forbidden.

    >>> both = Term((0, 1), ((0, 1, 2), (0, 1, 2)), np.array([5.0, 5, 5, 5, 9, 2, 5, 2, 9]))
    >>> first = Term((0,), ((0, 1, 2),), np.array([0.0, 1, 0]))
    >>> chosen([(0, 1, 2)] * 2, [Sum("nest", (both,)), Sum("usual", (first,))]).plan
    (2, 1)
    >>> chosen([(0, 1, 2)], [Sum("nothing", ())]).wishes
    (Wish(name='nothing', value=0.0, bound=0.0),)
    >>> chosen([(), (0,)], []).possible, chosen([], []).possible
    (False, True)
    """
    sizes = [len(ways) for ways in allowed]
    if not all(sizes):
        return Chosen((), (), possible=False)
    so_far = _Kept(sizes, effort)
    for bar in bars:
        so_far.bar(bar.seams, _cut(bar, bar.costs, allowed) > 0)
    if bars and not so_far.possible():
        return Chosen((), (), so_far.steps, possible=False)
    wishes = []
    for aim in aims:
        if isinstance(aim, Worst):
            tables = [Factor(t.seams, _cut(t, t.most, allowed)) for t in aim.tables]
            reached, bound = so_far.keep_worst(tables)
        else:
            factors = [
                Factor(t.seams, _cut(t, np.rint(t.costs * aim.parts), allowed)) for t in aim.terms
            ]
            reached, bound = so_far.keep_sum(factors)
        parts = 1 if isinstance(aim, Worst) else aim.parts
        wishes.append(Wish(aim.name, reached / parts, bound / parts))
    if not aims:
        so_far.keep_sum([])
    plan = tuple(ways[k] for ways, k in zip(allowed, so_far.plan or (), strict=True))
    values = tuple(value(aim, plan) for aim in aims)
    # A later search may better what an earlier one could not prove.
    wishes = [replace(wish, value=v) for wish, v in zip(wishes, values, strict=True)]
    return Chosen(plan, tuple(wishes), so_far.steps)


def _cut(
    table: Table | Term, costs: npt.NDArray[np.generic], allowed: Sequence[Sequence[int]]
) -> Costs:
    """Costs with one axis per choice and one place per allowed way."""
    shaped = costs.reshape([len(ways) for ways in table.ways])
    for axis, (seam, ways) in enumerate(zip(table.seams, table.ways, strict=True)):
        shaped = shaped.take([ways.index(way) for way in allowed[seam]], axis=axis)
    return shaped.astype(np.int64)


@dataclass(slots=True)
class _Sum:
    factors: list[Factor]
    best: int


class _Kept:
    """What must not be given up: barred combinations, and sums that must stay as they are."""

    def __init__(self, sizes: Sequence[int], effort: int) -> None:
        self.sizes = sizes
        self.effort = effort
        self.barred: dict[tuple[int, ...], npt.NDArray[np.bool_]] = {}
        self.sums: list[_Sum] = []
        self.plan: tuple[int, ...] | None = None
        self.steps = 0

    def keep_sum(self, factors: list[Factor]) -> tuple[int, int]:
        """Finds the least of a sum beside what is kept, and keeps it. What was reached, and what no
        plan betters."""
        total, before = self._weighed(factors)
        found = self._least(total)
        if self.plan is None or self._keeps(found):
            self.plan = found.plan
        reached = _of(factors, self.plan)
        bound = max(found.bound - before, sum(self._ends(f)[0] for f in factors))
        self._keep(_Sum(factors, reached))
        return reached, reached if found.proved else min(bound, reached)

    def keep_worst(self, tables: list[Factor]) -> tuple[int, int]:
        """Finds the least greatest entry beside what is kept, and bars all greater ones."""
        floor = max((self._ends(t)[0] for t in tables), default=0)
        levels = sorted({int(n) for t in tables for n in np.unique(t.cost) if n >= floor}) or [0]
        bound: int | None = None
        before, _ = self._weighed([])
        for level in levels:
            bars = [
                Factor(t.scope, np.where(t.cost > level, FORBIDDEN, 0))
                for t in tables
                if int(t.cost.max()) > level
            ]
            found = self._least([*bars, *before])
            if self._keeps(found):
                self.plan = found.plan
                break
            if not found.proved and bound is None:
                bound = level
        else:
            level = max((int(t.cost[_at(t, self.plan or ())]) for t in tables), default=0)
        for table in tables:
            self.bar(table.scope, table.cost > level)
        return level, level if bound is None else bound

    def possible(self) -> bool:
        """Whether some plan is left."""
        found = self._least([])
        self.plan = found.plan
        return found.possible

    def _least(self, factors: list[Factor]) -> Least:
        bars = [Factor(scope, np.where(bar, FORBIDDEN, 0)) for scope, bar in self.barred.items()]
        # Half of what is left, so that later aims have their share.
        effort = max((self.effort - self.steps) // 2, LEAST_EFFORT)
        found = least(self.sizes, [*bars, *factors], effort=effort)
        self.steps += found.steps
        return found

    def _keeps(self, found: Least) -> bool:
        """Whether there is a plan and it gives up no sum."""
        return found.possible and all(
            _of(kept.factors, found.plan) <= kept.best for kept in self.sums
        )

    def _keep(self, kept: _Sum) -> None:
        """Bars what alone costs more than the best plan can; the rest is kept as a sum."""
        slack = kept.best - sum(self._ends(f)[0] for f in kept.factors)
        for factor in kept.factors:
            self.bar(factor.scope, factor.cost - self._ends(factor)[0] > slack)
        if slack:
            self.sums.append(kept)

    def bar(self, scope: tuple[int, ...], more: npt.NDArray[np.bool_]) -> None:
        """Forbids combinations of the choices of a scope."""
        if more.any():
            known = self.barred.get(scope)
            self.barred[scope] = more if known is None else known | more

    def _ends(self, factor: Factor) -> tuple[int, int]:
        """The least and the greatest entry of a table that is not barred."""
        bar = self.barred.get(factor.scope)
        costs = factor.cost if bar is None or bar.all() else factor.cost[~bar]
        return int(costs.min()), int(costs.max())

    def _weighed(self, factors: list[Factor]) -> tuple[list[Factor], int]:
        """The factors together with those of the kept sums, each sum weighing more than all that
        comes after it can; and what the kept sums then weigh at their best."""
        total = list(factors)
        ends = [self._ends(f) for f in factors]
        weight, span = 1, sum(high - low for low, high in ends)
        best = 0
        for kept in reversed(self.sums):
            weight *= span + 1
            lows = [self._ends(f)[0] for f in kept.factors]
            span = kept.best - sum(lows)
            scale = 1
            while weight * (span // scale + 1) * len(kept.factors) > FORBIDDEN // 4:
                scale *= 10
            for factor, low in zip(kept.factors, lows, strict=True):
                # What is dearer than the whole slack is barred already.
                above = np.clip(factor.cost - low, 0, span) // scale
                total.append(Factor(factor.scope, above * weight))
            best += span // scale * weight
        return total, best


def _at(factor: Factor, plan: Sequence[int]) -> tuple[int, ...]:
    return tuple(plan[v] for v in factor.scope)


def _of(factors: Sequence[Factor], plan: Sequence[int]) -> int:
    return sum(int(f.cost[_at(f, plan)]) for f in factors)
