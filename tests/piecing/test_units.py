"""Units by geometry: every kind, at any turn and size, and its mirror twin."""

from __future__ import annotations

from fractions import Fraction

import pytest

from seamproof.draft.model import Block, Cells, Drawing, DrawnPatch, Polygons, Written
from seamproof.draft.turning import mirrored, turned
from seamproof.findings import Where
from seamproof.piecing.model import Unit
from seamproof.piecing.planning import plan
from tests.cast import polygon_drawing, reference_blocks, understood

F = Fraction


def block_of(rows: str, width: int, height: int | None = None) -> Block:
    cells = tuple(
        tuple(Written(text, Where()) for text in row.split()) for row in rows.strip().splitlines()
    )
    return understood(Drawing("test", (F(width), F(height or width)), Cells(cells)))


def on_point(block: Block) -> Block:
    """The block turned by 45 degrees and enlarged by root 2, so that every corner stays exact."""
    patches = []
    for patch in block.patches:
        points = tuple((x - y + block.height, x + y) for x, y in block.corners_of(patch))
        patches.append(DrawnPatch(patch.fabric, points))
    size = block.width + block.height
    return understood(Drawing("on point", (size, size), Polygons(tuple(patches))))


def whole(block: Block) -> Unit:
    """The unit that the whole block is."""
    its_plan, _ = plan(block)
    assert its_plan is not None
    (unit,) = [unit for unit in its_plan.units if unit.part == its_plan.whole]
    return unit


SPLIT_QUARTER = understood(
    polygon_drawing(
        "split quarter square",
        (4, 4),
        [
            ("c", [(4, 0), (4, 4), (0, 4)]),
            ("a", [(0, 0), (4, 0), (2, 2)]),
            ("b", [(0, 0), (2, 2), (0, 4)]),
        ],
    )
)

KINDS = {
    "half-square triangle": block_of("a/b", 3),
    "hourglass": block_of("a.b.c.b", 3),
    "flying geese": block_of("a/b b=\\c", 4, 2),
    "split quarter square": SPLIT_QUARTER,
    "half-rectangle triangle": block_of("a/b =", 4, 2),
    "square-in-a-square": block_of("b/a a=\\b\nb\\a^ a^/b", 4),
    "economy patch": reference_blocks()["economy_patch"],
    "snowball": reference_blocks()["snowball"],
    "four-patch": block_of("a b\nb a", 4),
    "nine-patch": block_of("a b a\nb a b\na b a", 6),
    "rail": block_of("a b c\n^ ^ ^\n^ ^ ^", 6),
    "log cabin": reference_blocks()["log_cabin_2"],
}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("quarters", [0, 1, 2, 3])
def test_a_unit_is_known_at_any_quarter(kind: str, quarters: int) -> None:
    unit, straight = whole(turned(KINDS[kind], quarters)), whole(KINDS[kind])
    assert unit.kind == kind
    assert unit.roles == straight.roles
    assert sorted((unit.width, unit.height)) == sorted((straight.width, straight.height))


@pytest.mark.parametrize("kind", KINDS)
def test_a_unit_is_known_on_point(kind: str) -> None:
    unit, straight = whole(on_point(KINDS[kind])), whole(KINDS[kind])
    assert unit.kind == kind
    assert dict(unit.roles) == dict(straight.roles)


HANDED = {
    "hourglass of four": block_of("a.b.c.d", 3),
    "flying geese of two skies": KINDS["flying geese"],
    "split quarter square": SPLIT_QUARTER,
    "half-rectangle triangle": KINDS["half-rectangle triangle"],
    "snowball with one corner": block_of("a/b b= b=\nb^ b^= b^=", 6, 4),
}


@pytest.mark.parametrize("name", HANDED)
def test_mirror_twins_are_told_apart(name: str) -> None:
    one, other = whole(HANDED[name]), whole(mirrored(HANDED[name]))
    assert one.kind == other.kind
    # By their roles, or by which way the same roles are longer.
    assert (one.roles, one.width, one.height) != (other.roles, other.width, other.height)


@pytest.mark.parametrize(
    "kind", ["half-square triangle", "hourglass", "square-in-a-square", "nine-patch", "four-patch"]
)
def test_what_is_its_own_twin_has_the_same_roles(kind: str) -> None:
    one, other = whole(KINDS[kind]), whole(mirrored(KINDS[kind]))
    assert one.kind == other.kind
    assert sorted(fabric for _, fabric in one.roles) == sorted(f for _, f in other.roles)


def test_a_goose_keeps_its_name_whatever_lies_beside_it() -> None:
    # Seen from its side a goose is a rectangle with two corners cut off that meet.
    its_plan, _ = plan(block_of("\n".join(["a/b b=\\a"] * 4), 4, 8))
    assert its_plan is not None
    assert {unit.kind for unit in its_plan.units if len(unit.roles) == 3} == {"flying geese"}


def test_a_cell_of_the_grid_without_a_name_is_a_pieced_unit() -> None:
    star = reference_blocks()["dutchmans_puzzle"]
    its_plan, _ = plan(star)
    assert its_plan is not None
    named = {unit.part: unit.kind for unit in its_plan.units}
    cells = {part for row in its_plan.rows for part in row}
    assert {named[part] for part in cells} == {"pieced unit"}


def test_logs_are_numbered_as_they_are_sewn() -> None:
    unit = whole(KINDS["log cabin"])
    assert unit.roles[0][0] == "centre"
    assert [role for role, _ in unit.roles[1:]] == [f"log {i}" for i in range(1, len(unit.roles))]
