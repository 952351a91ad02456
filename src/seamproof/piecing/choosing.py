"""The choice among the cuts: the fewest kinds of region, proved where the block allows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from seamproof.piecing.cuts import Cut, Kinds


@dataclass(frozen=True, slots=True)
class Choice:
    """`cut` is the chosen one per kind (None for a single patch or an unused kind). `sessions` is
    the number of kinds used that are more than a patch, `bound` a lower bound on it."""

    cut: tuple[Cut | None, ...]
    sessions: int
    bound: int


def choose(kinds: Kinds, *, natural: bool = False, complete: bool = False) -> Choice:
    """The best choice for the whole block, kind 0.

    With `natural` only cuts in the habit of the trade are taken, wherever there are any.
    `complete` says that every possible cut is listed, so that the best choice is the least
    possible.
    """
    offered = [_habitual(kind.cuts) if natural else kind.cuts for kind in kinds.kinds]
    order = sorted(range(len(offered)), key=lambda k: len(kinds.kinds[k].specimen))
    pick, used = _grow(offered, order)
    least = lower_bound(kinds, offered, order)
    if len(used[0]) > least and complete:
        solved = _solve(kinds, offered, pick, used[0])
        if solved is not None:
            pick, least = solved
    wanted = _reached(pick)
    sessions = sum(pick[k] is not None for k in wanted)
    return Choice(
        tuple(pick[k] if k in wanted else None for k in range(len(pick))), sessions, least
    )


def _habitual(cuts: Sequence[Cut]) -> list[Cut]:
    return [cut for cut in cuts if not cut.odd] or list(cuts)


def _grow(
    offered: Sequence[Sequence[Cut]], order: Sequence[int]
) -> tuple[list[Cut | None], list[frozenset[int]]]:
    """From the smallest kinds up, the cut whose two sides together use the fewest kinds."""
    pick: list[Cut | None] = [None] * len(offered)
    used: list[frozenset[int]] = [frozenset()] * len(offered)
    habit: list[int] = [0] * len(offered)
    for k in order:
        best: tuple[int, int] | None = None
        for cut in offered[k]:
            a, b = cut.kinds
            together = used[a] | used[b] | {k}
            price = habit[a] + habit[b] + 2 * cut.odd + cut.late
            if best is None or (len(together), price) < best:
                best = (len(together), price)
                pick[k], used[k], habit[k] = cut, together, price
    return pick, used


def lower_bound(kinds: Kinds, offered: Sequence[Sequence[Cut]], order: Sequence[int]) -> int:
    """No choice uses fewer kinds than the flattest tree of cuts is high, nor fewer than there are
    different patches less one."""
    height = [0] * len(offered)
    for k in order:
        height[k] = min(
            (1 + max(height[a] for a in cut.kinds) for cut in offered[k]), default=0
        )
    shapes = {kinds.layout.shape[f] for f in kinds.kinds[0].specimen}
    return max(height[0], len(shapes) - 1)


def _reached(pick: Sequence[Cut | None]) -> set[int]:
    reached, todo = {0}, [0]
    while todo:
        cut = pick[todo.pop()]
        for k in cut.kinds if cut else ():
            if k not in reached:
                reached.add(k)
                todo.append(k)
    return reached


def _solve(
    kinds: Kinds,
    offered: Sequence[Sequence[Cut]],
    pick: Sequence[Cut | None],
    incumbent: frozenset[int],
) -> tuple[list[Cut | None], int] | None:
    """The exact choice: a kind that is used needs one of its cuts, a cut needs both its sides."""
    from seamproof.solving.zero_one import Problem, Row

    # In the order of what the regions are, not of where they were found: a turned block gives the
    # same problem.
    ranked = sorted(range(len(offered)), key=lambda k: kinds.kinds[k].text)
    variable = {k: i for i, k in enumerate(ranked)}
    count = len(ranked)
    rows = [Row({variable[0]: 1}, lowest=1)]
    listed: list[tuple[int, Cut]] = []
    for k in ranked:
        if not offered[k]:
            continue
        needs: dict[int, float] = {variable[k]: -1}
        for cut in sorted(
            offered[k],
            key=lambda c: (sorted(kinds.kinds[j].text for j in c.kinds), c.odd, c.late),
        ):
            x = count + len(listed)
            listed.append((k, cut))
            needs[x] = 1
            for side in set(cut.kinds):
                if offered[side]:
                    rows.append(Row({x: -1, variable[side]: 1}, lowest=0))
        rows.append(Row(needs, lowest=0))
    fewest = {variable[k]: 1.0 for k in ranked if offered[k]}
    rows.append(Row(fewest, highest=len(incumbent)))
    habit = {
        count + i: float(2 * cut.odd + cut.late)
        for i, (_, cut) in enumerate(listed)
        if cut.odd or cut.late
    }
    solution = Problem(count + len(listed), rows).solve([fewest, habit])
    if solution is None:
        return None
    chosen: list[Cut | None] = [None] * len(offered)
    for i, (k, cut) in enumerate(listed):
        if solution.values[count + i] and chosen[k] is None:
            chosen[k] = cut
    bound = max(0, -int(-(solution.bound - 1e-6) // 1))
    return chosen, bound
