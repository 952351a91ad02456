"""The picture of all steps: each once, in order, nothing on top of anything else."""

from __future__ import annotations

import pytest

from seamproof.draft.model import Fabric
from seamproof.drawing.clashing import clashes
from seamproof.drawing.placing import place
from seamproof.drawing.scene import Label
from seamproof.figures.cloth import paints
from seamproof.figures.order import order_scene
from seamproof.piecing.planning import plan
from tests import cast

PAINTS = paints([Fabric(letter, letter, "#C0C8C4", "medium") for letter in "abcdefghijklmnop"])


@pytest.mark.parametrize("name", ["lamp_room", "spiral", "eight_pointed_star", "log_cabin"])
def test_every_step_is_shown_once_and_no_two_texts_meet(name: str) -> None:
    block = cast.CAST[name]()
    made = plan(block)[0]
    scene = order_scene(made, PAINTS)
    said = [shape.text for shape in scene.shapes if isinstance(shape, Label)]
    heads = [text for text in said if text.isdigit()]
    assert heads == [str(i) for i in range(1, made.sessions + 1)]
    assert not clashes(place(scene, 108 / float(max(block.width, block.height))))


def test_a_single_patch_has_no_steps() -> None:
    assert order_scene(plan(cast.one_patch())[0], PAINTS).shapes == ()
