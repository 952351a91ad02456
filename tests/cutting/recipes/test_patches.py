"""Patches that no unit holds."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

import pytest

from seamproof.cutting.model import CuttingSettings, Recipe
from seamproof.cutting.recipes.patches import LoosePatch, patch_recipe
from seamproof.cutting.recipes.shapes import hand_of, seen, signature
from seamproof.length.exact import kept
from seamproof.plane.model import Polygon
from seamproof.plane.predicates import turned

F = Fraction
ROOT2, ROOT3 = math.sqrt(2), math.sqrt(3)


def corners(*pairs: tuple[float, float]) -> Polygon:
    return tuple((kept(x), kept(y)) for x, y in pairs)


def recipe(
    outline: Polygon, count: int = 1, *, long_outside: bool = False, method: str = "by ruler"
) -> Recipe:
    settings = CuttingSettings(methods={"square": method})
    return patch_recipe(LoosePatch(3, "a", outline, count, long_outside), settings, "Aa")


def sizes(made: Recipe) -> list[float]:
    (piece,) = made.pieces
    return [piece.width.need, piece.height.need]


SQUARE = corners((0, 0), (3, 0), (3, 3), (0, 3))
HALF = corners((0, 0), (3, 0), (0, 3))
DIAMOND = corners((0, 0), (2 * ROOT2, 0), (3 * ROOT2, ROOT2), (ROOT2, ROOT2))
TRAPEZOID = corners((0, 0), (6, 0), (4, 2), (2, 2))
EQUILATERAL = corners((0, 3), (ROOT3, 0), (2 * ROOT3, 3))
KITE = corners((0, 0), (2, 1), (3, 3), (1, 2.5))


def test_a_square_and_a_rectangle_have_two_allowances_more() -> None:
    assert sizes(recipe(SQUARE)) == [3.5, 3.5]
    assert sizes(recipe(corners((0, 0), (6, 0), (6, 2), (0, 2)))) == [2.5, 6.5]


def test_a_half_square_comes_two_from_a_square() -> None:
    made = recipe(HALF, count=5)
    (piece,) = made.pieces
    assert sizes(made) == pytest.approx([3 + 0.25 * (2 + ROOT2)] * 2)
    assert (piece.split, piece.count, piece.width.ruler) == ("once", 3, F("3.875"))
    assert made.bias_edges == 1


def test_with_its_long_side_outside_it_comes_four_from_a_square() -> None:
    made = recipe(HALF, count=5, long_outside=True)
    (piece,) = made.pieces
    assert sizes(made) == pytest.approx([3 * ROOT2 + 0.25 * (2 + 2 * ROOT2)] * 2, abs=1e-5)
    assert (piece.split, piece.count) == ("twice", 2)
    assert made.bias_edges == 2


def test_an_unequal_right_triangle_comes_two_from_a_rectangle() -> None:
    # 1 : 2, published as +0.6545 and +1.3090 in all.
    made = recipe(corners((0, 0), (4, 0), (0, 2)))
    (piece,) = made.pieces
    assert sizes(made) == pytest.approx([2.6545, 5.3090], abs=5e-5)
    assert (piece.split, piece.shape, piece.hand) == ("once", "rectangle", "right")
    assert recipe(corners((0, 0), (4, 0), (4, 2))).hand == "left"


def test_a_diamond_comes_from_a_strip() -> None:
    made = recipe(DIAMOND)
    (piece,) = made.pieces
    assert (piece.shape, piece.angle) == ("parallelogram", 45)
    equal = recipe(corners((0, 0), (2, 0), (2 + ROOT2, ROOT2), (ROOT2, ROOT2)))
    (piece,) = equal.pieces
    assert (piece.shape, piece.angle, piece.hand) == ("diamond", 45, "either")
    # Strip and cuts are as far apart: a diamond's height and two allowances.
    assert sizes(equal) == pytest.approx([ROOT2 + 0.5] * 2, abs=1e-5)


def test_a_trapezoid_comes_from_a_strip_by_its_long_side() -> None:
    made = recipe(TRAPEZOID)
    (piece,) = made.pieces
    assert (piece.shape, piece.angle) == ("trapezoid", 45)
    assert sizes(made) == pytest.approx([2.5, 6 + 0.5 * (1 + ROOT2)], abs=1e-5)
    assert made.bias_edges == 2


def test_an_equilateral_triangle_comes_from_a_strip() -> None:
    # Published: the height and 3/4 in.
    (piece,) = recipe(EQUILATERAL).pieces
    assert (piece.shape, piece.angle) == ("triangle", 60)
    assert piece.width.need == pytest.approx(3.75, abs=1e-5)


def test_what_no_ruler_cuts_has_a_template() -> None:
    (piece,) = recipe(KITE).pieces
    assert (piece.shape, piece.method) == ("template", "by template")
    assert len(piece.corners) == 4
    assert piece.width.need <= piece.height.need


def test_a_maker_may_prefer_a_template() -> None:
    (piece,) = recipe(SQUARE, method="by template").pieces
    assert (piece.shape, piece.unit) == ("template", "square")


@pytest.mark.parametrize("outline", [SQUARE, HALF, DIAMOND, TRAPEZOID, EQUILATERAL])
@pytest.mark.parametrize("turn", [F(1, 4), F(1, 8), F(1, 3), F(5, 48)])
def test_a_turned_patch_is_cut_alike(outline: Polygon, turn: F) -> None:
    moved = tuple(turned(p, turn) for p in outline)
    assert seen(moved).look == seen(outline).look
    assert sizes(recipe(moved)) == pytest.approx(sizes(recipe(outline)), abs=1e-4)
    assert hand_of(moved) == hand_of(outline)


def mirror(outline: Sequence[tuple[F, F]]) -> Polygon:
    return tuple((-x, y) for x, y in reversed(outline))


@pytest.mark.parametrize("outline", [KITE, corners((0, 0), (4, 0), (0, 2)), DIAMOND])
def test_a_mirrored_patch_has_the_other_hand(outline: Polygon) -> None:
    assert {hand_of(outline), hand_of(mirror(outline))} == {"left", "right"}
    assert signature(outline) != signature(mirror(outline))


@pytest.mark.parametrize("outline", [SQUARE, HALF, TRAPEZOID, EQUILATERAL])
def test_a_patch_that_is_its_own_twin_has_no_hand(outline: Polygon) -> None:
    assert hand_of(outline) == "either"


HEXAGON = corners((1, 0), (3, 0), (4, ROOT3), (3, 2 * ROOT3), (1, 2 * ROOT3), (0, ROOT3))
WEDGE = corners((1.5, 0), (3, 4), (0, 4))
BLUNT = corners((1, 0), (3, 0), (4, 5), (0, 5))
TRUE_KITE = corners((2, 0), (4, 2), (2, 6), (0, 2))


def test_a_hexagon_comes_from_a_strip_as_wide_as_its_cuts_are_apart() -> None:
    (piece,) = recipe(HEXAGON).pieces
    assert (piece.shape, piece.angle, piece.hand) == ("hexagon", 60, "either")
    assert sizes(recipe(HEXAGON)) == pytest.approx([2 * ROOT3 + 0.5] * 2, abs=1e-5)


@pytest.mark.parametrize("outline", [WEDGE, BLUNT])
def test_a_wedge_comes_from_a_strip_head_to_foot(outline: Polygon) -> None:
    (piece,) = recipe(outline).pieces
    assert (piece.shape, piece.method, piece.angle) == ("wedge", "by ruler", None)
    xs, ys = [float(x) for x, _ in piece.corners], [float(y) for _, y in piece.corners]
    assert sizes(recipe(outline)) == pytest.approx([max(ys) - min(ys), max(xs) - min(xs)])


def test_the_tip_of_a_wedge_is_kept() -> None:
    # Half the angle at the tip has the sine 1.5 / root (1.5^2 + 4^2).
    tip = 0.25 * math.hypot(1.5, 4) / 1.5
    assert sizes(recipe(WEDGE))[0] == pytest.approx(4 + 0.25 + tip, abs=1e-5)


def test_a_kite_is_cut_between_marks_on_a_strip() -> None:
    (piece,) = recipe(TRUE_KITE).pieces
    assert (piece.shape, piece.method, piece.hand) == ("kite", "by ruler", "either")
    tips = 0.25 * ROOT2 + 0.25 * math.hypot(2, 4) / 2
    assert sizes(recipe(TRUE_KITE))[1] == pytest.approx(6 + tips, abs=1e-5)
    assert made_of_strip(TRUE_KITE) == 4


def made_of_strip(outline: Polygon) -> int:
    """How many edges of what is cut lie aslant on the thread."""
    return recipe(outline).bias_edges


@pytest.mark.parametrize("outline", [HEXAGON, WEDGE, BLUNT, TRUE_KITE])
@pytest.mark.parametrize("turn", [F(1, 4), F(1, 8), F(5, 48)])
def test_turned_shapes_are_cut_alike(outline: Polygon, turn: F) -> None:
    moved = tuple(turned(p, turn) for p in outline)
    assert seen(moved).look == seen(outline).look
    assert sizes(recipe(moved)) == pytest.approx(sizes(recipe(outline)), abs=1e-4)
