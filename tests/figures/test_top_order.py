"""The top taken apart: everything there, nothing on top of anything, signs as in the plan."""

from __future__ import annotations

from itertools import combinations

import pytest
import shapely

from seamproof.drawing.clashing import clashes
from seamproof.drawing.placing import place
from seamproof.drawing.scene import Cloth, Label, PressSign, Scene, extent
from seamproof.figures.top import MEDIUM
from seamproof.figures.top_order import Sewn, fitting_scale, top_order_scene
from seamproof.piecing.model import Join
from seamproof.setting.model import Top
from seamproof.setting.seams import presses
from tests.figures.test_top import AVAILABLE, BLOCKS, PAINTS, SETTINGS
from tests.setting.tops import top_of

SEWN = {name: Sewn(block) for name, block in BLOCKS.items()}


def made(name: str, scale: float = 0.2) -> tuple[Top, Scene]:
    top = top_of(SETTINGS[name], *AVAILABLE)
    return top, top_order_scene(top, presses(top.plan, dict(top.roles)), SEWN, PAINTS, scale=scale)


@pytest.mark.parametrize("name", SETTINGS)
def test_all_the_cloth_lies_apart_and_none_is_lost(name: str) -> None:
    top, scene = made(name)
    shown = [shapely.Polygon(s.corners) for s in scene.shapes if isinstance(s, Cloth)]
    assert sum(cloth.area for cloth in shown) == pytest.approx(float(top.width * top.height), 1e-6)
    assert all(a.intersection(b).area < 1e-6 for a, b in combinations(shown, 2))
    pieces = len(top.leaves) + len(top.blocks)
    joined = shapely.union_all([cloth.buffer(1e-6) for cloth in shown])
    assert len(shapely.get_parts(joined)) == pieces


@pytest.mark.parametrize("name", SETTINGS)
def test_every_seam_has_its_step_and_its_sign(name: str) -> None:
    top, scene = made(name)
    parts = top.plan.parts
    steps = [n for parts_ in top.plan.rounds for n in parts_]
    wanted = sorted(
        str(number)
        for number, n in enumerate(steps, start=1)
        if isinstance(parts[n].made, Join)
        for _ in range(parts[n].uses)
    )
    runs = sum(len(p.made.sewn) * p.uses for p in parts if isinstance(p.made, Join))
    labels = [shape.text for shape in scene.shapes if isinstance(shape, Label)]
    assert sorted(text for text in labels if text.isdigit()) == wanted
    signs = [shape for shape in scene.shapes if isinstance(shape, PressSign)]
    assert len(signs) == runs


def test_without_press_plans_there_are_no_signs() -> None:
    top = top_of(SETTINGS["straight"], *AVAILABLE)
    scene = top_order_scene(top, (), SEWN, PAINTS, scale=0.2)
    assert not [shape for shape in scene.shapes if isinstance(shape, PressSign)]


def test_a_sash_is_what_its_sign_points_to() -> None:
    top, scene = made("straight")
    sashes = [
        shapely.Polygon(s.corners)
        for s in scene.shapes
        if isinstance(s, Cloth) and s.paint.letter == "F"
    ]
    for sign in (s for s in scene.shapes if isinstance(s, PressSign)):
        (ax, ay), (bx, by) = sign.start, sign.end
        long = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
        far = 1.5 if sign.way == "left" else -1.5
        # A long seam crosses gaps: somewhere along it there is a sash.
        line = [
            shapely.Point(
                ax + (bx - ax) * k / 20 + far * (by - ay) / long,
                ay + (by - ay) * k / 20 - far * (bx - ax) / long,
            )
            for k in range(1, 20)
        ]
        assert any(sash.distance(point) < 1 for sash in sashes for point in line)
    assert top.sashing == 2


def test_signs_of_a_block_that_end_at_its_edge_are_drawn_in_it() -> None:
    ends, inside = PressSign((3, 0), (3, 3), "left"), PressSign((1, 1), (2, 2), "open")
    top = top_of(SETTINGS["bare"], *AVAILABLE)
    scene = top_order_scene(
        top, (), {"Four": Sewn(BLOCKS["Four"], (ends, inside))}, PAINTS, scale=0.2
    )
    drawn = [s for s in scene.shapes if isinstance(s, PressSign)]
    assert [sign.way for sign in drawn] == ["left"] * 4
    for sign in drawn:
        assert sign.end == pytest.approx((sign.start[0], sign.start[1] + 3))


@pytest.mark.parametrize("name", SETTINGS)
@pytest.mark.parametrize("scale", [0.12, 0.2, 0.4])
def test_no_two_words_meet(name: str, scale: float) -> None:
    _, scene = made(name, scale)
    assert clashes(place(scene, scale, MEDIUM)) == ()


@pytest.mark.parametrize("name", SETTINGS)
def test_it_is_drawn_as_large_as_there_is_room(name: str) -> None:
    top, _ = made(name)
    scale = fitting_scale(top, 7.0, 6.0)
    cloth = [s for s in made(name, scale)[1].shapes if isinstance(s, Cloth)]
    (x0, y0), (x1, y1) = extent(cloth)
    shares = (x1 - x0) * scale / 7.0, (y1 - y0) * scale / 6.0
    assert max(shares) == pytest.approx(1, abs=0.02)
