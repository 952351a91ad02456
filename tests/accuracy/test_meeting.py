"""What meets along a seam."""

from __future__ import annotations

from itertools import pairwise

from seamproof.accuracy.lines import Line
from seamproof.accuracy.meeting import Meeting


def rectangle(left: float, top: float, right: float, bottom: float) -> list[Line]:
    corners = [left + 1j * top, right + 1j * top, right + 1j * bottom, left + 1j * bottom]
    return [Line(a, b, raw=True) for a, b in pairwise([*corners, corners[0]])]


UP = (3 + 4j, 3 + 0j)
"""A seam sewn upwards: its left is the part with smaller x."""


def test_edges_of_both_sides_are_held_together() -> None:
    meeting = Meeting(rectangle(0, 0, 3, 4), rectangle(3, 0, 6, 4), [UP])
    assert [i for i, _ in meeting.edges(0, True)] == [1]
    assert [i for i, _ in meeting.edges(0, False)] == [7]
    assert meeting.sewn() == {1, 7}
    assert meeting.straight
    assert meeting.middle == 3 + 2j


def test_seams_of_both_sides_cross_and_of_one_side_do_not() -> None:
    seam = Line(0 + 1j, 3 + 1j, raw=False)
    beyond = Line(3 + 1j, 6 + 1j, raw=False)
    left, right = rectangle(0, 0, 3, 4), rectangle(3, 0, 6, 4)
    one = Meeting([*left, seam], right, [UP])
    assert one.stops(0) == [3 + 1j]
    assert one.crossings() == []
    both = Meeting([*left, seam], [*right, beyond], [UP])
    assert both.crossings() == [(0, 3 + 1j)]
    assert both.nests(0, 3 + 1j)


def test_slanted_seams_cross_but_do_not_nest() -> None:
    left = [*rectangle(0, 0, 3, 4), Line(0j, 3 + 2j, raw=False)]
    right = [*rectangle(3, 0, 6, 4), Line(3 + 2j, 6 + 0j, raw=False)]
    meeting = Meeting(left, right, [UP])
    assert meeting.crossings() == [(0, 3 + 2j)]
    assert not meeting.nests(0, 3 + 2j)


def test_both_sides_of_a_second_go_belong_to_one_part() -> None:
    lines = [*rectangle(0, 0, 3, 4), *rectangle(3, 0, 6, 4), Line(3 + 2j, 6 + 2j, raw=False)]
    meeting = Meeting(lines, (), [UP])
    assert [i for i, _ in meeting.edges(0, True)] == [1]
    assert [i for i, _ in meeting.edges(0, False)] == [7]
    assert [i for i, _ in meeting.arriving(0, 3 + 2j, False)] == [8]
    assert meeting.arriving(0, 3 + 2j, True) == []
