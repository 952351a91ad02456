"""Strip sets: how many, how long, what is cut from them, and that the proof has nothing to say."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamproof.cutting.model import CuttingSettings, Recipe
from seamproof.cutting.recipes.strip_sets import ENOUGH
from seamproof.draft.model import Block
from seamproof.draft.turning import mirrored, turned
from seamproof.findings import Finding
from seamproof.length.exact import CM
from seamproof.piecing.planning import plan
from seamproof.proof.sizes import prove
from tests.cast import cells_drawing, polygon_drawing, understood
from tests.cutting.drawn import TRIMMED, block_of, cut, listed, nine_patch, recipe_for

F = Fraction
METRIC = CuttingSettings.metric()
ODD = CuttingSettings(seam=F(3, 16), step=F(1, 16), usable_width=F(83, 3))


def rails() -> Block:
    return understood(
        cells_drawing(
            "rails",
            (12, 12),
            [
                "c = = = b f e c",
                "e = = = ^ ^ ^ ^",
                "f = = = ^ ^ ^ ^",
                "b = = = ^ ^ ^ ^",
                "c e f b b = = =",
                "^ ^ ^ ^ f = = =",
                "^ ^ ^ ^ e = = =",
                "^ ^ ^ ^ c = = =",
            ],
            columns=[2, 2, 1, 1, 1, 1, 2, 2],
            heights=[2, 2, 1, 1, 1, 1, 2, 2],
        )
    )


def uneven() -> Block:
    """Large middle, small corners."""
    return understood(
        cells_drawing(
            "uneven", (6, 6), ["a b a", "b c b", "a b a"], columns=[1, 4, 1], heights=[1, 4, 1]
        )
    )


def unlike_bars() -> Block:
    """Two bars, of which the lower one is taller than it is wide."""
    return understood(cells_drawing("band", (2, 8), ["a", "b"], heights=[2, 6]))


def on_point(fabrics: str) -> Block:
    """Four squares that stand on a corner, in a square of plain corners."""
    places = [
        [(4, 0), (6, 2), (4, 4), (2, 2)],
        [(6, 2), (8, 4), (6, 6), (4, 4)],
        [(4, 4), (6, 6), (4, 8), (2, 6)],
        [(2, 2), (4, 4), (2, 6), (0, 4)],
    ]
    quarters = list(zip(fabrics, places, strict=True))
    corners = [
        ("e", [(0, 0), (4, 0), (0, 4)]),
        ("e", [(4, 0), (8, 0), (8, 4)]),
        ("e", [(8, 4), (8, 8), (4, 8)]),
        ("e", [(0, 4), (4, 8), (0, 8)]),
    ]
    return understood(polygon_drawing("on point", (8, 8), [*quarters, *corners]))


BLOCKS: dict[str, tuple[Callable[[], Block], str, int]] = {
    "rails": (rails, "rail", 4),
    "band": (unlike_bars, "rail", 1),
    "bars of one fabric": (lambda: block_of("a\nb\na\nb\na", 5), "rail", 1),
    "four-patch": (lambda: block_of("a b\nb a", 4), "four-patch", 1),
    "four fabrics": (lambda: block_of("a b\nc d", 4), "four-patch", 1),
    "nine-patch": (lambda: nine_patch(F(9, 2)), "nine-patch", 1),
    "uneven": (uneven, "nine-patch", 1),
    "thirds off the ruler": (lambda: nine_patch(7), "nine-patch", 1),
    "rows turned by half": (lambda: block_of("a b c d\nd c b a", 8, 4), "checkerboard", 1),
    "three by two": (lambda: block_of("a b a\nb a b", 3, 2), "checkerboard", 1),
    "on point": (lambda: on_point("abab"), "rail", 2),
    "on point, four fabrics": (lambda: on_point("abcd"), "four-patch", 1),
}
"""What draws a block, the kind of unit in it that is made from strip sets, and how many it has."""


def told(block: Block, settings: CuttingSettings, copies: int) -> tuple[Recipe, list[Finding]]:
    """The recipe of strip sets in a list, and what the proof says of the list."""
    made = listed(block, settings, copies)
    its_plan, _ = plan(block)
    assert its_plan is not None
    found = list(prove(block, its_plan, made, settings))
    (recipe,) = [recipe for recipe in made.recipes if recipe.method == "strip sets"]
    return recipe, found


def cut_of(recipe: Recipe) -> set[tuple[str, Fraction, Fraction, int]]:
    """The strips of a recipe."""
    return {(p.fabric, p.width.ruler, p.height.ruler, p.count) for p in recipe.pieces}


@pytest.mark.parametrize("name", BLOCKS)
@pytest.mark.parametrize("chosen", [TRIMMED, METRIC, ODD], ids=["inch", "metric", "odd"])
@pytest.mark.parametrize("copies", [4, 13])
def test_the_proof_has_nothing_to_say(name: str, chosen: CuttingSettings, copies: int) -> None:
    make, kind, units = BLOCKS[name]
    recipe, found = told(make(), chosen, copies)
    assert recipe.kind == kind
    assert found == []
    assert recipe.made - recipe.spare == copies * units
    assert all(piece.height.ruler <= chosen.usable_width for piece in recipe.pieces)
    assert recipe.bias_edges == 0
    assert recipe.trim is None
    assert recipe.hand == "either"


@pytest.mark.parametrize("name", BLOCKS)
def test_turned_and_mirrored_units_are_made_alike(name: str) -> None:
    block = BLOCKS[name][0]()
    strips = cut_of(told(block, TRIMMED, 5)[0])
    for other in (turned(block, 1), turned(block, 2), mirrored(block)):
        recipe, found = told(other, TRIMMED, 5)
        assert found == []
        assert cut_of(recipe) == strips


def test_four_rails_come_from_one_strip_set() -> None:
    """2, 2, 1 and 1 in finished: strips of 2 1/2 and 1 1/2 in, four slices of 6 1/2 in and an inch
    for squaring up."""
    recipe, _ = told(rails(), TRIMMED, 1)
    strips = {(p.letter, p.shape, p.width.ruler, p.height.ruler, p.count) for p in recipe.pieces}
    assert strips == {
        ("Ba", "strip", F(3, 2), F(27), 1),
        ("Ca", "strip", F(5, 2), F(27), 1),
        ("Ea", "strip", F(5, 2), F(27), 1),
        ("Fa", "strip", F(3, 2), F(27), 1),
    }
    *_sewing, sub_cut = recipe.steps
    assert [step.verb for step in recipe.steps] == ["sew", "sew", "sew", "cut"]
    assert (sub_cut.takes[0].count, sub_cut.gives[0].count) == (1, 4)
    assert len(sub_cut.cuts) == 5  # the end, and four slices
    assert recipe.gives == 4
    assert recipe.spare == 0


@pytest.mark.parametrize(
    ("copies", "sets", "each", "length"), [(4, 1, 4, "27"), (6, 1, 6, "40"), (7, 2, 4, "27")]
)
def test_no_more_sets_than_needed_and_no_longer_ones(
    copies: int, sets: int, each: int, length: str
) -> None:
    """Six slices of 6 1/2 in fit in 39 of 40 in; the seventh takes a second set, and then both are
    short."""
    recipe, found = told(block_of("a\nb", 6), TRIMMED, copies)
    assert [(p.count, p.height.ruler) for p in recipe.pieces] == [(sets, F(length))] * 2
    assert (recipe.gives, recipe.made, recipe.spare) == (each, sets * each, sets * each - copies)
    assert found == []


def test_spare_slices_that_are_units_are_announced() -> None:
    _, findings = cut(block_of("a\nb", 6), copies=7)
    assert [finding.code for finding in findings] == [307]


def test_a_narrow_cloth_takes_more_sets() -> None:
    narrow = replace(TRIMMED, usable_widths={"b": F(21)})
    recipe, found = told(block_of("a\nb", 6), narrow, 6)
    assert {(p.count, p.height.ruler) for p in recipe.pieces} == {(2, F(41, 2))}
    assert found == []


def test_nothing_longer_than_the_cloth_is_wide() -> None:
    """Slices of 38 1/2 in fit, those of 39 1/2 do not: those bars are cut singly."""
    assert listed(block_of("a\nb", 38, 4), copies=4).recipes[0].method == "strip sets"
    assert {r.method for r in listed(block_of("a\nb", 39, 4), copies=4).recipes} == {"by ruler"}


def test_few_units_are_sewn_from_single_patches() -> None:
    few = listed(nine_patch(9), copies=ENOUGH - 1)
    assert {piece.shape for piece in few.pieces} == {"square"}
    enough = listed(nine_patch(9), copies=ENOUGH)
    assert {piece.shape for piece in enough.pieces} == {"strip"}


def test_rows_within_units_of_single_patches_are_not_strip_sets() -> None:
    """Three nine-patches have six equal rows."""
    made = listed(uneven(), copies=3)
    assert {recipe.method for recipe in made.recipes} == {"by ruler"}


def test_a_maker_may_name_either_way() -> None:
    singly = replace(TRIMMED, methods={"nine-patch": "single patches"})
    assert {piece.shape for piece in listed(nine_patch(9), singly, 12).pieces} == {"square"}
    sets = replace(TRIMMED, methods={"nine-patch": "Strip-sets"})
    assert {piece.shape for piece in listed(nine_patch(9), sets, 1).pieces} == {"strip"}


def test_a_way_that_a_unit_does_not_have_is_refused_with_those_it_has() -> None:
    wrong = replace(TRIMMED, methods={"nine-patch": "from triangles"})
    _, (finding,) = cut(nine_patch(9), wrong, 1)
    assert finding.code == 303
    assert "strip sets, single patches" in finding.mend


def test_a_slice_turned_by_half_serves_twice() -> None:
    recipe = recipe_for(listed(block_of("a b c d\nd c b a", 8, 4), copies=4), "checkerboard")
    assert len(recipe.pieces) == 4  # one strip set of four strips
    assert sum(step.verb == "cut" for step in recipe.steps) == 1


def test_slices_off_the_ruler_are_told() -> None:
    made, findings = cut(nine_patch(7), copies=4)
    assert {piece.rounding for piece in made.pieces} == {"as cut"}
    slices = [f for f in findings if f.code == 301 and f.what.startswith("slices")]
    assert len(slices) == 2
    assert "2.833 in wide" in slices[0].what


@settings(max_examples=25)
@given(
    heights=st.lists(st.integers(4, 40).map(lambda n: F(n, 8)), min_size=2, max_size=6),
    width=st.integers(8, 80).map(lambda n: F(n, 8)),
    copies=st.integers(4, 90),
    data=st.data(),
)
def test_any_rail_adds_up(
    heights: list[Fraction], width: Fraction, copies: int, data: st.DataObject
) -> None:
    fabrics = [data.draw(st.sampled_from("abc")) for _ in heights]
    drawing = cells_drawing("rail", (width, sum(heights)), fabrics, heights=heights)
    recipe, found = told(understood(drawing), TRIMMED, copies)
    assert found == []
    (sub_cut,) = [step for step in recipe.steps if step.verb == "cut"]
    sets, slices = sub_cut.takes[0].count, sub_cut.gives[0].count
    assert slices >= copies > slices - sets
    assert sub_cut.measure is not None
    assert sub_cut.measure[1].ruler == sum(heights) + 2 * TRIMMED.seam


@settings(max_examples=25)
@given(
    rows=st.integers(2, 4),
    columns=st.integers(2, 4),
    seam=st.sampled_from([F(1, 4), F(1, 8), CM * 3 / 4]),
    data=st.data(),
)
def test_any_grid_adds_up(rows: int, columns: int, seam: Fraction, data: st.DataObject) -> None:
    cells = [[data.draw(st.sampled_from("ab")) for _ in range(columns)] for _ in range(rows)]
    block = block_of("\n".join(" ".join(row) for row in cells), 2 * columns, 2 * rows)
    chosen = replace(TRIMMED, seam=seam)
    its_plan, _ = plan(block)
    assert its_plan is not None
    assert prove(block, its_plan, listed(block, chosen, 5), chosen) == ()
