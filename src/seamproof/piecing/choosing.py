"""The choice among the cuts: the fewest kinds of region, proved where the block allows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from seamproof.piecing.cuts import Cut, Kinds

SEARCH_EFFORT = 10_000
"""Looks of the search at the kinds within a block, and again at the whole block, before the best
choice so far is taken. The same block needs the same number on every machine."""

KIND_EFFORT = 150
"""Looks of the search for one kind of region within the block."""


@dataclass(frozen=True, slots=True)
class Choice:
    """`cut` is the chosen one per kind (None for a single patch or an unused kind). `sessions` is
    the number of kinds used that are more than a patch, `bound` a lower bound on it."""

    cut: tuple[Cut | None, ...]
    sessions: int
    bound: int


def choose(
    kinds: Kinds, *, natural: bool = False, rows: bool = False, complete: bool = False
) -> Choice:
    """The best choice for the whole block, kind 0.

    With `natural` only cuts in the habit of the trade are taken, wherever there are any; with
    `rows` also no column is parted before a row. `complete` says that every possible cut is
    listed, so that the best choice is the least possible.
    """
    offered: list[Sequence[Cut]] = [kind.cuts for kind in kinds.kinds]
    if natural or rows:
        offered = [_habitual(cuts) for cuts in offered]
    if rows:
        offered = [[c for c in cuts if c.late == min(d.late for d in cuts)] for cuts in offered]
    order = sorted(range(len(offered)), key=lambda k: kinds.kinds[k].size)
    least = _heights(offered, order)
    if complete:
        search = _Search(kinds, offered, order, least)
        pick = search.best(0)
        bound = search.least[0]
    else:
        pick = _grow(offered, order)
        shapes = {kinds.layout.shape[f] for f in kinds.kinds[0].specimen}
        bound = max(least[0], len(shapes) - 1)
    wanted = _reached(pick)
    sessions = sum(pick.get(k) is not None for k in wanted)
    return Choice(
        tuple(pick.get(k) if k in wanted else None for k in range(len(offered))), sessions, bound
    )


def _habitual(cuts: Sequence[Cut]) -> list[Cut]:
    return [cut for cut in cuts if not cut.odd] or list(cuts)


def _grow(offered: Sequence[Sequence[Cut]], order: Sequence[int]) -> dict[int, Cut]:
    """From the smallest kinds up, the cut whose sides together use the fewest kinds.

    Quick and close, but blind to what the two sides of the *next* cut will share.
    """
    pick: dict[int, Cut] = {}
    used: list[frozenset[int]] = [frozenset()] * len(offered)
    habit: list[int] = [0] * len(offered)
    for k in order:
        best: tuple[int, int] | None = None
        for cut in offered[k]:
            together = frozenset({k}).union(*(used[j] for j in cut.kinds))
            price = sum(habit[j] for j in cut.kinds) + cut.habit
            if best is None or (len(together), price) < best:
                best = (len(together), price)
                pick[k], used[k], habit[k] = cut, together, price
    return pick


def _heights(offered: Sequence[Sequence[Cut]], order: Sequence[int]) -> list[int]:
    """Per kind the height of its flattest tree of cuts; 0 for a single patch."""
    height = [0] * len(offered)
    for k in order:
        height[k] = min((1 + max(height[a] for a in cut.kinds) for cut in offered[k]), default=0)
    return height


def _reached(pick: Mapping[int, Cut]) -> set[int]:
    reached, todo = {0}, [0]
    while todo:
        cut = pick.get(todo.pop())
        for k in cut.kinds if cut else ():
            if k not in reached:
                reached.add(k)
                todo.append(k)
    return reached


class _Search:
    """Branch and bound over sets of kinds that are *needed*, the largest undecided kind first.

    Kinds are solved from the smallest up, so that a kind within another brings its own least
    number as a bound: what is needed for the whole is at least what is needed for its hardest part
    and all that was decided above it. A cut needs its sides; what it needs beyond what is needed
    already is all that it costs, so of two cuts of which one needs less than the other only that
    one is tried.

    `least[k]` is a lower bound on the kinds that kind k needs, itself included, and exact where
    the search for it was finished.

    A set of kinds is a whole number, one bit for each: kinds stand in the order in which they are
    decided, the largest at the highest bit.
    """

    def __init__(
        self,
        kinds: Kinds,
        offered: Sequence[Sequence[Cut]],
        order: Sequence[int],
        heights: Sequence[int],
    ) -> None:
        # In the order of what the regions are, not of where they were found: a turned block is
        # searched alike.
        numbers = range(len(offered))
        ranked = sorted(numbers, key=lambda k: kinds.kinds[k].code.text)
        rank = {k: i for i, k in enumerate(ranked)}
        self._kinds = sorted(numbers, key=lambda k: (*kinds.kinds[k].size, rank[k]))
        self._bit = {k: 1 << place for place, k in enumerate(self._kinds)}
        self._places: dict[int, tuple[int, ...]] = {}
        self._highest: dict[int, int] = {}
        self._offered = offered
        self._ways = [
            [
                (sum(self._bit[x] for x in {*cut.kinds} if offered[x]), cut.habit, cut)
                for cut in offered[k]
            ]
            for k in self._kinds
        ]
        self._chosen: dict[int, dict[int, Cut]] = {}
        self._cuts: dict[int, Cut] = {}
        self._left = SEARCH_EFFORT
        self.least = list(heights)
        for k in order:
            if offered[k]:
                self._settle(k)

    def best(self, k: int) -> dict[int, Cut]:
        """The best choice found for a kind and all it needs."""
        return self._chosen.get(k, {})

    def _settle(self, k: int) -> None:
        """Finds the best choice for a kind whose smaller kinds are settled."""
        first: tuple[int, int] | None = None
        for cut in sorted(self._offered[k], key=lambda c: self._rank(self._set(c.kinds))):
            choice = {k: cut}
            for j in cut.kinds:
                for need, way in self._chosen.get(j, {}).items():
                    choice.setdefault(need, way)
            cost = (len(choice), sum(way.habit for way in choice.values()))
            if first is None or cost < first:
                first, self._chosen[k] = cost, choice
        assert first is not None  # a kind that is settled has a cut
        self._highest.clear()  # another kind is settled than before
        least = 1 + min(
            max(need.bit_count(), self._hardest(need))
            for need, _, _ in self._ways[self._bit[k].bit_length() - 1]
        )
        self._cost, self._root, self._looks = first, k, 0
        # What is left at the end goes to the whole block.
        effort = self._left + SEARCH_EFFORT if k == 0 else min(KIND_EFFORT, self._left)
        finished = first == (least, 0) or self._go(self._bit[k], 0, effort)
        self._left -= self._looks
        self.least[k] = self._cost[0] if finished else max(least, self.least[k])

    def _go(self, todo: int, price: int, effort: int) -> bool:
        self._looks += 1
        if self._looks > effort:
            return False
        decided = len(self._cuts)
        if not todo:
            if (decided, price) < self._cost:
                self._cost = (decided, price)
                self._chosen[self._root] = dict(self._cuts)
            return True
        place = todo.bit_length() - 1
        ways: dict[int, tuple[int, Cut]] = {}
        for kinds, habit, cut in self._ways[place]:
            need = kinds & ~todo
            if need not in ways or habit < ways[need][0]:
                ways[need] = habit, cut
        rest = todo ^ (1 << place)
        count, hardest = rest.bit_count(), self._hardest(rest)
        # What is needed already is not among what a cut needs, so the sizes add up.
        found = sorted(
            (
                max(count + need.bit_count(), hardest, self._hardest(need)),
                need.bit_count(),
                self._rank(need),
                need,
            )
            for need in ways
        )
        k = self._kinds[place]
        done = True
        for at_least, _, _, need in found:
            habit, cut = ways[need]
            if (decided + 1 + at_least, price + habit) >= self._cost:
                continue
            if any(other & need == other and other != need for other in ways):
                continue
            self._cuts[k] = cut
            done = self._go(rest | need, price + habit, effort) and done
            del self._cuts[k]
            if self._looks > effort:
                return False
        return done

    def _set(self, kinds: Sequence[int]) -> int:
        return sum(self._bit[k] for k in {*kinds})

    def _hardest(self, todo: int) -> int:
        """The most that any kind of a set needs; 0 for none."""
        found = self._highest.get(todo)
        if found is None:
            needs = (self.least[self._kinds[place]] for place in self._rank(todo))
            found = self._highest[todo] = max(needs, default=0)
        return found

    def _rank(self, todo: int) -> tuple[int, ...]:
        """The places of a set's kinds, from the lowest."""
        found = self._places.get(todo)
        if found is None:
            places, left = [], todo
            while left:
                low = left & -left
                places.append(low.bit_length() - 1)
                left ^= low
            found = self._places[todo] = tuple(places)
        return found
