"""The choice among the cuts: the fewest kinds of region, proved where the block allows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from seamproof.piecing.cuts import Cut, Kinds

SEARCH_EFFORT = 20_000
"""Looks of the search before the best choice so far is taken. Blocks of the trade need less than
two thousand; the same block needs the same number on every machine."""


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
    order = sorted(range(len(offered)), key=lambda k: kinds.kinds[k].size)
    heights = _heights(offered, order)
    pick = _grow(offered, order)
    sessions = _sessions(pick)
    shapes = {kinds.layout.shape[f] for f in kinds.kinds[0].specimen}
    # No choice uses fewer kinds than the flattest tree of cuts is high, nor fewer than there are
    # different patches less one: each step at the machine brings at most two things together.
    bound = max(heights[0], len(shapes) - 1)
    if complete:
        search = _Search(kinds, offered, heights, pick)
        pick = search.best
        sessions = _sessions(pick)
        if search.finished:
            bound = sessions
    wanted = _reached(pick)
    return Choice(
        tuple(pick[k] if k in wanted else None for k in range(len(pick))), sessions, bound
    )


def _habitual(cuts: Sequence[Cut]) -> list[Cut]:
    return [cut for cut in cuts if not cut.odd] or list(cuts)


def _grow(offered: Sequence[Sequence[Cut]], order: Sequence[int]) -> list[Cut | None]:
    """From the smallest kinds up, the cut whose two sides together use the fewest kinds.

    Quick and close, but blind to what the two sides of the *next* cut will share.
    """
    pick: list[Cut | None] = [None] * len(offered)
    used: list[frozenset[int]] = [frozenset()] * len(offered)
    habit: list[int] = [0] * len(offered)
    for k in order:
        best: tuple[int, int] | None = None
        for cut in offered[k]:
            together = frozenset({k}).union(*(used[j] for j in cut.kinds))
            price = sum(habit[j] for j in cut.kinds) + _price(cut)
            if best is None or (len(together), price) < best:
                best = (len(together), price)
                pick[k], used[k], habit[k] = cut, together, price
    return pick


def _price(cut: Cut) -> int:
    """What a cut costs a maker: a second corner set in within one seam more than a cut through a
    unit, that more than a column before a row."""
    return 4 * max(0, cut.turns - 1) + 2 * cut.odd + cut.late


def _heights(offered: Sequence[Sequence[Cut]], order: Sequence[int]) -> list[int]:
    """Per kind the height of its flattest tree of cuts; 0 for a single patch."""
    height = [0] * len(offered)
    for k in order:
        height[k] = min((1 + max(height[a] for a in cut.kinds) for cut in offered[k]), default=0)
    return height


def _reached(pick: Sequence[Cut | None]) -> set[int]:
    reached, todo = {0}, [0]
    while todo:
        cut = pick[todo.pop()]
        for k in cut.kinds if cut else ():
            if k not in reached:
                reached.add(k)
                todo.append(k)
    return reached


def _sessions(pick: Sequence[Cut | None]) -> int:
    return sum(pick[k] is not None for k in _reached(pick))


class _Search:
    """Branch and bound over sets of kinds that are *needed*, the largest undecided kind first.

    A cut of that kind needs its two sides. What a cut needs beyond what is needed already is all
    that it costs, so of two cuts of which one needs less than the other only that one is tried.
    Ends when every choice is looked at or ruled out (`finished`), or at `SEARCH_EFFORT` looks.
    """

    def __init__(
        self,
        kinds: Kinds,
        offered: Sequence[Sequence[Cut]],
        heights: Sequence[int],
        pick: Sequence[Cut | None],
    ) -> None:
        # In the order of what the regions are, not of where they were found: a turned block is
        # searched alike.
        ranked = sorted(range(len(offered)), key=lambda k: kinds.kinds[k].code.text)
        rank = {k: i for i, k in enumerate(ranked)}
        self._key = [(*kind.size, rank[k]) for k, kind in enumerate(kinds.kinds)]
        self._offered = offered
        self._heights = heights
        self.best = list(pick)
        wanted = _reached(pick)
        chosen = [cut for k in wanted if (cut := pick[k])]
        self._least = (len(chosen), sum(map(_price, chosen)))
        self._looks = 0
        self._cuts: dict[int, Cut] = {}
        self.finished = self._go(frozenset([0]) if offered[0] else frozenset(), 0)

    def _go(self, todo: frozenset[int], price: int) -> bool:
        self._looks += 1
        if self._looks > SEARCH_EFFORT:
            return False
        needed = len(self._cuts) + len(todo)
        if not todo:
            if (needed, price) < self._least:
                self._least = (needed, price)
                self.best = [self._cuts.get(k) for k in range(len(self._offered))]
            return True
        k = max(todo, key=self._key.__getitem__)
        # What lies below the highest of them takes as many steps as it is high.
        smaller = len(todo) - 1
        least = needed + max(0, max(self._heights[x] for x in todo) - 1 - smaller)
        if (least, price) >= self._least:
            return True
        ways: dict[frozenset[int], Cut] = {}
        for cut in self._offered[k]:
            need = frozenset(x for x in cut.kinds if self._offered[x] and x not in todo)
            if need not in ways or _price(cut) < _price(ways[need]):
                ways[need] = cut
        done = True
        for need in sorted(ways, key=lambda n: (len(n), _price(ways[n]), self._rank(n))):
            if any(other < need for other in ways):
                continue
            self._cuts[k] = ways[need]
            done = self._go((todo - {k}) | need, price + _price(ways[need])) and done
            del self._cuts[k]
            if self._looks > SEARCH_EFFORT:
                return False
        return done

    def _rank(self, kinds: frozenset[int]) -> list[tuple[int, ...]]:
        return sorted(self._key[k] for k in kinds)
