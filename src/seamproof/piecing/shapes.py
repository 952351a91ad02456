"""Which patches are alike, and how neighbours lie against each other.

Two patches are alike if they have the same fabric and one can be turned (never mirrored) onto the
other. How a neighbour lies is said without coordinates: which side of this patch, which side of
that one, and how far along. So the same unit is recognised wherever and however it lies.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import NamedTuple

from seamproof.draft.model import Block
from seamproof.length.rounding import SAME
from seamproof.plane.model import Line, Point
from seamproof.plane.predicates import same_point, side
from seamproof.plane.subdivision import Dart, Subdivision, straight_pairs, subdivide

Spot = tuple[float, float]

Edge = tuple[int, int]
"""An edge by its vertices, the lower number first."""

ALIKE = 4 * float(SAME)
"""Sides this close in length, in inches, are equal: each end may be off by `SAME`, both ways."""


def alike(values: Iterable[float], tolerance: float) -> dict[float, int]:
    """Numbers the values from the smallest up, equal numbers for values that are neighbours within
    a tolerance. Numbers follow the values, not the order in which they come, so that a turned
    block is numbered alike.

    >>> alike([3.0, 1.0, 3.00001], 0.001)
    {1.0: 0, 3.0: 1, 3.00001: 1}
    >>> alike([], 0.001)
    {}
    """
    numbers: dict[float, int] = {}
    number, before = -1, -math.inf
    for value in sorted(set(values)):
        if value - before > tolerance:
            number += 1
        numbers[value] = number
        before = value
    return numbers


@dataclass(frozen=True, slots=True)
class Shape:
    """A kind of patch: its fabric, its number of sides, and after how many sides it repeats."""

    fabric: str
    sides: int
    period: int


class Contact(NamedTuple):
    """A run of seam seen from one patch: on its side `side`, the patch `face` with its side
    `other`, `offset` numbering how far along. `fixed` numbers what the maker fixed there."""

    side: int
    face: int
    other: int
    offset: int
    fixed: int = 0


@dataclass(frozen=True)
class Layout:
    """A block as its map, with patches sorted into shapes and neighbours into contacts.

    `corners[f]` are the vertex numbers of the true corners of patch f, starting with the corner
    that its shape starts with; side k runs from corner k to corner k + 1. `shape[f]` numbers its
    `Shape`; `contacts[f]` are in order round the patch. `spots` are the vertices as floats, for
    what is only looked at; what is kept comes from `block.vertices`.
    """

    block: Block
    map: Subdivision
    straight: dict[Dart, Dart]
    shapes: tuple[Shape, ...]
    shape: tuple[int, ...]
    corners: tuple[tuple[int, ...], ...]
    contacts: tuple[tuple[Contact, ...], ...]
    spots: tuple[Spot, ...]

    @cached_property
    def asked_last(self) -> tuple[frozenset[Edge], ...]:
        """The edges of each seam line that the maker wants sewn last, the very last line first."""
        edges = self.map.inner_edges()
        vertices = self.block.vertices
        return tuple(
            frozenset((a, b) for a, b in edges if _on(line, vertices[a]) and _on(line, vertices[b]))
            for fixing in self.block.fixings
            if fixing.way == "last" and (line := fixing.line) is not None
        )

    @cached_property
    def kept_whole(self) -> dict[int, tuple[tuple[int, Edge, Edge], ...]]:
        """Where a seam line that the maker fixed runs on over a vertex: the number of the fixing,
        and the two edges of the line that meet there."""
        found: dict[int, list[tuple[int, Edge, Edge]]] = {}
        edges = self.map.inner_edges() if self.block.fixings else []
        vertices = self.block.vertices
        for number, fixing in enumerate(self.block.fixings):
            if fixing.way == "last" or (line := fixing.line) is None:
                continue
            ends: dict[int, list[Edge]] = {}
            for a, b in edges:
                if _on(line, vertices[a]) and _on(line, vertices[b]):
                    ends.setdefault(a, []).append((a, b))
                    ends.setdefault(b, []).append((a, b))
            for v, meeting in ends.items():
                if len(meeting) == 2:
                    found.setdefault(v, []).append((number, meeting[0], meeting[1]))
        return {v: tuple(lines) for v, lines in found.items()}

    @cached_property
    def sides(self) -> tuple[int, ...]:
        """Per patch its number of sides."""
        return tuple(self.shapes[shape].sides for shape in self.shape)

    @cached_property
    def period(self) -> tuple[int, ...]:
        """Per patch after how many sides its shape repeats."""
        return tuple(self.shapes[shape].period for shape in self.shape)

    @cached_property
    def low(self) -> tuple[Spot, ...]:
        """Per patch the upper left corner of its bounding box."""
        return tuple(
            (min(self.spots[v][0] for v in c), min(self.spots[v][1] for v in c))
            for c in self.corners
        )

    @cached_property
    def middle(self) -> tuple[Spot, ...]:
        """Per patch the mean of its corners."""
        return tuple(
            (
                sum(self.spots[v][0] for v in c) / len(c),
                sum(self.spots[v][1] for v in c) / len(c),
            )
            for c in self.corners
        )

    @cached_property
    def rim(self) -> frozenset[int]:
        """The vertices on the edge of the block."""
        return frozenset(v for dart in self.map.border() for v in dart)

    @cached_property
    def _middles(self) -> dict[int, Point]:
        return {}

    def exact_middle(self, f: int) -> Point:
        """The mean of a patch's corners, exact."""
        if f not in self._middles:
            corners = self.points(f)
            count = len(corners)
            x = sum((p[0] for p in corners), Fraction(0)) / count
            y = sum((p[1] for p in corners), Fraction(0)) / count
            self._middles[f] = (x, y)
        return self._middles[f]

    def points(self, f: int) -> tuple[Point, ...]:
        """The true corners of a patch, exact."""
        return tuple(self.block.vertices[v] for v in self.corners[f])


def lay_out(block: Block) -> Layout:
    """The layout of a block. Time is near-linear in the number of patches."""
    map_ = subdivide(block.vertices, [patch.corners for patch in block.patches])
    spots = tuple((float(x), float(y)) for x, y in block.vertices)
    outlines = [true_corners(spots, patch.corners) for patch in block.patches]
    sides = [_sides(spots, outline) for outline in outlines]
    shortest = min((length for marks in sides for length, _ in marks), default=1.0)
    lengths = alike((length for marks in sides for length, _ in marks), ALIKE)
    bends = alike((bend for marks in sides for _, bend in marks), ALIKE / shortest)
    keys: list[tuple[str, tuple[tuple[int, int], ...]]] = []
    corners: list[tuple[int, ...]] = []
    for patch, outline, marks in zip(block.patches, outlines, sides, strict=True):
        numbered = [(lengths[length], bends[bend]) for length, bend in marks]
        turns = [tuple(numbered[i:] + numbered[:i]) for i in range(len(numbered))]
        start = min(range(len(turns)), key=turns.__getitem__)
        keys.append((patch.fabric, turns[start]))
        corners.append(tuple(outline[start:] + outline[:start]))
    listed = sorted(set(keys))
    number = {key: i for i, key in enumerate(listed)}
    return Layout(
        block=block,
        map=map_,
        straight=straight_pairs(spots, map_.inner_edges()),
        shapes=tuple(Shape(fabric, len(marks), _period(marks)) for fabric, marks in listed),
        shape=tuple(number[key] for key in keys),
        corners=tuple(corners),
        contacts=_contacts(map_, spots, corners, fixed_edges(block, map_)),
        spots=spots,
    )


def true_corners(spots: Sequence[Spot], loop: Sequence[int]) -> list[int]:
    """The vertices of a loop at which it does not run straight on."""
    found = []
    for i, v in enumerate(loop):
        (ax, ay), (px, py) = spots[loop[i - 1]], spots[v]
        bx, by = spots[loop[(i + 1) % len(loop)]]
        off = abs((bx - ax) * (py - ay) - (by - ay) * (px - ax))
        if off > float(SAME) * math.hypot(bx - ax, by - ay):
            found.append(v)
    return found


def _sides(spots: Sequence[Spot], outline: Sequence[int]) -> list[tuple[float, float]]:
    """Per side its length and the bend at the corner where it starts, in radians."""
    vectors = []
    for i, v in enumerate(outline):
        (ax, ay), (bx, by) = spots[v], spots[outline[(i + 1) % len(outline)]]
        vectors.append((bx - ax, by - ay))
    marks = []
    px, py = vectors[-1]
    for x, y in vectors:
        marks.append((math.hypot(x, y), math.atan2(px * y - py * x, px * x + py * y)))
        px, py = x, y
    return marks


def _period(marks: tuple[tuple[int, int], ...]) -> int:
    return next(p for p in range(1, len(marks) + 1) if marks[p:] + marks[:p] == marks)


def fixed_edges(block: Block, map_: Subdivision) -> dict[Dart, int]:
    """What the maker fixed on each edge: equal numbers for what is equal seen from a dart's right.

    Parts are equal only if what is fixed in them is equal, so this is part of what a patch sees of
    its neighbours. 0 and absent mean nothing.
    """
    ways = {"open": 1, "towards": 2, "spin": 4, "last": 6}
    found: dict[Dart, int] = {}
    edges = map_.inner_edges() if block.fixings else []
    for fixing in block.fixings:
        for a, b in edges:
            p, q = block.vertices[a], block.vertices[b]
            if fixing.line is not None:
                if not (_on(fixing.line, p) and _on(fixing.line, q)):
                    continue
            elif fixing.crossing is None or not (
                same_point(fixing.crossing, p) or same_point(fixing.crossing, q)
            ):
                continue
            mine = theirs = ways[fixing.way]
            if fixing.towards is not None and side(p, q, fixing.towards) < 0:
                mine += 1
            elif fixing.towards is not None:
                theirs += 1
            elif fixing.clockwise:
                mine = theirs = mine + 1
            found[(a, b)], found[(b, a)] = mine, theirs
    return found


def _on(line: Line, p: Point) -> bool:
    a, b = line
    along = (p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])
    whole = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2
    slack = float(SAME) * math.sqrt(float(whole))
    return side(a, b, p) == 0 and -slack <= along <= whole + slack


def _contacts(
    map_: Subdivision,
    spots: Sequence[Spot],
    corners: Sequence[tuple[int, ...]],
    fixed: dict[Dart, int],
) -> tuple[tuple[Contact, ...], ...]:
    place: dict[Dart, tuple[int, float, float]] = {}
    for face, loop in enumerate(map_.faces):
        at = {v: k for k, v in enumerate(corners[face])}
        # Walk from the first corner so that every dart knows its side and how far along it starts.
        begin = loop.index(corners[face][0])
        turn, along = -1, 0.0
        ordered = loop[begin:] + loop[:begin]
        for v, w in zip(ordered, ordered[1:] + ordered[:1], strict=True):
            if v in at:
                turn, along = at[v], 0.0
            (ax, ay), (bx, by) = spots[v], spots[w]
            length = math.hypot(bx - ax, by - ay)
            place[(v, w)] = (turn, along, length)
            along += length
    seen: list[list[tuple[int, int, int, float, int]]] = []
    for loop in map_.faces:
        mine: dict[tuple[int, int, int], tuple[int, int, int, float, int]] = {}
        for dart in zip(loop, loop[1:] + loop[:1], strict=True):
            back = (dart[1], dart[0])
            other = map_.right_of(back)
            if other >= 0:
                turn, along, length = place[dart]
                its_turn, its_along, _ = place[back]
                # Where the neighbour's side begins, measured along mine from my corner.
                reach = along + length + its_along
                key = (turn, other, its_turn)
                before = mine.get(key, (*key, reach, 0))
                mine[key] = (*key, before[3], max(before[4], fixed.get(dart, 0)))
        seen.append(list(mine.values()))
    offsets = alike((contact[3] for contacts in seen for contact in contacts), ALIKE)
    found = []
    for contacts in seen:
        contacts.sort(key=lambda c: (c[0], c[3]))
        found.append(tuple(Contact(c[0], c[1], c[2], offsets[c[3]], c[4]) for c in contacts))
    return tuple(found)
