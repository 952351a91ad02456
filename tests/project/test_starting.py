"""New folders: the demo quilt and the first quilt of somebody's own."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from seamproof.draft.model import Block, Cells
from seamproof.draft.understanding import understand
from seamproof.errors import SaveError
from seamproof.plane.predicates import area
from seamproof.project import saving
from seamproof.project.quilt_file import slug
from seamproof.project.reading import read_block, read_project
from seamproof.project.starting import DEMO_NAME, copy_demo, new_project

# Name, finished size, patches; the letters of each block's fabrics.
DEMO = {
    "Breakwater": (12, 16, "bcef"),
    "Slack Water": (9, 25, "abdef"),
    "Lamp Room": (12, 28, "abcef"),
    "Herring Run": (12, 39, "abcdef"),
    "Leading Light": (12, 37, "abcdef"),
    "Deck Light": (6, 9, "bcf"),
    "Dinghy": (6, 9, "abcdef"),
    "Cardinal Mark": (12, 16, "acdf"),
    "Net Floats": (12, 41, "acdef"),
    "Capstan": (12, 17, "bcdef"),
    "Cobbled Quay": (9, 49, "abcdf"),
    "Lit Window": (12, 13, "abcef"),
    "Cardinal Mark, straight seams": (12, 24, "acdf"),
}


def understood(path: Path) -> Block:
    source = read_block(path)
    block, findings = understand(source.drawing, source.project.letters)
    assert block is not None, findings
    assert not [finding for finding in findings if finding.severity != "note"], findings
    return block


def test_the_demo_is_the_whole_quilt(tmp_path: Path) -> None:
    files = copy_demo(tmp_path / "demo")
    assert len(files) == 1 + len(DEMO)
    project = read_project(tmp_path / "demo")
    assert project.given
    assert project.name == DEMO_NAME
    assert [fabric.letter for fabric in project.fabrics] == list("abcdef")
    assert [path.stem for path in project.blocks] == [slug(name) for name in DEMO]
    for path, (name, (size, patches, letters)) in zip(project.blocks, DEMO.items(), strict=True):
        block = understood(path)
        assert (block.name, block.width, block.height) == (name, size, size)
        assert len(block.patches) == patches
        assert "".join(sorted({patch.fabric for patch in block.patches})) == letters
        assert block.upright == (name == "Dinghy")


def test_sub_blocks_of_the_demo_are_sub_blocks(tmp_path: Path) -> None:
    copy_demo(tmp_path)
    for name, units in (("net-floats", "STF"), ("cobbled-quay", "NM")):
        drawn = read_block(tmp_path / "blocks" / f"{name}.yaml").drawing.drawn
        assert isinstance(drawn, Cells)
        assert "".join(unit for unit, _ in drawn.units) == units


def test_the_two_stars_differ_in_seams_only(tmp_path: Path) -> None:
    copy_demo(tmp_path)
    areas = []
    for name in ("cardinal-mark", "cardinal-mark-straight-seams"):
        block = understood(tmp_path / "blocks" / f"{name}.yaml")
        total = dict.fromkeys("acdf", 0.0)
        for patch in block.patches:
            total[patch.fabric] += float(area(block.corners_of(patch)))
        areas.append(total)
    assert areas[0] == pytest.approx(areas[1], abs=1e-4)


def test_the_demo_can_be_copied_again(tmp_path: Path) -> None:
    first = copy_demo(tmp_path)
    first[1].write_text("changed", encoding="utf-8")
    assert copy_demo(tmp_path) == first
    assert first[1].read_text(encoding="utf-8") != "changed"


def test_the_demo_can_be_copied_around_what_somebody_changed(tmp_path: Path) -> None:
    first = copy_demo(tmp_path)
    first[1].write_text("changed", encoding="utf-8")
    first[2].unlink()
    assert copy_demo(tmp_path, keep=True) == (first[0], *first[2:])
    assert first[1].read_text(encoding="utf-8") == "changed"
    assert first[2].exists()


def test_a_new_quilt_is_read_and_understood(tmp_path: Path) -> None:
    quilt, block = new_project(tmp_path / "porch-quilt")
    project = read_project(quilt.parent)
    assert project.name == "porch quilt"
    assert project.blocks == (block,)
    assert len(project.fabrics) == 3
    star = understood(block)
    # A star of four points that turn, round a centre: each fabric a turned copy of itself.
    assert len(star.patches) == 13
    assert Counter(patch.fabric for patch in star.patches) == {"a": 8, "b": 4, "c": 1}


def test_a_new_quilt_has_the_name_it_is_given(tmp_path: Path) -> None:
    new_project(tmp_path, 'Porch: the "second" {one}')
    assert read_project(tmp_path).name == 'Porch: the "second" {one}'


@pytest.mark.parametrize("name", ["quilt.yaml", "blocks/first-star.yaml"])
def test_a_new_quilt_overwrites_nothing(tmp_path: Path, name: str) -> None:
    (tmp_path / "blocks").mkdir()
    (tmp_path / name).write_text("mine", encoding="utf-8")
    with pytest.raises(SaveError, match="there is a file of this name already"):
        new_project(tmp_path)
    assert (tmp_path / name).read_text(encoding="utf-8") == "mine"
    assert [path.name for path in tmp_path.rglob("*.yaml")] == [Path(name).name]


def test_a_full_disk_is_reported(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(saving.os, "write", full)
    with pytest.raises(SaveError, match="the disk is full"):
        copy_demo(tmp_path)
    assert not list(tmp_path.rglob("*.yaml"))


@pytest.mark.parametrize("name", ["Con", "con.yaml", "a/b", "..", "", "é" * 200, "x" * 500, "№ 5"])
def test_file_names_are_safe(name: str) -> None:
    made = slug(name)
    assert 0 < len(made) <= 80
    assert not set(made) & set('/\\:*?"<>|. ')
    assert made not in {"con", "prn", "aux", "nul"}
