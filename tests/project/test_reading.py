"""What block files and quilt files say once they are read."""

from __future__ import annotations

import os
from fractions import Fraction
from pathlib import Path

import pytest

from seamproof.cutting.model import CuttingSettings
from seamproof.draft.model import Cells, Polygons, Seams
from seamproof.errors import InputError
from seamproof.length.exact import CM
from seamproof.length.rounding import METRIC_STEP
from seamproof.project.model import Project, Source, fabrics_for
from seamproof.project.reading import read_block, read_block_bytes, read_project

HEAD = "name: Star\nfinished: 9\n"

QUILT = """\
name: Porch
fabrics:
  - {letter: a, name: Sea mist, colour: "#f2efe6", usable width: 42, directional: yes}
  - {letter: b, colour: 26587D, role: "main, blue"}
  - letter: ab
preferences:
  measure: inches
"""


def read(text: str, project: Project | None = None) -> Source:
    return read_block_bytes(text.encode(), "star.yaml", project)


def texts(source: Source) -> list[list[str]]:
    assert isinstance(source.drawing.drawn, Cells)
    return [[cell.text for cell in row] for row in source.drawing.drawn.cells]


@pytest.mark.parametrize(
    "row",
    [r"f/a a\b e=\t c^", r'"f/a a\b e=\t c^"', r"'f/a a\b e=\t c^'", r"f/a   a\b e=\t c^  # x"],
)
def test_cells_are_read_literally_quoted_or_not(row: str) -> None:
    assert texts(read(f"{HEAD}cells:\n  - {row}\n")) == [["f/a", r"a\b", r"e=\t", "c^"]]


@pytest.mark.parametrize("escape", ["a\\b", "a\\x", "a\\u", "a\\n", "a\\\\", "a\\ "])
def test_no_escape_means_anything_in_a_quoted_row(escape: str) -> None:
    assert texts(read(f'{HEAD}cells:\n  - "{escape} c"\n')) == [[*escape.split(), "c"]]


def test_rows_of_joining_marks_need_no_quotes() -> None:
    assert texts(read(f"{HEAD}cells:\n  - a\n  - =\n  - ^\n  - S'\n  - no\n")) == [
        ["a"],
        ["="],
        ["^"],
        ["S'"],
        ["no"],
    ]


def test_every_cell_has_its_own_place() -> None:
    drawn = read(f'{HEAD}cells:\n  - a  b/c\n  - "d e"\n').drawing.drawn
    assert isinstance(drawn, Cells)
    places = [(cell.where.line, cell.where.column) for row in drawn.cells for cell in row]
    assert places == [(4, 5), (4, 8), (5, 6), (5, 8)]
    assert {cell.where.block for row in drawn.cells for cell in row} == {"Star"}
    assert drawn.cells[0][0].where.file == "star.yaml"


def test_places_hold_behind_a_byte_order_mark_and_windows_line_ends() -> None:
    data = ("\ufeff" + HEAD + "cells:\n  - a b\n").replace("\n", "\r\n").encode()
    source = read_block_bytes(data, "star.yaml")
    assert isinstance(source.drawing.drawn, Cells)
    assert source.drawing.drawn.cells[0][1].where.line == 4
    assert source.drawing.drawn.cells[0][1].where.column == 7
    assert source.lines[3] == "  - a b"


def test_all_keys_of_a_block() -> None:
    drawing = read(
        "seamproof: 1\nname: All\nfinished: [12, 4 1/2]\ncells:\n  - S a\n  - a S'\n"
        "columns: [1, 2.5]\nrows: [⅓, 2]\nunits:\n  S:\n    cells:\n      - a b\n"
        "    columns: [2, 1]\nupright: true\ncopies: 7\nmethod: {HST: from triangles}\n"
        "press:\n  - {seam: [[0, 0], [0, 4]], towards: [-1, 2]}\n"
        "  - {seam: [[0, 0], [3, 0]], open: yes}\n  - {spin: [1, 1], way: anticlockwise}\n"
        "order:\n  - {last: [[1, 0], [1, 4]]}\n  - rows\n"
    ).drawing
    assert drawing.finished == (12, Fraction(9, 2))
    assert isinstance(drawing.drawn, Cells)
    assert drawing.drawn.columns == (1, Fraction(5, 2))
    assert drawing.drawn.rows == (Fraction(1, 3), 2)
    [(name, unit)] = drawing.drawn.units
    assert (name, unit.columns, unit.units) == ("S", (2, 1), ())
    assert drawing.upright
    assert drawing.copies == 7
    [(kind, method)] = drawing.methods
    assert (kind, method.text, method.where.line) == (
        "half-square triangle",
        "from triangles",
        16,
    )
    assert [fixing.way for fixing in drawing.fixings] == ["towards", "open", "spin", "last"]
    assert drawing.fixings[0].towards == (-1, 2)
    assert drawing.fixings[2].clockwise is False
    assert drawing.order == ("rows",)
    assert drawing.where.line == 1


def test_patches_and_seams_in_inches() -> None:
    drawn = read(f"{HEAD}patches:\n- fabric: a\n  points: [[0, 0], [9, 0], [0, 3.5147]]\n")
    assert isinstance(drawn.drawing.drawn, Polygons)
    assert drawn.drawing.drawn.patches[0].points[2] == (0, Fraction(35147, 10000))
    drawn = read(
        f"{HEAD}seams:\n  lines: [[[3, 0], [3, 9]]]\n  fabrics: [{{fabric: ab, at: [1, 1]}}]\n"
    )
    assert isinstance(drawn.drawing.drawn, Seams)
    assert drawn.drawing.drawn.seams[0].line == ((3, 0), (3, 9))
    assert drawn.drawing.drawn.fabrics[0].fabric == "ab"


@pytest.mark.parametrize(("grid", "point"), [("4", (9, Fraction(3, 2))), ("[6, 2]", (6, 3))])
def test_points_count_grid_cells(grid: str, point: tuple[Fraction, Fraction]) -> None:
    source = read(
        f"name: x\nfinished: [18, 6]\ngrid: {grid}\nseams:\n  lines: [[[2, 1], [0, 0]]]\n"
        "  fabrics: [{fabric: a, at: [0, 0]}]\npress: [{spin: [2, 1]}]\n"
    )
    assert isinstance(source.drawing.drawn, Seams)
    assert source.drawing.drawn.seams[0].line[0] == point
    assert source.drawing.fixings[0].crossing == point


def folder_with(folder: Path, files: dict[str, str]) -> Path:
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    return folder


def block(name: str) -> str:
    return f"name: {name}\nfinished: 9\ncells:\n  - a\n"


@pytest.mark.parametrize("place", ["star.yaml", "blocks/star.yaml"])
@pytest.mark.parametrize("inside", [True, False])
def test_the_project_is_beside_the_block_or_above(
    tmp_path: Path, place: str, inside: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder_with(tmp_path, {"quilt.yaml": QUILT, place: block("Star")})
    path = tmp_path / place
    if inside:
        monkeypatch.chdir(path.parent)
        path = Path(path.name)
    source = read_block(path)
    assert source.project.given
    assert source.project.name == "Porch"
    assert source.project.letters == {"a", "b", "ab"}


def test_two_folders_up_is_too_far(tmp_path: Path) -> None:
    folder_with(tmp_path, {"quilt.yaml": QUILT, "a/b/star.yaml": block("Star")})
    assert not read_block(tmp_path / "a/b/star.yaml").project.given


def test_fabrics_of_a_project() -> None:
    fabrics = read_project_text(QUILT).fabrics
    first, second, third = fabrics
    assert (first.letter, first.name, first.colour) == ("a", "Sea mist", "#F2EFE6")
    assert (first.usable_width, first.directional, first.value) == (42, True, "light")
    assert (second.name, second.colour, second.role) == ("Fabric B", "#26587D", "main, blue")
    assert (second.value, second.usable_width) == ("medium-dark", 40)
    assert third.letter == "ab"


def read_project_text(text: str) -> Project:
    from seamproof.project.quilt_file import quilt_project
    from seamproof.project.yaml_tree import document

    return quilt_project(document(text.encode(), "quilt.yaml"), Path())


def test_a_metric_project_reads_bare_numbers_as_centimetres() -> None:
    project = read_project_text(
        "name: Porch\nfabrics:\n  - {letter: a, usable width: 110}\npreferences:\n"
        "  measure: cm\n  seam: 0.7\n  sizes: exact\n  oversize: {geese: 2, hst: 1/2 in}\n"
        "  method: {geese: from triangles}\n"
    )
    assert project.fabrics[0].usable_width == 110 * CM
    settings = project.preferences.cutting(read(HEAD + "cells: \n  - a\n").drawing.methods)
    assert settings.seam == CM * Fraction(7, 10)
    assert settings.step == METRIC_STEP
    assert settings.sizes == "exact"
    assert settings.oversize["flying geese"] == 2 * CM
    assert settings.oversize["half-square triangle"] == Fraction(1, 2)
    assert settings.oversize["hourglass"] == CuttingSettings.metric().oversize["hourglass"]
    assert settings.methods == {"flying geese": "from triangles"}
    assert project.preferences.sheet == "a4"
    drawing = read(
        "name: x\nfinished: 30\npatches:\n - {fabric: a, points: [[0, 0], [30, 0], [0, 4 in]]}\n",
        project,
    ).drawing
    assert drawing.finished == (30 * CM, 30 * CM)
    assert isinstance(drawing.drawn, Polygons)
    assert drawing.drawn.patches[0].points[2] == (0, 4)


@pytest.mark.parametrize(
    ("written", "units"),
    [
        ("hst b a", "half-square triangle a b"),
        ("geese 1 1/2 x 3", "flying geese 3/2 x 3"),
        ("square in a square c a 4", "square-in-a-square a c 4 x 4"),
        ("geese e 3 x 1.5", "flying geese e 3/2 x 3"),
    ],
)
def test_units_of_some_fabrics_or_size(written: str, units: str) -> None:
    drawing = read(HEAD + f"method:\n  {written}: from triangles\ncells:\n  - a\n").drawing
    assert [name for name, _ in drawing.methods] == [units]


def test_a_size_in_centimetres() -> None:
    project = read_project_text(QUILT.replace("inches", "cm"))
    text = HEAD + "method:\n  hst 7.62: from triangles\ncells:\n  - a\n"
    assert read(text, project).drawing.methods[0][0] == "half-square triangle 3 x 3"


def test_a_block_chooses_its_methods_before_its_project() -> None:
    project = read_project_text(QUILT + "  method: {hst: eight at a time, geese: from triangles}\n")
    drawing = read(HEAD + "method: {hst: from triangles}\ncells:\n  - a\n", project).drawing
    assert project.preferences.cutting(drawing.methods).methods == {
        "half-square triangle": "from triangles",
        "flying geese": "from triangles",
    }


def test_without_a_quilt_file_the_defaults_hold(tmp_path: Path) -> None:
    folder_with(tmp_path, {"star.yaml": block("Star"), "notes.txt": "x"})
    project = read_project(tmp_path)
    assert not project.given
    assert project.letters is None
    assert [path.name for path in project.blocks] == ["star.yaml"]
    assert project.preferences.cutting() == CuttingSettings()
    assert project.preferences.sheet == "letter"


FILES = {
    "blocks/lit-window.yaml": block("Lit Window"),
    "blocks/odd.yaml": block("Cardinal Mark"),
    "beside.yml": block("Beside"),
    "blocks/.hidden.yaml": block("Hidden"),
    "blocks/notes.txt": "x",
}


def test_the_blocks_of_a_project_in_alphabetical_order(tmp_path: Path) -> None:
    folder_with(tmp_path, {"quilt.yaml": QUILT, **FILES})
    names = [path.name for path in read_project(tmp_path).blocks]
    assert names == ["lit-window.yaml", "odd.yaml", "beside.yml"]
    assert read_project(tmp_path / "quilt.yaml").blocks == read_project(tmp_path).blocks


def test_the_blocks_of_a_project_in_its_own_order(tmp_path: Path) -> None:
    listed = QUILT + "blocks: [Cardinal Mark, beside.yml, Lit Window]\n"
    folder_with(tmp_path, {"quilt.yaml": listed, "blocks/broken.yaml": "[", **FILES})
    names = [path.name for path in read_project(tmp_path).blocks]
    assert names == ["odd.yaml", "beside.yml", "lit-window.yaml"]


def test_a_block_that_is_not_there_is_refused_where_it_is_named(tmp_path: Path) -> None:
    folder_with(tmp_path, {"quilt.yaml": QUILT + "blocks:\n  - Lit Windows\n", **FILES})
    with pytest.raises(InputError, match=r"quilt\.yaml:9:5: .*did you mean \"lit-window\"\?"):
        read_project(tmp_path)


def test_a_broken_quilt_file_refuses_the_block_with_a_place_in_the_quilt_file(
    tmp_path: Path,
) -> None:
    folder_with(tmp_path, {"quilt.yaml": QUILT + "  seam: 1/0\n", "star.yaml": block("Star")})
    with pytest.raises(InputError) as caught:
        read_block(tmp_path / "star.yaml")
    assert caught.value.place.file == str(tmp_path / "quilt.yaml")
    assert caught.value.place.line == 8
    assert caught.value.source == "  seam: 1/0"


@pytest.mark.parametrize("name", ["none.yaml", "folder", "a\0b", "x" * 300])
def test_a_file_that_cannot_be_opened_is_refused_by_name(tmp_path: Path, name: str) -> None:
    (tmp_path / "folder").mkdir()
    with pytest.raises(InputError) as caught:
        read_block(tmp_path / name)
    assert caught.value.place.file == str(tmp_path / name)


@pytest.mark.parametrize("error", [PermissionError(13, "Permission denied"), OSError(5, "Fault")])
def test_a_file_that_may_not_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: OSError
) -> None:
    def refused(*_: object) -> None:
        raise error

    monkeypatch.setattr(Path, "open", refused)
    with pytest.raises(InputError, match="cannot be opened"):
        read_block(tmp_path / "star.yaml")


def test_fabrics_for_a_block() -> None:
    project = read_project_text(QUILT)
    fabrics, missing = fabrics_for(["c", "ab", "a", "c"], project)
    assert [fabric.letter for fabric in fabrics] == ["a", "c", "ab"]
    assert fabrics[0] is project.fabrics[0]
    assert missing == ("c",)
    assert len({fabric.colour for fabric in fabrics}) == 3


def test_lengths_of_paths_do_not_matter(tmp_path: Path) -> None:
    folder_with(tmp_path, {"star.yaml": block("Star")})
    assert read_block(os.fspath(tmp_path / "star.yaml")).drawing.name == "Star"
