"""Small blocks looked at to the end: every way to take them apart, every pass, every stop.

Slow and plain on purpose, and without any code of piecing: what it says is compared with what the
program finds by theorems.
"""

from __future__ import annotations

import functools
from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations, product

from tests.piecing.drawn import Drawn, Edge, edge, ring

Patches = frozenset[int]
Pass = tuple[int, int]

NEVER = 10**6
"""More corners to set in than any small block has: it cannot be done."""


# Taking apart, in two, without seams in two goes --------------------------------------------------


def fewest_bends(map_: Drawn) -> int:
    """The fewest corners set in of any way to take a block apart along whole seams, each from edge
    to edge of what it parts; at least `NEVER` if there is none. 0 means straight seams do."""

    @functools.cache
    def least(region: Patches) -> int:
        if len(region) == 1:
            return 0
        first = min(region)
        rest = sorted(region - {first})
        best = NEVER
        for size in range(len(rest)):
            for more in combinations(rest, size):
                one = frozenset([first, *more])
                other = region - one
                price = seam_bends(map_, one, other)
                if price is not None and price < best and _whole(map_, one) and _whole(map_, other):
                    best = min(best, price + least(one) + least(other))
        return best

    return least(frozenset(range(len(map_.faces))))


def seam_bends(map_: Drawn, one: Patches, other: Patches) -> int | None:
    """At how many points the seam between two sets of patches turns; None if what lies between
    them is not one line from edge to edge of both together."""
    edges = [e for e in map_.seams if _parts(map_, e, one, other)]
    ends: dict[int, list[int]] = {}
    for a, b in edges:
        ends.setdefault(a, []).append(b)
        ends.setdefault(b, []).append(a)
    tips = [v for v, to in ends.items() if len(to) == 1]
    if len(tips) != 2 or any(len(to) > 2 for to in ends.values()):
        return None
    line = [tips[0], ends[tips[0]][0]]
    while line[-1] != tips[1]:
        line.append(next(w for w in ends[line[-1]] if w != line[-2]))
    rim = _rim(map_, one | other)
    if len(line) != len(ends) or any(v in rim for v in line[1:-1]):
        return None
    return sum(not map_.straight(*three) for three in zip(line, line[1:], line[2:], strict=False))


def _parts(map_: Drawn, e: Edge, one: Patches, other: Patches) -> bool:
    f, g = map_.right[e], map_.right[(e[1], e[0])]
    return (f in one and g in other) or (f in other and g in one)


def _rim(map_: Drawn, region: Patches) -> set[int]:
    return {
        v
        for f in region
        for a, b in ring(map_.faces[f])
        if map_.right.get((b, a), -1) not in region
        for v in (a, b)
    }


def _whole(map_: Drawn, region: Patches) -> bool:
    """Whether patches hang together along seams."""
    seen, todo = set[int](), [min(region)]
    while todo:
        f = todo.pop()
        if f not in seen:
            seen.add(f)
            sides = (map_.right.get((b, a), -1) for a, b in ring(map_.faces[f]))
            todo += [g for g in sides if g in region]
    return seen == region


# Passes and stops ---------------------------------------------------------------------------------


def fewest_in_two_goes(map_: Drawn, most: int) -> int | None:
    """The fewest seams sewn in two goes among all ways that set in only the corners that must be;
    None if more than `most`. Tries every pass at every vertex and every set of stops, and sews."""
    choices = {v: map_.passes(v) or list(combinations(map_.spokes[v], 2)) for v in map_.inner}
    for stops in range(most + 1):
        for through in _ways(choices):
            for stopped in combinations(map_.seams, stops):
                if can_be_sewn(map_, through, stopped):
                    return stops
    return None


def _ways(choices: Mapping[int, list[Pass]]) -> Iterator[dict[int, Pass]]:
    for picked in product(*choices.values()):
        yield dict(zip(choices, picked, strict=True))


End = tuple[Edge, int]
"""The half of an edge next to one of its vertices."""


def can_be_sewn(map_: Drawn, through: Mapping[int, Pass], stopped: Iterable[Edge]) -> bool:
    """Sews seam after seam, each as soon as all that ends on it is sewn; False when stuck.

    Also holds the sewing to what is said of it: every seam brings two pieces together or finishes
    one, and as many are finished as there are stops.
    """
    stops = frozenset(stopped)
    seams = _seams(map_, through, stops)
    piece = list(range(len(map_.faces)))
    sewn: set[End] = set()
    finished = 0
    while seams:
        ready = next((s for s in seams if _ready(map_, through, s, sewn)), None)
        if ready is None:
            return False
        seams.remove(ready)
        sides = {
            frozenset((piece[map_.right[e]], piece[map_.right[(e[1], e[0])]])) for e, _ in ready
        }
        assert len(sides) == 1, "one seam between more than two pieces"
        together = sides.pop()
        finished += len(together) == 1
        piece = [min(together) if p in together else p for p in piece]
        sewn |= ready
    assert set(piece) == {piece[0]}
    assert finished == len(stops)
    return True


def _seams(
    map_: Drawn, through: Mapping[int, Pass], stops: frozenset[Edge]
) -> list[frozenset[End]]:
    ends = [(e, v) for e in map_.seams for v in e]
    group = {end: frozenset([end]) for end in ends}
    closed = False

    def unite(one: End, other: End) -> None:
        nonlocal closed
        if group[one] is group[other]:
            closed = True
            return
        both = group[one] | group[other]
        for end in both:
            group[end] = both

    for e in map_.seams:
        if e not in stops:
            unite((e, e[0]), (e, e[1]))
    for v, (a, b) in through.items():
        unite((edge(v, a), v), (edge(v, b), v))
    # A seam that runs into itself has no end to begin at: its own first end waits for it.
    return [*dict.fromkeys(group.values())] if not closed else [frozenset(), *group.values()]


def _ready(map_: Drawn, through: Mapping[int, Pass], seam: frozenset[End], sewn: set[End]) -> bool:
    if not seam:
        return False
    for v in {v for _, v in seam if v in through}:
        a, b = through[v]
        if (edge(v, a), v) in seam:
            stems = [(edge(v, w), v) for w in map_.spokes[v] if w not in (a, b)]
            if not all(stem in sewn for stem in stems):
                return False
    return True


# Rings that must be stopped -----------------------------------------------------------------------


def rings_apart(map_: Drawn) -> int:
    """Rings of seams that wait for each other whatever is chosen, no two with an edge in common:
    each needs a stop of its own, so no way has fewer. Looks only at vertices with one pass."""
    only = {v: map_.passes(v)[0] for v in map_.inner if len(map_.passes(v)) == 1}
    taken: set[Edge] = set()
    found = 0
    for start in [d for e in map_.seams for d in (e, (e[1], e[0]))]:
        way = _back_to(start, only, taken)
        if way is not None:
            taken |= {edge(a, b) for a, b in way}
            found += 1
    return found


def _back_to(
    start: tuple[int, int], only: Mapping[int, Pass], taken: set[Edge]
) -> list[tuple[int, int]] | None:
    """A shortest way that waiting takes from a dart back to it, over edges that are not taken."""
    if edge(*start) in taken:
        return None
    came: dict[tuple[int, int], tuple[int, int]] = {}
    queue = [start]
    for a, v in queue:
        if v not in only:
            continue
        p, q = only[v]
        onward = [q] if a == p else [p] if a == q else [p, q]
        for w in onward:
            if (v, w) == start:
                way = [(a, v)]
                while way[-1] != start:
                    way.append(came[way[-1]])
                return way
            if (v, w) not in came and edge(v, w) not in taken:
                came[(v, w)] = (a, v)
                queue.append((v, w))
    return None
