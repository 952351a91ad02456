"""From chosen cuts to a plan: every kind of region becomes a part in its own frame."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from seamproof.length.rounding import SAME
from seamproof.piecing.choosing import Choice
from seamproof.piecing.cuts import Grid, Kinds
from seamproof.piecing.model import Finish, Join, Leaf, Part
from seamproof.piecing.regions import Region
from seamproof.piecing.shapes import Layout, true_corners
from seamproof.plane.model import Placed, Point
from seamproof.plane.predicates import placed, same_point, turned

ROUND_TURNS = 48
"""A turn within a hair of a multiple of 1/48 of a full turn (7 1/2 degrees) is that multiple: what
was drawn at 45 or 60 degrees is meant so."""

_HAIR = 1e-6

Place = tuple[int, ...]
"""Where a kind of region lies: its patches, in the order in which its specimen is read."""


@dataclass(frozen=True)
class Assembly:
    """The parts in sewing order, and the part number of each cell of the grid (-1: no part)."""

    parts: tuple[Part, ...]
    rows: tuple[tuple[int, ...], ...]
    rounds: tuple[tuple[int, ...], ...]


def assemble(kinds: Kinds, choice: Choice, grid: Grid) -> Assembly:
    """The parts that a choice of cuts makes, equal ones once, the whole block last."""
    layout = kinds.layout
    lying = _lay_out(kinds, choice)
    height = _heights(choice, lying)
    order = sorted(
        lying,
        key=lambda k: (
            height[k],
            len(lying[k].first),
            _corner(layout, lying[k].first),
            lying[k].first,
        ),
    )
    number = {k: i for i, k in enumerate(order)}
    parts = tuple(_part(kinds, choice, k, lying, number) for k in order)
    rows = tuple(tuple(number.get(kinds.kind(cell)[0], -1) for cell in row) for row in grid.rows)
    rounds = tuple(
        tuple(number[k] for k in order if height[k] == level)
        for level in range(1, max(height.values()) + 1)
    )
    return Assembly(parts, rows, rounds)


@dataclass(frozen=True, slots=True)
class _Motion:
    """A turn, and the shift after it, that bring one place of a kind onto another. `order` says
    which patch of the one comes onto the first of the other, onto the second and so on."""

    turn: Fraction
    shift: Point
    order: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class _Lying:
    """A used kind in the block: its places, patch by patch as its parts are laid; the first of
    them; its own frame; and by (kind, side) the motions onto what is left of larger kinds."""

    places: list[Place]
    first: Place
    frame: _Frame
    motions: dict[tuple[int, int], _Motion]


def _lay_out(kinds: Kinds, choice: Choice) -> dict[int, _Lying]:
    """How each used kind lies, the larger before those it is made of."""
    lying: dict[int, _Lying] = {}
    wanted: dict[int, list[tuple[int, int]]] = {0: []}
    todo = sorted(range(len(choice.cut)), key=lambda k: kinds.kinds[k].size, reverse=True)
    for k in todo:
        if k not in wanted:
            continue
        mine = kinds.kinds[k].code.orders[0]
        inside: dict[tuple[int, int], tuple[Place, list[Place]]] = {}
        for parent, side in wanted[k]:
            cut = choice.cut[parent]
            assert cut is not None
            here = kinds.kind(*cut.apart[side])[1]
            position = {f: i for i, f in enumerate(kinds.kinds[parent].code.orders[0])}
            at = [position[f] for f in here]
            inside[(parent, side)] = (
                here,
                [tuple(place[i] for i in at) for place in lying[parent].places],
            )
        found = [place for _, places in inside.values() for place in places] or [mine]
        first = min(found, key=lambda place: _corner(kinds.layout, place))
        frame = _frame(kinds, k, first)
        # A region that is its own turned self can be laid in several ways that look alike. What it
        # is made of cannot, so the way that is taken here is kept in the places.
        motions: dict[tuple[int, int], _Motion] = {}
        laid: list[Place] = []
        for (parent, side), (here, places) in inside.items():
            outer = lying[parent].frame.turn
            best = min(
                _motions(kinds, k, mine, here),
                key=lambda m: ((outer + m.turn - frame.turn) % 1, m.shift),
            )
            motions[(parent, side)] = best
            back = sorted(range(len(best.order)), key=best.order.__getitem__)
            laid += [tuple(place[i] for i in back) for place in places]
        lying[k] = _Lying(laid or [mine], first, frame, motions)
        cut = choice.cut[k]
        for side, child in enumerate(cut.kinds if cut else ()):
            wanted.setdefault(child, []).append((k, side))
    return lying


def _corner(layout: Layout, faces: Iterable[int]) -> tuple[float, float]:
    lows = [layout.low[f] for f in faces]
    return min(low[1] for low in lows), min(low[0] for low in lows)


def _heights(choice: Choice, places: Iterable[int]) -> dict[int, int]:
    height: dict[int, int] = {}

    def of(k: int) -> int:
        if k not in height:
            cut = choice.cut[k]
            height[k] = 0 if cut is None else 1 + max(of(c) for c in cut.kinds)
        return height[k]

    # Deep plans (a log cabin of a thousand rounds) must not exhaust the stack.
    todo = [0]
    while todo:
        cut = choice.cut[todo[-1]]
        waiting = [c for c in (cut.kinds if cut else ()) if c not in height]
        if waiting:
            todo.extend(waiting)
        else:
            of(todo.pop())
    return {k: height[k] for k in places}


@dataclass(frozen=True, slots=True)
class _Frame:
    """How a part's own frame lies against its kind's specimen: turned, then shifted. `outline` is
    the part's, in its own frame."""

    turn: Fraction
    shift: Point
    outline: tuple[Point, ...]

    def of(self, p: Point) -> Point:
        """A point of the specimen in the part's own frame."""
        return placed(p, self.turn, self.shift)


def _frame(kinds: Kinds, k: int, first: Place) -> _Frame:
    """The frame in which a part lies as at its first place, its bounding box at (0, 0)."""
    turn = min(m.turn for m in _motions(kinds, k, kinds.kinds[k].code.orders[0], first))
    corners = [turned(p, turn) for p in outline_of(kinds.layout, kinds.kinds[k].specimen)]
    # Told from floats: fractions are slow to compare.
    low = min(corners, key=lambda p: float(p[0]))[0], min(corners, key=lambda p: float(p[1]))[1]
    shift = (-low[0], -low[1])
    if not any(low):
        return _Frame(turn, shift, tuple(corners))
    return _Frame(turn, shift, tuple((x + shift[0], y + shift[1]) for x, y in corners))


def _part(
    kinds: Kinds,
    choice: Choice,
    k: int,
    lying: Mapping[int, _Lying],
    number: Mapping[int, int],
) -> Part:
    layout, kind, frame = kinds.layout, kinds.kinds[k], lying[k].frame
    uses = len(lying[k].places)
    cut = choice.cut[k]
    if cut is None:
        face = kind.code.orders[0][0]
        corners = tuple(frame.of(p) for p in layout.points(face))
        return Part(Leaf(layout.shapes[layout.shape[face]].fabric, corners), corners, uses)
    sides = []
    for side, child in enumerate(cut.kinds):
        its, motion = lying[child].frame, lying[child].motions[(k, side)]
        turn = (frame.turn + motion.turn - its.turn) % 1
        # A point of the child's frame goes back to its specimen, over to here, into my frame.
        back = turned((-its.shift[0], -its.shift[1]), (-its.turn) % 1)
        there = placed(back, motion.turn, motion.shift)
        sides.append(Placed(number[child], turn, frame.of(there)))
    run = [layout.block.vertices[v] for v in cut.seam.run]
    ends = [
        _half_way(run[0], run[1]) if cut.seam.short[0] else run[0],
        _half_way(run[-2], run[-1]) if cut.seam.short[1] else run[-1],
    ]
    turns = [
        layout.block.vertices[v]
        for a, v, b in zip(cut.seam.run, cut.seam.run[1:], cut.seam.run[2:], strict=False)
        if layout.straight.get((a, v)) != (v, b)
    ]
    seam = tuple(frame.of(p) for p in (run[0], *turns, run[-1]))
    sewn_points = [frame.of(p) for p in (ends[0], *turns, ends[1])]
    sewn = tuple(pairwise(sewn_points))
    if len(sides) == 1:
        return Part(Finish(sides[0], sewn), frame.outline, uses)
    # The seam runs to the right, or straight up: what lies above it, or left of it, is its left.
    dx, dy = seam[-1][0] - seam[0][0], seam[-1][1] - seam[0][1]
    if not (dx > SAME or (abs(dx) <= SAME and dy < 0)):
        seam = tuple(reversed(seam))
        sewn = tuple((b, a) for a, b in reversed(sewn))
        on_right = 1 - _right_of(layout, cut.seam.run, cut.apart[0][0])
    else:
        on_right = _right_of(layout, cut.seam.run, cut.apart[0][0])
    left, right = (sides[1], sides[0]) if on_right else (sides[0], sides[1])
    return Part(Join(left, right, seam, sewn, seam[1:-1]), frame.outline, uses)


def _right_of(layout: Layout, run: Sequence[int], region: Region) -> int:
    """1 if the region lies right of the first edge of the run, else 0."""
    return int(layout.map.right_of((run[0], run[1])) in region)


def _half_way(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


_NOWHERE = (Fraction(0), Fraction(0))


def _motions(kinds: Kinds, k: int, source: Place, target: Place) -> list[_Motion]:
    """Every motion that brings one place of a kind onto another: several if the kind is its own
    turned self."""
    layout = kinds.layout
    kind = kinds.kinds[k]
    found: list[tuple[Fraction, Point, Point, tuple[int, ...]]]
    turns = layout.sides[source[0]] // layout.period[source[0]] if len(source) == 1 else 0
    if source == target and max(turns, len(kind.code.orders)) == 1:
        return [_Motion(Fraction(0), _NOWHERE, tuple(range(len(source))))]
    if len(source) == 1:
        a, b = layout.points(source[0]), layout.points(target[0])
        period = layout.shapes[layout.shape[source[0]]].period
        shifts = range(0, len(a), period)
        found = [(_turn(a[0], a[1], b[i], b[(i + 1) % len(b)]), a[0], b[i], (0,)) for i in shifts]
    else:
        position = {f: i for i, f in enumerate(kind.code.orders[0])}
        found = []
        for order in kind.code.orders:
            again = tuple(position[f] for f in order)
            # The patch farthest from the first gives the surest direction.
            x, y = layout.middle[source[again[0]]]
            far = max(
                range(1, len(again)),
                key=lambda i: (
                    math.hypot(
                        layout.middle[source[again[i]]][0] - x,
                        layout.middle[source[again[i]]][1] - y,
                    ),
                    -i,
                ),
            )
            a0, a1 = layout.exact_middle(source[again[0]]), layout.exact_middle(source[again[far]])
            b0, b1 = layout.exact_middle(target[0]), layout.exact_middle(target[far])
            found.append((_turn(a0, a1, b0, b1), a0, b0, again))
    motions = []
    for turn, p, q, again in found:
        moved = turned(p, turn)
        motions.append(_Motion(turn, (q[0] - moved[0], q[1] - moved[1]), again))
    return motions


def _turn(a0: Point, a1: Point, b0: Point, b1: Point) -> Fraction:
    """The share of a full turn, clockwise as seen, that takes direction a0→a1 to b0→b1."""
    a = (a1[0] - a0[0], a1[1] - a0[1])
    b = (b1[0] - b0[0], b1[1] - b0[1])
    for quarter in range(4):
        turn = Fraction(quarter, 4)
        if same_point(turned(a, turn), b):
            return turn
    angle = math.atan2(float(b[1]), float(b[0])) - math.atan2(float(a[1]), float(a[0]))
    share = (angle / (2 * math.pi)) % 1.0
    near = round(share * ROUND_TURNS)
    if abs(share * ROUND_TURNS - near) <= _HAIR * ROUND_TURNS:
        return Fraction(near % ROUND_TURNS, ROUND_TURNS)
    return Fraction(share)


def outline_of(layout: Layout, region: Region) -> tuple[Point, ...]:
    """The true corners of a region's edge, clockwise as seen, from the upper left one on."""
    face = layout.map.face
    onward: dict[int, int] = {}
    for f in region:
        loop = layout.map.faces[f]
        for v, w in zip(loop, loop[1:] + loop[:1], strict=True):
            if face.get((w, v), -1) not in region:
                onward[v] = w
    vertices = layout.block.vertices
    start = min(onward, key=lambda v: (layout.spots[v][1], layout.spots[v][0]))
    loop_ = [start]
    while onward[loop_[-1]] != start:
        loop_.append(onward[loop_[-1]])
    return tuple(vertices[v] for v in true_corners(layout.spots, loop_))
