"""Pictures of the seams above the units."""

from __future__ import annotations

import pytest
import shapely

from seamproof.drawing.clashing import clashes
from seamproof.drawing.inks import SIGN
from seamproof.drawing.placing import Drawn, fitting, place
from seamproof.drawing.scene import Cloth, Label, PressSign, Stroke
from seamproof.figures.cloth import paints
from seamproof.figures.press_signs import press_signs
from seamproof.figures.steps import join_scene, part_scene
from seamproof.piecing.model import Join
from seamproof.pressing.model import Press
from tests import by_hand

PAINTS = paints(by_hand.FABRICS)
PLAN = by_hand.piecing()
JOINS = [i for i, part in enumerate(PLAN.parts) if isinstance(part.made, Join)]


@pytest.mark.parametrize("part", JOINS)
def test_the_two_sides_are_moved_apart_and_nothing_is_lost(part: int) -> None:
    apart = [s for s in join_scene(PLAN, part, PAINTS, {}).shapes if isinstance(s, Cloth)]
    together = [s for s in part_scene(PLAN, part, PAINTS).shapes if isinstance(s, Cloth)]
    areas = [sum(shapely.Polygon(s.corners).area for s in some) for some in (apart, together)]
    assert areas[0] == pytest.approx(areas[1])
    whole = shapely.union_all([shapely.Polygon(s.corners) for s in apart])
    assert len(whole.geoms) == 2


@pytest.mark.parametrize("part", JOINS)
def test_names_stand_clear_of_cloth_and_of_each_other(part: int) -> None:
    made = PLAN.parts[part].made
    assert isinstance(made, Join)
    names = {made.left.part: "step 11", made.right.part: "unit 10"}
    scene = join_scene(PLAN, part, PAINTS, names)
    assert len([s for s in scene.shapes if isinstance(s, Label)]) == 2
    placed = place(scene, fitting([scene], 137, 118))
    assert clashes(placed) == ()
    cloth = [
        shapely.Polygon(path)
        for mark in placed.marks
        for path in getattr(mark, "paths", ())
        if hasattr(mark, "paint")
    ]
    for text in placed.texts:
        assert not any(shapely.box(*text.box).intersects(piece) for piece in cloth)


def test_a_patch_is_no_join() -> None:
    leaf = next(i for i in range(len(PLAN.parts)) if i not in JOINS)
    with pytest.raises(TypeError, match="not a join"):
        join_scene(PLAN, leaf, PAINTS, {})


def test_the_seam_to_come_lies_between() -> None:
    scene = join_scene(PLAN, JOINS[-1], PAINTS, {})
    (seam,) = [s for s in scene.shapes if isinstance(s, Stroke) and s.kind == "to come"]
    assert seam.points == ((0.0, 6.0), (12.0, 6.0))


def test_without_presses_no_seam_bears_a_sign() -> None:
    scene = join_scene(PLAN, JOINS[-1], PAINTS, {})
    assert not [s for s in scene.shapes if isinstance(s, PressSign)]


def test_the_seam_of_a_step_bears_the_sign_of_its_press() -> None:
    part = JOINS[-1]
    scene = join_scene(PLAN, part, PAINTS, {}, [Press(part, 0, "left")])
    (sign,) = [s for s in scene.shapes if isinstance(s, PressSign)]
    assert (sign.start, sign.end, sign.way) == ((0.0, 6.0), (12.0, 6.0), "left")


def test_seams_that_end_on_it_bear_theirs_moved_with_their_part() -> None:
    presses = [Press(n, 0, "open") for n in JOINS[:-1]]
    scene = join_scene(PLAN, JOINS[-1], PAINTS, {}, presses)
    signs = [s for s in scene.shapes if isinstance(s, PressSign)]
    before = [s for s in press_signs(PLAN, JOINS[-1], presses) if isinstance(s, PressSign)]
    assert len(signs) == len(before) == 4
    assert sorted(s.start[1] - b.start[1] for s, b in zip(signs, before, strict=True)) == (
        pytest.approx([-0.54, -0.54, 0.54, 0.54])
    )


def test_signs_and_names_of_a_step_keep_clear_of_each_other() -> None:
    part = JOINS[-1]
    made = PLAN.parts[part].made
    assert isinstance(made, Join)
    names = {made.left.part: "step 11", made.right.part: "unit 10"}
    presses = [Press(part, run, "open") for run in range(len(made.sewn))]
    scene = join_scene(PLAN, part, PAINTS, names, presses)
    placed = place(scene, fitting([scene], 137, 118))
    signs = [
        shapely.LineString(path).buffer(mark.pen.width / 2)
        for mark in placed.marks
        if isinstance(mark, Drawn) and mark.pen.colour == SIGN
        for path in mark.paths
        if len(path) > 1
    ]
    assert signs
    for text in placed.texts:
        assert not any(shapely.box(*text.box).intersects(sign) for sign in signs)
