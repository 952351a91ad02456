from __future__ import annotations

from fractions import Fraction

import pytest

from seamproof.plane.model import Point
from seamproof.plane.snapping import READ_SNAP, snapped, to_box


def points(*pairs: tuple[object, object]) -> list[Point]:
    return [(Fraction(str(x)), Fraction(str(y))) for x, y in pairs]


def test_points_typed_a_little_differently_are_one_and_the_simplest_stays() -> None:
    left = points((0, 0), ("3.5", 0), ("3.5", 4), (0, 4))
    right = points(("3.501", 0), (8, 0), (8, 4), ("3.499", "4.001"))
    both = snapped([left, right])
    assert len(both.vertices) == 6
    assert both.vertices[1] == (Fraction(7, 2), 0)
    assert both.vertices[4] == (Fraction(7, 2), 4)
    assert both.shift[4] == pytest.approx(2**0.5 / 1000)
    assert both.shift[0] == 0


def test_points_a_little_farther_apart_stay_two() -> None:
    apart = READ_SNAP + Fraction(1, 1000)
    both = snapped(
        [points((0, 0), (2, 0), (2, 2)), [(apart, Fraction(0)), *points((5, 5), (1, 5))]]
    )
    assert len(both.vertices) == 6


def test_a_vertex_on_a_side_is_put_into_it_in_order() -> None:
    long = points((0, 0), (9, 0), (9, 1), (0, 1))
    short = [points((k, 1), (k + 3, 1), (k + 3, 2), (k, 2)) for k in (0, 3, 6)]
    both = snapped([long, *short])
    # The upper strip meets the lower row's corners from right to left along its lower side.
    assert [both.vertices[v][0] for v in both.strings[0]] == [0, 9, 9, 6, 3, 0]
    assert len(both.typed[0]) == 4


def test_a_side_walked_backwards_has_its_vertices_backwards() -> None:
    long = list(reversed(points((0, 0), (9, 0), (9, 1), (0, 1))))
    both = snapped([long], extra=points((3, 1), (6, 1)))
    assert [both.vertices[v][0] for v in both.strings[0]] == [0, 3, 6, 9, 9, 0]


def test_open_rows_are_not_closed() -> None:
    both = snapped([points((0, 0), (4, 0)), points((2, 0), (2, 3))], closed=False)
    assert [len(s) for s in both.strings] == [3, 2]


def test_repeated_points_are_dropped() -> None:
    both = snapped([points((0, 0), (2, 0), ("2.001", 0), (2, 2), (0, 0))])
    assert len(both.strings[0]) == 3


def test_points_on_no_grid_are_kept_to_the_mean() -> None:
    one, other = Fraction(2**0.5), Fraction(2**0.5) + Fraction(1, 2**10)
    both = snapped([[(one, Fraction(0)), (other, Fraction(0))]], closed=False)
    assert len(both.vertices) == 1
    assert both.vertices[0][0] == Fraction(round((one + other) / 2 * 2**20), 2**20)


def test_the_box_pulls_points_onto_its_edges_only_if_near() -> None:
    size = (Fraction(6), Fraction(6))
    assert to_box((Fraction("5.995"), Fraction("-0.004")), size) == (6, 0)
    assert to_box((Fraction("5.9"), Fraction("0.1")), size) == (Fraction("5.9"), Fraction("0.1"))
