from __future__ import annotations

import math
from fractions import Fraction

import pytest

from seamproof.cutting.model import CuttingSettings
from seamproof.cutting.table import (
    beside,
    chord,
    exact,
    face_down,
    mirrored,
    opened,
    rectangle,
    sewn_run,
    turned_over,
    within,
)
from seamproof.length.rounding import SAME
from seamproof.plane.predicates import area, box
from tests.cutting.drawn import geese, listed

F = Fraction
O, D = F(0), exact(math.sqrt(2) / 4)


@pytest.mark.parametrize("value", [F(1, 3), F(39, 8), 725 * F(1, 127), F(7, 960), F(0)])
def test_a_number_of_the_grid_is_found_again(value: F) -> None:
    assert exact(float(value)) == value


def test_a_mirror_twice_is_none() -> None:
    line = ((F(1), F(2)), (F(4), F(6)))
    point = (F(3), F(1, 4))
    twice = mirrored(mirrored(point, line), line)
    assert all(abs(a - b) <= SAME for a, b in zip(twice, point, strict=True))


def test_what_lies_face_down_is_listed_from_the_same_corner() -> None:
    square = rectangle(O, O, F(2), F(2))
    over = turned_over(square, ((O, F(2)), (F(2), F(2))))
    assert over == ((O, F(4)), (O, F(2)), (F(2), F(2)), (F(2), F(4)))
    assert area(over) > 0
    assert face_down(face_down(square)) == square


@pytest.mark.parametrize("side", [F(39, 8), F(725, 127), F(17, 3)])
def test_two_squares_open_into_a_square(side: F) -> None:
    square = rectangle(O, O, side, side)
    shown = opened(square, [square], ((O, side - D), (side - D, O)), cuts=[((O, side), (side, O))])
    assert len(shown) == 4
    assert shown[0] == (O, O)
    (_, _), (right, bottom) = box(shown)
    assert abs(right - (side - D)) <= SAME
    assert abs(bottom - (side - D)) <= SAME


def test_metric_geese_keep_their_corners() -> None:
    settings = CuttingSettings.metric()
    a, b = 58 * settings.step, 33 * settings.step
    d = exact(float(settings.seam) * math.sqrt(2))
    ground = rectangle(O, O, a, a)
    small = [rectangle(O, O, b, b), rectangle(a - b, a - b, b, b)]
    half = opened(ground, small, ((O, d), (a - d, a)), cuts=[((O, O), (a, a))])
    assert (O, a) in half
    assert len(half) == 6


def test_stitching_runs_where_both_lie() -> None:
    one, other = rectangle(O, O, F(4), F(4)), rectangle(F(1), O, F(4), F(4))
    run = sewn_run(one, other, ((F(2), F(2)), (F(3), F(2))))
    assert run == ((F(1), F(2)), (F(4), F(2)))


def test_a_line_that_misses_has_no_chord() -> None:
    assert chord(rectangle(O, O, F(1), F(1)), ((O, F(2)), (F(1), F(2)))) is None


def test_what_two_have_in_common() -> None:
    one, other = rectangle(O, O, F(2), F(2)), rectangle(F(1), F(1), F(2), F(2))
    assert within(one, other) == rectangle(F(1), F(1), F(1), F(1))
    assert within(one, rectangle(F(5), F(5), F(1), F(1))) == ()


def test_one_side_of_a_line() -> None:
    left = beside(rectangle(O, O, F(2), F(2)), ((F(1), F(2)), (F(1), O)), -1)
    assert left == rectangle(O, O, F(1), F(2))


def test_skies_that_share_a_slanted_side_in_part_are_one_piece() -> None:
    # Geese 11 1/16 in high with 3/8 in seams on a metric ruler: floats left a gap along that side.
    settings = CuttingSettings(seam=F(3, 8), step=F(5, 127), oversize={})
    made = listed(geese(F(177, 8), F(177, 16)), settings)
    (recipe,) = [recipe for recipe in made.recipes if recipe.steps]
    assert len(recipe.steps[1].gives[0].corners) == 4
