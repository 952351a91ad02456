"""What is cut and done for a block, in all."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.cutting.model import CuttingSettings
from seamproof.plane.predicates import area
from tests.cast import reference_blocks
from tests.cutting.drawn import (
    EXACT,
    block_of,
    cut,
    geese,
    hourglass,
    hst,
    listed,
    nine_patch,
    piece_of,
    recipe_for,
    rows_of,
)


def test_twelve_friendship_stars() -> None:
    # Calculated by hand: star 24 squares of 4 7/8 and 12 of 4 1/2, ground 24 and 48; to be
    # trimmed, the larger ones are cut 5 in.
    block = reference_blocks()["friendship_star"]
    assert rows_of(listed(block, EXACT, copies=12)) == [
        ("Aa", "39/8", "39/8", "whole", 24),
        ("Ab", "9/2", "9/2", "whole", 12),
        ("Ba", "39/8", "39/8", "whole", 24),
        ("Bb", "9/2", "9/2", "whole", 48),
    ]
    trimmed = listed(block, copies=12)
    assert [row[1] for row in rows_of(trimmed)] == ["5", "9/2", "5", "9/2"]
    assert [piece.trim for piece in trimmed.pieces] == [
        (Fraction("4.5"), Fraction("4.5")),
        None,
        (Fraction("4.5"), Fraction("4.5")),
        None,
    ]


def test_the_last_step_gives_the_block_with_its_allowance() -> None:
    made = listed(nine_patch(9), copies=3)
    (last,) = made.steps[-1].gives
    assert last.count == 3
    assert area(last.corners) == Fraction("9.5") ** 2


def test_steps_begin_with_those_of_the_recipes() -> None:
    made = listed(reference_blocks()["ohio_star"])
    of_recipes = [step for recipe in made.recipes for step in recipe.steps]
    assert of_recipes
    assert list(made.steps[: len(of_recipes)]) == of_recipes


def test_a_unit_is_made_by_its_outermost_name() -> None:
    # The halves of an hourglass are no patches of their own.
    made = listed(hourglass(4))
    assert [recipe.kind for recipe in made.recipes] == ["hourglass"]
    assert len(made.steps) == 3


def test_equal_pieces_share_a_row() -> None:
    made = listed(block_of("a b a\nb a b\nc c= c=", 9))
    assert rows_of(made) == [
        ("Aa", "7/2", "7/2", "whole", 3),
        ("Ba", "7/2", "7/2", "whole", 3),
        ("Ca", "7/2", "19/2", "whole", 1),
    ]


def test_pieces_of_another_method_have_a_row_of_their_own() -> None:
    # Four geese are made at a time, one of another fabric otherwise; their skies are alike.
    block = block_of("\n".join(["a/b b=\\a"] * 4 + ["a/c c=\\a"]), 4, 10)
    skies = [piece for piece in listed(block).pieces if piece.fabric == "a"]
    assert [piece.letter for piece in skies] == ["Aa", "Ab"]
    assert "four at a time" in {piece.method for piece in skies}
    assert len({piece.method for piece in skies}) == 2


def test_copies_are_counted_before_the_method_is_chosen() -> None:
    assert recipe_for(listed(geese(4, 2, 1)), "flying geese").method != "four at a time"
    assert recipe_for(listed(geese(4, 2, 1), copies=4), "flying geese").method == "four at a time"


@pytest.mark.parametrize(("count", "spare"), [(4, 0), (6, 2), (7, 1), (8, 0)])
def test_geese_four_at_a_time_leave_few_over(count: int, spare: int) -> None:
    made, found = cut(geese(4, 2, count))
    recipe = recipe_for(made, "flying geese")
    assert (recipe.method, recipe.made, recipe.spare) == ("four at a time", count + spare, spare)
    assert ([f.code for f in found] == [307]) == bool(spare)


@pytest.mark.parametrize("count", [1, 2, 3, 5])
def test_geese_that_would_leave_many_over_are_made_one_by_one(count: int) -> None:
    recipe = recipe_for(listed(geese(4, 2, count)), "flying geese")
    assert recipe.method != "four at a time"
    assert (recipe.made, recipe.spare) == (count, 0)


def test_skies_of_two_fabrics_are_never_four_at_a_time() -> None:
    block = block_of("\n".join(["a/b b=\\c"] * 4), 4, 8)
    assert recipe_for(listed(block), "flying geese").method != "four at a time"
    made = listed(block, CuttingSettings(methods={"flying geese": "from triangles"}))
    recipe = recipe_for(made, "flying geese")
    assert (recipe.method, recipe.hand) == ("from triangles", "left")
    assert [(p.fabric, p.count) for p in recipe.pieces] == [("b", 1), ("a", 2), ("c", 2)]


def test_the_maker_names_a_method() -> None:
    settings = CuttingSettings(methods={"half-square triangle": "From  Triangles"})
    made = listed(hst(4), settings)
    assert recipe_for(made, "half-square triangle").method == "from triangles"
    assert rows_of(made)[0] == ("Aa", "5", "5", "once", 1)


def test_a_method_that_does_not_exist_is_an_error_with_those_that_do() -> None:
    made, found = cut(hst(4), CuttingSettings(methods={"half-square triangle": "by magic"}))
    (finding,) = found
    assert (finding.code, finding.severity) == (303, "error")
    assert "by magic" in finding.what
    assert "two at a time" in finding.mend
    assert "from triangles" in finding.mend
    assert recipe_for(made, "half-square triangle").method == "two at a time"


def test_a_method_that_does_not_fit_is_a_warning_with_those_that_do() -> None:
    block = block_of("a/b b=\\c", 4, 2)
    made, found = cut(block, CuttingSettings(methods={"flying geese": "four at a time"}))
    (finding,) = found
    assert (finding.code, finding.severity) == (304, "warning")
    assert "from triangles" in finding.mend
    assert recipe_for(made, "flying geese").method != "four at a time"


def test_a_method_for_a_unit_that_is_not_there_is_noted() -> None:
    _, found = cut(nine_patch(9), CuttingSettings(methods={"hourglass": "from triangles"}))
    assert [(f.code, f.severity) for f in found] == [(305, "note")]


def test_a_size_between_two_marks_is_a_warning_with_its_sum_and_a_way_out() -> None:
    made, found = cut(block_of("a b a b a", 12, Fraction(12, 5)))
    assert {p.rounding for p in made.pieces} == {"as cut"}
    assert [str(p.width.ruler) for p in made.pieces] == ["23/8", "23/8"]  # 2.9 in is needed
    first = found[0]
    assert (first.code, first.severity) == (301, "warning")
    assert "0.025 in too small" in first.what
    assert "adds up to 0.125 in too small" in first.what
    assert "10" in first.mend
    assert "15" in first.mend


def test_a_size_that_is_trimmed_is_rounded_up_in_silence() -> None:
    made, found = cut(hst(Fraction(12, 5)))
    assert found == ()
    assert piece_of(made, "a").width.ruler == Fraction("3.5")  # 3.2536 needed, 3 3/8, 1/8 to trim


def test_loose_triangles_say_what_they_have_to_spare() -> None:
    # A wedge that no unit holds: a right triangle in the corner of a larger patch.
    made, found = cut(reference_blocks()["birds_in_the_air"])
    loose = [p for p in made.pieces if p.unit == "triangle"]
    assert loose
    for piece in loose:
        assert 0 <= piece.width.surplus < 1 / 8
    assert {f.code for f in found} >= {302}


def test_metric_sizes_lie_on_a_metric_ruler() -> None:
    settings = CuttingSettings.metric()
    cm = settings.step * 4
    made = listed(hst(10 * cm), settings)
    piece = piece_of(made, "a")
    # 10 cm, 2.56 cm more by geometry, up to the quarter, and a quarter to trim: the trade's 3 cm.
    assert piece.width.ruler == 13 * cm
    assert piece.trim == (Fraction("11.5") * cm,) * 2


def test_no_copies_cannot_be_cut() -> None:
    with pytest.raises(ValueError, match="0 copies"):
        cut(hst(4), copies=0)


def test_an_oversize_of_ones_own() -> None:
    settings = replace(CuttingSettings(), oversize={"half-square triangle": Fraction(1, 4)})
    assert piece_of(listed(hst(4), settings), "a").width.ruler == Fraction("5.125")


def test_a_way_to_cut_squares_that_nobody_knows_is_an_error() -> None:
    _, found = cut(nine_patch(9), CuttingSettings(methods={"square": "by eye"}))
    assert [(f.code, f.severity) for f in found] == [(303, "error")]
    assert "by template" in found[0].mend
    made, found = cut(nine_patch(9), CuttingSettings(methods={"square": "By-Template"}))
    assert {piece.shape for piece in made.pieces} == {"template"}
    assert {f.code for f in found} == {306}


def test_a_method_may_be_named_for_the_units_of_some_fabrics() -> None:
    settings = CuttingSettings(methods={"half-square triangle a b": "from triangles"})
    found, findings = cut(block_of("a/b c/d\na/b c/d", 6), settings)
    ways = {piece.fabric: piece.method for piece in found.pieces}
    assert ways == {
        "a": "from triangles",
        "b": "from triangles",
        "c": "two at a time",
        "d": "two at a time",
    }
    assert not findings
