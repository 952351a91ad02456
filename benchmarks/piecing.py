"""How a block goes together: the kind of a drawing, a straight plan, a search, cores.

1. Kind (corners to set in, cores) and straight plan (which seams are cut, in which order, into
   which kinds of region) of partitions of 72 to 4,608 patches: squares split alike, squares split
   at random, chords at free angles. Beside it what shapely takes for `union_all` and `polygonize`
   of the same lines in the same run: the least that anybody does who asks which patches a drawing
   has. Promised: kind and straight plan of split squares take at most 8 times as long as shapely,
   and twice the patches at most 2.5 times as long. The last column is the whole answer, with every
   part in its frame and every unit named; it is shown without a promise beside shapely, which does
   nothing like it.
2. A whole block of 1,152 patches, with all its parts: how many there are.
3. The search for the fewest things to do at the machine, for blocks of the trade.
4. Cores: random rectangles that no straight seam divides. Promised: 182 patches proved least within
   a second; 340 patches with at most 1.5 times as many stops as are proved needful, and these at
   least 15.
"""

from __future__ import annotations

import heapq
import math
import random
from collections.abc import Callable, Iterable
from fractions import Fraction
from functools import partial

import shapely

from benchmarks.measuring import Row, median_seconds, seconds, table
from seamproof.draft.model import Block, Patch
from seamproof.length.exact import kept
from seamproof.piecing.choosing import choose
from seamproof.piecing.cores import Passes, fewest_stops
from seamproof.piecing.cuts import CORE_EFFORT, grid_of, survey
from seamproof.piecing.planning import plan, set_in_points, undivided
from seamproof.piecing.regions import chords
from seamproof.piecing.shapes import Layout, lay_out
from seamproof.plane.model import Point

SIZES = ((6, 6), (12, 6), (12, 12), (24, 12), (24, 24), (48, 24), (48, 48))
"""Columns and rows of squares, each split in two: 72 patches, then twice as many each time."""

TWICE = 2.5
"""Twice the patches take at most so many times as long."""

BESIDE_SHAPELY = 8.0
"""Kind and straight plan of split squares take at most so many times as long as shapely takes to
find the patches."""

CORES = ((12, 3, 44, 12), (24, 3, 182, 24), (32, 3, 340, 32))
"""Squares across, longest side of a rectangle, patches, and the first seed that gives so many and
no straight seam from edge to edge."""

PROVED_WITHIN = 1.0
NEEDFUL = 15
CLOSE = 1.5


def run(quick: bool = False) -> list[Row]:
    rows: list[Row] = []
    broken: list[str] = []
    makers = {
        "split alike": split_alike,
        "split at random": split_at_random,
        "free angles": free_angles,
    }
    for name, make in makers.items():
        rows += grown(name, make, SIZES[:3] if quick else SIZES, broken)
    if not quick:
        rows += [whole(name, make) for name, make in makers.items()]
    rows += searched(quick)
    rows += [cut_to_cores(*core, broken) for core in (CORES[:1] if quick else CORES)]
    assert not broken, "\n".join([*broken, "", table(rows)])
    return rows


def row(case: str, **columns: str) -> Row:
    """A row with the columns that mean something for it; the others are empty."""
    heads = ("kind", "straight", "shapely", "ratio", "twice", "plan", "steps", "stops", "bound")
    return Row(case, tuple((head, columns.get(head, "")) for head in heads))


def grown(
    name: str,
    make: Callable[[int, int], Block],
    sizes: Iterable[tuple[int, int]],
    broken: list[str],
) -> list[Row]:
    rows = []
    before = math.inf
    for across, down in sizes:
        block = make(across, down)
        patches = len(block.patches)
        kind = median_seconds(partial(kind_of, block))
        ours = median_seconds(partial(straight_plan, block))
        answer = median_seconds(partial(plan, block, search=False), runs=3)
        lines = [outline(block, patch) for patch in block.patches]
        theirs = median_seconds(partial(by_shapely, lines))
        assert by_shapely(lines) == patches
        made, _ = plan(block, search=False)
        twice = ours / before
        if twice > TWICE:
            broken.append(f"{name}, {patches} patches: {twice:.2f} times the time of half as many")
        ratio = ours / theirs
        if ratio > BESIDE_SHAPELY and name != "free angles":
            broken.append(f"{name}, {patches} patches: {ratio:.1f} times the time of shapely")
        before = ours
        rows.append(
            row(
                f"{name}, {patches:,} patches",
                kind=seconds(kind),
                straight=seconds(ours),
                plan=seconds(answer),
                shapely=seconds(theirs),
                ratio=f"{ratio:.1f}",
                twice=f"{twice:.2f}" if twice else "",
                steps=f"{made.sessions:,}",
            )
        )
    return rows


def kind_of(block: Block) -> tuple[int, int]:
    """Corners to set in, and cores."""
    layout = lay_out(block)
    left = undivided(layout, frozenset(range(len(block.patches))))
    return len(set_in_points(layout)), sum(len(region) > 1 for region in left)


def straight_plan(block: Block) -> tuple[int, int]:
    """Corners to set in, and distinct seams of a plan of straight seams."""
    layout = lay_out(block)
    whole = frozenset(range(len(block.patches)))
    kinds = survey(layout, grid_of(layout, whole), "middle", whole)
    assert kinds is not None
    return len(set_in_points(layout)), choose(kinds).sessions


def outline(block: Block, patch: Patch) -> shapely.LineString:
    loop = [(float(x), float(y)) for x, y in block.corners_of(patch)]
    return shapely.LineString([*loop, loop[0]])


def by_shapely(lines: list[shapely.LineString]) -> int:
    return len(shapely.polygonize([shapely.union_all(lines)]).geoms)


def whole(name: str, make: Callable[[int, int], Block]) -> Row:
    block = make(24, 24)
    taken = median_seconds(lambda: plan(block), runs=3)
    made, _ = plan(block)
    return row(
        f"whole block, {name}, {len(block.patches):,} patches",
        plan=seconds(taken),
        steps=f"{made.sessions:,}",
        bound=f"{made.sessions_bound:,}",
    )


def searched(quick: bool) -> list[Row]:
    """Blocks of the trade: all together, and the one that takes longest."""
    from tests import cast  # noqa: PLC0415  the drawings are the tests'

    blocks = cast.reference_blocks()
    names = sorted(blocks)[:6] if quick else sorted(blocks)
    taken = {name: median_seconds(partial(plan, blocks[name]), runs=1) for name in names}
    slowest = max(names, key=taken.__getitem__)
    made, _ = plan(blocks[slowest])
    return [
        row(f"{len(names)} blocks of the trade", plan=seconds(sum(taken.values()))),
        row(
            f"of these the slowest, {slowest}",
            plan=seconds(taken[slowest]),
            steps=str(made.sessions),
            bound=str(made.sessions_bound),
        ),
    ]


def cut_to_cores(across: int, longest: int, patches: int, seed: int, broken: list[str]) -> Row:
    block = random_rectangles(across, longest, seed)
    layout = lay_out(block)
    region = frozenset(range(len(block.patches)))
    assert len(block.patches) == patches
    assert not chords(layout, region)
    taken = median_seconds(lambda: stops_of(layout), runs=3)
    found = stops_of(layout)
    kept_it = {
        182: found.proved and taken <= PROVED_WITHIN,
        340: found.bound >= NEEDFUL and len(found.stops) <= CLOSE * found.bound,
    }
    if not kept_it.get(patches, True):
        broken.append(f"core of {patches}: {len(found.stops)} of {found.bound} in {taken:.2f} s")
    whole_plan = median_seconds(lambda: plan(block, search=False), runs=1)
    made, _ = plan(block, search=False)
    proved = " proved" if found.proved else ""
    return row(
        f"core of {patches} rectangles, seed {seed}",
        kind=seconds(taken),
        plan=seconds(whole_plan),
        steps=f"{made.sessions:,}",
        stops=str(len(found.stops)),
        bound=f"{found.bound}{proved}",
    )


def stops_of(layout: Layout) -> Passes:
    region = frozenset(range(len(layout.block.patches)))
    return fewest_stops(layout, region, effort=CORE_EFFORT)


# Partitions ---------------------------------------------------------------------------------------


def split_alike(across: int, down: int) -> Block:
    """Squares of two triangles, all the same way."""
    return split_squares(across, down, lambda: False)


def split_at_random(across: int, down: int) -> Block:
    """Squares of two triangles, either way."""
    die = random.Random(7)
    return split_squares(across, down, lambda: die.random() < 0.5)


def split_squares(across: int, down: int, other_way: Callable[[], bool]) -> Block:
    number = {(x, y): y * (across + 1) + x for y in range(down + 1) for x in range(across + 1)}
    patches = []
    for y in range(down):
        for x in range(across):
            a, b = number[(x, y)], number[(x + 1, y)]
            c, d = number[(x + 1, y + 1)], number[(x, y + 1)]
            loops = ((a, b, d), (b, c, d)) if other_way() else ((a, b, c), (a, c, d))
            patches += [Patch(fabric, loop) for fabric, loop in zip("ab", loops, strict=True)]
    spots = sorted(number, key=number.__getitem__)
    vertices = tuple((Fraction(x), Fraction(y)) for x, y in spots)
    rim = tuple(number[p] for p in walk_round((0, 0, across, down)))
    return Block("split", Fraction(across), Fraction(down), vertices, tuple(patches), rim)


def walk_round(box: tuple[int, int, int, int]) -> list[tuple[int, int]]:
    """The lattice points round a rectangle, clockwise as seen from its upper left corner."""
    left, top, right, low = box
    return [
        *((x, top) for x in range(left, right)),
        *((right, y) for y in range(top, low)),
        *((x, low) for x in range(right, left, -1)),
        *((left, y) for y in range(low, top, -1)),
    ]


def random_rectangles(across: int, longest: int, seed: int) -> Block:
    """A lattice filled with rectangles from the top down, left to right, sides at random."""
    die = random.Random(seed)
    free = {(x, y) for x in range(across) for y in range(across)}
    boxes = []
    for y in range(across):
        for x in range(across):
            if (x, y) not in free:
                continue
            width, right = die.randint(1, longest), x
            while right < across and right - x < width and (right, y) in free:
                right += 1
            low = y + min(die.randint(1, longest), across - y)
            free -= {(i, j) for i in range(x, right) for j in range(y, low)}
            boxes.append((x, y, right, low))
    corners = {p for a, b, c, d in boxes for p in ((a, b), (c, b), (c, d), (a, d))}
    order = sorted(corners, key=lambda p: (p[1], p[0]))
    number = {p: i for i, p in enumerate(order)}
    loops = [
        tuple(number[p] for p in walk_round(box) if p in number)
        for box in [*boxes, (0, 0, across, across)]
    ]
    side = Fraction(across)
    vertices = tuple((Fraction(x), Fraction(y)) for x, y in order)
    patches = tuple(Patch("a", loop) for loop in loops[:-1])
    return Block("rectangles", side, side, vertices, patches, loops[-1])


def free_angles(across: int, down: int) -> Block:
    """As many patches as squares split in two would give, cut by chord after chord: each across the
    largest patch, from its longest side to the one that lies most opposite."""
    die = random.Random(11)
    cut = Cutting(Fraction(4 * across), Fraction(4 * down))
    for _ in range(2 * across * down - 1):
        cut.largest(die)
    return cut.block()


class Cutting:
    """A rectangle that is cut along chords. Whatever vertex is new on a side is on both of its
    sides."""

    def __init__(self, width: Fraction, height: Fraction) -> None:
        zero = Fraction(0)
        self.vertices: list[Point] = [(zero, zero), (width, zero), (width, height), (zero, height)]
        self.loops: list[list[int]] = [[0, 1, 2, 3]]
        self.corners: list[list[int]] = [[0, 1, 2, 3]]
        self.right = {(a, (a + 1) % 4): 0 for a in range(4)}
        self.sizes = [(-float(width * height), 0)]

    def largest(self, die: random.Random) -> None:
        """Cuts the largest piece."""
        _, face = heapq.heappop(self.sizes)
        corners = self.corners[face]
        sides = list(zip(corners, [*corners[1:], corners[0]], strict=True))
        first = max(range(len(sides)), key=lambda i: self._length(*sides[i]))
        a, b = sides[first]
        second = min(
            (i for i in range(len(sides)) if i != first),
            key=lambda i: self._along(a, b, *sides[i]),
        )
        ends = [self._vertex_on(face, die, *sides[i]) for i in (first, second)]
        self._split(face, corners, (first, ends[0]), (second, ends[1]))

    def _length(self, a: int, b: int) -> float:
        return math.dist(*([float(c) for c in self.vertices[v]] for v in (a, b)))

    def _along(self, a: int, b: int, c: int, d: int) -> float:
        """How far a side runs the same way as another, weighed with its length."""
        (ax, ay), (bx, by), (cx, cy), (dx, dy) = (self.vertices[v] for v in (a, b, c, d))
        return float((bx - ax) * (dx - cx) + (by - ay) * (dy - cy)) / self._length(a, b)

    def _vertex_on(self, face: int, die: random.Random, a: int, b: int) -> int:
        """A new vertex near the middle of a side of a face, on the piece of it that lies there."""
        loop = self.loops[face]
        start, end = loop.index(a), loop.index(b)
        run = [*loop[start:], *loop[:start]][: (end - start) % len(loop) + 1]
        share = Fraction(die.randint(380, 620), 1000)
        (ax, ay), (bx, by) = self.vertices[a], self.vertices[b]
        new = (kept(ax + (bx - ax) * share), kept(ay + (by - ay) * share))
        reach = [self._length(a, v) for v in run]
        far = self._distance(a, new)
        piece = next(i for i in range(len(run) - 1) if far < reach[i + 1])
        v, w = run[piece], run[piece + 1]
        self.vertices.append(new)
        number = len(self.vertices) - 1
        for p, q in ((v, w), (w, v)):
            other = self.right.pop((p, q), None)
            if other is not None:
                self.right[(p, number)] = self.right[(number, q)] = other
                at = self.loops[other].index(p)
                self.loops[other].insert(at + 1, number)
        return number

    def _distance(self, v: int, p: Point) -> float:
        x, y = self.vertices[v]
        return math.hypot(float(p[0] - x), float(p[1] - y))

    def _split(
        self, face: int, corners: list[int], one: tuple[int, int], other: tuple[int, int]
    ) -> None:
        (i, p), (j, q) = sorted((one, other))
        turns = [[p, *corners[i + 1 : j + 1], q], [q, *corners[j + 1 :], *corners[: i + 1], p]]
        loop = self.loops[face]
        at = loop.index(p)
        loop = [*loop[at:], *loop[:at]]
        split = loop.index(q)
        loops = [loop[: split + 1], [*loop[split:], p]]
        for number, new, its in zip((face, len(self.loops)), loops, turns, strict=True):
            if number == face:
                self.loops[face], self.corners[face] = new, its
            else:
                self.loops.append(new)
                self.corners.append(its)
            for dart in zip(new, [*new[1:], new[0]], strict=True):
                self.right[dart] = number
            heapq.heappush(self.sizes, (-self._area(its), number))

    def _area(self, corners: list[int]) -> float:
        spots = [(float(x), float(y)) for x, y in (self.vertices[v] for v in corners)]
        pairs = zip(spots, [*spots[1:], spots[0]], strict=True)
        return abs(sum(p[0] * q[1] - p[1] * q[0] for p, q in pairs)) / 2

    def block(self) -> Block:
        """What has been cut."""
        width, height = self.vertices[2]
        rim = {a: b for a, b in ((d[1], d[0]) for d in self.right) if (a, b) not in self.right}
        walk = [0]
        onward = {b: a for a, b in rim.items()}
        while onward[walk[-1]] != 0:
            walk.append(onward[walk[-1]])
        patches = tuple(Patch("abcd"[i % 4], tuple(loop)) for i, loop in enumerate(self.loops))
        return Block("free", width, height, tuple(self.vertices), patches, tuple(walk))
