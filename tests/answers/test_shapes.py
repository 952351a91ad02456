from __future__ import annotations

import math
from fractions import Fraction

import pytest

from seamproof.answers.shapes import shape_name
from seamproof.length.exact import kept
from seamproof.plane.model import Point
from seamproof.plane.predicates import turned


def points(*pairs: tuple[float, float]) -> tuple[Point, ...]:
    return tuple((kept(x), kept(y)) for x, y in pairs)


HEXAGON = points(*((math.cos(k * math.pi / 3), math.sin(k * math.pi / 3)) for k in range(6)))

SHAPES = {
    "square": points((0, 0), (3, 0), (3, 3), (0, 3)),
    "rectangle": points((0, 0), (3, 0), (3, 0.1), (0, 0.1)),
    "triangle": points((0, 0), (3, 0), (0, 3)),
    "four-sided patch": points((0, 0), (3, 0), (4, 2), (1, 2)),
    "five-sided patch": points((0, 0), (3, 0), (3, 2), (1.5, 3), (0, 2)),
    "six-sided patch": HEXAGON,
    "10-sided patch": points(
        *((math.cos(k * math.pi / 5), math.sin(k * math.pi / 5)) for k in range(10))
    ),
}


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize("turn", [Fraction(0), Fraction(1, 8), Fraction(1, 4), Fraction(7, 48)])
def test_a_shape_keeps_its_name_at_any_turn(name: str, turn: Fraction) -> None:
    assert shape_name(tuple(turned(p, turn) for p in SHAPES[name])) == name


def test_a_kite_and_an_isosceles_trapezoid_are_no_rectangles() -> None:
    assert shape_name(points((2, 0), (3, 2), (2, 3), (1, 2))) == "four-sided patch"
    assert shape_name(points((1, 0), (2, 0), (3, 2), (0, 2))) == "four-sided patch"
