from __future__ import annotations

import math
from typing import Literal

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from seamproof.drawing.signs import AGAIN, HOOK, ROOM, Sign, across, hook

LONG = 16.0


def reach(signs: list[Sign]) -> shapely.Geometry:
    return shapely.union_all(
        [shapely.LineString(s.shaft).union(shapely.Polygon(s.head)) for s in signs]
    )


@given(angle=st.floats(0, 6.28), far=st.floats(ROOM * LONG, 300), left=st.booleans())
def test_an_arrow_points_to_its_side(angle: float, far: float, left: bool) -> None:
    end = (far * math.cos(angle), far * math.sin(angle))
    way: Literal["left", "right"] = "left" if left else "right"
    (sign,) = across((0.0, 0.0), end, way, LONG, needed=False)
    tip = sign.head[0]
    side = end[0] * tip[1] - end[1] * tip[0]  # y downwards: left is negative
    assert (side < 0) == left
    assert math.dist(tip, sign.shaft[0]) == pytest.approx(LONG)


def test_open_is_two_arrows_that_do_not_touch() -> None:
    one, other = across((0.0, 0.0), (60.0, 0.0), "open", LONG, needed=False)
    assert {one.head[0][1] > 0, other.head[0][1] > 0} == {True, False}
    assert shapely.LineString(one.shaft).distance(shapely.LineString(other.shaft)) > 1


@pytest.mark.parametrize(("way", "between"), [("left", 45), ("left", 90), ("open", 60)])
@pytest.mark.parametrize("far", [29.0, 36.0, 48.0])
def test_signs_of_seams_that_meet_do_not_meet(
    way: Literal["left", "open"], between: int, far: float
) -> None:
    turn = math.radians(between)
    found = [
        reach(list(across((0.0, 0.0), end, way, LONG, needed=False)))
        for end in ((far, 0.0), (far * math.cos(turn), far * math.sin(turn)))
    ]
    assert all(shapely.area(sign) > 0 for sign in found)
    assert found[0].distance(found[1]) > 1


def test_a_short_stretch_bears_none_unless_it_must_and_a_long_one_two() -> None:
    assert list(across((0.0, 0.0), (12.0, 0.0), "left", LONG, needed=False)) == []
    assert len(list(across((0.0, 0.0), (12.0, 0.0), "left", LONG, needed=True))) == 1
    assert list(across((0.0, 0.0), (0.0, 0.0), "left", LONG, needed=True)) == []
    far = AGAIN * LONG + 1
    assert len(list(across((0.0, 0.0), (far, 0.0), "left", LONG, needed=False))) == 2


@pytest.mark.parametrize("clockwise", [True, False])
def test_a_hook_turns_as_told_and_leaves_the_crossing_to_be_seen(clockwise: bool) -> None:
    sign = hook((0.0, 0.0), LONG, clockwise=clockwise)
    (ax, ay), (bx, by) = sign.shaft[:2]
    assert (ax * by - ay * bx > 0) == clockwise
    assert reach([sign]).distance(shapely.Point(0, 0)) > HOOK * LONG * 0.6
