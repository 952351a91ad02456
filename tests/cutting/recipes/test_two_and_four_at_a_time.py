"""Half-square triangles, hourglasses and geese: what their steps give, and how much of it.

That every step is true to the cloth is the proof's to say; here the numbers of a pattern are
looked at, and that the proof has nothing to say.
"""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.cutting.listing import cutting_list
from seamproof.cutting.model import CuttingSettings, Recipe
from seamproof.draft.model import Block
from seamproof.draft.turning import mirrored, turned
from seamproof.length.rounding import SAME
from seamproof.piecing.planning import plan
from seamproof.plane.predicates import area, box
from seamproof.proof.sizes import prove
from tests.cast import polygon_drawing, understood
from tests.cutting.drawn import (
    EXACT,
    TRIMMED,
    block_of,
    geese,
    hourglass,
    hst,
    listed,
    piece_of,
    recipe_for,
)

F = Fraction
ROOT2 = math.sqrt(2)


def by(method: str, kind: str, settings: CuttingSettings = TRIMMED) -> CuttingSettings:
    return replace(settings, methods={kind: method})


def needs_of(recipe: Recipe) -> list[float]:
    return [piece.width.need for piece in recipe.pieces]


def on_point(side: int) -> Block:
    """A half-square triangle that stands on a corner: everything at 45 degrees."""
    upper = [(side, 0), (2 * side, side), (0, side)]
    lower = [(2 * side, side), (side, 2 * side), (0, side)]
    return understood(
        polygon_drawing("on point", (2 * side, 2 * side), [("a", upper), ("b", lower)])
    )


METHODS = [
    ("half-square triangle", "two at a time", hst(4)),
    ("half-square triangle", "from triangles", hst(4)),
    ("hourglass", "two at a time", hourglass(4)),
    ("hourglass", "two at a time", hourglass(4, "abac")),
    ("hourglass", "two at a time", hourglass(4, "baca")),
    ("hourglass", "from triangles", hourglass(4)),
    ("hourglass", "from triangles", hourglass(4, "abcd")),
    ("flying geese", "four at a time", geese(4, 2)),
    ("flying geese", "from triangles", geese(4, 2)),
    ("flying geese", "from triangles", block_of("a/b b=\\c", 4, 2)),
]


@pytest.mark.parametrize("copies", [1, 2, 5])
@pytest.mark.parametrize(("kind", "method", "block"), METHODS)
@pytest.mark.parametrize("settings", [TRIMMED, EXACT, CuttingSettings.metric()])
def test_the_proof_has_nothing_to_say(
    kind: str, method: str, block: Block, copies: int, settings: CuttingSettings
) -> None:
    for quarters in (0, 1):
        for seen in (turned(block, quarters), mirrored(turned(block, quarters))):
            its_plan, _ = plan(seen)
            assert its_plan is not None
            chosen = by(method, kind, settings)
            made, found = cutting_list(seen, its_plan, copies=copies, settings=chosen)
            assert [f for f in found if f.severity != "note"] == []
            assert recipe_for(made, kind).method == method
            assert prove(seen, its_plan, made, chosen) == ()


@pytest.mark.parametrize("method", ["two at a time", "from triangles"])
def test_a_unit_on_point_is_made_like_any_other(method: str) -> None:
    settings = by(method, "half-square triangle")
    block = on_point(3)
    its_plan, _ = plan(block)
    assert its_plan is not None
    made, _ = cutting_list(block, its_plan, settings=settings)
    recipe = recipe_for(made, "half-square triangle")
    assert needs_of(recipe)[0] == pytest.approx(3 * ROOT2 + 0.25 * (2 + ROOT2), abs=1e-5)
    assert prove(block, its_plan, made, settings) == ()


def test_a_half_square_before_and_after_trimming() -> None:
    sew, trim = recipe_for(listed(hst(4)), "half-square triangle").steps
    assert sew.measure is not None
    assert sew.measure[0].need == pytest.approx(5 - ROOT2 / 4, abs=1e-5)
    assert trim.measure is not None
    assert [size.ruler for size in trim.measure] == [F("4.5"), F("4.5")]
    # The seam runs from corner to corner: the ruler's 45 degree line lies on it.
    low, high = box(trim.takes[0].corners)
    inner_low, inner_high = box(trim.gives[0].corners)
    around = [inner_low[k] - low[k] for k in (0, 1)] + [high[k] - inner_high[k] for k in (0, 1)]
    assert max(around) - min(around) <= SAME


def test_two_squares_give_two() -> None:
    recipe = recipe_for(listed(hst(4), copies=3), "half-square triangle")
    assert (recipe.gives, recipe.made, recipe.spare) == (2, 6, 0)
    assert [piece.count for piece in recipe.pieces] == [3, 3]
    sew = recipe.steps[0]
    assert [stock.count for stock in (*sew.takes, *sew.gives)] == [3, 3, 6]
    (diagonal,) = sew.drawn
    assert sew.cuts == (diagonal,)


def test_an_odd_half_square_leaves_one_over() -> None:
    recipe = recipe_for(listed(block_of("a/b", 4)), "half-square triangle")
    assert (recipe.made, recipe.spare) == (2, 1)


@pytest.mark.parametrize(
    ("fabrics", "pieces", "gives"),
    [
        ("abab", [("a", 1), ("b", 1)], 2),
        ("abac", [("a", 2), ("b", 1), ("c", 1)], 4),
        ("baca", [("a", 2), ("b", 1), ("c", 1)], 4),
    ],
)
def test_squares_for_hourglasses(fabrics: str, pieces: list[tuple[str, int]], gives: int) -> None:
    recipe = recipe_for(listed(hourglass(4, fabrics), copies=2), "hourglass")
    assert sorted((piece.fabric, piece.count) for piece in recipe.pieces) == pieces
    assert recipe.gives == gives


def test_hourglasses_of_four_fabrics_are_made_from_triangles() -> None:
    recipe = recipe_for(listed(hourglass(4, "abcd")), "hourglass")
    assert (recipe.method, recipe.hand) == ("from triangles", "left")
    assert {piece.split for piece in recipe.pieces} == {"twice"}


def test_four_geese_from_one_large_square_and_four_small() -> None:
    recipe = recipe_for(listed(geese(6, 3)), "flying geese")
    assert [piece.count for piece in recipe.pieces] == [1, 4]
    assert needs_of(recipe) == pytest.approx([6 + 0.25 * (2 + 2 * ROOT2), 3 + 0.25 * (2 + ROOT2)])
    first = recipe.steps[0]
    assert [stock.face for stock in first.takes] == ["up", "down", "down"]
    assert first.gives[0].count == 2


def test_skies_are_cut_once_and_geese_twice() -> None:
    recipe = recipe_for(
        listed(geese(4, 2, 5), by("from triangles", "flying geese")), "flying geese"
    )
    assert [(piece.split, piece.count) for piece in recipe.pieces] == [("twice", 2), ("once", 5)]


@pytest.mark.parametrize(("kind", "method", "block"), METHODS)
def test_sheets_lie_in_the_unit_and_cover_it(kind: str, method: str, block: Block) -> None:
    recipe = recipe_for(listed(block, by(method, kind)), kind)
    its_plan, _ = plan(block)
    assert its_plan is not None
    finished = area(its_plan.parts[recipe.unit].outline)
    low, high = box([p for sheet in recipe.sheets for p in sheet])
    assert recipe.trim is not None
    assert {high[0] - low[0], high[1] - low[1]} == set(recipe.trim)
    assert sum(area(sheet) for sheet in recipe.sheets) > finished
    assert 0 < recipe.waste < 1
    assert recipe.bias_edges == 0


def test_less_is_trimmed_off_what_is_cut_exactly() -> None:
    trimmed = recipe_for(listed(hst(4)), "half-square triangle").waste
    exact = recipe_for(listed(hst(4), EXACT), "half-square triangle").waste
    assert exact < trimmed


def test_metric_hourglass() -> None:
    settings = CuttingSettings.metric()
    cm = settings.step * 4
    piece = piece_of(listed(hourglass(10 * cm), settings), "a")
    assert piece.width.need / float(cm) == pytest.approx(10 + 0.75 * (2 + 2 * ROOT2))
    assert piece.width.ruler == F("14.25") * cm  # 13.62 up to 13.75, and half a centimetre
