from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from seamproof.plane.faces import clipped, crossing, faces
from seamproof.plane.model import Point
from seamproof.plane.predicates import area, cross

whole = st.integers(-9, 9).map(Fraction)
spots = st.tuples(whole, whole)


@given(spots, spots, spots, spots)
def test_a_crossing_lies_on_both_lines(a: Point, b: Point, c: Point, d: Point) -> None:
    point = crossing((a, b), (c, d))
    assert point == crossing((b, a), (c, d))
    assert (point is None) == (crossing((c, d), (a, b)) is None)
    if point is not None:
        assert cross(a, b, point) == cross(c, d, point) == 0
        assert min(a[0], b[0]) <= point[0] <= max(a[0], b[0])
        assert min(c[1], d[1]) <= point[1] <= max(c[1], d[1])


def test_lines_that_touch_or_miss() -> None:
    zero, two, four = Fraction(0), Fraction(2), Fraction(4)
    level = ((zero, zero), (four, zero))
    assert crossing(level, ((two, zero), (two, four))) == (two, zero)
    assert crossing(level, ((two, two), (two, four))) is None
    assert crossing(level, level) is None


@given(spots, spots)
def test_what_is_clipped_lies_in_the_box_and_on_the_line(a: Point, b: Point) -> None:
    size = (Fraction(5), Fraction(3))
    part = clipped((a, b), size)
    if part is not None:
        for p in part:
            assert 0 <= p[0] <= 5
            assert 0 <= p[1] <= 3
            assert cross(a, b, p) == 0


def test_faces_of_parts_that_do_not_touch() -> None:
    square = [(0, 0), (9, 0), (9, 9), (0, 9), (3, 3), (6, 3), (6, 6)]
    points = [(Fraction(x), Fraction(y)) for x, y in square]
    loops = faces(points, [(0, 1), (1, 2), (2, 3), (3, 0), (4, 5), (5, 6), (6, 4)])
    areas = sorted(area([points[v] for v in loop]) for loop in loops)
    assert areas == [-81, Fraction(-9, 2), Fraction(9, 2), 81]
