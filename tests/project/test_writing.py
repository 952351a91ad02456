"""Block files that the program writes: read back equal, and written the same the second time."""

from __future__ import annotations

import dataclasses
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.draft.model import Block, Cells, Drawing, DrawnPatch, Patch, Polygons, Written
from seamproof.draft.understanding import understand
from seamproof.findings import Where
from seamproof.length.notation import Measure
from seamproof.project.block_file import block_drawing
from seamproof.project.rewriting import without_places
from seamproof.project.writing import drawing_of, write_block
from seamproof.project.yaml_tree import document
from tests.project.written import drawings

measures = st.sampled_from(["in", "cm"])


def read(text: str, measure: Measure = "in") -> Drawing:
    return block_drawing(document(text.encode(), "made.yaml"), measure)


@given(drawings, measures)
def test_read_back_equal_and_written_the_same_again(drawing: Drawing, measure: Measure) -> None:
    text = write_block(drawing, measure)
    again = read(text, measure)
    assert without_places(again) == drawing
    assert write_block(again, measure) == text


def test_the_canonical_form_reads_well() -> None:
    drawing = read(
        "finished: [9.0, 22.86 cm]\n"
        "name: 'Slack Water'\n"
        'cells:\n  - "f/a a.e.d.e a\\f"\n  -   e.d.e.a   T e.a.e.d\n'
        "units:\n  T:\n    cells:\n      - a b\n    columns: [1/2, 0.5]\n"
        "press:\n- {spin: [4, 4.50], way: counterclockwise}\n"
        "order:\n- {last: [[0, 1],[9, 1]]}\n- rows\n"
        "method: {hst: from triangles}\ncopies: 04\nupright: true\n"
    )
    assert write_block(drawing).splitlines() == [
        "seamproof: 1",
        "name: Slack Water",
        "finished: 9",
        "cells:",
        "  - f/a     a.e.d.e a\\f",
        "  - e.d.e.a T       e.a.e.d",
        "units:",
        "  T:",
        "    cells:",
        "      - a b",
        "    columns: [1/2, 1/2]",
        "upright: yes",
        "copies: 4",
        "method:",
        "  half-square triangle: from triangles",
        "press:",
        "  - {spin: [4, 4 1/2], way: anticlockwise}",
        "order:",
        "  - rows",
        "  - {last: [[0, 1], [9, 1]]}",
    ]


@pytest.mark.parametrize("row", ["#a b", "a: b", "'x", '"a', "[a", "- a", "a #", "*", "a:", "%"])
def test_odd_cells_are_written_so_that_they_are_read_literally(row: str) -> None:
    written = tuple(Written(text, Where()) for text in row.split())
    drawing = Drawing("Odd", (Fraction(6), Fraction(6)), Cells((written,)))
    assert without_places(read(write_block(drawing))) == drawing


def test_cells_that_no_line_can_hold_are_refused() -> None:
    drawing = Drawing("Odd", (Fraction(6), Fraction(6)), Cells(((Written("#\"'", Where()),),)))
    with pytest.raises(ValueError, match="no line of a file can hold"):
        write_block(drawing)


def test_a_block_is_written_as_the_polygons_of_its_patches() -> None:
    root = Fraction(2485281, 1000000)
    corners = [(0, 0), (6, 0), (root, 6), (0, 6)]
    vertices = (*corners, (6, 6))
    block, findings = understand(
        Drawing(
            "Two",
            (Fraction(6), Fraction(6)),
            Polygons(
                (
                    DrawnPatch("a", tuple(corners)),
                    DrawnPatch("b", (corners[1], vertices[4], corners[2])),
                )
            ),
        )
    )
    assert isinstance(block, Block), findings
    again = read(write_block(drawing_of(dataclasses.replace(block, upright=True))))
    assert again.upright
    twin, _ = understand(again)
    assert twin is not None
    assert twin.patches == block.patches
    assert all(isinstance(patch, Patch) for patch in twin.patches)
    for one, other in zip(block.vertices, twin.vertices, strict=True):
        assert abs(one[0] - other[0]) < Fraction(1, 10**5)
        assert abs(one[1] - other[1]) < Fraction(1, 10**5)
