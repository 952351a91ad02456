"""Neighbours of one fabric in one patch: what it costs, on blocks where one can see it."""

from __future__ import annotations

from seamproof.piecing.merging import mergers
from tests import cast


def test_a_square_and_a_triangle_make_a_corner_to_set_in() -> None:
    # The centre of the star and a point of it: the union turns inwards beside the point.
    found = mergers(cast.reference_blocks()["sawtooth_star"])
    assert [(m.corners, m.free) for m in found] == [(1, False)] * 8


def test_two_triangles_that_make_a_larger_one_cost_nothing() -> None:
    found = mergers(cast.reference_blocks()["sawtooth_star_hst_4"])
    assert found
    assert all(m.free for m in found)


def test_other_fabrics_stay_apart() -> None:
    assert mergers(cast.pinwheel()) == ()
    assert mergers(cast.one_patch()) == ()


def test_a_union_that_closes_round_a_patch_is_left_out() -> None:
    # Two Cs round a square: one patch of them would have a hole.
    ring = cast.understood(
        cast.polygon_drawing(
            "ring",
            (3, 3),
            [
                ("a", [(0, 0), (3, 0), (3, 1), (1, 1), (1, 2), (3, 2), (3, 3), (0, 3)]),
                ("a", [(2, 1), (3, 1), (3, 2), (2, 2)]),
                ("b", [(1, 1), (2, 1), (2, 2), (1, 2)]),
            ],
        )
    )
    assert mergers(ring) == ()
