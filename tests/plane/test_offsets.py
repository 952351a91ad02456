from __future__ import annotations

import math
from fractions import Fraction

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from seamproof.plane.model import Point
from seamproof.plane.offsets import offset
from seamproof.plane.predicates import area, turned

F = Fraction
Q = F(1, 4)


def points(*pairs: tuple[float | str | F, float | str | F]) -> tuple[Point, ...]:
    return tuple((F(x), F(y)) for x, y in pairs)


def test_upright_sides_move_exactly() -> None:
    third = F(1, 3)
    square = points((0, 0), (third, 0), (third, third), (0, third))
    assert offset(square, Q) == points(
        (-Q, -Q), (third + Q, -Q), (third + Q, third + Q), (-Q, third + Q)
    )


def test_sides_of_fractional_length_move_exactly() -> None:
    # 3, 4, 5: its slanted side has a length that is a fraction.
    raw = offset(points((0, 0), (3, 0), (3, 4)), Q)
    assert raw == points((F(-1, 2), -Q), (F(13, 4), -Q), (F(13, 4), F(19, 4)))


def test_corner_k_belongs_to_corner_k() -> None:
    polygon = points((4, 0), (4, 4), (0, 4), (0, 0))
    for near, far in zip(polygon, offset(polygon, Q), strict=True):
        assert math.dist(near, far) == pytest.approx(math.sqrt(2) / 4)


def test_a_corner_that_turns_in_is_mitred_too() -> None:
    ell = points((0, 0), (4, 0), (4, 2), (2, 2), (2, 4), (0, 4))
    assert offset(ell, Q)[3] == (F(9, 4), F(9, 4))


def test_a_point_on_a_straight_side_moves_outwards() -> None:
    polygon = points((0, 0), (2, 0), (4, 0), (4, 4), (0, 4))
    assert offset(polygon, Q)[1] == (F(2), -Q)


def test_two_corners_in_one_place_are_refused() -> None:
    with pytest.raises(ValueError, match="are one"):
        offset(points((0, 0), (0, 0), (1, 1)), Q)


def test_the_long_point_of_a_diamond_is_kept() -> None:
    # A 45 degree diamond: its sharp corner moves out by s / sin(22.5 degrees).
    side = 4
    x, y = side + side / math.sqrt(2), side / math.sqrt(2)
    diamond = points((0, 0), (side, 0), (x, y), (side / math.sqrt(2), y))
    moved = math.dist((0, 0), [float(v) for v in offset(diamond, Q)[0]])
    assert moved == pytest.approx(0.25 / math.sin(math.radians(22.5)), abs=1e-5)


angles = st.integers(0, 47).map(lambda n: F(n, 48))
sizes = st.integers(4, 200).map(lambda n: F(n, 16))


@given(sizes, sizes, angles, st.sampled_from([F(1, 8), F(1, 4), F(75, 254)]))
def test_every_side_moves_by_the_allowance(w: F, h: F, turn: F, by: F) -> None:
    polygon = tuple(turned(p, turn) for p in points((0, 0), (w, 0), (w + h, h), (0, h)))
    raw = offset(polygon, by)
    assert area(raw) > area(polygon)
    for k in range(4):
        side = shapely.LineString([[float(v) for v in raw[i % 4]] for i in (k, k + 1)])
        line = shapely.LineString([[float(v) for v in polygon[i % 4]] for i in (k, k + 1)])
        assert side.distance(line) == pytest.approx(float(by), abs=1e-5)
