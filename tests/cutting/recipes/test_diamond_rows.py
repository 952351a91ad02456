"""Rows of diamonds from strip sets whose strips are sewn one step on and cut aslant."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.cutting.model import CuttingSettings, Recipe
from seamproof.cutting.recipes.strip_sets import ENOUGH, METHOD
from seamproof.draft.turning import mirrored
from seamproof.length.rounding import SAME, Size, up
from seamproof.piecing.planning import plan
from seamproof.plane.predicates import distance, side
from seamproof.proof.sizes import prove
from tests.cutting.drawn import TRIMMED, listed
from tests.cutting.recipes.diamonds import row, star
from tests.cutting.recipes.proving import ROOT2, SETTINGS, proved, silent, ways_round
from tests.proof.lists import made as made_list
from tests.proof.mutations import changes, is_drawn

F = Fraction
KIND = "diamond row"


def only(recipes: tuple[Recipe, ...]) -> Recipe:
    (found,) = [recipe for recipe in recipes if recipe.kind == KIND]
    return found


@pytest.mark.parametrize("lean", [1, -1])
@pytest.mark.parametrize("angle", [30, 45, 60])
@pytest.mark.parametrize("settings", SETTINGS.values(), ids=SETTINGS)
def test_the_proof_is_silent(angle: int, lean: int, settings: CuttingSettings) -> None:
    _, recipe = proved(row("abc", angle, lean=lean), KIND, METHOD, settings, copies=5)
    assert (recipe.made, recipe.gives, recipe.spare) == (5, 5, 0)
    assert recipe.bias_edges == 2


@pytest.mark.parametrize("angle", [45, 60])
def test_whichever_way_the_block_lies(angle: int) -> None:
    for block in ways_round(row("abca", angle)):
        proved(block, KIND, METHOD, TRIMMED, copies=7)


def test_a_star_of_diamonds() -> None:
    """Eight points of three rows: three kinds of strip sets, eight slices of each."""
    block = star(["abb", "bca", "cab"])
    for block_so in (block, star(["abb", "bca", "cab"], turn=F(1, 4)), mirrored(block)):
        made = silent(block_so, TRIMMED)
        rows = [recipe for recipe in made.recipes if recipe.kind == KIND]
        assert [(r.method, r.made, r.spare) for r in rows] == [(METHOD, 8, 0)] * 3
        assert {piece.shape for r in rows for piece in r.pieces} == {"strip"}
        assert not [piece for piece in made.pieces if piece.shape == "diamond"]


@pytest.mark.parametrize(("angle", "lean"), [(45, 1), (60, 1), (60, -1)])
def test_every_strip_begins_as_much_farther_on_as_the_slant_asks_for(angle: int, lean: int) -> None:
    """By its finished width and the angle: at 45 degrees by just that width."""
    recipe = only(listed(row("abc", angle, lean=lean), copies=4).recipes)
    finished = 2 * math.sin(math.radians(angle))
    starts = [min(x for x, _ in recipe.steps[0].takes[0].corners)]
    starts += [min(x for x, _ in step.takes[1].corners) for step in recipe.steps[:2]]
    by = [float(b - a) for a, b in itertools.pairwise(starts)]
    assert by == pytest.approx([lean * finished / math.tan(math.radians(angle))] * 2, abs=1e-5)


@pytest.mark.parametrize("angle", [30, 45, 60])
def test_slices_are_as_wide_as_a_diamond_is_high_and_run_at_its_angle(angle: int) -> None:
    recipe = only(listed(row("abc", angle), copies=4).recipes)
    *_, cut = recipe.steps
    assert len(cut.cuts) == 5
    (a, b), (c, _) = cut.cuts[:2]
    slant = math.degrees(math.atan2(float(b[1] - a[1]), float(b[0] - a[0])))
    assert slant == pytest.approx(angle, abs=1e-3)
    across = float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))
    wide = abs(across) / distance(a, b)
    assert wide == pytest.approx(2 * math.sin(math.radians(angle)) + 0.5, abs=1e-4)
    assert {side(a, b, p) for p in cut.gives[0].corners} == {0, -1}


def test_strips_are_no_longer_than_slices_and_ends_ask_for() -> None:
    """Diamonds that are 2 in high and wide: five slices of 2 1/2 in at 45 degrees, a strip's width
    for the slant, an inch for squaring up."""
    recipe = only(listed(row("ab", 45, width=2 * ROOT2), copies=5).recipes)
    assert {piece.width.ruler for piece in recipe.pieces} == {F(5, 2)}
    asked = 5 * 2.5 * ROOT2 + 2.5 + 1
    assert {piece.height.ruler for piece in recipe.pieces} == {up(asked)}
    assert {piece.rounding for piece in recipe.pieces} == {"on the ruler"}


def test_a_longer_strip_is_objected_to() -> None:
    block = row("ab", 45, width=2 * ROOT2)
    its_plan, _ = plan(block)
    assert its_plan is not None
    made = listed(block, copies=5)
    long = made.pieces[0].height.ruler + 1
    longer = {
        piece.letter: replace(piece, height=Size(long, float(long)))
        for piece in made.pieces
        if piece.shape == "strip"
    }
    recipes = tuple(
        replace(r, pieces=tuple(longer.get(p.letter, p) for p in r.pieces)) for r in made.recipes
    )
    pieces = tuple(longer.get(p.letter, p) for p in made.pieces)
    wrong = replace(made, recipes=recipes, pieces=pieces)
    assert prove(block, its_plan, wrong, TRIMMED) != ()


def test_every_number_that_is_read_is_held_by_the_proof() -> None:
    found = made_list(row("ab", 60), TRIMMED, 4)
    assert found is not None
    every = [
        (where, cutting)
        for where, cutting in changes(found.cutting, TRIMMED.step)
        if not is_drawn(where)
    ]
    assert len(every) > 100
    assert [where for where, cutting in every if not found.doubts(cutting)] == []


def test_few_are_sewn_from_single_diamonds() -> None:
    made = listed(row("abc", 45), copies=ENOUGH - 1)
    assert [piece.shape for piece in made.pieces if piece.fabric == "a"] == ["diamond"]


def test_an_angle_that_no_ruler_shows_is_not_cut_from_strip_sets() -> None:
    made = listed(row("abc", 50), copies=8)
    assert METHOD not in {recipe.method for recipe in made.recipes}


def test_a_row_is_known_at_any_turn() -> None:
    for block in ways_round(row("abc", 60)):
        its_plan, _ = plan(block)
        assert its_plan is not None
        (unit,) = [unit for unit in its_plan.units if unit.kind == KIND]
        assert {fabric for _, fabric in unit.roles} == set("abc")
        assert float(unit.height) == pytest.approx(6 * math.sin(math.pi / 3), abs=float(4 * SAME))
