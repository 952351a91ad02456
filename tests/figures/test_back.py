from __future__ import annotations

from seamproof.drawing.scene import Cloth, Paint, Stroke
from seamproof.figures.back import back_scene
from seamproof.pressing.folding import Fold, Sheet, seen
from seamproof.pressing.sheets import Cloth as Sheets

PAINTS = {"a": Paint("A", "#F1EBDD"), "b": Paint("B", "#20305A")}
OPEN, LEFT, RIGHT = range(3)


def two_squares() -> Sheets:
    """a left of b, 2 in finished each, one seam between them, stitched downwards at x = 2."""
    a = ((-0.25, -0.25), (2.25, -0.25), (2.25, 2.25), (-0.25, 2.25))
    b = ((1.75, -0.25), (4.25, -0.25), (4.25, 2.25), (1.75, 2.25))
    of_a = Fold((2.0, 0.0), (0.0, -1.0), ((0, frozenset({OPEN, LEFT})),), 2)
    of_b = Fold((2.0, 0.0), (0.0, 1.0), ((0, frozenset({OPEN, RIGHT})),), 2)
    return Sheets(
        (Sheet("a", (a,), (of_a,)), Sheet("b", (b,), (of_b,))),
        (),
        ((OPEN, LEFT, RIGHT),),
        ((0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (0.0, 2.0)),
        ((-0.25, -0.25), (4.25, -0.25), (4.25, 2.25), (-0.25, 2.25)),
    )


def shown(way: int) -> list[tuple[str, str, float, float]]:
    cloth = two_squares()
    scene = back_scene(cloth, seen(cloth.sheets, [way]), [((2.0, 0.0), (2.0, 2.0))], PAINTS, 4.5)
    return [
        (s.paint.letter, s.side, min(x for x, _ in s.corners), max(x for x, _ in s.corners))
        for s in scene.shapes
        if isinstance(s, Cloth)
    ]


def test_open_both_allowances_show_their_right_side_on_their_own_cloth() -> None:
    # Seen from the back a lies on the right: from 2.25 on.
    allowances = [row for row in shown(OPEN) if row[3] - row[2] < 1]
    assert sorted(allowances) == [("A", "right", 2.25, 2.5), ("B", "right", 2.0, 2.25)]


def test_to_one_side_the_flat_allowance_lies_over_the_turned_one() -> None:
    allowances = [row for row in shown(RIGHT) if row[3] - row[2] < 1]
    assert allowances == [("B", "right", 2.0, 2.25), ("A", "wrong", 2.0, 2.25)]


def test_stitching_is_drawn_where_it_is_seen_from_the_back() -> None:
    cloth = two_squares()
    line = ((1.0, 0.0), (1.0, 2.0))
    scene = back_scene(cloth, seen(cloth.sheets, [OPEN]), [line], PAINTS, 4.5)
    (stitching,) = [s for s in scene.shapes if isinstance(s, Stroke) and s.kind == "stitching"]
    assert [x for x, _ in stitching.points] == [3.25, 3.25]
