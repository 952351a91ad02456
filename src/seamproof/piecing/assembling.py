"""From chosen cuts to a plan: every kind of region becomes a part in its own frame."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from seamproof.piecing.choosing import Choice
from seamproof.piecing.cuts import Grid, Kinds
from seamproof.piecing.model import Join, Leaf, Part
from seamproof.piecing.regions import Region
from seamproof.piecing.shapes import Layout, true_corners
from seamproof.plane.model import Placed, Point
from seamproof.plane.predicates import same_point, turned

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
    places = _places(kinds, choice)
    first = {k: min(found, key=lambda place: _corner(layout, place)) for k, found in places.items()}
    height = _heights(choice, places)
    order = sorted(
        places, key=lambda k: (height[k], len(first[k]), _corner(layout, first[k]), first[k])
    )
    number = {k: i for i, k in enumerate(order)}
    parts = tuple(
        _part(kinds, choice, k, first, number, uses=len(places[k])) for k in order
    )
    rows = tuple(
        tuple(number.get(kinds.kind(cell)[0], -1) for cell in row) for row in grid.rows
    )
    rounds = tuple(
        tuple(number[k] for k in order if height[k] == level)
        for level in range(1, max(height.values()) + 1)
    )
    return Assembly(parts, rows, rounds)


def _places(kinds: Kinds, choice: Choice) -> dict[int, list[Place]]:
    """Where each used kind lies in the block, in a fixed order."""
    places: dict[int, list[Place]] = {0: [kinds.kinds[0].code.orders[0]]}
    todo = sorted(
        (k for k, cut in enumerate(choice.cut) if cut is not None),
        key=lambda k: -len(kinds.kinds[k].specimen),
    )
    for k in todo:
        cut = choice.cut[k]
        if cut is None or k not in places:
            continue
        position = {f: i for i, f in enumerate(kinds.kinds[k].code.orders[0])}
        for region, child in zip(cut.apart, cut.kinds, strict=True):
            inside = [position[f] for f in kinds.kind(region)[1]]
            places.setdefault(child, []).extend(
                tuple(place[i] for i in inside) for place in places[k]
            )
    return places


def _corner(layout: Layout, faces: Iterable[int]) -> tuple[float, float]:
    lows = [layout.low[f] for f in faces]
    return min(low[1] for low in lows), min(low[0] for low in lows)


def _origin(layout: Layout, faces: Place) -> Point:
    """The upper left corner of the bounding box of a place, exact."""
    left = min(faces, key=lambda f: layout.low[f][0])
    top = min(faces, key=lambda f: layout.low[f][1])
    return min(p[0] for p in layout.points(left)), min(p[1] for p in layout.points(top))


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


def _part(
    kinds: Kinds,
    choice: Choice,
    k: int,
    first: dict[int, Place],
    number: dict[int, int],
    *,
    uses: int,
) -> Part:
    layout, place = kinds.layout, first[k]
    origin = _origin(layout, place)
    cut = choice.cut[k]
    if cut is None:
        corners = tuple(_less(p, origin) for p in layout.points(place[0]))
        return Part(Leaf(layout.shapes[layout.shape[place[0]]].fabric, corners), corners, uses)
    position = {f: i for i, f in enumerate(kinds.kinds[k].code.orders[0])}
    sides: list[tuple[Region, Placed]] = []
    for region, child in zip(cut.apart, cut.kinds, strict=True):
        inside = [position[f] for f in kinds.kind(region)[1]]
        here = tuple(place[i] for i in inside)
        turn, at = _motion(kinds, child, first[child], here)
        shift = turned(_origin(layout, first[child]), turn)
        sides.append(
            (
                frozenset(here),
                Placed(
                    number[child],
                    turn,
                    (at[0] + shift[0] - origin[0], at[1] + shift[1] - origin[1]),
                ),
            )
        )
    run, left = seam_between(layout, sides[0][0], sides[1][0])
    one, two = (sides[0], sides[1]) if left == 0 else (sides[1], sides[0])
    seam = tuple(_less(p, origin) for p in run)
    outline = tuple(_less(p, origin) for p in outline_of(layout, frozenset(place)))
    sewn = tuple(zip(seam, seam[1:], strict=False))
    return Part(Join(one[1], two[1], seam, sewn, seam[1:-1]), outline, uses)


def _less(p: Point, origin: Point) -> Point:
    return (p[0] - origin[0], p[1] - origin[1])


def _motion(kinds: Kinds, k: int, source: Place, target: Place) -> tuple[Fraction, Point]:
    """The smallest turn, and the shift after it, that bring one place of a kind onto another.

    A region that is its own turned self has several; the smallest is the one a maker expects.
    """
    layout = kinds.layout
    kind = kinds.kinds[k]
    if len(source) == 1:
        a, b = layout.points(source[0]), layout.points(target[0])
        period = layout.shapes[layout.shape[source[0]]].period
        shifts = range(0, len(a), period)
        found = [(_turn(a[0], a[1], b[i], b[(i + 1) % len(b)]), a[0], b[i]) for i in shifts]
    else:
        position = {f: i for i, f in enumerate(kind.code.orders[0])}
        found = []
        for order in kind.code.orders:
            again = [position[f] for f in order]
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
            a0, a1 = _middle(layout, source[again[0]]), _middle(layout, source[again[far]])
            b0, b1 = _middle(layout, target[0]), _middle(layout, target[far])
            found.append((_turn(a0, a1, b0, b1), a0, b0))
    turn, p, q = min(found)
    moved = turned(p, turn)
    return turn, (q[0] - moved[0], q[1] - moved[1])


def _middle(layout: Layout, f: int) -> Point:
    corners = layout.points(f)
    return (
        sum((p[0] for p in corners), Fraction(0)) / len(corners),
        sum((p[1] for p in corners), Fraction(0)) / len(corners),
    )


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


def seam_between(layout: Layout, a: Region, b: Region) -> tuple[tuple[Point, ...], int]:
    """The seam between two regions as a polyline, and which of them (0 or 1) lies left of it.

    The seam runs to the right, or straight up, so that what lies above it, or left of an upright
    seam, is on its left.
    """
    face = layout.map.face
    onward: dict[int, int] = {}
    for f in a:
        loop = layout.map.faces[f]
        for v, w in zip(loop, loop[1:] + loop[:1], strict=True):
            if face.get((w, v), -1) in b:
                onward[v] = w
    # Walked with region a on its right.
    start = next(iter(onward.keys() - set(onward.values())))
    run = [start]
    while run[-1] in onward:
        run.append(onward[run[-1]])
    bends = set(true_corners(layout.spots, run))
    inner = [v for v in run[1:-1] if v in bends]
    points = [layout.block.vertices[v] for v in (run[0], *inner, run[-1])]
    dx, dy = points[-1][0] - points[0][0], points[-1][1] - points[0][1]
    if dx > 0 or (dx == 0 and dy < 0):
        return tuple(points), 1
    return tuple(reversed(points)), 0


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
