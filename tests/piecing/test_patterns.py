"""Corners cut off at 45 degrees: which of them make a snowball, and which do not."""

from __future__ import annotations

from fractions import Fraction

import pytest

from seamproof.piecing.patterns import patterns
from seamproof.plane.model import Polygon

F = Fraction


def corners_cut(width: int, height: int, legs: list[int]) -> tuple[Polygon, ...]:
    """The whole that is left, and the triangles, clockwise from the upper left corner."""
    corner = [(F(0), F(0)), (F(width), F(0)), (F(width), F(height)), (F(0), F(height))]
    whole, triangles = [], []
    for k, leg in enumerate(legs):
        here, ends = corner[k], []
        for to in (corner[k - 1], corner[(k + 1) % 4]):
            step = [(q > p) - (q < p) for p, q in zip(here, to, strict=True)]
            ends.append((here[0] + step[0] * leg, here[1] + step[1] * leg))
        whole += [p for p in ends if p not in whole]
        if leg:
            triangles.append((here, ends[1], ends[0]))
    return (tuple(whole), *triangles)


def roles(width: int, height: int, patches: tuple[Polygon, ...]) -> list[str]:
    found = [p for p in patterns(F(width), F(height), patches) if p.kind == "snowball"]
    return [role for pattern in found for role, _ in pattern.patches]


@pytest.mark.parametrize("legs", [[1, 1, 1, 1], [2, 1, 3, 1], [3, 3, 1, 1], [1, 5, 1, 0]])
def test_corners_of_any_legs_are_known_by_their_places(legs: list[int]) -> None:
    names = ("upper left", "upper right", "lower right", "lower left")
    there = [name for name, leg in zip(names, legs, strict=True) if leg]
    assert roles(6, 6, corners_cut(6, 6, legs)) == ["centre", *there]


@pytest.mark.parametrize("corner", range(4))
@pytest.mark.parametrize("size", [(6, 2), (2, 6)])
def test_a_corner_may_reach_to_the_next_one(corner: int, size: tuple[int, int]) -> None:
    legs = [2 if k == corner else 0 for k in range(4)]
    assert len(roles(*size, corners_cut(*size, legs))) == 2


def test_two_corners_may_meet_in_a_point() -> None:
    assert roles(4, 6, corners_cut(4, 6, [2, 2, 0, 0])) == ["centre", "upper left", "upper right"]
    assert len(roles(4, 4, corners_cut(4, 4, [1, 3, 1, 3]))) == 5


def test_corners_at_another_angle_are_no_snowball() -> None:
    whole = ((F(0), F(0)), (F(4), F(0)), (F(6), F(1)), (F(6), F(6)), (F(0), F(6)))
    assert roles(6, 6, (whole, ((F(4), F(0)), (F(6), F(0)), (F(6), F(1))))) == []


def test_a_triangle_on_a_side_is_no_corner() -> None:
    whole = ((F(0), F(0)), (F(2), F(0)), (F(3), F(1)), (F(4), F(0)), (F(6), F(0)), (F(6), F(6)))
    triangle = ((F(2), F(0)), (F(4), F(0)), (F(3), F(1)))
    assert roles(6, 6, ((*whole, (F(0), F(6))), triangle)) == []
