"""Sews a piecing plan again, from the patches on, and holds every step to what may be done.

A witness: it knows a plan and a block by their models, and no code that makes plans. Whoever
reads a plan off its parts alone must get the block that was drawn; that is what is tried here.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from seamproof.draft.model import Block
from seamproof.piecing.model import Leaf, Part, PiecingPlan
from seamproof.plane.model import Point
from tests.piecing.drawn import NEAR, Drawn, Spot, drawn, near
from tests.piecing.table import Bench, Pose, Sewn, bucket, corner_vertices, placed_in, same_loop


@dataclass(slots=True)
class Replay:
    """What came of it. `copies` in sewing order; counts are with copies."""

    map: Drawn
    copies: list[Sewn]

    def count(self, *kinds: str) -> int:
        return sum(copy.kind in kinds for copy in self.copies)

    @property
    def joins(self) -> int:
        return self.count("straight", "set-in", "partial")

    @property
    def stops(self) -> int:
        """Seams sewn in two goes."""
        return self.count("finish", "closing")

    @property
    def points(self) -> int:
        return sum(copy.points for copy in self.copies)

    @property
    def tree(self) -> frozenset[tuple[frozenset[frozenset[int]], str]]:
        """The plan without its numbering: what is brought together at each step, and how."""
        return frozenset(
            (frozenset(c.patches for c in copy.made_of), copy.kind)
            for copy in self.copies
            if copy.made_of
        )


def replay(plan: PiecingPlan, block: Block) -> Replay:
    """Sews a plan. AssertionError at the first thing that cannot be done or is not as stated."""
    map_ = drawn(block)
    _check_order(plan)
    bench = Bench(plan, map_)
    bench.lay(plan.whole, Pose(Fraction(0), (0.0, 0.0)))
    done = Replay(map_, bench.copies)
    whole = bench.copies[-1]
    assert whole.patches == frozenset(range(len(block.patches))), "patches are missing"
    assert plan.patches == len(block.patches), "the patches are miscounted"
    _check_every_seam_once(bench)
    _check_every_vertex_once(bench)
    _check_touching_only_where_unfinished(bench)
    uses = Counter(copy.part for copy in bench.copies)
    for number, part in enumerate(plan.parts):
        assert uses[number] == part.uses, f"part {number} is used {uses[number]} times"
    _check_frames(plan, bench)
    _check_unlike(block, plan, bench)
    assert done.joins == len(block.patches) - 1
    stops = sum(len(pieces) - 1 for pieces in bench.sewn.values())
    assert done.stops == stops
    assert bool(stops) == bool(done.count("partial"))
    assert plan.partial_bound <= stops, "fewer seams in two goes than can be"
    corners = len(map_.corners_to_set_in)
    assert done.points == plan.set_in_points == corners, f"{corners} corners must be set in"
    assert plan.sessions == len([p for p in plan.parts if not isinstance(p.made, Leaf)])
    assert plan.sessions_bound <= plan.sessions, "fewer things to do than can be"
    return done


def _check_order(plan: PiecingPlan) -> None:
    """Parts come after what they are made of, in the list and in the rounds; each is sewn once."""
    round_of: dict[int, int] = {}
    for i, numbers in enumerate(plan.rounds):
        assert numbers, "an empty round"
        for number in numbers:
            assert number not in round_of, f"part {number} is sewn in two rounds"
            round_of[number] = i
    sewn = [n for n, part in enumerate(plan.parts) if not isinstance(part.made, Leaf)]
    assert sorted(round_of) == sewn, "rounds sew other parts than there are"
    for number in sewn:
        for its in placed_in(plan.parts[number]):
            assert its.part < number, f"part {its.part} comes too late for {number}"
            assert 0 <= its.turn < 1
            assert round_of.get(its.part, -1) < round_of[number], f"round of {number} too early"


def _check_every_seam_once(bench: Bench) -> None:
    for e, pieces in bench.sewn.items():
        reach = 0.0
        for low, high in sorted((s.low, s.high) for _, s in pieces):
            assert abs(low - reach) * bench.map.length(e) <= NEAR, (
                f"{e} is sewn twice or not at all"
            )
            reach = high
        assert reach == 1, f"{e} is not sewn to its end"


def _check_every_vertex_once(bench: Bench) -> None:
    assert bench.passed == Counter(bench.map.inner), "a vertex is not closed exactly once"


def _check_touching_only_where_unfinished(bench: Bench) -> None:
    """Beside their seam two parts touch only where the rest of a partial seam is finished later."""
    for number, e in bench.waiting:
        later = all(n > number and len(bench.copies[n].made_of) == 1 for n, _ in bench.sewn[e])
        assert later, f"the parts of copy {number} also touch at {e}"


def _check_frames(plan: PiecingPlan, bench: Bench) -> None:
    """Every part starts at (0, 0) in its own frame and lies as at one of its places."""
    lying: dict[int, list[Sewn]] = {}
    for copy in bench.copies:
        lying.setdefault(copy.part, []).append(copy)
    for number, part in enumerate(plan.parts):
        assert min(x for x, _ in part.outline) == 0, f"part {number} does not start at the left"
        assert min(y for _, y in part.outline) == 0, f"part {number} does not start at the top"
        assert any(_unturned(part, copy) for copy in lying[number]), f"part {number} lies askew"


def _unturned(part: Part, copy: Sewn) -> bool:
    lying = [copy.pose.of(p) for p in part.outline]
    dx, dy = min(x for x, _ in lying), min(y for _, y in lying)
    return same_loop([(float(x) + dx, float(y) + dy) for x, y in part.outline], lying)


# Parts that are alike -----------------------------------------------------------------------------


def _check_unlike(block: Block, plan: PiecingPlan, bench: Bench) -> None:
    """No part is another one turned: same patches in the same places, same ends still open.

    What the maker fixed is not looked at, so blocks with fixings may have parts that look alike.
    """
    if block.fixings:
        return
    sorts: dict[tuple[object, ...], list[Sewn]] = {}
    seen: set[int] = set()
    for copy in bench.copies:
        if copy.part not in seen:
            seen.add(copy.part)
            area = round(math.sqrt(abs(_area(plan.parts[copy.part].outline))) * 32)
            fabrics = sorted(bench.map.fabrics[f] for f in copy.patches)
            for size in (area - 1, area, area + 1):
                for other in sorts.get((*fabrics, size), ()):
                    assert not _alike(bench, other, copy), (
                        f"parts {other.part} and {copy.part} are one, turned"
                    )
            sorts.setdefault((*fabrics, area), []).append(copy)


def _alike(bench: Bench, one: Sewn, other: Sewn) -> bool:
    its = bench.map.corners(bench.map.outline(one.patches))
    mine = bench.map.corners(bench.map.outline(other.patches))
    if len(its) != len(mine):
        return False
    for i in range(len(mine)):
        pose = _bringing(its[0], its[1], mine[i], mine[(i + 1) % len(mine)])
        if pose is not None and _lies_on(bench, one, other, pose):
            return True
    return False


def _bringing(a: Spot, b: Spot, p: Spot, q: Spot) -> Pose | None:
    """The pose that brings side a, b onto side p, q; None if they differ in length."""
    if abs(math.dist(a, b) - math.dist(p, q)) > NEAR:
        return None
    angle = math.atan2(q[1] - p[1], q[0] - p[0]) - math.atan2(b[1] - a[1], b[0] - a[0])
    turn = Fraction(angle / (2 * math.pi)) % 1
    x, y = Pose(turn, (0.0, 0.0)).of(a)
    return Pose(turn, (p[0] - x, p[1] - y))


def _lies_on(bench: Bench, one: Sewn, other: Sewn, pose: Pose) -> bool:
    target = {
        tuple(sorted(bucket(bench.map.spots[v]) for v in corner_vertices(bench.map, f))): f
        for f in other.patches
    }
    for f in one.patches:
        loop = [pose.of(bench.map.spots[v]) for v in corner_vertices(bench.map, f)]
        vertices = [bench.at(p) for p in loop]
        if -1 in vertices:
            return False
        found = target.get(tuple(sorted(bucket(bench.map.spots[v]) for v in vertices)))
        if found is None or bench.map.fabrics[f] != bench.map.fabrics[found]:
            return False
    gaps, mine = _open(bench, one), _open(bench, other)
    return len(gaps) == len(mine) and all(any(near(pose.of(p), q) for q in mine) for p in gaps)


def _open(bench: Bench, copy: Sewn) -> list[Spot]:
    """The middles of what is not sewn yet inside a part."""
    found = []
    for e in bench.map.seams:
        sides = {bench.map.right[e], bench.map.right[(e[1], e[0])]}
        if not sides <= copy.patches:
            continue
        (ax, ay), (bx, by) = bench.map.spots[e[0]], bench.map.spots[e[1]]
        sewn = sorted((s.low, s.high) for n, s in bench.sewn[e] if copy.first <= n <= copy.number)
        reach = 0.0
        for low, high in [*sewn, (1.0, 1.0)]:
            if (low - reach) * bench.map.length(e) > NEAR:
                middle = (low + reach) / 2
                found.append((ax + (bx - ax) * middle, ay + (by - ay) * middle))
            reach = high
    return found


def _area(outline: Sequence[Point]) -> float:
    loop = [(float(x), float(y)) for x, y in outline]
    pairs = zip(loop, [*loop[1:], *loop[:1]], strict=True)
    return sum(p[0] * q[1] - p[1] * q[0] for p, q in pairs) / 2
