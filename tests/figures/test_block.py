"""The picture of a block."""

from __future__ import annotations

from pathlib import Path

import pytest
import shapely

import seamproof.project
from seamproof.draft.understanding import understand
from seamproof.drawing.clashing import clashes
from seamproof.drawing.placing import fitting, place
from seamproof.drawing.scene import Cloth, Letter, Stroke
from seamproof.drawing.svg import svg
from seamproof.figures.block import block_scene
from seamproof.figures.cloth import paints
from seamproof.project.reading import read_block
from tests import by_hand, cast

DEMO = Path(seamproof.project.__file__).parent / "demo"

PAINTS = paints(by_hand.FABRICS)


def test_every_patch_is_there_once() -> None:
    scene = block_scene(by_hand.block(), PAINTS)
    cloth = [shape for shape in scene.shapes if isinstance(shape, Cloth)]
    assert sorted(piece.paint.letter for piece in cloth) == ["A", "A", "B", "B", "C", "C"]
    assert sum(shapely.Polygon(p.corners).area for p in cloth) == pytest.approx(144)


def test_every_seam_is_drawn_once() -> None:
    scene = block_scene(by_hand.block(), PAINTS)
    seams = [s for s in scene.shapes if isinstance(s, Stroke) and s.kind == "seam"]
    length = sum(shapely.LineString(s.points).length for s in seams)
    assert length == pytest.approx(24 + 2 * 6 * 2**0.5)


def test_letters_stand_in_their_patches_and_do_not_meet() -> None:
    scene = block_scene(by_hand.block(), PAINTS, measure="in")
    cloth = {s.paint.letter: [] for s in scene.shapes if isinstance(s, Cloth)}
    for shape in scene.shapes:
        if isinstance(shape, Cloth):
            cloth[shape.paint.letter].append(shapely.Polygon(shape.corners))
    for letter in (s for s in scene.shapes if isinstance(s, Letter)):
        disc = shapely.Point(letter.at).buffer(letter.room * 0.99)
        assert any(patch.contains(disc) for patch in cloth[letter.text])
    assert clashes(place(scene, fitting([scene], 240, 240))) == ()


@pytest.mark.parametrize("name", sorted(cast.reference_blocks()))
def test_reference_blocks_can_be_pictured(name: str) -> None:
    block = cast.reference_blocks()[name]
    shown = paints(by_hand.fabrics_for(block))
    scene = block_scene(block, shown, measure="in")
    placed = place(scene, fitting([scene], 240, 240))
    assert clashes(placed) == ()
    assert placed.width <= 240.1


def test_a_picture_of_a_block_is_not_much_text() -> None:
    """The demo's first block at the size in which `draft` draws it."""
    drawn = read_block(DEMO / "blocks" / "lamp-room.yaml")
    block, _ = understand(drawn.drawing)
    assert block is not None
    scene = block_scene(block, paints(drawn.project.fabrics), measure="in")
    assert len(svg(scene, 5.0 / 12)) < 40_000
