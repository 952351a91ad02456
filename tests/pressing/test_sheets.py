"""Which sheets a seam catches, where other rules do not decide it."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
import shapely

from seamproof.draft.model import Block
from seamproof.pressing.choices import seen_along
from seamproof.pressing.tables import LEFT, OPEN, RIGHT
from tests import cast
from tests.drawings import polygon_drawing, understood
from tests.pressing.by_tracing import layers_at
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


@pytest.mark.parametrize("block", [cast.ell, cast.mitred_corner])
def test_a_seam_away_from_its_ends_lies_two_and_two_open_and_one_and_three_aside(
    block: Callable[[], Block],
) -> None:
    """Also where one of the two patches has an inner corner."""
    here = in_place(block())
    for run, a, b in here.lines:
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        length = math.dist(a, b)
        off = (-(b[1] - a[1]) / length * 0.1, (b[0] - a[0]) / length * 0.1)
        right = (middle[0] + off[0], middle[1] + off[1])
        left = (middle[0] - off[0], middle[1] - off[1])
        for way, expected in ((OPEN, (2, 2)), (LEFT, (3, 1)), (RIGHT, (1, 3))):
            ways = here.opened
            ways[run.choice] = seen_along(way, run.against)
            counted = tuple(layers_at(p, here.cloth.sheets, ways) for p in (left, right))
            assert counted == expected


def test_cloth_snipped_at_an_inner_corner_is_all_there() -> None:
    here = in_place(cast.ell())
    assert len(here.cloth.sheets) > len(here.cloth.patches)
    for way in (OPEN, LEFT, RIGHT):
        lying = here.lies([way] * len(here.cloth.ways))
        cut = sum(shapely.Polygon(p).area for s in here.cloth.sheets for p in s.pieces)
        assert sum(shapely.Polygon(one.piece).area for one in lying) == pytest.approx(cut)
