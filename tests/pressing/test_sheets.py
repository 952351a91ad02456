"""Which sheets a seam catches, where other rules do not decide it."""

from __future__ import annotations

from tests.drawings import polygon_drawing, understood
from tests.pressing.in_place import in_place


def test_a_seam_that_stops_at_a_set_in_point_leaves_the_third_patch_alone() -> None:
    """The lower patch is set in at (2, 4). The triangle there lies along the seam to the left, and
    touches the one to the right only where it stops."""
    drawing = polygon_drawing(
        "set in",
        (4, 6),
        [
            ("a", [(4, 0), (4, 2), (2, 0)]),
            ("b", [(0, 0), (2, 0), (4, 2), (2, 4), (2, 2), (0, 4)]),
            ("c", [(2, 4), (0, 4), (2, 2)]),
            ("d", [(0, 6), (0, 4), (2, 4), (4, 2), (4, 6)]),
        ],
    )
    found = in_place(understood(drawing))
    (triangle,) = [sheet for sheet in found.cloth.sheets if sheet.fabric == "c"]
    slant, *_ = found.seam((3, 3))
    assert [seam for seam in triangle.folds if slant.choice in dict(seam.when)] == []
    for at in ((1, 3), (2, 3), (1, 4)):
        choice = found.seam(at)[0].choice
        assert [fold for fold in triangle.folds if choice in dict(fold.when)]
