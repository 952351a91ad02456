from __future__ import annotations

import itertools
from fractions import Fraction

from seamproof.plane.predicates import area, box
from tests.cast import reference_blocks
from tests.cutting.drawn import block_of, listed, nine_patch

F = Fraction


def test_two_squares() -> None:
    made = listed(block_of("a b", 8, 4))
    (step,) = made.steps
    left, right = step.takes
    assert (left.what, left.face, right.what, right.face) == ("Aa", "up", "Ba", "down")
    # Turned over the seam at 4, the right square lies exactly on the left one.
    assert set(left.corners) == set(right.corners)
    ((start, end),) = step.stitched
    assert {start, end} == {(F(4), F("-0.25")), (F(4), F("4.25"))}
    assert step.measure is not None
    assert [str(size.ruler) for size in step.measure] == ["17/2", "9/2"]


def test_corners_are_listed_clockwise_and_keep_their_order() -> None:
    given: dict[str, tuple[tuple[F, F], ...]] = {}
    for step in listed(nine_patch(9)).steps:
        for stock in step.takes:
            assert area(stock.corners) > 0
            if stock.what in given:
                corners = stock.corners
                if stock.face == "down":
                    corners = (corners[0], *reversed(corners[1:]))
                assert sides(corners) == sides(given[stock.what])
        for stock in step.gives:
            given[stock.what] = stock.corners


def sides(corners: tuple[tuple[F, F], ...]) -> list[F]:
    return [
        abs(a[0] - b[0]) + abs(a[1] - b[1])
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
    ]


def test_stitching_stops_where_a_corner_turns_in() -> None:
    # The seam of a spiral that meets the slit of the seam begun first ends a quarter inch early.
    steps = [
        step for step in listed(reference_blocks()["spiral_square"]).steps if step.verb == "sew"
    ]
    first, last = steps[0], steps[-1]
    (begun,) = first.stitched
    length = abs(begun[0][0] - begun[1][0]) + abs(begun[0][1] - begun[1][1])
    low, high = box(first.takes[0].corners)
    assert length < high[0] - low[0]  # begun, not sewn to the end
    assert len(last.takes) == 1  # and finished at last
    assert last.takes[0].corners == last.gives[0].corners


def test_a_corner_that_is_set_in_is_sewn_in_runs_that_meet() -> None:
    made = listed(reference_blocks()["attic_window_mitred"])
    runs = [step.stitched for step in made.steps if len(step.stitched) > 1]
    assert runs
    for stitched in runs:
        for one, other in itertools.pairwise(stitched):
            assert one[1] == other[0]
