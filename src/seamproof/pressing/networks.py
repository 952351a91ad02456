"""The least cost of choices that reach each other a few at a time.

A *factor* is a cost for every combination of a few choices; the cost of a plan is the sum over all
factors. Choices are eliminated one by one: all factors that know a choice are added up and the
least over the choice is handed on. Where such a sum would grow too large it is divided, which gives
a bound instead of the least, and a search from the choice that was eliminated last, led by those
bounds, finds and proves the rest. Effort is counted, so that the same problem has the same answer
on every machine.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import reduce
from math import prod

import numpy as np
import numpy.typing as npt

Costs = npt.NDArray[np.int64]

FORBIDDEN = 1 << 60
"""The cost of what is no plan. All other costs of a problem together are less than half of it."""

ROOM = 3**12
"""Entries of a table above which a sum of factors is divided."""

EFFORT = 60_000
"""Steps of the search before the best plan so far is taken; about two seconds."""

WITHOUT = 4
"""So many times the effort is spent while there is no plan at all."""


@dataclass(frozen=True, slots=True)
class Factor:
    """`cost` has one axis per choice of `scope`, in this order; scopes ascend."""

    scope: tuple[int, ...]
    cost: Costs


@dataclass(frozen=True, slots=True)
class Least:
    """`plan` holds one way per choice (its place along the axes); no plan costs less than `bound`.
    `steps` counts the effort. A plan of () with a cost and bound of `FORBIDDEN` tells that there is
    none; with a lower bound, that none was found."""

    plan: tuple[int, ...]
    cost: int
    bound: int
    steps: int

    @property
    def possible(self) -> bool:
        """Whether there is a plan."""
        return self.cost < FORBIDDEN

    @property
    def proved(self) -> bool:
        """Whether no plan is better."""
        return self.cost == self.bound


def least(
    sizes: Sequence[int], factors: Iterable[Factor], *, effort: int = EFFORT, room: int = ROOM
) -> Least:
    """A plan of least cost; `sizes` is how many ways each choice has.

    >>> ring = np.array([[9, 1], [1, 9]])
    >>> least((2, 2), [Factor((0, 1), ring), Factor((0,), np.array([5, 0]))])
    Least(plan=(1, 0), cost=1, bound=1, steps=0)
    >>> least((2,), [Factor((0,), np.array([FORBIDDEN, FORBIDDEN]))]).plan
    ()
    >>> least((3,), [])
    Least(plan=(0,), cost=0, bound=0, steps=0)
    """
    narrowed = _narrowed(sizes, list(factors))
    if narrowed is None:
        return Least((), FORBIDDEN, FORBIDDEN, 0)
    left, rest, cost = narrowed
    plan = [int(ways[0]) for ways in left]
    bound, steps = cost, 0
    for group in _apart(rest):
        found = _Search(group, {v: len(left[v]) for f in group for v in f.scope}, room).run(effort)
        steps += found.steps
        effort -= found.steps
        if not found.ways:
            return Least((), FORBIDDEN, min(bound + found.bound, FORBIDDEN), steps)
        bound += found.bound
        cost += found.cost
        for choice, way in found.ways.items():
            plan[choice] = int(left[choice][way])
    return Least(tuple(plan), cost, bound, steps)


def added(one: Costs, other: Costs) -> Costs:
    """The sum of two costs; forbidden stays forbidden, also if the other is less than nothing."""
    total: Costs = one + other
    total[total >= FORBIDDEN // 2] = FORBIDDEN
    return total


def _narrowed(
    sizes: Sequence[int], factors: list[Factor]
) -> tuple[list[Costs], list[Factor], int] | None:
    """The ways left to each choice when those that some factor forbids are gone; the factors of
    what is still open, in those ways; and what all plans cost alike."""
    left: list[Costs] = [np.arange(size, dtype=np.int64) for size in sizes]
    by_scope: dict[tuple[int, ...], Costs] = {}
    for factor in factors:
        if factor.scope in by_scope:
            by_scope[factor.scope] = added(by_scope[factor.scope], factor.cost)
        else:
            by_scope[factor.scope] = np.minimum(factor.cost.astype(np.int64), FORBIDDEN)
    knows: dict[int, list[tuple[int, ...]]] = {}
    for scope in by_scope:
        for choice in scope:
            knows.setdefault(choice, []).append(scope)
    waiting = dict.fromkeys(by_scope)
    while waiting:
        scope = next(iter(waiting))
        del waiting[scope]
        table = by_scope[scope]
        allowed = table < FORBIDDEN
        for axis, choice in enumerate(scope):
            others = tuple(k for k in range(len(scope)) if k != axis)
            alive = allowed.any(axis=others)
            if alive.all():
                continue
            if not alive.any():
                return None
            kept = np.nonzero(alive)[0]
            left[choice] = left[choice][kept]
            for known in knows[choice]:
                by_scope[known] = by_scope[known].take(kept, axis=known.index(choice))
                waiting[known] = None
            allowed = allowed.take(kept, axis=axis)
    cost = 0
    rest: dict[tuple[int, ...], Costs] = {}
    for scope, table in by_scope.items():
        if table.size and int(table.min()) >= FORBIDDEN:
            return None
        open_, squeezed = _squeezed(scope, table)
        lowest = int(squeezed.min())
        cost += lowest
        squeezed = np.where(squeezed < FORBIDDEN, squeezed - lowest, FORBIDDEN)
        if open_:
            rest[open_] = added(rest[open_], squeezed) if open_ in rest else squeezed
    return left, [Factor(scope, table) for scope, table in rest.items()], cost


def _squeezed(scope: tuple[int, ...], table: Costs) -> tuple[tuple[int, ...], Costs]:
    """A table without the choices that make no difference to it."""
    kept = []
    for axis in reversed(range(len(scope))):
        if bool((table == table.take([0], axis=axis)).all()):
            table = np.asarray(table.take(0, axis=axis))
        else:
            kept.append(scope[axis])
    return tuple(reversed(kept)), table


def _apart(factors: Sequence[Factor]) -> list[list[Factor]]:
    """Factors in groups that share no choice."""
    parent: dict[int, int] = {v: v for f in factors for v in f.scope}

    def root(v: int) -> int:
        while parent[v] != v:
            parent[v] = parent[parent[v]]
            v = parent[v]
        return v

    for factor in factors:
        for v in factor.scope[1:]:
            parent[max(root(v), root(factor.scope[0]))] = min(root(v), root(factor.scope[0]))
    groups: dict[int, list[Factor]] = {}
    for factor in factors:
        groups.setdefault(root(factor.scope[0]), []).append(factor)
    return list(groups.values())


@dataclass(frozen=True, slots=True)
class _Found:
    ways: dict[int, int]
    cost: int
    bound: int
    steps: int


@dataclass(slots=True)
class _Bucket:
    """What is looked at when a choice is made: `asks` are tables whose last axis is the choice,
    `hands` what was handed on when it was eliminated. All with the choices of their other axes."""

    choice: int
    asks: list[Factor] = field(default_factory=list)
    hands: list[Factor] = field(default_factory=list)


class _Search:
    """One group of factors: eliminated choice by choice, then searched backwards."""

    def __init__(self, factors: Sequence[Factor], sizes: dict[int, int], room: int) -> None:
        self.sizes, self.room = sizes, room
        self.constant = 0
        self.divided = False
        order = _order(factors, sizes)
        place = {choice: k for k, choice in enumerate(order)}
        waiting: list[list[Factor]] = [[] for _ in order]
        for factor in factors:
            waiting[min(place[v] for v in factor.scope)].append(factor)
        buckets = []
        for k, choice in enumerate(order):
            bucket = _Bucket(choice)
            for factor in waiting[k]:
                axis = factor.scope.index(choice)
                rest = factor.scope[:axis] + factor.scope[axis + 1 :]
                bucket.asks.append(Factor(rest, np.moveaxis(factor.cost, axis, -1)))
            for message in self._eliminated(choice, waiting[k]):
                bucket.hands.append(message)
                if message.scope:
                    waiting[min(place[v] for v in message.scope)].append(message)
                else:
                    self.constant += int(message.cost)
            buckets.append(bucket)
        self.buckets = buckets[::-1]

    def _eliminated(self, choice: int, factors: Sequence[Factor]) -> list[Factor]:
        """What is handed on: one table if there is room for the sum, else several."""
        groups: list[tuple[tuple[int, ...], list[Factor]]] = []
        for factor in sorted(factors, key=lambda f: (-f.cost.size, f.scope)):
            for k, (scope, members) in enumerate(groups):
                union = tuple(sorted({*scope, *factor.scope}))
                if prod(self.sizes[v] for v in union) <= self.room:
                    groups[k] = (union, [*members, factor])
                    break
            else:
                groups.append((factor.scope, [factor]))
        sums = [
            (scope, reduce(added, [self._spread(f, scope) for f in members]))
            for scope, members in groups
        ]
        if len(sums) > 1:
            self.divided = True
            sums = _levelled(choice, sums)
        found = []
        for scope, table in sums:
            axis = scope.index(choice)
            found.append(Factor(scope[:axis] + scope[axis + 1 :], table.min(axis=axis)))
        return found

    def _spread(self, factor: Factor, scope: tuple[int, ...]) -> Costs:
        """A factor's table with an axis of length 1 for every choice that it does not know."""
        shape = [self.sizes[v] if v in factor.scope else 1 for v in scope]
        return factor.cost.reshape(shape)

    def run(self, effort: int) -> _Found:
        """Makes one choice after the other, the most promising way first."""
        ways: dict[int, int] = {}
        best: dict[int, int] = {}
        best_cost = FORBIDDEN // 2
        steps = 0
        # Each entry: how many choices are made before, the way of the last one, the bound.
        stack: list[tuple[int, int, int]] = [(0, -1, self.constant)]
        while stack:
            depth, way, bound = stack.pop()
            if bound >= best_cost:
                continue
            if depth:
                ways[self.buckets[depth - 1].choice] = way
            if depth == len(self.buckets):
                best, best_cost = dict(ways), bound
                continue
            if self.divided:
                if steps >= effort * (1 if best else WITHOUT):
                    stack.append((depth, way, bound))
                    break
                steps += 1
            bucket = self.buckets[depth]
            costs = np.full(self.sizes[bucket.choice], bound, dtype=np.int64)
            for factor in bucket.hands:
                costs -= int(factor.cost[tuple(ways[v] for v in factor.scope)])
            for factor in bucket.asks:
                costs = added(costs, factor.cost[tuple(ways[v] for v in factor.scope)])
            order = np.argsort(costs, kind="stable")
            stack += [
                (depth + 1, w, int(costs[w])) for w in order[::-1].tolist() if costs[w] < best_cost
            ]
        bound = min([best_cost if best else FORBIDDEN, *(entry[2] for entry in stack)])
        return _Found(best, best_cost, bound, steps)


def _order(factors: Sequence[Factor], sizes: dict[int, int]) -> list[int]:
    """The choices in the order in which they are eliminated: always the one whose sum is least."""
    near: dict[int, set[int]] = {v: set() for v in sizes}
    for factor in factors:
        for v in factor.scope:
            near[v] |= set(factor.scope) - {v}
    order = []
    while near:
        choice = min(near, key=lambda v: (prod(sizes[w] for w in near[v]), v))
        order.append(choice)
        around = near.pop(choice)
        for v in around:
            near[v] |= around - {v}
            near[v].discard(choice)
    return order


def _levelled(
    choice: int, sums: list[tuple[tuple[int, ...], Costs]]
) -> list[tuple[tuple[int, ...], Costs]]:
    """The same costs, shifted between the sums so that their least per way of a choice are level:
    the sum of their minima is then as great as such a shift makes it."""
    lows = []
    for scope, table in sums:
        axis = scope.index(choice)
        lows.append(table.min(axis=tuple(k for k in range(len(scope)) if k != axis)))
    forbidden = np.max(lows, axis=0) >= FORBIDDEN
    total = np.where(forbidden, 0, np.sum(lows, axis=0))
    share = total // len(sums)
    found = []
    for k, ((scope, table), low) in enumerate(zip(sums, lows, strict=True)):
        to = total - share * (len(sums) - 1) if k == 0 else share
        shift = np.where(forbidden, FORBIDDEN, to - low)
        axis = scope.index(choice)
        shape = [-1 if k == axis else 1 for k in range(len(scope))]
        moved = np.where(table < FORBIDDEN, table + shift.reshape(shape), FORBIDDEN)
        found.append((scope, np.minimum(moved, FORBIDDEN)))
    return found
