from __future__ import annotations

from fractions import Fraction

import pytest

from seamproof.draft.cells import MOST_PIECES
from seamproof.draft.model import Block, Cells, Drawing, Written
from seamproof.draft.understanding import understand
from seamproof.findings import Where
from seamproof.plane.predicates import corners_only
from tests import cast


def patches(block: Block) -> set[tuple[str, tuple[tuple[Fraction, Fraction], ...]]]:
    return {
        (patch.fabric, cast.from_least(corners_only(block.corners_of(patch))))
        for patch in block.patches
    }


def expected(*given: tuple[str, list[tuple[int, int]]]) -> set[object]:
    return {
        (fabric, cast.from_least([(Fraction(x), Fraction(y)) for x, y in corners]))
        for fabric, corners in given
    }


@pytest.mark.parametrize("name", sorted(cast.golden_cells()))
def test_cells_give_exactly_these_patches(name: str) -> None:
    drawing, wanted = cast.golden_cells()[name]
    block = cast.understood(drawing)
    assert patches(block) == wanted
    assert len(block.patches) == len(wanted)


def test_the_golden_cells_are_all_there() -> None:
    assert len(cast.golden_cells()) == 11


def block_of(*rows: str, size: tuple[int, int] = (4, 4), **more: object) -> Block:
    return cast.understood(cast.cells_drawing("cells", size, rows, **more))  # type: ignore[arg-type]


def test_the_first_letter_fills_the_left() -> None:
    assert patches(block_of("a/b")) == expected(
        ("a", [(0, 0), (4, 0), (0, 4)]), ("b", [(4, 0), (4, 4), (0, 4)])
    )
    assert patches(block_of("a\\b")) == expected(
        ("a", [(0, 0), (4, 4), (0, 4)]), ("b", [(0, 0), (4, 0), (4, 4)])
    )


def test_four_letters_run_clockwise_from_the_top() -> None:
    assert patches(block_of("a.b.c.d")) == expected(
        ("a", [(0, 0), (4, 0), (2, 2)]),
        ("b", [(4, 0), (4, 4), (2, 2)]),
        ("c", [(4, 4), (0, 4), (2, 2)]),
        ("d", [(0, 4), (0, 0), (2, 2)]),
    )


def test_an_enlarged_cell_is_split_over_all_of_it() -> None:
    assert patches(block_of("a/e b", "^ b^")) == expected(
        ("a", [(0, 0), (2, 0), (0, 4)]),
        ("e", [(2, 0), (2, 4), (0, 4)]),
        ("b", [(2, 0), (4, 0), (4, 4), (2, 4)]),
    )


def test_a_letter_continues_the_patch_that_touches() -> None:
    assert patches(block_of("e\\a a=/e", size=(4, 2))) == expected(
        ("e", [(0, 0), (2, 2), (0, 2)]),
        ("a", [(0, 0), (4, 0), (2, 2)]),
        ("e", [(4, 0), (4, 2), (2, 2)]),
    )


def test_both_marks_join_on_both_sides() -> None:
    assert len(block_of("a b", "a^ b").patches) == 3
    assert len(block_of("b a", "a a=^").patches) == 2


def test_a_quarter_can_be_continued() -> None:
    block = block_of("a.b.c.d a.d.c.b=", size=(8, 4))
    assert len(block.patches) == 7
    assert patches(block) >= expected(("b", [(2, 2), (4, 0), (6, 2), (4, 4)]))


def test_a_seam_that_vanishes_leaves_no_vertex() -> None:
    assert len(block_of("a a=", "a^ a=^").vertices) == 4


@pytest.mark.parametrize(
    ("marks", "order"), [("", "xyzw"), ("'", "zxwy"), ("''", "wzyx"), ("'''", "ywxz")]
)
def test_a_unit_turns_a_quarter_clockwise_for_each_mark(marks: str, order: str) -> None:
    block = block_of("U" + marks, units={"U": ["x y", "z w"]})
    by_place = sorted(block.patches, key=lambda patch: patch.corners[0])
    assert "".join(patch.fabric for patch in by_place) == order


def test_a_turned_unit_fits_a_cell_that_is_not_square() -> None:
    block = block_of("U'", size=(2, 6), units={"U": ["a b c"]})
    assert patches(block) == expected(
        ("a", [(0, 0), (2, 0), (2, 2), (0, 2)]),
        ("b", [(0, 2), (2, 2), (2, 4), (0, 4)]),
        ("c", [(0, 4), (2, 4), (2, 6), (0, 6)]),
    )


def test_a_unit_fills_an_enlarged_cell() -> None:
    block = block_of("U = b", "^ = b^", size=(6, 4), units={"U": ["a c", "c a"]})
    assert (Fraction(2), Fraction(2)) in block.vertices
    assert len(block.patches) == 5


def test_units_within_units() -> None:
    block = block_of("V V'", size=(8, 4), units={"U": ["a/b"], "V": ["U c", "c U''"]})
    assert len(block.patches) == 12


def test_unequal_columns_and_rows_are_exact() -> None:
    block = block_of("a b c", "c a b", columns=["1", "1/3", "2/3"], heights=[2, 1], size=(6, 9))
    assert {p[0] for p in block.vertices} == {0, 3, 4, 6}
    assert {p[1] for p in block.vertices} == {0, 6, 9}


def test_two_letter_fabrics() -> None:
    assert [p.fabric for p in block_of("ab/cd").patches] == ["ab", "cd"]


@pytest.mark.parametrize(
    ("rows", "code", "column"),
    [
        (["a b="], 124, 2),
        (["a", "b^"], 124, 1),
        (["a b", "= b"], 123, 1),
        (["a ^"], 123, 2),
        (["a/b/c a"], 120, 1),
        (["a A="], 120, 2),
        (["a B"], 126, 2),
        (["a =", "b ^"], 125, 1),
        (["a a", "^ ="], 125, 2),
        (["= a"], 123, 1),
    ],
)
def test_a_fault_names_its_cell(rows: list[str], code: int, column: int) -> None:
    block, findings = understand(cast.cells_drawing("cells", (4, 4), rows))
    assert block is None
    first = next(f for f in findings if f.severity == "error")
    assert first.code == code
    assert first.where.column == column
    assert first.where.at is not None


def test_a_fault_in_a_turned_unit_is_shown_where_the_unit_lies() -> None:
    drawing = cast.cells_drawing("cells", (8, 4), ["a U'"], units={"U": ["x", "y^"]})
    block, findings = understand(drawing)
    assert block is None
    # The lower half of the unit, turned clockwise, is the left half of the right cell.
    assert findings[0].where.at == (5, 2)
    assert findings[0].where.line == 2


def test_an_unknown_unit_is_told_its_neighbour() -> None:
    drawing = cast.cells_drawing("cells", (4, 4), ["STARR"], units={"STAR": ["a"]})
    _, findings = understand(drawing)
    assert "did you mean STAR" in findings[0].what


def test_units_that_double_again_and_again_are_refused() -> None:
    units = {f"U{k}": [f"U{k - 1} U{k - 1}", f"U{k - 1} U{k - 1}"] for k in range(1, 12)}
    drawing = cast.cells_drawing("cells", (12, 12), ["U11"], units={"U0": ["a/b"], **units})
    block, findings = understand(drawing)
    assert block is None
    assert findings[0].code == 113
    assert str(MOST_PIECES) in findings[0].what


def test_an_unused_unit_is_a_note() -> None:
    block, findings = understand(cast.cells_drawing("cells", (4, 4), ["a b"], units={"U": ["a"]}))
    assert block is not None
    assert [(f.code, f.severity) for f in findings] == [(128, "note")]


def test_no_cells_at_all() -> None:
    size = (Fraction(4), Fraction(4))
    for cells in ((), ((),)):
        block, findings = understand(Drawing("none", size, Cells(cells)))
        assert block is None
        assert findings[0].code == 112


def test_a_typographic_apostrophe_turns_too() -> None:
    cell = Written("U\u2019", Where())
    unit = cast.cells_drawing("u", (4, 4), ["a/b"]).drawn
    assert isinstance(unit, Cells)
    drawing = Drawing("u", (Fraction(4), Fraction(4)), Cells(((cell,),), units=(("U", unit),)))
    assert patches(cast.understood(drawing)) == patches(block_of("b\\a"))
