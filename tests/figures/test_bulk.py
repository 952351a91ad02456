from __future__ import annotations

import itertools
from dataclasses import replace
from importlib.resources import files

import pytest

from seamproof.answers.pressing import SCALE, bulk_answer
from seamproof.drawing.clashing import clashes
from seamproof.drawing.inks import contrast, luminance
from seamproof.drawing.placing import place
from seamproof.drawing.scene import Count, Label, Scene, Stroke, Tone
from seamproof.figures.bulk import LEAST_SCALE, bulk_scene, tone
from seamproof.pipeline.pressing import press_block
from seamproof.pipeline.working import work_block
from seamproof.pressing.model import PlanName
from seamproof.project.reading import read_block_bytes
from tests.worked_out import memory

DEMO = files("seamproof.project") / "demo" / "blocks"


def drawn(name: str, plan: PlanName, limit: int = 8) -> Scene:
    text = (DEMO / f"{name}.yaml").read_bytes()
    kept = memory()
    work = work_block(read_block_bytes(text, "b.yaml"), until="cutting", memory=kept)
    pressed = press_block(work, name=plan, memory=kept)
    block, found = pressed.work.block, pressed.pressed
    assert block is not None
    assert found is not None
    outline = tuple((float(x), float(y)) for x, y in (block.vertices[v] for v in block.outline))
    size = (float(block.width), float(block.height))
    return bulk_scene(found.layers, outline, size, limit, block.name)


CASES = [
    ("capstan", "best"),
    ("lamp-room", "usual"),
    ("cardinal-mark", "open"),
    ("slack-water", "spun"),
    ("deck-light", "thin"),
]


@pytest.mark.parametrize("most", [1, 4, 12, 25])
def test_more_layers_are_lighter_and_neighbours_differ_in_grey(most: int) -> None:
    tones = [tone(count, most) for count in range(1, max(LEAST_SCALE, most) + 1)]
    greys = [luminance(colour) for colour in tones]
    assert greys == sorted(greys)
    assert len(set(tones)) == len(tones)
    if most <= LEAST_SCALE:
        assert min(contrast(a, b) for a, b in itertools.pairwise(tones)) > 1.1


@pytest.mark.parametrize(("name", "plan"), CASES)
def test_no_two_texts_meet(name: str, plan: PlanName) -> None:
    placed = place(drawn(name, plan), SCALE)
    assert clashes(placed) == ()
    for text in placed.texts:
        left, top, right, bottom = text.box
        assert left >= 0
        assert top >= 0
        assert right <= placed.width
        assert bottom <= placed.height


@pytest.mark.parametrize("limit", [1, 2, 3, 6, 11, 12, 40])
def test_no_two_texts_meet_wherever_the_limit_is(limit: int) -> None:
    scene = drawn("lamp-room", "usual", limit)
    assert clashes(place(scene, SCALE)) == ()
    strokes = [s for s in scene.shapes if isinstance(s, Stroke) and s.kind == "cut"]
    assert len(strokes) == (limit < 14)


def test_what_is_enlarged_is_framed_on_the_whole_block() -> None:
    scene = drawn("slack-water", "spun")
    (frame,) = [s for s in scene.shapes if isinstance(s, Stroke) and s.kind == "enlarged"]
    (whole,) = [s for s in scene.shapes if isinstance(s, Stroke) and s.kind == "finished"]
    wide = [max(x for x, _ in s.points) - min(x for x, _ in s.points) for s in (frame, whole)]
    assert wide[0] / wide[1] == pytest.approx(2 / 9)


def test_a_planted_clash_is_seen() -> None:
    scene = drawn("deck-light", "open")
    label = next(shape for shape in scene.shapes if isinstance(shape, Label))
    twice = Scene((*scene.shapes, replace(label, text="planted")))
    assert clashes(place(twice, SCALE)) != ()


def test_thick_places_bear_their_number() -> None:
    scene = drawn("lamp-room", "usual")
    numbers = {shape.text for shape in scene.shapes if isinstance(shape, Count)}
    assert "14" in numbers
    tones = [shape for shape in scene.shapes if isinstance(shape, Tone)]
    assert tone(14, 14) in {shape.colour for shape in tones}


def test_a_block_that_was_not_understood_has_no_picture() -> None:
    text = b"name: Gap\nfinished: 8\ncells:\n  - a b\n  - b\n"
    work = work_block(read_block_bytes(text, "b.yaml"), until="cutting")
    assert bulk_answer(press_block(work), "best").svg() is None
