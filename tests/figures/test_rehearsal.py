from __future__ import annotations

from dataclasses import replace
from functools import cache
from importlib.resources import files

import pytest

from seamproof.accuracy.model import MAKERS, Rehearsal
from seamproof.drawing.clashing import clashes
from seamproof.drawing.placing import place
from seamproof.drawing.scene import Label, Stroke
from seamproof.figures.rehearsal import MOST, SIXTEENTH, rehearsal_scene
from seamproof.pipeline.rehearsing import rehearse_block
from seamproof.pipeline.working import work_block
from seamproof.project.reading import read_block_bytes
from tests.worked_out import memory

DEMO = files("seamproof.project") / "demo" / "blocks"


@cache
def rehearsed(name: str, maker: str) -> Rehearsal:
    text = (DEMO / f"{name}.yaml").read_bytes()
    work = work_block(read_block_bytes(text, "b.yaml"), until="cutting", memory=memory())
    told = rehearse_block(work, MAKERS[maker], makers=200, seed=1).rehearsal
    assert told is not None
    return told


def stitches(told: Rehearsal) -> list[Stroke]:
    shapes = rehearsal_scene(told, "Block").shapes
    return [s for s in shapes if isinstance(s, Stroke) and "stitch" in s.kind]


@pytest.mark.parametrize("maker", list(MAKERS))
@pytest.mark.parametrize("name", ["slack-water", "lamp-room", "dinghy"])
def test_a_hundred_stitches_and_no_two_texts_that_meet(name: str, maker: str) -> None:
    told = rehearsed(name, maker)
    placed = place(rehearsal_scene(told, name), 1.0)
    assert clashes(placed) == ()
    assert len(stitches(told)) == 100
    for text in placed.texts:
        assert text.box[0] >= 0
        assert text.box[2] <= placed.width


def test_those_outside_the_tolerance_are_broken() -> None:
    told = replace(
        rehearsed("slack-water", "everyday"),
        shown=((9.5, 9.5), (9.5, 9.6), (9.3, 9.5), (9.5, 9.7)),
    )
    assert sorted(s.kind for s in stitches(told)) == ["broken stitch"] * 2 + ["stitch"] * 2
    label = " ".join(s.text for s in rehearsal_scene(told, "B").shapes if isinstance(s, Label))
    assert "2 are within 1/8 in" in label


def test_a_stitch_lies_where_the_worse_side_does() -> None:
    told = replace(rehearsed("slack-water", "everyday"), shown=((9.5, 9.5 + 3.3 / 16),))
    (stitch,) = stitches(told)
    middle = (stitch.points[0][0] + stitch.points[1][0]) / 2
    assert middle == pytest.approx(3.25 * SIXTEENTH)


def test_who_is_very_far_off_lies_at_the_end_of_the_ruler() -> None:
    told = replace(rehearsed("slack-water", "everyday"), shown=((12.0, 9.5), (5.0, 9.5)))
    places = sorted(stitch.points[0][0] for stitch in stitches(told))
    assert places[0] > -MOST * SIXTEENTH
    assert places[1] < MOST * SIXTEENTH


def test_an_assumed_profile_says_so() -> None:
    told = rehearsed("slack-water", "everyday")
    measured = replace(told, maker=replace(told.maker, name="Ada", assumed=False))
    words = [
        " ".join(s.text for s in rehearsal_scene(t, "B").shapes if isinstance(s, Label))
        for t in (told, measured)
    ]
    assert "everyday (an assumption)" in words[0]
    assert "assumption" not in words[1]


def test_in_centimetres() -> None:
    scene = rehearsal_scene(rehearsed("slack-water", "everyday"), "B", "cm")
    words = [shape.text for shape in scene.shapes if isinstance(shape, Label)]
    assert "24.13 × 24.13 cm, raw edge to raw edge" in words
