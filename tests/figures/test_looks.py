"""Recipes followed with coloured cloth: what lies where after each step."""

from __future__ import annotations

from fractions import Fraction

import pytest
import shapely

from seamproof.cutting.model import Step, Stock
from seamproof.figures.cloth import Coloured
from seamproof.figures.looks import Look, followed
from tests import by_hand
from tests.by_hand import size, square

QUARTER = Fraction(1, 4)


def areas(look: Look) -> dict[str, float]:
    """Square inches of each fabric."""
    found: dict[str, float] = {}
    for patch in look.patches:
        found[patch.fabric] = found.get(patch.fabric, 0.0) + shapely.Polygon(patch.corners).area
    return found


def lies_in(patch: Coloured, x: float, y: float) -> bool:
    return bool(shapely.Polygon(patch.corners).contains(shapely.Point(x, y)))


def fabric_at(look: Look, x: float, y: float) -> str:
    (found,) = [patch.fabric for patch in look.patches if lies_in(patch, x, y)]
    return found


def test_a_half_square_triangle_opens_to_two_halves() -> None:
    recipe = by_hand.cutting().recipes[0]
    sewn, trimmed = followed(recipe.steps, recipe.pieces)
    (unit,) = sewn.gives
    side = float(unit.corners[1][0])
    assert areas(unit) == pytest.approx({"a": side**2 / 2, "b": side**2 / 2})
    assert (fabric_at(unit, 1, 1), fabric_at(unit, 6, 6)) == ("a", "b")
    assert areas(trimmed.gives[0]) == pytest.approx({"a": 6.5**2 / 2, "b": 6.5**2 / 2})


def test_a_corner_sewn_on_and_flipped_covers_the_corner() -> None:
    two, four = Fraction(2), Fraction(4)
    step = Step(
        "sew",
        (Stock("Ca", square(four), 1), Stock("Da", square(two), 1, "down")),
        (Stock("flipped", square(four), 1),),
        drawn=(((two, Fraction(0)), (Fraction(0), two)),),
        stitched=(((two, Fraction(0)), (Fraction(0), two)),),
        cuts=(((two - QUARTER, Fraction(0)), (Fraction(0), two - QUARTER)),),
    )
    pieces = [_piece("Ca", "c", four), _piece("Da", "d", two)]
    (looking,) = followed([step], pieces)
    assert areas(looking.gives[0]) == pytest.approx({"c": 16 - 2, "d": 2})
    assert fabric_at(looking.gives[0], 0.3, 0.3) == "d"


def test_a_turned_unit_keeps_its_fabrics_in_place() -> None:
    """Corner 0 of sewn stock stays corner 0 however it lies; face down it lies mirrored."""
    recipe = by_hand.cutting().recipes[0]
    (unit,) = recipe.steps[1].gives
    x0, y0 = unit.corners[0]
    upright = tuple((x - x0, y - y0) for x, y in unit.corners)
    quarter = tuple((Fraction(13, 2) - y, x) for x, y in upright)
    back = (upright[0], upright[3], upright[2], upright[1])  # mirrored at the falling diagonal
    mirrored = tuple((y, x) for x, y in back)
    steps = (
        *recipe.steps,
        Step("trim", (Stock(unit.what, quarter, 2),), (Stock("turned", quarter, 2),)),
        Step("trim", (Stock(unit.what, mirrored, 2, "down"),), (Stock("back", mirrored, 2),)),
    )
    *_, turned, flipped = followed(steps, recipe.pieces)
    assert fabric_at(turned.takes[0], 5.5, 1) == "a"  # was at the upper left
    assert fabric_at(turned.takes[0], 1, 5.5) == "b"
    assert {fabric_at(flipped.takes[0], *at) for at in ((1, 1), (5.5, 5.5))} == {"a", "b"}


def test_rows_are_sewn_edge_to_edge() -> None:
    cutting = by_hand.cutting()
    looks = followed(cutting.steps, cutting.pieces)
    upper = looks[2].gives[0]
    assert fabric_at(upper, 1, 1) == "a"
    assert fabric_at(upper, 9, 3) == "c"
    whole = looks[-1].gives[0]
    assert [fabric_at(whole, x, y) for x, y in ((1, 1), (9, 3), (3, 9), (11.5, 11.5))] == [
        "a",
        "c",
        "c",
        "b",
    ]
    assert sum(areas(whole).values()) == pytest.approx(12.5**2, rel=0.001)


def _piece(letter: str, fabric: str, side: Fraction):  # type: ignore[no-untyped-def]
    from dataclasses import replace

    plain = by_hand.cutting().pieces[-1]
    return replace(plain, letter=letter, fabric=fabric, width=size(side), height=size(side))


def test_a_corner_left_in_covers_the_corner_too() -> None:
    two, four, none = Fraction(2), Fraction(4), Fraction(0)
    seam = ((none, two), (two, none))  # what is folded lies on its right
    step = Step(
        "sew",
        (Stock("Ca", square(four), 1), Stock("Da", square(two), 1, "down")),
        (Stock("flipped", square(four), 1),),
        drawn=(seam,),
        stitched=(seam,),
        left_in=True,
    )
    (looking,) = followed([step], [_piece("Ca", "c", four), _piece("Da", "d", two)])
    assert areas(looking.gives[0]) == pytest.approx({"c": 16 - 2, "d": 2})
    assert fabric_at(looking.gives[0], 0.3, 0.3) == "d"
    assert fabric_at(looking.gives[0], 1.5, 1.5) == "c"
