"""What has a fixed size on paper, and texts that must not meet."""

from __future__ import annotations

import pytest

from seamproof.drawing.clashing import clashes
from seamproof.drawing.inks import PRINT, SCREEN
from seamproof.drawing.placing import Disc, Drawn, fitting, place
from seamproof.drawing.scene import (
    Arrow,
    Cloth,
    Dimension,
    Grain,
    Label,
    Letter,
    Paint,
    Scene,
    Stroke,
)

SQUARE = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))
RED = Paint("C", "#C9563B")


def test_lines_do_not_grow_with_the_scale() -> None:
    scene = Scene((Stroke("seam", SQUARE),))
    pens = {mark.pen for scale in (0.1, 1.0) for mark in place(scene, scale).marks}
    assert len(pens) == 1


def test_true_size() -> None:
    placed = place(Scene((Cloth(SQUARE, RED),)), 1.0)
    assert placed.width == pytest.approx(4 * 72 + 2 * PRINT.margin)
    on_screen = place(Scene((Cloth(SQUARE, RED),)), 1.0, SCREEN)
    assert on_screen.width == pytest.approx(4 * 96 + 2 * SCREEN.margin)


def test_a_cut_runs_past_the_cloth_and_ends_in_bars() -> None:
    (cut,) = place(Scene((Stroke("cut", ((0.0, 0.0), (4.0, 0.0))),)), 0.5).marks
    assert isinstance(cut, Drawn)
    line, *bars = cut.paths
    assert line[1][0] - line[0][0] == pytest.approx(4 * 36 + 2 * PRINT.past)
    assert len(bars) == 2
    assert all(abs(a[1] - b[1]) == pytest.approx(2 * PRINT.bar) for a, b in bars)


@pytest.mark.parametrize(
    ("start", "end", "side"),
    [
        ((4.0, 4.0), (0.0, 4.0), "below"),
        ((0.0, 4.0), (0.0, 0.0), "left"),
        ((0.0, 0.0), (4.0, 0.0), "above"),
        ((4.0, 0.0), (4.0, 4.0), "right"),
    ],
)
def test_a_dimension_stands_left_of_its_way_and_clear(
    start: tuple[float, float], end: tuple[float, float], side: str
) -> None:
    scene = Scene((Cloth(SQUARE, RED), Dimension(start, end, "4 7/8 in")))
    cloth, line, text = place(scene, 0.5).marks
    (path,) = cloth.paths  # type: ignore[union-attr]
    xs, ys = [x for x, _ in path], [y for _, y in path]
    x0, y0, x1, y1 = text.box  # type: ignore[union-attr]
    clear = {
        "below": y0 - max(ys),
        "left": min(xs) - x1,
        "above": min(ys) - y1,
        "right": x0 - max(xs),
    }[side]
    assert clear >= PRINT.clear
    assert isinstance(line, Drawn)


def test_a_letter_without_room_is_left_out() -> None:
    roomy, tight = Letter((2.0, 2.0), "A", 2.0), Letter((2.0, 2.0), "A", 0.1)
    assert any(isinstance(mark, Disc) for mark in place(Scene((roomy,)), 0.5).marks)
    assert place(Scene((tight,)), 0.5).marks == ()


def test_fitting_leaves_room_for_what_has_a_fixed_size() -> None:
    scene = Scene((Stroke("outline", SQUARE, True), Dimension((4.0, 4.0), (0.0, 4.0), "4 in")))
    scale = fitting([scene], 100, 80)
    placed = place(scene, scale)
    assert placed.width <= 100.02
    assert 79 < placed.height <= 80.02


def test_a_planted_clash_is_found() -> None:
    far = Scene((Label((0.0, 0.0), "unit 1"), Label((4.0, 0.0), "unit 2")))
    assert clashes(place(far, 0.5)) == ()
    assert clashes(place(far, 0.05)) == (("unit 1", "unit 2"),)


def test_every_shape_can_be_placed_and_moved() -> None:
    scene = Scene(
        (
            Cloth(SQUARE, RED, "wrong", 3.0),
            Cloth(SQUARE, RED, veiled=True),
            Stroke("selvage", SQUARE[:2]),
            Dimension((0.0, 0.0), (4.0, 0.0), "4 in"),
            Letter((2.0, 2.0), "Aa", 2.0),
            Label((0.0, 0.0), "unit 1", "end"),
            Grain((1.0, 1.0), 0.25),
            Arrow((2.0, 1.0)),
        )
    )
    moved = place(scene.moved(7.0, -3.0), 0.5)
    assert moved.width == pytest.approx(place(scene, 0.5).width)
    assert len(moved.marks) == 11
