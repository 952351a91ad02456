"""Half-square triangles eight and four at a time."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.cutting.model import CuttingSettings
from seamproof.cutting.recipes.half_square import EIGHT_FROM
from tests.cutting.drawn import TRIMMED, cut, hst, listed, recipe_for
from tests.cutting.recipes.proving import ROOT2, SETTINGS, drawn, proved, ways_round

F = Fraction
KIND = "half-square triangle"


@pytest.mark.parametrize("method", ["eight at a time", "four at a time"])
@pytest.mark.parametrize("settings", SETTINGS.values(), ids=SETTINGS)
def test_the_proof_is_silent(method: str, settings: CuttingSettings) -> None:
    for block in (*ways_round(hst(4)), hst(F(7, 3)), hst(F(1, 2))):
        for copies in (1, 5):
            proved(block, KIND, method, settings, copies)


@pytest.mark.parametrize("method", ["eight at a time", "four at a time"])
def test_on_point(method: str) -> None:
    unit = [("a", [(0, 0), (3, 0), (0, 3)]), ("b", [(3, 0), (3, 3), (0, 3)])]
    proved(drawn(unit, F(1, 8)), KIND, method, TRIMMED)


@given(st.integers(8, 200).map(lambda n: F(n, 16)), st.sampled_from(list(SETTINGS.values())))
def test_sizes_follow_from_the_seam(finished: Fraction, settings: CuttingSettings) -> None:
    s = float(settings.seam)
    _, eight = proved(hst(finished), KIND, "eight at a time", settings)
    assert eight.pieces[0].width.need == pytest.approx(2 * (float(finished) + s * (2 + ROOT2)))
    assert (eight.pieces[0].width.ruler / 2 / settings.step).denominator == 1  # cut half-way
    _, four = proved(hst(finished), KIND, "four at a time", settings)
    unfinished = (four.pieces[0].width.need - 2 * s) / ROOT2
    assert unfinished == pytest.approx(float(finished) + 2 * s)


def test_eight_from_two_squares() -> None:
    made, recipe = proved(hst(4), KIND, "eight at a time", TRIMMED, copies=5)
    assert [piece.count for piece in made.pieces] == [2, 2]
    assert (recipe.gives, recipe.made, recipe.spare, recipe.bias_edges) == (8, 16, 6, 0)
    sew = recipe.steps[0]
    assert (len(sew.drawn), len(sew.stitched), len(sew.cuts)) == (2, 4, 4)
    assert [stock.count for stock in (*sew.takes, *sew.gives)] == [2, 2, 16]


def test_four_from_two_squares_stretch() -> None:
    made, found = cut(hst(4), replace(TRIMMED, methods={KIND: "four at a time"}), copies=2)
    recipe = recipe_for(made, KIND)
    assert (recipe.gives, recipe.made, recipe.spare, recipe.bias_edges) == (4, 4, 0, 4)
    (warning,) = [finding for finding in found if finding.severity == "warning"]
    assert warning.code == 308


@pytest.mark.parametrize("count", [2, 8, 48, EIGHT_FROM - 2, EIGHT_FROM, 200])
def test_the_count_chooses(count: int) -> None:
    recipe = recipe_for(listed(hst(3), copies=count // 2), KIND)
    assert recipe.method == ("eight at a time" if count >= EIGHT_FROM else "two at a time")
