"""Cores: regions that no straight seam divides from edge to edge.

Every vertex inside a region is passed by one seam, along two of its edges; its other edges end
there and are sewn before. So a way to sew a core is a *pass* for each vertex inside it. Seams run
on through passes; a seam waits for those that end on it. Where seams wait for each other in a ring
(a windmill), one of them is sewn in two goes: it is stopped half-way along one edge, and the rest
is finished when the ring is closed (docs/explanation/piecing.md, "windmills").

Fewest stops: 0/1 choices of pass and stop, with a condition added for every ring that a trial
answer still has, until none has. Each added condition is a proof that something must give there,
so the answer is the least possible when the solver says it is.
"""

from __future__ import annotations

import math
from collections import Counter, deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from seamproof.piecing.regions import Region, edge_of
from seamproof.piecing.shapes import Edge, Layout
from seamproof.plane.subdivision import Dart

ROUNDS = 400
"""Rounds of adding conditions before the rings that are left are simply stopped."""

RINGS_AT_ONCE = 60
"""Rings for which conditions are added in one round."""


@dataclass(frozen=True)
class Passes:
    """How a region is sewn: which two neighbours each inside vertex is passed between, and the
    edges at which a seam is stopped half-way. `bound`: no way has fewer stops."""

    through: Mapping[int, Edge]
    stops: frozenset[Edge]
    bound: int
    proved: bool


@dataclass(frozen=True)
class Inside:
    """The edges between two patches of a region, and its vertices that lie wholly inside."""

    edges: tuple[Edge, ...]
    neighbours: Mapping[int, tuple[int, ...]]


def inside(layout: Layout, region: Region) -> Inside:
    """The inside of a region. `neighbours` holds inside vertices only."""
    face = layout.map.face
    edges: set[Edge] = set()
    border: set[int] = set()
    spokes: dict[int, set[int]] = {}
    for f in region:
        loop = layout.map.faces[f]
        for a, b in zip(loop, loop[1:] + loop[:1], strict=True):
            if face.get((b, a), -1) in region:
                edges.add(edge_of(a, b))
                spokes.setdefault(a, set()).add(b)
                spokes.setdefault(b, set()).add(a)
            else:
                border.update((a, b))
    return Inside(
        tuple(sorted(edges)),
        {v: tuple(sorted(ends)) for v, ends in sorted(spokes.items()) if v not in border},
    )


def passes_offered(layout: Layout, within: Inside) -> dict[int, tuple[Edge, ...]]:
    """Per inside vertex the pairs of neighbours it may be passed between: straight ones where
    there are any, else every pair, for there a corner must be set in."""
    offered: dict[int, tuple[Edge, ...]] = {}
    for v, ends in within.neighbours.items():
        straight = {
            edge_of(a, onward[1])
            for a in ends
            if (onward := layout.straight.get((a, v))) is not None and onward[1] in ends
        }
        offered[v] = tuple(sorted(straight)) or tuple(
            (a, b) for i, a in enumerate(ends) for b in ends[i + 1 :]
        )
    return offered


def fewest_stops(layout: Layout, region: Region, *, effort: int) -> Passes:
    """Passes with the fewest stops for a region, and a lower bound on the stops of any."""
    within = inside(layout, region)
    offered = passes_offered(layout, within)
    first = {v: pairs[0] for v, pairs in offered.items()}
    if not _rings(within, first, frozenset()):
        return Passes(first, frozenset(), 0, proved=True)
    return _solved(layout, within, offered, first, effort)


def _solved(
    layout: Layout,
    within: Inside,
    offered: Mapping[int, tuple[Edge, ...]],
    first: Mapping[int, Edge],
    effort: int,
) -> Passes:
    # The solver takes a third of a second to load, and few blocks have windmills.
    from seamproof.solving.zero_one import Problem, Row  # noqa: PLC0415  loads slowly, seldom used

    number: dict[tuple[int, Edge] | Edge, int] = {}
    for edge in within.edges:
        number[edge] = len(number)
    rows = []
    for v, pairs in offered.items():
        if len(pairs) > 1:
            for pair in pairs:
                number[(v, pair)] = len(number)
            rows.append(Row({number[(v, pair)]: 1 for pair in pairs}, lowest=1, highest=1))
    problem = Problem(len(number), rows)
    stop_cost = {number[edge]: 1.0 for edge in within.edges}
    # Among equal answers stop on long edges: there is more to hold.
    longest = max((_length(layout, edge) for edge in within.edges), default=1.0)
    short_cost = {
        number[edge]: 1.0 - _length(layout, edge) / (2 * longest) for edge in within.edges
    }
    bound, proved = 0, True
    through = dict(first)
    stops: frozenset[Edge] = frozenset()
    for _ in range(ROUNDS):
        rings = _rings(within, through, stops)
        if not rings:
            return Passes(through, stops, bound, proved)
        for ring in rings:
            condition: dict[int, float] = {}
            floor = 1.0
            for edge in ring.edges:
                condition[number[edge]] = 1
            for v in ring.vertices:
                if len(offered[v]) > 1:
                    condition[number[(v, through[v])]] = -1
                    floor -= 1
            problem.rows.append(Row(condition, lowest=floor))
        solution = problem.solve([stop_cost], effort=effort)
        if solution is None:
            break
        bound = max(bound, math.ceil(solution.bound - 1e-6))
        proved = solution.proved
        through = {
            v: next(p for p in pairs if len(pairs) == 1 or solution.values[number[(v, p)]])
            for v, pairs in offered.items()
        }
        stops = frozenset(e for e in within.edges if solution.values[number[e]])
        if not _rings(within, through, stops):
            finer = problem.solve([stop_cost, short_cost], effort=effort)
            if finer is not None:
                kept = {
                    v: next(p for p in pairs if len(pairs) == 1 or finer.values[number[(v, p)]])
                    for v, pairs in offered.items()
                }
                longer = frozenset(e for e in within.edges if finer.values[number[e]])
                if len(longer) == len(stops) and not _rings(within, kept, longer):
                    through, stops = kept, longer
            return Passes(through, stops, bound, proved)
    return Passes(through, _stopped(layout, within, through, stops), bound, False)


def _stopped(
    layout: Layout, within: Inside, through: Mapping[int, Edge], stops: frozenset[Edge]
) -> frozenset[Edge]:
    """Every ring that is left is stopped at its longest edge: valid, though perhaps not least."""
    while rings := _rings(within, through, stops):
        stops |= {max(rings[0].edges, key=lambda e: (_length(layout, e), e))}
    return stops


def _length(layout: Layout, edge: Edge) -> float:
    (ax, ay), (bx, by) = layout.spots[edge[0]], layout.spots[edge[1]]
    return math.hypot(bx - ax, by - ay)


# Rings of seams that wait for each other ----------------------------------------------------------


class Ring(NamedTuple):
    """A ring of seams that wait for each other: the edges it runs over and the vertices whose
    passes make it."""

    edges: tuple[Edge, ...]
    vertices: tuple[int, ...]


def _onward(through: Mapping[int, Edge], stops: frozenset[Edge], dart: Dart) -> tuple[Dart, ...]:
    """Where the waiting goes on from a dart: along the seam, or both ways along the seam that this
    one ends on. At a stop, and at the region's edge, it ends."""
    a, v = dart
    if edge_of(a, v) in stops or v not in through:
        return ()
    p, q = through[v]
    if a == p:
        return ((v, q),)
    if a == q:
        return ((v, p),)
    return ((v, p), (v, q))


def _rings(within: Inside, through: Mapping[int, Edge], stops: frozenset[Edge]) -> list[Ring]:
    """Short rings, at most `RINGS_AT_ONCE`; empty if there is none."""
    darts = [d for a, b in within.edges for d in ((a, b), (b, a))]
    onward = {d: _onward(through, stops, d) for d in darts}
    knot = _knots(darts, onward)
    rings: list[Ring] = []
    seen: set[tuple[Edge, ...]] = set()
    for start in darts:
        if start not in knot:
            continue
        ring = _shortest(start, onward, knot)
        key = tuple(sorted(ring.edges))
        if key not in seen:
            seen.add(key)
            rings.append(ring)
    rings.sort(key=lambda ring: (len(ring.edges), ring.edges))
    chosen: list[Ring] = []
    used: set[Edge] = set()
    # Rings that share nothing say most; then the shortest others.
    for ring in rings:
        if used.isdisjoint(ring.edges):
            used.update(ring.edges)
            chosen.append(ring)
    rest = [ring for ring in rings if ring not in chosen]
    return (chosen + rest)[:RINGS_AT_ONCE]


def _knots(darts: Iterable[Dart], onward: Mapping[Dart, tuple[Dart, ...]]) -> dict[Dart, int]:
    """The darts that lie on rings. Two with one number lead to each other (Tarjan 1972; not by
    recursion, seams can be long)."""
    number: dict[Dart, int] = {}
    low: dict[Dart, int] = {}
    held: list[Dart] = []
    knot: dict[Dart, int] = {}
    for root in darts:
        todo = [(root, iter(onward[root]))] if root not in number else []
        while todo:
            d, ahead = todo[-1]
            if d not in number:
                number[d] = low[d] = len(number)
                held.append(d)
            for n in ahead:
                if n not in number:
                    todo.append((n, iter(onward[n])))
                    break
                if n not in knot:
                    low[d] = min(low[d], number[n])
            else:
                todo.pop()
                if todo:
                    low[todo[-1][0]] = min(low[todo[-1][0]], low[d])
                if low[d] == number[d]:
                    while held[-1] != d:
                        knot[held.pop()] = number[d]
                    knot[held.pop()] = number[d]
    count = Counter(knot.values())
    return {d: k for d, k in knot.items() if count[k] > 1 or d in onward[d]}


def _shortest(
    start: Dart, onward: Mapping[Dart, tuple[Dart, ...]], knot: Mapping[Dart, int]
) -> Ring:
    """A shortest ring through a dart of a knot."""
    came: dict[Dart, Dart] = {}
    queue = deque([start])
    while start not in came:
        d = queue.popleft()
        for n in onward[d]:
            if n not in came and knot.get(n) == knot[start]:
                came[n] = d
                queue.append(n)
    way = [came[start]]
    while way[-1] != start:
        way.append(came[way[-1]])
    way.reverse()
    return Ring(tuple(edge_of(*w) for w in way), tuple(dict.fromkeys(w[1] for w in way)))
