"""Pictures of tops: everything shown, nothing on top of anything."""

from __future__ import annotations

from fractions import Fraction

import pytest

from seamproof.draft.model import Fabric
from seamproof.drawing.clashing import clashes
from seamproof.drawing.placing import place
from seamproof.drawing.scene import Cloth, Dimension, Scene
from seamproof.figures.cloth import paints
from seamproof.figures.top import MEDIUM, quilter_scene, top_scene
from seamproof.setting.model import Available, BindingAsked, BorderAsked, Setting, Top
from tests.cast import four_patch, nine_patch
from tests.setting import tops
from tests.setting.tops import top_of

BLOCKS = {"Four": four_patch(), "Nine": nine_patch()}
PAINTS = paints(Fabric(letter, letter, "#7AB0AD", "medium") for letter in "abcdef")
AVAILABLE = (
    Available(
        "Four", Fraction(6), Fraction(6), 99, fabrics=(("a", Fraction(18)), ("b", Fraction(18)))
    ),
    Available(
        "Nine", Fraction(9), Fraction(9), 99, fabrics=(("a", Fraction(45)), ("b", Fraction(36)))
    ),
)
BORDERS = (BorderAsked(Fraction(1), "d"), BorderAsked(Fraction(4), "c", corners="mitred"))

SETTINGS = {
    "straight": tops.straight("Nine Nine'", "Nine Nine", sash=2),
    "bare": tops.straight("Four Four", "Four Four"),
    "bordered": tops.straight("Nine Nine", sash=1, borders=BORDERS),
    "on point": tops.on_point("Nine Nine", "plain-c", "Nine Nine", borders=BORDERS[1:]),
    "bound": tops.straight("Four", binding=BindingAsked("d")),
}


def made(setting: Setting, scale: float = 0.2) -> tuple[Top, Scene]:
    top = top_of(setting, *AVAILABLE)
    return top, top_scene(top, BLOCKS, PAINTS, scale=scale, measure="in")


@pytest.mark.parametrize("name", SETTINGS)
@pytest.mark.parametrize("scale", [0.05, 0.1, 0.2])
def test_no_two_words_meet(name: str, scale: float) -> None:
    _, scene = made(SETTINGS[name], scale)
    assert clashes(place(scene, scale, MEDIUM)) == ()


@pytest.mark.parametrize("name", SETTINGS)
def test_the_cloth_covers_the_top(name: str) -> None:
    top, scene = made(SETTINGS[name])
    shown = sum(_area(shape.corners) for shape in scene.shapes if isinstance(shape, Cloth))
    bound = 0.0
    if top.binding.fabric:
        around = float(2 * (top.width + top.height))
        bound = 0.375 * around + 4 * 0.375**2
    assert shown == pytest.approx(float(top.width * top.height) + bound, abs=1e-3)


def _area(corners: tuple[tuple[float, float], ...]) -> float:
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs) / 2


def test_measures_add_up() -> None:
    top, scene = made(SETTINGS["bordered"])
    across = [
        shape
        for shape in scene.shapes
        if isinstance(shape, Dimension) and shape.start[1] == shape.end[1] == 0
    ]
    texts = [shape.text for shape in across]
    assert texts == ["4", "1", "1", "9", "1", "9", "1", "1", "4"]
    assert across[-1].end[0] == float(top.width)


def test_a_block_that_was_not_understood_is_left_white() -> None:
    top = top_of(SETTINGS["straight"], *AVAILABLE)
    scene = top_scene(top, {}, PAINTS, scale=0.2)
    shown = sum(_area(shape.corners) for shape in scene.shapes if isinstance(shape, Cloth))
    assert shown == pytest.approx(float(top.width * top.height) - 4 * 81, abs=1e-3)


@pytest.mark.parametrize("name", SETTINGS)
def test_the_page_for_the_quilter_marks_the_top_edge(name: str) -> None:
    top = top_of(SETTINGS[name], *AVAILABLE)
    scene = quilter_scene(top, BLOCKS, PAINTS, ("one line", "another"), measure="in")
    placed = place(scene, 0.1, MEDIUM)
    assert clashes(placed) == ()
    words = [text.line.text for text in placed.texts]
    assert any(word.startswith("Top edge") for word in words)
    assert words[-2:] == ["one line", "another"]
