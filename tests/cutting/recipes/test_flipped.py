"""Corners folded over: what is cut, in which order they go on, what is cut off, what it makes.

That the steps are true to the cloth is the proof's to say; here it is asked to say nothing.
"""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from seamproof.cutting.listing import cutting_list
from seamproof.cutting.model import CuttingSettings, Recipe
from seamproof.cutting.recipes.flipped import LEFT_IN, TRIMMED, bonus_size
from seamproof.draft.model import Block
from seamproof.draft.turning import mirrored, turned
from seamproof.length.exact import CM
from seamproof.piecing.planning import plan
from seamproof.plane.predicates import area
from seamproof.proof.sizes import prove
from tests.cutting.drawn import EXACT, geese, listed, recipe_for, rows_of
from tests.cutting.recipes.flipping import block_of, corners_cut, in_squares

F = Fraction
USUAL = CuttingSettings()
KINDS = ("snowball", "flying geese", "square-in-a-square")


def by(method: str, chosen: CuttingSettings = USUAL) -> CuttingSettings:
    return replace(chosen, methods=dict.fromkeys(KINDS, method))


def snowball(side: int, leg: int | str, fabrics: str = "aaaa") -> Block:
    return block_of(corners_cut(F(side), F(side), [F(leg)] * 4, fabrics))


def only_recipe(block: Block, chosen: CuttingSettings = USUAL, copies: int = 1) -> Recipe:
    (recipe,) = listed(block, chosen, copies).recipes
    return recipe


def faults(block: Block, chosen: CuttingSettings, copies: int = 1) -> list[str]:
    its_plan, _ = plan(block)
    made, _ = cutting_list(block, its_plan, copies=copies, settings=chosen)
    return [finding.what for finding in prove(block, its_plan, made, chosen)]


def test_a_snowball() -> None:
    made = listed(snowball(6, 2), copies=3)
    assert rows_of(made) == [("Aa", "5/2", "5/2", "whole", 12), ("Ca", "13/2", "13/2", "whole", 3)]
    recipe = recipe_for(made, "snowball")
    assert (recipe.method, recipe.made, recipe.spare, recipe.trim) == (TRIMMED, 3, 0, None)
    assert {piece.rounding for piece in recipe.pieces} == {"on the ruler"}


def test_corners_that_keep_clear_of_each_other_go_on_at_once() -> None:
    (step,) = only_recipe(snowball(6, 2)).steps
    assert [stock.what for stock in step.takes] == ["Ca", "Aa", "Aa", "Aa", "Aa"]
    assert len(step.drawn) == len(step.stitched) == len(step.cuts) == 4


def test_corners_that_meet_go_on_one_pair_after_the_other() -> None:
    recipe = only_recipe(block_of(in_squares(F(4), "cbbbb")))
    assert [len(step.takes) for step in recipe.steps] == [3, 3]
    goose = recipe_for(listed(geese(4, 2, 1)), "flying geese")
    assert [len(step.takes) for step in goose.steps] == [2, 2]
    assert sorted((str(p.width.ruler), str(p.height.ruler), p.count) for p in goose.pieces) == [
        ("5/2", "5/2", 2),
        ("5/2", "9/2", 1),
    ]


def test_corners_of_two_sizes_and_fabrics() -> None:
    block = block_of(corners_cut(F(8), F(5), [2, 2, 1, 0], "abb"))
    recipe = only_recipe(block, copies=2)
    found = [(p.fabric, p.shape, str(p.width.ruler), p.count) for p in recipe.pieces]
    assert sorted(found) == [
        ("a", "square", "5/2", 2),
        ("b", "square", "3/2", 2),
        ("b", "square", "5/2", 2),
        ("c", "rectangle", "11/2", 2),
    ]


def test_a_strip_whose_corners_are_as_high_as_itself() -> None:
    recipe = only_recipe(block_of(corners_cut(F(6), F("1.5"), [0, 0, F("1.5"), F("1.5")])))
    assert recipe.kind == "snowball"
    assert [str(piece.width.ruler) for piece in recipe.pieces] == ["2", "2"]
    assert len(recipe.steps) == 1


def test_a_gable_needs_no_template() -> None:
    recipe = only_recipe(block_of(corners_cut(F(4), F(5), [2, 2, 0, 0])))
    assert (recipe.kind, recipe.method) == ("snowball", TRIMMED)
    assert [len(step.takes) for step in recipe.steps] == [2, 2]


def test_what_is_stitched_is_a_seam_allowance_from_what_is_cut() -> None:
    (step,) = only_recipe(snowball(6, 2)).steps
    for (a, b), (p, _) in zip(step.stitched, step.cuts, strict=True):
        length = math.hypot(b[0] - a[0], b[1] - a[1])
        off = abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / length
        assert off == pytest.approx(0.25, abs=1e-5)
    # From corner to corner of the small square.
    assert all(sorted(step.stitched[k]) == sorted(step.drawn[k]) for k in range(4))
    assert {round(math.dist(a, b) ** 2, 6) for a, b in step.stitched} == {12.5}


def test_nothing_is_trimmed_whatever_the_sizes() -> None:
    for chosen in (USUAL, EXACT, CuttingSettings.metric()):
        recipe = only_recipe(snowball(6, 2), chosen)
        assert recipe.trim is None
        assert {step.verb for step in recipe.steps} == {"sew"}


def test_backs_are_left_in_if_the_maker_says_so() -> None:
    recipe = only_recipe(snowball(6, 2), by(LEFT_IN))
    (step,) = recipe.steps
    assert recipe.method == LEFT_IN
    assert step.left_in
    assert step.cuts == ()
    assert recipe.waste == 0
    assert recipe.bonus == ()
    # Each square reaches back over its stitching, and the whole lies under all of them.
    assert sorted(float(area(sheet)) for sheet in recipe.sheets) == [6.25] * 4 + [42.25]
    trimmed = only_recipe(snowball(6, 2))
    assert trimmed.waste > 0
    assert max(float(area(sheet)) for sheet in trimmed.sheets) < 42.25


def test_a_corner_off_the_ruler_is_said() -> None:
    made = listed(snowball(8, "8/3"))
    corners = [piece for piece in made.pieces if piece.fabric == "a"]
    assert [(str(p.width.ruler), p.rounding) for p in corners] == [("25/8", "as cut")]
    assert corners[0].width.need == pytest.approx(8 / 3 + 0.5)


def test_a_goose_that_stands_aslant_is_trimmed_instead() -> None:
    patches = corners_cut(F(4), F(2), [2, 2, 0, 0])
    assert only_recipe(block_of(patches)).method == TRIMMED
    assert only_recipe(block_of(patches, aslant=True)).method == "from triangles"
    assert only_recipe(block_of(patches, aslant=True), by(TRIMMED)).method == TRIMMED


@pytest.mark.parametrize(
    ("legs", "fabrics", "twin"),
    [
        ([1, 1, 1, 1], "aaaa", False),
        ([1, 2, 1, 2], "aaaa", False),
        ([2, 1, 1, 2], "abba", False),
        ([1, 2, 0, 0], "aaaa", True),
        ([1, 1, 1, 0], "abba", True),
        ([1, 1, 1, 1], "abba", False),
        ([1, 1, 1, 1], "abca", True),
    ],
)
def test_hands(legs: list[int], fabrics: str, twin: bool) -> None:
    for height in (F(6), F(7)):
        block = block_of(corners_cut(F(6), height, legs, fabrics))
        hands = {only_recipe(block).hand, only_recipe(mirrored(block)).hand}
        odd = twin or (height == 7 and legs == [1, 2, 1, 2])
        assert hands == ({"left", "right"} if odd else {"either"})


def test_a_square_on_its_side_may_be_its_own_twin() -> None:
    # Turned a quarter, the mirrored square is the square again; a rectangle is not.
    square, other = (
        block_of(corners_cut(F(6), height, [1, 0, 0, 0], "aaaa")) for height in (F(6), F(7))
    )
    assert only_recipe(square).hand == "either"
    assert {only_recipe(other).hand, only_recipe(mirrored(other)).hand} == {"left", "right"}


# What is cut off ----------------------------------------------------------------------------------


def test_bonus_units_are_as_many_as_the_corners() -> None:
    (bonus,) = only_recipe(snowball(12, 4), copies=2).bonus
    assert (bonus.base, bonus.corner, bonus.count) == ("Ca", "Aa", 8)
    assert bonus.size.ruler == F("3.5")
    assert bonus.size.need == pytest.approx(4.5 - math.sqrt(2) / 2)


def test_corners_of_the_same_cloth_make_no_bonus() -> None:
    block = block_of(corners_cut(F(12), F(12), [4, 0, 4, 0], "abcb", centre="a"))
    (bonus,) = only_recipe(block).bonus
    assert [bonus.corner[0], bonus.count] == ["C", 1]


@given(
    st.integers(1, 96).map(lambda n: F(n, 8)), st.sampled_from([USUAL, CuttingSettings.metric()])
)
def test_bonus_units_finish_on_a_mark_that_is_easy_to_read(
    square: Fraction, chosen: CuttingSettings
) -> None:
    size = bonus_size(square, chosen)
    left = float(square) - 2 * math.sqrt(2) * float(chosen.seam)
    if size is None:
        assert left - 2 * float(chosen.seam) < 1 + 4 * float(chosen.step)
        return
    assert 0 <= left - float(size.ruler) < 4 * chosen.step
    easy = F(1, 2) if chosen is USUAL else CM
    assert ((size.ruler - 2 * chosen.seam) / easy).denominator == 1


# The proof ----------------------------------------------------------------------------------------


@st.composite
def flipped(draw: st.DrawFn) -> Block:
    """Any corners of any legs that leave each other alone, at any turn, of either hand."""
    halves = st.integers(4, 16).map(lambda n: F(n, 2))
    width = draw(halves)
    height = draw(st.one_of(st.just(width), halves))
    legs: list[Fraction] = []
    for k in range(4):
        room = min(width, height, *((width, height)[k % 2 - 1] - leg for leg in legs[-1:]))
        if k == 3:
            room = min(room, height - legs[0])
        least = 2 if k == 0 else 0
        leg = F(draw(st.integers(least, max(least, int(2 * room)))), 2)
        legs.append(leg if leg >= 1 else F(0))
    assume(max(legs[0] + legs[2], legs[1] + legs[3]) < width + height)  # else nothing is between
    fabrics = [draw(st.sampled_from("ab")) for _ in range(4)]
    block = block_of(corners_cut(width, height, legs, fabrics), aslant=draw(st.booleans()))
    block = turned(block, draw(st.integers(0, 3)))
    return mirrored(block) if draw(st.booleans()) else block


settings_of_all_kinds = st.sampled_from(
    [USUAL, EXACT, CuttingSettings.metric(), replace(USUAL, seam=F(3, 8))]
)


@settings(max_examples=40)
@given(flipped(), settings_of_all_kinds, st.sampled_from([TRIMMED, LEFT_IN]), st.integers(1, 2))
def test_the_proof_has_nothing_to_say(
    block: Block, chosen: CuttingSettings, method: str, copies: int
) -> None:
    assert faults(block, by(method, chosen), copies) == []
