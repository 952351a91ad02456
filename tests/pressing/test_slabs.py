"""Layers counted in slabs, held to exact areas of intersections."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations
from math import comb

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import settings as running
from hypothesis import strategies as st

from seamproof.pressing.convexes import Convexes
from seamproof.pressing.slabs import Trapezoids, counted

Ring = tuple[tuple[Fraction, Fraction], ...]

CORNERS = st.tuples(st.integers(0, 12), st.integers(0, 12))


def hull(spots: Sequence[tuple[int, int]]) -> Ring:
    """The least convex polygon round points, clockwise as seen (y downwards); () if it is flat."""

    def half(some: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
        found: list[tuple[int, int]] = []
        for p in some:
            while len(found) > 1 and cross(found[-2], found[-1], p) <= 0:
                found.pop()
            found.append(p)
        return found[:-1]

    def cross(a: tuple[int, int], b: tuple[int, int], c: tuple[int, int]) -> int:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    some = sorted(set(spots))
    found = half(some) + half(some[::-1])
    return tuple((Fraction(x), Fraction(y)) for x, y in found) if len(found) > 2 else ()


HEAPS = st.lists(st.lists(CORNERS, min_size=3, max_size=6).map(hull).filter(bool), max_size=5)


def area(ring: Ring) -> Fraction:
    twice = Fraction(0)
    for i, (x, y) in enumerate(ring):
        u, v = ring[i - 1]
        twice += u * y - x * v
    return twice / 2


def common(one: Ring, other: Ring) -> Ring:
    """What two convex polygons share."""
    for i, (ux, uy) in enumerate(other):
        vx, vy = other[(i + 1) % len(other)]
        heights = [(vy - uy) * (x - ux) - (vx - ux) * (y - uy) for x, y in one]
        left = []
        for k, (x, y) in enumerate(one):
            (p, q), h, g = one[k - 1], heights[k], heights[k - 1]
            if h * g < 0:
                left.append((x + h / (h - g) * (p - x), y + h / (h - g) * (q - y)))
            if h <= 0:
                left.append((x, y))
        one = tuple(left)
    return one


def exact(heap: Sequence[Ring]) -> dict[int, Fraction]:
    """The area under each count of layers, by inclusion and exclusion."""
    shared = [Fraction(0)] * (len(heap) + 1)
    for n in range(1, len(heap) + 1):
        for some in combinations(heap, n):
            whole = some[0]
            for ring in some[1:]:
                whole = common(whole, ring)
            shared[n] += area(whole)
    return {
        k: sum(
            ((-1) ** (n - k) * comb(n, k) * shared[n] for n in range(k, len(shared))), Fraction()
        )
        for k in range(1, len(shared))
    }


def by_slabs(heaps: Sequence[Sequence[Ring]]) -> Trapezoids:
    rings = [tuple((float(x), float(y)) for x, y in ring) for heap in heaps for ring in heap]
    of = np.repeat(np.arange(len(heaps)), [len(heap) for heap in heaps])
    pieces = Convexes.of(rings)
    return counted(pieces.points, pieces.owner, of)


@given(heaps=st.lists(HEAPS, max_size=3))
@running(max_examples=60)
def test_areas_are_exact(heaps: list[list[Ring]]) -> None:
    found = by_slabs(heaps)
    for number, heap in enumerate(heaps):
        for layers, want in exact(heap).items():
            got = found.areas[(found.heap == number) & (found.layers == layers)].sum()
            assert got == pytest.approx(float(want), abs=1e-9), (number, layers)
    assert (found.layers > 0).all()
    assert (found.areas > 0).all()
    # A trapezoid whose sides cross by a step of the grid would break the picture of a top.
    assert shapely.is_valid(shapely.polygons(found.corners)).all()


def test_edges_that_cross_between_corners_are_divided_there() -> None:
    """Layers times area would come out right without: only the exact areas tell."""
    lying = hull([(0, 0), (8, 0), (0, 8)])
    standing = hull([(8, 8), (0, 8), (8, 0), (6, 0)])
    found = by_slabs([[lying, standing]])
    want = exact([lying, standing])
    assert {int(n) for n in found.layers} == {1, 2}
    assert found.areas[found.layers == 2].sum() == pytest.approx(float(want[2]), abs=1e-12)


def test_slivers_on_the_grid_are_nothing() -> None:
    pieces = Convexes.of(
        [((0.0, 0.0), (1.0, 1e-12), (1.0, 2e-12))] + [((0.0, 0.0), (1.0, 0.0), (0.0, 1.0))] * 2
    )
    found = counted(pieces.points, pieces.owner, np.zeros(3, dtype=np.int64))
    assert found.layers.tolist() == [2]
    assert found.areas.sum() == pytest.approx(0.5)


def test_heaps_do_not_meet() -> None:
    square = hull([(0, 0), (2, 0), (2, 2), (0, 2)])
    found = by_slabs([[square], [], [square, square]])
    assert found.heap.tolist() == [0, 2]
    assert found.layers.tolist() == [1, 2]


def test_edges_that_hardly_differ_cross_once() -> None:
    """Corners that are kept to a millionth of an inch: nothing is lost, and nothing counted twice
    but between the two lines."""
    e = 2.0**-20
    pieces = Convexes.of(
        [
            ((0.0, 0.0), (3.0 + e, 0.0), (3.0 - e, 6.0), (0.0, 6.0)),
            ((3.0 - e, 0.0), (6.0, 0.0), (6.0, 6.0), (3.0 + e, 6.0)),
        ]
    )
    found = counted(pieces.points, pieces.owner, np.zeros(2, dtype=np.int64))
    twice = found.areas[found.layers == 2].sum()
    assert twice == pytest.approx(3 * e, abs=1e-9)
    assert (found.layers * found.areas).sum() == pytest.approx(36.0, abs=1e-8)


def test_places_where_edges_meet_off_the_grid_can_be_drawn() -> None:
    """Rounded apart, two edges that meet would pass each other: no polygon, and no picture."""
    root = 2**0.5
    shifts = [k * root / 7 for k in range(1, 40)]
    straight = ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0))
    slanted = [((x, -1.0), (x + 5.0 * root, 4.0 * root), (x - 2.0, 6.0)) for x in shifts]
    pieces = Convexes.of([straight, *slanted])
    found = counted(pieces.points, pieces.owner, np.zeros(len(slanted) + 1, dtype=np.int64))
    faces = shapely.polygons(found.corners)
    assert shapely.is_valid(faces).all()
    whole = shapely.union_all(faces, grid_size=1e-9)
    assert whole.area == pytest.approx(float(found.areas.sum()), abs=1e-6)
