"""Corner-square triangles, two at a time."""

from __future__ import annotations

from fractions import Fraction

import pytest

from seamproof.cutting.model import CuttingSettings
from tests.cutting.drawn import TRIMMED, listed, recipe_for, rows_of
from tests.cutting.recipes.corner_squares import corner_square
from tests.cutting.recipes.proving import ROOT2, SETTINGS, silent, ways_round

F = Fraction
KIND = "corner-square triangle"


@pytest.mark.parametrize("settings", SETTINGS.values(), ids=SETTINGS)
def test_the_proof_is_silent(settings: CuttingSettings) -> None:
    for fabrics in ("abcc", "abaa", "aabb"):
        for block in ways_round(corner_square(4, fabrics)):
            silent(block, settings, copies=3)


def test_two_come_from_a_large_rectangle() -> None:
    made = listed(corner_square(4), copies=3)
    recipe = recipe_for(made, KIND)
    assert (recipe.gives, recipe.made, recipe.spare) == (2, 4, 1)
    assert rows_of(made) == [
        ("Aa", "9/2", "21/4", "whole", 2),
        ("Ba", "5/2", "5/2", "whole", 4),
        ("Ca", "5/2", "13/4", "whole", 4),
    ]
    # Nothing is trimmed: the last seam runs from corner to corner of the unit.
    assert recipe.trim is None
    assert [step.verb for step in recipe.steps] == ["sew", "sew", "sew"]
    assert recipe.pieces[0].height.need == pytest.approx(4.5 + ROOT2 / 2)


def test_other_fabrics_or_a_square_between_marks_are_sewn_piece_by_piece() -> None:
    for block in (corner_square(4, "abcd"), corner_square(F(25, 8))):
        made = silent(block, TRIMMED)
        assert KIND not in {recipe.kind for recipe in made.recipes}
