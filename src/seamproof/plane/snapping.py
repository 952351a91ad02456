"""Bringing typed points together, once, at reading.

People type 3.51 where geometry means 3.5147, and the same point twice a little differently. Here
points that are one become one, vertices that lie on a side are put into it, and (in
:mod:`~seamproof.plane.straightening`) seams that were meant to run straight on do so. Whatever
already fits exactly does not move.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
import shapely

from seamproof.length.exact import MAX_DENOMINATOR, kept
from seamproof.plane.model import Point
from seamproof.plane.predicates import distance, reading_order

READ_SNAP = Fraction(1, 64)
"""How far, in inches, a typed point may lie from where it belongs. A number typed to two decimals
is off by up to 0.005, a point by up to 0.0071, so two typings of one point (or a point and the
side it lies on) are up to 0.0142 apart: just under 1/64. In a 12 in block this is about a
thousandth of its edge. It does not grow with the block, since typing does not."""


@dataclass(frozen=True)
class Snapped:
    """Vertices that the strings share by number.

    `strings` are the typed rows of points as vertex numbers, with every vertex that lies on one of
    their sides put in; `typed` are the same without those. `shift` says for each vertex how far,
    in inches, the farthest of its typed points lay from it.
    """

    vertices: tuple[Point, ...]
    strings: tuple[tuple[int, ...], ...]
    typed: tuple[tuple[int, ...], ...]
    shift: tuple[float, ...]


def snapped(
    strings: Sequence[Sequence[Point]],
    *,
    closed: bool = True,
    extra: Sequence[Point] = (),
    tolerance: Fraction = READ_SNAP,
) -> Snapped:
    """Strings of typed points, told which points are one and which lie on a side.

    Each string is a polygon (`closed`) or an open row of points; `extra` are points that belong to
    no string but shall be vertices. Vertices are numbered from the top down, from left to right.

    >>> F = Fraction
    >>> two = snapped([[(F(0), F(0)), (F(2), F(0)), (F(2), F(1)), (F(0), F(1))],
    ...                [(F(0), F(1)), (F("1.003"), F("1")), (F(1), F(2)), (F(0), F(2))]])
    >>> two.vertices[3], two.strings
    ((Fraction(1003, 1000), Fraction(1, 1)), ((0, 1, 4, 3, 2), (2, 3, 6, 5)))
    >>> snapped([]).vertices
    ()
    """
    points = sorted({p for s in strings for p in s} | set(extra), key=lambda p: (p[1], p[0]))
    if not points:
        return Snapped((), (), (), ())
    groups = _groups(points, tolerance)
    middles = [_middle([points[i] for i in group]) for group in groups]
    order = reading_order(middles)
    number: dict[Point, int] = {}
    for rank, g in enumerate(order):
        for i in groups[g]:
            number[points[i]] = rank
    vertices = tuple(middles[g] for g in order)
    shift = [0.0] * len(vertices)
    for p, v in number.items():
        if p != vertices[v]:
            shift[v] = max(shift[v], distance(p, vertices[v]))
    typed = tuple(_without_repeats([number[p] for p in s], closed) for s in strings)
    between = _on_sides(vertices, typed, closed, tolerance)
    full = tuple(_filled(s, between, closed) for s in typed)
    return Snapped(vertices, full, typed, tuple(shift))


def to_box(point: Point, size: Point, tolerance: Fraction = READ_SNAP) -> Point:
    """The point, moved onto an edge of the box from (0, 0) to `size` if it lies that near to it.

    >>> to_box((Fraction("0.01"), Fraction(2)), (Fraction(4), Fraction(4)))
    (Fraction(0, 1), Fraction(2, 1))
    """
    x, y = (
        next((edge for edge in (Fraction(0), full) if abs(value - edge) <= tolerance), value)
        for value, full in zip(point, size, strict=True)
    )
    return (x, y)


def as_array(points: Sequence[Point]) -> np.ndarray:
    """Points as floats, shape (n, 2)."""
    return np.array([(float(x), float(y)) for x, y in points], dtype=float).reshape(-1, 2)


def _groups(points: Sequence[Point], tolerance: Fraction) -> list[list[int]]:
    """Indices of points that are one point, each group in order, groups by their first."""
    spots = shapely.points(as_array(points))
    near = shapely.STRtree(spots).query(spots, predicate="dwithin", distance=float(tolerance))
    root = list(range(len(points)))

    def find(i: int) -> int:
        while root[i] != i:
            root[i] = root[root[i]]
            i = root[i]
        return i

    for i, j in sorted(zip(near[0].tolist(), near[1].tolist(), strict=True)):
        if i < j:
            a, b = find(i), find(j)
            root[max(a, b)] = min(a, b)
    groups: dict[int, list[int]] = {}
    for i in range(len(points)):
        groups.setdefault(find(i), []).append(i)
    return list(groups.values())


def _middle(points: Sequence[Point]) -> Point:
    x, y = (_simplest([p[axis] for p in points]) for axis in (0, 1))
    return (x, y)


def _simplest(values: Sequence[Fraction]) -> Fraction:
    """The value with the smallest denominator if it lies on a drafting grid, else the mean."""
    simplest = min(values, key=lambda v: (v.denominator, v))
    if simplest.denominator <= MAX_DENOMINATOR:
        return simplest
    return kept(sum(values, Fraction(0)) / len(values))


def _without_repeats(string: Sequence[int], closed: bool) -> tuple[int, ...]:
    result = [v for i, v in enumerate(string) if i == 0 or v != string[i - 1]]
    while closed and len(result) > 1 and result[0] == result[-1]:
        result.pop()
    return tuple(result)


def _sides(string: Sequence[int], closed: bool) -> list[tuple[int, int]]:
    ahead = [*string[1:], *string[:1]] if closed else string[1:]
    return list(zip(string, ahead, strict=False))


def _on_sides(
    vertices: Sequence[Point],
    strings: Sequence[Sequence[int]],
    closed: bool,
    tolerance: Fraction,
) -> dict[tuple[int, int], tuple[int, ...]]:
    """For each side (lower number first) the vertices that lie on it, from its first end on."""
    sides = sorted({(min(s), max(s)) for string in strings for s in _sides(string, closed)})
    sides = [s for s in sides if s[0] != s[1]]
    if not sides:
        return {}
    xy = as_array(vertices)
    ends = np.array(sides)
    lines = shapely.linestrings(xy[ends])
    tree = shapely.STRtree(shapely.points(xy))
    which, vertex = tree.query(lines, predicate="dwithin", distance=float(tolerance))
    a, b, p = xy[ends[which, 0]], xy[ends[which, 1]], xy[vertex]
    along = ((p - a) * (b - a)).sum(axis=1) / ((b - a) ** 2).sum(axis=1)
    inside = (vertex != ends[which, 0]) & (vertex != ends[which, 1]) & (along > 0) & (along < 1)
    found: dict[tuple[int, int], list[tuple[float, int]]] = {}
    for side, share, v in zip(
        which[inside].tolist(), along[inside].tolist(), vertex[inside].tolist(), strict=True
    ):
        found.setdefault(sides[side], []).append((share, v))
    return {side: tuple(v for _, v in sorted(on)) for side, on in found.items()}


def _filled(
    string: Sequence[int], between: dict[tuple[int, int], tuple[int, ...]], closed: bool
) -> tuple[int, ...]:
    if not between or len(string) < 2:
        return tuple(string)
    result: list[int] = []
    for a, b in _sides(string, closed):
        on = between.get((min(a, b), max(a, b)), ())
        result += [a, *(on if a < b else reversed(on))]
    if not closed:
        result.append(string[-1])
    return tuple(result)
