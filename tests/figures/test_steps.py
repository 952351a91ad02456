"""Pictures of the seams above the units."""

from __future__ import annotations

import pytest
import shapely

from seamproof.drawing.placing import clashes, fitting, place
from seamproof.drawing.scene import Cloth, Label, Stroke
from seamproof.figures.cloth import paints
from seamproof.figures.steps import join_scene, part_scene
from seamproof.piecing.model import Join
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
