"""Split quarter squares, of one hand or of both."""

from __future__ import annotations

from fractions import Fraction

import pytest

from seamproof.cutting.model import CuttingSettings
from seamproof.draft.turning import mirrored
from tests.cutting.drawn import TRIMMED, listed, recipe_for
from tests.cutting.recipes.proving import ROOT2, SETTINGS, proved, silent, ways_round
from tests.cutting.recipes.split_quarters import units

F = Fraction
KIND = "split quarter square"
METHODS = ["from triangles", "two at a time"]


@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize("settings", SETTINGS.values(), ids=SETTINGS)
def test_the_proof_is_silent(method: str, settings: CuttingSettings) -> None:
    for hands in ("L", "LR", "LRL"):
        for block in ways_round(units(hands)):
            proved(block, KIND, method, settings, copies=3)
    for fabrics in ("caa", "aab", "aba"):
        proved(units("LR", fabrics), KIND, method, settings)


@pytest.mark.parametrize("method", METHODS)
def test_on_point(method: str) -> None:
    proved(units("L", turn=F(1, 8)), KIND, method, TRIMMED)


def test_both_hands_at_once_if_the_block_has_as_many_of_each() -> None:
    made = listed(units("LR"), copies=2)
    recipe = recipe_for(made, KIND)
    assert (recipe.method, recipe.gives, recipe.made, recipe.spare) == ("two at a time", 4, 2, 0)
    assert recipe.twin is not None
    assert (recipe.twin.made, recipe.twin.spare) == (2, 0)
    assert {piece.hand for piece in made.pieces} == {"pair"}
    assert sorted((piece.fabric, piece.count) for piece in made.pieces) == [
        ("a", 1),
        ("b", 1),
        ("c", 2),
    ]


def test_from_triangles_if_not() -> None:
    for hands in ("L", "LRL"):
        recipes = [r for r in silent(units(hands), TRIMMED, 4).recipes if r.kind == KIND]
        assert {recipe.method for recipe in recipes} == {"from triangles"}


def test_the_other_hand_is_said_to_be_over() -> None:
    _, recipe = proved(units("L"), KIND, "two at a time", TRIMMED, copies=4)
    assert recipe.twin is not None
    assert (recipe.made, recipe.spare) == (4, 0)
    assert (recipe.twin.unit, recipe.twin.made, recipe.twin.spare) == (None, 4, 4)


def test_quarters_of_one_fabric_have_no_hand() -> None:
    made = listed(units("LR", "caa"), copies=2)
    recipe = recipe_for(made, KIND)
    assert (recipe.method, recipe.gives, recipe.made, recipe.spare) == ("two at a time", 2, 4, 0)
    assert recipe.twin is None
    assert {piece.hand for piece in made.pieces} == {"either"}


def test_a_mirrored_block_has_the_other_hand() -> None:
    one, twin = (listed(block) for block in (units("L"), mirrored(units("L"))))
    hands = [{piece.hand for piece in made.pieces} for made in (one, twin)]
    assert hands in ([{"left"}, {"right"}], [{"right"}, {"left"}])


@pytest.mark.parametrize("method", METHODS)
def test_sizes(method: str) -> None:
    """The half is that of a half-square triangle, the quarters those of an hourglass."""
    made, _ = proved(units("L"), KIND, method, TRIMMED)
    needs = {piece.fabric: piece.width.need for piece in made.pieces}
    assert needs["c"] == pytest.approx(3 + 0.25 * (2 + ROOT2))
    assert needs["a"] == needs["b"] == pytest.approx(3 + 0.25 * (2 + 2 * ROOT2))
    assert {piece.trim for piece in made.pieces} == {(F("3.5"), F("3.5"))}
