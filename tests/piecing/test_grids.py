"""Rails, four-patches, nine-patches and checkerboards, known by how they are drawn."""

from __future__ import annotations

from fractions import Fraction

import pytest

from seamproof.draft.model import Block
from seamproof.piecing.grids import grid_of
from seamproof.piecing.model import Unit
from seamproof.piecing.planning import plan
from seamproof.piecing.units import likenesses
from seamproof.plane.model import Polygon
from tests.cast import cells_drawing, understood

F = Fraction


def drawn(rows: list[str], width: int = 12, **sizes: list[int]) -> Block:
    return understood(
        cells_drawing(
            "grid", (width, width), rows, columns=sizes.get("across"), heights=sizes.get("down")
        )
    )


def whole(block: Block) -> Unit | None:
    """What the whole block is called."""
    its_plan, _ = plan(block)
    assert its_plan is not None
    like = likenesses(its_plan).get(its_plan.whole)
    return None if like is None else like.unit


@pytest.mark.parametrize(
    ("rows", "kind"),
    [
        (["a", "b"], "rail"),
        (["a b"], "rail"),
        (["a b c d"], "rail"),
        (["a b", "b a"], "four-patch"),
        (["a b a", "b a b", "a b a"], "nine-patch"),
        (["a b a", "b a b"], "checkerboard"),
        (["a b a b", "b a b a", "a b a b", "b a b a"], "checkerboard"),
        (["a b a b a"] * 5, "checkerboard"),
    ],
)
def test_kinds(rows: list[str], kind: str) -> None:
    unit = whole(drawn(rows))
    assert unit is not None
    assert unit.kind == kind


def test_unlike_rows_and_columns_are_a_nine_patch_all_the_same() -> None:
    unit = whole(drawn(["a b a", "b c b", "a b a"], across=[2, 8, 2], down=[3, 6, 3]))
    assert unit is not None
    assert unit.kind == "nine-patch"


def test_roles_count_rows_and_columns() -> None:
    unit = whole(drawn(["a b", "c d"]))
    assert unit is not None
    assert unit.roles[0] == ("row 1 column 1", "a")
    assert {role for role, _ in unit.roles} == {
        f"row {i} column {j}" for i in (1, 2) for j in (1, 2)
    }


def test_bars_that_do_not_run_through_are_no_grid() -> None:
    """Three patches, one as wide as the other two together."""
    assert whole(drawn(["a =", "b c"])) is None


def test_rows_of_larger_units_are_no_units() -> None:
    its_plan, _ = plan(drawn(["a b a", "b a b", "a b a"]))
    assert its_plan is not None
    assert {unit.kind for unit in its_plan.units} & {"rail"} == set()


def square(left: int, top: int, side: int = 2) -> Polygon:
    x, y, s = F(left), F(top), F(side)
    return ((x, y), (x + s, y), (x + s, y + s), (x, y + s))


def test_one_patch_or_a_triangle_is_no_grid() -> None:
    assert grid_of(F(2), F(2), (square(0, 0),)) is None
    assert grid_of(F(2), F(2), (square(0, 0)[:3], square(0, 0)[1:])) is None
    assert grid_of(F(2), F(4), (square(0, 2), square(0, 0))) is not None
