"""Changing a file that somebody wrote: remarks, order and everything untouched stay."""

from __future__ import annotations

import dataclasses
import difflib
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.draft.model import Cells, Drawing, Fixing, Polygons, Written
from seamproof.errors import InputError
from seamproof.findings import Where
from seamproof.project.block_file import block_drawing
from seamproof.project.rewriting import rewritten, without_places
from seamproof.project.writing import write_block
from seamproof.project.yaml_tree import document
from tests.project.written import drawings

BEFORE = """\
# A star for the porch.

finished:  12     # inches
name: "Porch Star"   # its name since spring
# Rows from the top.
cells:
  # the first row
  - a/b  c   a\\b   # corners lean outwards

  - c    S   c
  - a\\b c a/b
units:
    S:   # the middle
        cells: [ ]
copies: 3

press:   # as we do it
  - {seam: [[4, 0], [4, 4]], towards: [3, 2]}   # outwards
  - seam: [[0, 4],
           [8, 4]]
    open: yes
  # the middle
  - {spin: [4, 4]}
order:
- rows
# the end
""".replace("cells: [ ]", "cells:\n        - d e\n        - e d")


def read(text: str) -> Drawing:
    return block_drawing(document(text.encode(), "before.yaml"))


def remarks(text: str) -> list[str]:
    return [line[line.index("#") :].strip() for line in text.splitlines() if "#" in line]


def changed_lines(before: str, after: str) -> list[str]:
    diff = difflib.unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm="")
    return [line for line in diff if not line.startswith(("---", "+++", "@@"))]


def test_an_unchanged_drawing_leaves_every_byte() -> None:
    assert rewritten(BEFORE, read(BEFORE)) == BEFORE
    assert rewritten(BEFORE.strip("\n"), read(BEFORE)) == BEFORE.strip("\n")


def cell(text: str) -> Written:
    return Written(text, Where())


def with_cells(change: Callable[[list[tuple[Written, ...]]], Any]) -> Callable[[Drawing], Drawing]:
    def changed(drawing: Drawing) -> Drawing:
        assert isinstance(drawing.drawn, Cells)
        rows = list(drawing.drawn.cells)
        change(rows)
        drawn = dataclasses.replace(drawing.drawn, cells=tuple(rows))
        return dataclasses.replace(drawing, drawn=drawn)

    return changed


def replaced(**fields: Any) -> Callable[[Drawing], Drawing]:
    return lambda drawing: dataclasses.replace(drawing, **fields)


OPEN = Fixing(((Fraction(8), Fraction(0)), (Fraction(8), Fraction(4))), None, "open")

CHANGES = {
    "name": (
        replaced(name="Gate Star"),
        [
            '-name: "Porch Star"   # its name since spring',
            "+name: Gate Star   # its name since spring",
        ],
    ),
    "size": (
        replaced(finished=(Fraction(12), Fraction(19, 2))),
        ["-finished:  12     # inches", "+finished:  [12, 9 1/2]     # inches"],
    ),
    "copies": (replaced(copies=5), ["-copies: 3", "+copies: 5"]),
    "one copy": (replaced(copies=1), ["-copies: 3"]),
    "a key more": (replaced(upright=True), ["+upright: yes"]),
    "a group more": (
        replaced(methods=(("hourglass", cell("from triangles")),)),
        ["+method:", "+  hourglass: from triangles"],
    ),
    "no order": (replaced(order=()), ["-order:", "-- rows"]),
    "an order more": (
        lambda drawing: dataclasses.replace(
            drawing, fixings=(*drawing.fixings, dataclasses.replace(OPEN, way="last"))
        ),
        ["+- {last: [[8, 0], [8, 4]]}"],
    ),
    "a press more": (
        lambda drawing: dataclasses.replace(drawing, fixings=(OPEN, *drawing.fixings)),
        ["+  - {seam: [[8, 0], [8, 4]], open: yes}"],
    ),
    "a press less": (
        lambda drawing: dataclasses.replace(drawing, fixings=drawing.fixings[:1]),
        [
            "-  - seam: [[0, 4],",
            "-           [8, 4]]",
            "-    open: yes",
            "-  - {spin: [4, 4]}",
        ],
    ),
    "a press changed": (
        lambda drawing: dataclasses.replace(
            drawing, fixings=(drawing.fixings[0], OPEN, drawing.fixings[2])
        ),
        [
            "-  - seam: [[0, 4],",
            "-           [8, 4]]",
            "-    open: yes",
            "+  - {seam: [[8, 0], [8, 4]], open: yes}",
        ],
    ),
    "a cell": (
        with_cells(lambda rows: rows.__setitem__(1, (cell("d"), *rows[1][1:]))),
        ["-  - c    S   c", "+  - d   S c"],
    ),
    "a row more": (
        with_cells(lambda rows: rows.append((cell("e"), cell("e"), cell("e")))),
        ["+  - e   e e"],
    ),
}


@pytest.mark.parametrize("name", CHANGES)
def test_a_change_alters_its_own_lines_only(name: str) -> None:
    change, expected = CHANGES[name]
    wanted = change(read(BEFORE))
    after = rewritten(BEFORE, wanted)
    assert without_places(read(after)) == without_places(wanted)
    assert changed_lines(BEFORE, after) == expected


def test_remarks_stay_through_many_changes() -> None:
    text = BEFORE
    for change, _ in CHANGES.values():
        text = rewritten(text, change(read(BEFORE)))
    kept = remarks(text)
    # A remark goes only with the line that it stands on.
    gone = [remark for remark in remarks(BEFORE) if remark not in kept]
    assert gone == []


def test_another_way_of_drawing_takes_the_place_of_the_first() -> None:
    patches = read(write_block(Drawing("x", (Fraction(1), Fraction(1)), _triangle())))
    after = rewritten(BEFORE, dataclasses.replace(read(BEFORE), drawn=patches.drawn))
    assert "cells:" not in after
    assert "units:" not in after
    assert "# Rows from the top." in after
    assert "patches:" in after


def _triangle() -> Polygons:
    zero, one = Fraction(0), Fraction(1)
    made = read(
        "name: x\nfinished: 1\npatches:\n  - {fabric: a, points: [[0, 0], [1, 0], [0, 1]]}\n"
    ).drawn
    assert isinstance(made, Polygons)
    assert made.patches[0].points == ((zero, zero), (one, zero), (zero, one))
    return made


GRID = """\
name: Gridded
finished: 7   # seven
grid: 3
seams:
  lines:
    - [[1, 0], [1, 3]]   # a third across
  fabrics:
    - {fabric: a, at: [0.5, 1]}
    - {fabric: b, at: [2, 1]}
press:
  - {spin: [1, 1]}
"""


def test_points_stay_counted_in_grid_cells() -> None:
    drawing = read(GRID)
    third = Fraction(7, 3)
    assert drawing.fixings[0].crossing == (third, third)
    more = Fixing(None, (2 * third, third / 2), "spin")
    after = rewritten(GRID, dataclasses.replace(drawing, fixings=(*drawing.fixings, more)))
    assert changed_lines(GRID, after) == ["+  - {spin: [2, 1/2]}"]


@pytest.mark.parametrize(
    "text",
    [
        "{name: x, finished: 3, patches: [{fabric: a, points: [[0, 0], [1, 0], [0, 1]]}]}",
        "? name\n: x\n" + BEFORE.replace('name: "Porch Star"   # its name since spring\n', ""),
    ],
)
def test_odd_ways_of_writing_are_written_anew_rather_than_wrongly(text: str) -> None:
    wanted = dataclasses.replace(read(text), name="Other", copies=7, order=())
    assert without_places(read(rewritten(text, wanted))) == without_places(wanted)


def test_a_text_that_is_no_block_is_refused() -> None:
    with pytest.raises(InputError):
        rewritten("name: x\n", read(BEFORE))


@given(drawings, st.booleans())
def test_any_drawing_can_take_the_place_of_any_other(drawing: Drawing, gridded: bool) -> None:
    after = rewritten(GRID if gridded else BEFORE, drawing)
    assert without_places(read(after)) == drawing
    assert rewritten(after, drawing) == after
