"""The table at which a plan is sewn again: copies are laid down, joined and finished, and whatever
cannot be done there is refused.

Knows plans and blocks by their models only.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise

from seamproof.piecing.model import Finish, Join, Leaf, Part, PiecingPlan
from seamproof.plane.model import Placed, Point
from tests.piecing.drawn import NEAR, Drawn, Edge, Spot, beside, edge, near


@dataclass(frozen=True, slots=True)
class Pose:
    """Where a part lies in the block: turned by a share of a full turn, clockwise as seen, then
    moved."""

    turn: Fraction
    at: Spot

    def of(self, p: Point | Spot) -> Spot:
        angle = 2 * math.pi * float(self.turn)
        c, s = math.cos(angle), math.sin(angle)
        x, y = float(p[0]), float(p[1])
        return (x * c - y * s + self.at[0], x * s + y * c + self.at[1])

    def then(self, placed: Placed) -> Pose:
        """The pose of something that is placed in a part which has this pose."""
        return Pose((self.turn + placed.turn) % 1, self.of(placed.at))


@dataclass(frozen=True, slots=True)
class Stretch:
    """A piece of an edge that one straight run sews: from `low` to `high` of its length, seen from
    its vertex of lower number."""

    edge: Edge
    low: float
    high: float

    def touches(self, v: int) -> bool:
        return self.low == 0 if v == self.edge[0] else self.high == 1


@dataclass(slots=True)
class Sewn:
    """One copy of a part in the block. Copies are numbered in the order in which they can be sewn;
    what went into this one are the copies from number `first` on."""

    number: int
    first: int
    part: int
    pose: Pose
    patches: frozenset[int]
    kind: str = "patch"
    points: int = 0
    made_of: tuple[Sewn, ...] = ()
    stretches: list[Stretch] = field(default_factory=list)


def placed_in(part: Part) -> tuple[Placed, ...]:
    match part.made:
        case Join(left=left, right=right):
            return (left, right)
        case Finish(of=of):
            return (of,)
        case _:
            return ()


class Bench:
    """Lays down copies, bottom up, and remembers what is sewn."""

    def __init__(self, plan: PiecingPlan, map_: Drawn) -> None:
        self.plan = plan
        self.map = map_
        self.copies: list[Sewn] = []
        self.sewn: dict[Edge, list[tuple[int, Stretch]]] = {e: [] for e in map_.seams}
        self.passed: Counter[int] = Counter()
        self.waiting: list[tuple[int, Edge]] = []
        self._vertex: dict[tuple[int, int], list[int]] = {}
        for v, spot in enumerate(map_.spots):
            self._vertex.setdefault(bucket(spot), []).append(v)
        self._face = {frozenset(corner_vertices(map_, f)): f for f in range(len(map_.faces))}
        self._taken: set[int] = set()

    def lay(self, number: int, pose: Pose) -> Sewn:
        """One copy of a part with all that goes into it. Not by recursion: plans can be deep."""
        todo: list[tuple[int, Pose, bool]] = [(number, pose, False)]
        ready: list[Sewn] = []
        while todo:
            n, p, opened = todo.pop()
            below = placed_in(self.plan.parts[n])
            if below and not opened:
                todo.append((n, p, True))
                todo += [(its.part, p.then(its), False) for its in reversed(below)]
                continue
            made_of = tuple(ready[len(ready) - len(below) :])
            del ready[len(ready) - len(below) :]
            ready.append(self._make(n, p, made_of))
        return ready[0]

    def _make(self, number: int, pose: Pose, made_of: tuple[Sewn, ...]) -> Sewn:
        here = len(self.copies)
        copy = Sewn(
            here,
            made_of[0].first if made_of else here,
            number,
            pose,
            frozenset[int]().union(*(c.patches for c in made_of)),
            made_of=made_of,
        )
        match self.plan.parts[number].made:
            case Leaf() as leaf:
                self._leaf(copy, leaf)
            case Join() as join:
                self._join(copy, join)
            case Finish() as finish:
                self._finish(copy, finish)
            case other:
                raise AssertionError(f"{other} does not belong in a block")
        loop = self.map.corners(self.map.outline(copy.patches))
        stated = [pose.of(p) for p in self.plan.parts[number].outline]
        assert same_loop(stated, loop), f"part {number} has another outline than its patches"
        self.copies.append(copy)
        return copy

    def _leaf(self, copy: Sewn, leaf: Leaf) -> None:
        found = frozenset(self.at(copy.pose.of(p)) for p in leaf.corners)
        assert found in self._face, f"a patch of part {copy.part} lies where none is drawn"
        face = self._face[found]
        assert face not in self._taken, f"patch {face} is laid down twice"
        self._taken.add(face)
        assert leaf.fabric == self.map.fabrics[face], f"patch {face} has another fabric"
        copy.patches = frozenset([face])

    def _join(self, copy: Sewn, join: Join) -> None:
        left, right = copy.made_of
        assert left.patches.isdisjoint(right.patches), "the two parts overlap"
        seam = [copy.pose.of(p) for p in join.seam]
        whole = [s for a, b in pairwise(seam) for s in self._stretches(a, b)]
        for dart, stretch in whole:
            assert (stretch.low, stretch.high) == (0, 1), "a seam stops between two vertices"
            a, b = dart
            assert self.map.right.get((a, b)) in right.patches, "right does not lie right"
            assert self.map.right.get((b, a)) in left.patches, "left does not lie left"
        along = {stretch.edge for _, stretch in whole}
        for e in self.map.seams:
            sides = {self.map.right[e], self.map.right[(e[1], e[0])]}
            if e not in along and sides & left.patches and sides & right.patches:
                self.waiting.append((copy.number, e))
        turns = _turns(seam)
        assert turns == seam[1:-1], "the seam has a point at which it does not turn"
        assert turns == [copy.pose.of(p) for p in join.set_in], "the seam turns elsewhere"
        runs = [(copy.pose.of(a), copy.pose.of(b)) for a, b in join.sewn]
        assert len(runs) == len(seam) - 1, "runs and bends of the seam do not agree"
        self._sew(copy, runs)
        assert {s.edge for s in copy.stretches} == along, "sewn elsewhere than along the seam"
        short = any((s.low, s.high) != (0, 1) for s in copy.stretches)
        assert short == join.partial, "partial, or not, is not as stated"
        copy.points = len(turns)
        copy.kind = "partial" if short else "set-in" if turns else "straight"

    def _finish(self, copy: Sewn, finish: Finish) -> None:
        (of,) = copy.made_of
        runs = [(copy.pose.of(a), copy.pose.of(b)) for a, b in finish.seam]
        self._sew(copy, runs)
        for s in copy.stretches:
            sides = {self.map.right[s.edge], self.map.right[(s.edge[1], s.edge[0])]}
            assert sides <= of.patches, "a finish sews on something new"
        begun = [s for s in copy.stretches if (s.low, s.high) != (0, 1)]
        rest = [n for s in begun for n, _ in self.sewn[s.edge] if copy.first <= n < copy.number]
        copy.points = len(runs) - 1
        # A seam stopped twice and finished in its middle: then the ring is closed by a whole seam.
        copy.kind = "finish" if rest else "closing"

    def _sew(self, copy: Sewn, runs: Sequence[tuple[Spot, Spot]]) -> None:
        """Sews straight runs that follow each other. Stems before bars: at every vertex that is
        sewn over, all else that meets there is sewn already, inside what is joined."""
        for (_, b), (c, _) in pairwise(runs):
            assert near(b, c), "runs of one seam do not follow each other"
        walked = [self._stretches(a, b) for a, b in runs]
        for (a, b), (_, d) in pairwise(runs):
            assert abs(beside(a, b, d)) > NEAR, "two runs of one seam are one"
        darts = [dart for run in walked for dart, _ in run]
        for (before, v), (w, after) in pairwise(darts):
            assert v == w, "a seam jumps"
            assert v not in self.map.rim, "a seam runs over the edge of the block"
            self.passed[v] += 1
            for end in self.map.spokes[v]:
                if end not in {before, after}:
                    stem = self.sewn[edge(v, end)]
                    assert any(copy.first <= n < copy.number and s.touches(v) for n, s in stem), (
                        f"sewn over vertex {v} before the seam that ends there"
                    )
        copy.stretches = [stretch for run in walked for _, stretch in run]
        assert len({s.edge for s in copy.stretches}) == len(copy.stretches)
        for s in copy.stretches:
            self.sewn[s.edge].append((copy.number, s))

    def _stretches(self, a: Spot, b: Spot) -> list[tuple[tuple[int, int], Stretch]]:
        """The edges that a straight run follows, in order, each as it is walked. The run must lie
        on seams from its first point to its last."""
        length = math.dist(a, b)
        assert length > NEAR, "a run without length"
        found: list[tuple[float, float, tuple[int, int], Stretch]] = []
        for e in self.map.seams:
            p, q = self.map.spots[e[0]], self.map.spots[e[1]]
            if abs(beside(a, b, p)) > NEAR or abs(beside(a, b, q)) > NEAR:
                continue
            s, t = _along(a, b, p), _along(a, b, q)
            low, high = max(min(s, t), 0.0), min(max(s, t), length)
            if high - low <= 2 * NEAR:
                continue
            cut = sorted(((low - s) / (t - s), (high - s) / (t - s)))
            ends = [0.0 if c * abs(t - s) <= NEAR else c for c in cut]
            ends = [1.0 if (1 - c) * abs(t - s) <= NEAR else c for c in ends]
            dart = e if s < t else (e[1], e[0])
            found.append((low, high, dart, Stretch(e, ends[0], ends[1])))
        found.sort()
        reach = 0.0
        for low, high, _, _ in found:
            assert abs(low - reach) <= 2 * NEAR, "a seam is sewn where none is drawn"
            reach = high
        assert abs(reach - length) <= 2 * NEAR, "a seam is sewn where none is drawn"
        return [(dart, stretch) for _, _, dart, stretch in found]

    def at(self, spot: Spot) -> int:
        x, y = bucket(spot)
        for i in (x - 1, x, x + 1):
            for j in (y - 1, y, y + 1):
                for v in self._vertex.get((i, j), ()):
                    if near(self.map.spots[v], spot):
                        return v
        return -1


def bucket(spot: Spot) -> tuple[int, int]:
    return (round(spot[0] * 64), round(spot[1] * 64))


def _along(a: Spot, b: Spot, p: Spot) -> float:
    length = math.dist(a, b)
    return ((b[0] - a[0]) * (p[0] - a[0]) + (b[1] - a[1]) * (p[1] - a[1])) / length


def _turns(line: Sequence[Spot]) -> list[Spot]:
    return [
        v for a, v, b in zip(line, line[1:], line[2:], strict=False) if abs(beside(a, v, b)) > NEAR
    ]


def corner_vertices(map_: Drawn, face: int) -> list[int]:
    loop = map_.faces[face]
    return [
        v
        for i, v in enumerate(loop)
        if not map_.straight(loop[i - 1], v, loop[(i + 1) % len(loop)])
    ]


def same_loop(one: Sequence[Spot], other: Sequence[Spot]) -> bool:
    """Whether two loops are one, wherever they start."""
    return len(one) == len(other) and any(
        all(near(p, q) for p, q in zip(one, [*other[i:], *other[:i]], strict=True))
        for i in range(len(other))
    )
