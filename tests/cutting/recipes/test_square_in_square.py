"""Triangles round a square: what is cut, in which order it is sewn, what is trimmed."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamproof.cutting.listing import cutting_list
from seamproof.cutting.model import CuttingSettings, Recipe
from seamproof.cutting.recipes import flipped
from seamproof.draft.model import Block
from seamproof.draft.turning import mirrored, turned
from seamproof.findings import Finding
from seamproof.piecing.planning import plan
from seamproof.plane.predicates import box
from seamproof.proof.sizes import prove
from tests.cutting.drawn import EXACT, listed, rows_of
from tests.cutting.recipes.flipping import block_of, in_squares

F = Fraction
USUAL = CuttingSettings()


def by_triangles(chosen: CuttingSettings = USUAL) -> CuttingSettings:
    return replace(chosen, methods={"square-in-a-square": "from triangles"})


def only_recipe(block: Block, chosen: CuttingSettings = USUAL, copies: int = 1) -> Recipe:
    (recipe,) = listed(block, chosen, copies).recipes
    return recipe


def prove_of(block: Block, chosen: CuttingSettings, copies: int) -> tuple[Finding, ...]:
    its_plan, _ = plan(block)
    made, _ = cutting_list(block, its_plan, copies=copies, settings=chosen)
    return prove(block, its_plan, made, chosen)


def economy(side: int, fabrics: str = "cbbbbaaaa") -> Block:
    return block_of(in_squares(F(side), fabrics))


def test_an_economy_patch_is_cut_large_and_trimmed_round_by_round() -> None:
    made = listed(economy(6))
    assert rows_of(made) == [
        ("Aa", "35/8", "35/8", "once", 2),
        ("Ba", "7/2", "7/2", "once", 2),
        ("Ca", "7/2", "7/2", "whole", 1),
    ]
    assert {piece.trim for piece in made.pieces} == {(F("6.5"), F("6.5"))}
    (recipe,) = made.recipes
    verbs = [step.verb for step in recipe.steps]
    assert verbs == ["sew", "trim", "sew", "trim"] * 2
    inner = recipe.steps[3].measure
    assert inner is not None
    assert inner[0].need == pytest.approx(3 * math.sqrt(2) + 0.5, abs=1e-5)


def test_with_exact_sizes_nothing_is_trimmed() -> None:
    made = listed(economy(6), EXACT)
    assert rows_of(made) == [
        ("Aa", "31/8", "31/8", "once", 2),
        ("Ba", "3", "3", "once", 2),
        ("Ca", "7/2", "7/2", "whole", 1),
    ]
    assert [step.verb for step in made.recipes[0].steps] == ["sew"] * 4
    assert made.recipes[0].trim is None


def test_triangles_leave_room_to_trim_by_half_of_what_they_are_larger() -> None:
    """Cut half an inch larger, the round comes out half an inch larger, a quarter on every side."""
    fine = replace(USUAL, step=F(1, 1024), oversize={"economy patch": F(1, 2)})
    recipe = only_recipe(economy(6), fine)
    for sewn, trimmed in ((2, 3), (6, 7)):
        large, small = recipe.steps[sewn].measure, recipe.steps[trimmed].measure
        assert large is not None
        assert small is not None
        # The triangles of the inner round are sewn to a centre on the ruler, those of the outer one
        # to a round that was trimmed: nothing else comes in.
        assert large[0].need - small[0].need == pytest.approx(0.5, abs=2 / 1024)


def test_the_square_within_upright_is_sewn_from_triangles() -> None:
    upright = block_of(in_squares(F(4), "cbbbb"))
    aslant = block_of(in_squares(F(4), "cbbbb"), aslant=True)
    assert only_recipe(upright).method == flipped.TRIMMED
    assert only_recipe(aslant).method == "from triangles"
    assert only_recipe(upright, by_triangles()).method == "from triangles"


def test_a_centre_between_two_marks_is_sewn_as_cut() -> None:
    made = listed(block_of(in_squares(F(4), "cbbbb")), by_triangles())
    (centre,) = [piece for piece in made.pieces if piece.fabric == "c"]
    assert (str(centre.width.ruler), centre.rounding) == ("27/8", "as cut")
    assert centre.width.need == pytest.approx(2 * math.sqrt(2) + 0.5, abs=1e-5)


def test_each_fabric_of_a_round_has_its_own_squares() -> None:
    recipe = only_recipe(economy(8, "cabbbaddd"), copies=3)
    found = [(piece.fabric, piece.split, piece.count) for piece in recipe.pieces]
    # Three copies: 3 inner triangles of a are 2 squares, 9 of b are 5; so outside.
    assert found == [
        ("c", "whole", 3),
        ("a", "once", 2),
        ("b", "once", 5),
        ("a", "once", 2),
        ("d", "once", 5),
    ]
    assert (recipe.made, recipe.spare) == (3, 0)


@pytest.mark.parametrize(
    ("fabrics", "twin"),
    [
        ("cbbbb", False),
        ("cabab", False),
        ("caabb", False),
        ("cabbd", True),
        ("cbbbbaaaa", False),
        ("cabbbdaaa", True),  # the triangle at the top, and the corner to the right of it
        ("cababaabb", False),
        ("caabbaabb", True),
    ],
)
def test_hands(fabrics: str, twin: bool) -> None:
    block = block_of(in_squares(F(6), fabrics))
    hands = {
        only_recipe(seen, by_triangles()).hand
        for quarters in range(4)
        for seen in (turned(block, quarters), mirrored(turned(block, quarters)))
    }
    assert hands == ({"left", "right"} if twin else {"either"})
    if len(fabrics) == 5:
        assert (only_recipe(block).hand == "either") is not twin


def test_a_tip_is_not_caught_in_the_opposite_seam() -> None:
    """In a small patch the first triangle reaches over to the other side: it is sewn and opened
    before the other one is laid on."""
    assert [len(step.takes) for step in only_recipe(economy(6)).steps] == [3, 1, 3, 1] * 2
    small = [len(step.takes) for step in only_recipe(economy(2)).steps]
    assert small == [2, 2, 1, 2, 2, 1] * 2
    assert prove_of(economy(2), USUAL, 1) == ()


def test_a_half_made_unit_lies_upright_when_it_is_measured() -> None:
    for step in only_recipe(economy(6)).steps:
        if step.verb != "trim":
            continue
        (low, high), measure = box(step.gives[0].corners), step.measure
        assert measure is not None
        assert float(high[0] - low[0]) == pytest.approx(measure[0].need)
    last = only_recipe(economy(6)).steps[-1].measure
    assert last is not None
    assert [size.need for size in last] == [6.5, 6.5]


# The proof ----------------------------------------------------------------------------------------


@st.composite
def squared(draw: st.DrawFn) -> Block:
    """Squares in squares of any size and fabrics, at any turn, of either hand."""
    side = draw(st.integers(8, 48).map(lambda n: F(n, 4)))
    count = draw(st.sampled_from([5, 9]))
    fabrics = "".join(draw(st.sampled_from("ab")) for _ in range(count - 1))
    block = block_of(in_squares(side, "c" + fabrics), aslant=draw(st.booleans()))
    block = turned(block, draw(st.integers(0, 3)))
    return mirrored(block) if draw(st.booleans()) else block


settings_of_all_kinds = st.sampled_from(
    [USUAL, EXACT, CuttingSettings.metric(), replace(USUAL, seam=F(3, 8))]
)


@settings(max_examples=30)
@given(squared(), settings_of_all_kinds, st.integers(1, 3))
def test_the_proof_has_nothing_to_say(block: Block, settings: CuttingSettings, copies: int) -> None:
    assert prove_of(block, by_triangles(settings), copies) == ()
