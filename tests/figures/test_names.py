"""Names of parts keep clear of cloth, also of cloth that reaches round."""

from __future__ import annotations

import pytest

from seamproof.figures.names import beside

SQUARE = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))
RIGHT = ((5.0, 0.0), (9.0, 0.0), (9.0, 4.0), (5.0, 4.0))
BELOW = ((0.0, 5.0), (4.0, 5.0), (4.0, 9.0), (0.0, 9.0))
# An angle whose foot reaches under the square.
ANGLE = ((-6.0, 0.0), (-1.0, 0.0), (-1.0, 5.0), (6.0, 5.0), (6.0, 9.0), (-6.0, 9.0))


def test_parts_side_by_side_have_their_names_below() -> None:
    first, second = beside(["unit 1", "unit 2"], [SQUARE, RIGHT], (-1.0, 0.0), 12.0)
    assert (first.at, second.at) == ((2.0, 4.0), (7.0, 4.0))
    assert first.below > 0


def test_parts_one_above_the_other_have_their_names_on_the_right() -> None:
    first, second = beside(["unit 1", "unit 2"], [SQUARE, BELOW], (0.0, -1.0), 12.0)
    assert (first.at, second.at) == ((4.0, 2.0), (4.0, 7.0))
    assert first.anchor == "start"


def test_a_name_goes_elsewhere_where_cloth_lies() -> None:
    _, second = beside(["step 8", "step 3"], [ANGLE, SQUARE], (-1.0, 0.0), 12.0)
    assert second.below < 0  # above: under the square lies the foot of the angle


def test_narrow_parts_do_not_have_both_names_below() -> None:
    thin = ((0.0, 0.0), (1.0, 0.0), (1.0, 4.0), (0.0, 4.0))
    other = tuple((x + 1.5, y) for x, y in thin)
    first, second = beside(["step 10", "step 11"], [thin, other], (-1.0, 0.0), 12.0)
    assert first.below > 0 > second.below


@pytest.mark.parametrize("names", [["", "Aa"], ["Aa", ""], ["", ""]])
def test_what_has_no_name_gets_none(names: list[str]) -> None:
    found = beside(names, [SQUARE, RIGHT], (-1.0, 0.0), 12.0)
    assert [label.text for label in found] == [name for name in names if name]
