"""Pictures of the steps of a recipe."""

from __future__ import annotations

from seamproof.cutting.model import Step, Stock
from seamproof.drawing.clashing import clashes
from seamproof.drawing.placing import place
from seamproof.drawing.scene import Cloth, Dimension, Scene, Stroke
from seamproof.figures.cloth import paints
from seamproof.figures.looks import Looking, followed
from seamproof.figures.recipe import opened_scene, parting_scene, sewing_scene, trimming_scene
from tests import by_hand

PAINTS = paints(by_hand.FABRICS)


def lookings() -> tuple[Looking, ...]:
    recipe = by_hand.cutting().recipes[0]
    return followed(recipe.steps, recipe.pieces)


def kinds(scene: Scene) -> list[str]:
    return [shape.kind for shape in scene.shapes if isinstance(shape, Stroke)]


def test_face_down_cloth_shows_its_wrong_side_over_the_slipped_one() -> None:
    sewing = sewing_scene(lookings()[0], PAINTS)
    lower, upper = (shape for shape in sewing.shapes if isinstance(shape, Cloth))
    assert (lower.paint.letter, lower.side, lower.slip > 0) == ("A", "right", True)
    assert (upper.paint.letter, upper.side, upper.slip) == ("B", "wrong", 0)
    assert kinds(sewing).count("stitching") == 2
    assert "cut" not in kinds(sewing)


def test_what_is_cut_is_drawn_as_a_cut() -> None:
    assert kinds(parting_scene(lookings()[0], PAINTS)).count("cut") == 1
    size = (by_hand.Fraction(13, 2),) * 2
    trimming = trimming_scene(lookings()[1], PAINTS, "in", size)
    assert kinds(trimming).count("cut") == 4
    assert [d.text for d in trimming.shapes if isinstance(d, Dimension)] == ["6 1/2 in"] * 2


def test_no_texts_meet() -> None:
    sewn, trimmed = lookings()
    size = (by_hand.Fraction(13, 2),) * 2
    for scene in (
        sewing_scene(sewn, PAINTS),
        opened_scene(sewn.gives[0], PAINTS, "in", size),
        trimming_scene(trimmed, PAINTS, "in", size),
    ):
        assert clashes(place(scene, 0.18)) == ()


def test_two_alike_pieces_that_overlap_are_named_clear_of_each_other() -> None:
    zero, three, four = by_hand.Fraction(0), by_hand.Fraction(3), by_hand.Fraction(4)
    left = ((zero, zero), (three, four / 2), (zero, four))
    right = ((four, zero), (four, four), (four - three, four / 2))
    seam = by_hand.Fraction(1, 4)
    step = Step(
        "sew",
        (
            Stock("Ca", by_hand.square(four), 1),
            Stock("Aa", left, 1, "down"),
            Stock("Aa", right, 1, "down"),
        ),
        (Stock("sides on", by_hand.square(four), 1),),
        stitched=(((seam, zero), (seam, four)), ((four - seam, zero), (four - seam, four))),
    )
    (looking,) = followed([step], by_hand.cutting().pieces)
    placed = place(sewing_scene(looking, PAINTS), 0.3)
    assert [text.line.text for text in placed.texts] == ["Aa", "Aa"]
    assert clashes(placed) == ()
