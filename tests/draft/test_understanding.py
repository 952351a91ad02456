from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from seamproof.draft.understanding import understand
from tests import cast, strategies


def test_a_letter_that_the_project_lacks_is_an_error_that_lists_the_others() -> None:
    drawing = cast.cells_drawing("odd", (4, 4), ["a z"])
    block, findings = understand(drawing, frozenset("ab"))
    assert block is not None
    (finding,) = findings
    assert (finding.code, finding.severity) == (110, "error")
    assert "a, b" in finding.mend
    assert (finding.where.line, finding.where.column) == (1, 2)
    assert understand(drawing)[1] == ()
    assert understand(drawing, frozenset("az"))[1] == ()


def test_what_was_said_about_the_block_is_kept() -> None:
    drawing = replace(cast.cells_drawing("hut", (4, 6), ["a", "b"]), upright=True)
    block = cast.understood(drawing)
    assert block.upright
    assert (block.name, block.width, block.height) == ("hut", 4, 6)


def test_vertices_and_loops_are_numbered_from_the_top_down() -> None:
    block = cast.nine_patch()
    assert list(block.vertices) == sorted(block.vertices, key=lambda p: (p[1], p[0]))
    assert block.outline[:4] == (0, 1, 2, 3)
    assert block.patches[4].corners == (5, 6, 10, 9)


def test_patches_are_in_the_order_of_the_drawing() -> None:
    patches = [("c", [(2, 0), (4, 0), (4, 2), (2, 2)]), ("a", [(0, 0), (2, 0), (2, 2), (0, 2)])]
    block = cast.understood(cast.polygon_drawing("order", (4, 2), patches))
    assert [p.fabric for p in block.patches] == ["c", "a"]


def test_a_large_grid_of_triangles_typed_to_two_decimals() -> None:
    """1,152 patches whose grid lies on no hundredth of an inch."""
    rows = [" ".join("a/b" if (x + y) % 2 else "b\\a" for x in range(24)) for y in range(24)]
    block = cast.understood(cast.cells_drawing("grid", (24, 24), rows))
    pitch = Fraction("1.0371")
    drawn = strategies.moved(cast.as_polygons(block), lambda p: (p[0] * pitch, p[1] * pitch))
    typed = cast.understood(strategies.typed(drawn, 2))
    assert [p.corners for p in typed.patches] == [p.corners for p in block.patches]
