"""A whole top pressed: what is opened against the usual rules, and why."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from seamproof.pipeline.memory import Memory
from seamproof.pipeline.setting import work_top
from seamproof.pipeline.top_pressing import Bench, PressedTop, press_top, thick_spots
from seamproof.project.reading import read_project
from seamproof.setting.model import Setting

BLOCK = r"""
name: Points
finished: 6
copies: 4
cells:
  - a/b a\b
  - a\b a/b
"""

QUILT = """\
name: Points
fabrics: [{letter: a}, {letter: b}, {letter: c}]
preferences:
  most layers: LIMIT
  thickest: 15 mm
setting:
  rows: [[Points, Points], [Points, Points]]
  borders: [{width: 3, fabric: c, corners: mitred}]
"""


MEMORY = Memory()
"""The block is pressed once for all these tests."""


def pressed(folder: Path, limit: int) -> PressedTop:
    (folder / "points.yaml").write_text(BLOCK, "utf-8")
    (folder / "quilt.yaml").write_text(QUILT.replace("LIMIT", str(limit)), "utf-8")
    work = work_top(read_project(folder), until="cutting")
    found, _ = press_top(work, memory=MEMORY)
    assert found is not None
    return found


def test_the_usual_rules_hold_while_nothing_lies_above_the_limit(tmp_path: Path) -> None:
    top = pressed(tmp_path, 30)
    assert not top.departs
    assert {p.rule for p in top.presses} == {"less bulk", "rows alternate", "one way", "mitre"}
    assert top.layers is top.usual


def test_above_it_seams_between_blocks_are_opened_and_borders_left(tmp_path: Path) -> None:
    usual = pressed(tmp_path, 30).usual.most
    top = pressed(tmp_path, usual - 1)
    assert top.departs
    assert len(top.layers.spots) < len(top.usual.spots)
    said = {press.rule: press.towards for press in top.presses}
    assert said["open"] == "open"
    assert said.get("less bulk", "to the border") == "to the border"


def test_another_setting_is_counted_too(tmp_path: Path) -> None:
    pressed(tmp_path, 30)
    work = work_top(read_project(tmp_path), until="cutting")
    assert isinstance(work.setting, Setting)
    assert thick_spots(work, work.setting, bench=Bench()) == 0


FRAMED = (
    QUILT.split("setting:", maxsplit=1)[0].replace("LIMIT", "30")
    + """\
setting:
  rows: [[Points]]
  cell: 9
  coping: {Points: [1 1/2 of c]}
  measured: {Points: SIZE}
"""
)


def test_a_measured_block_lies_in_the_layers_as_large_as_it_is(tmp_path: Path) -> None:
    found: dict[str, PressedTop] = {}
    (tmp_path / "points.yaml").write_text(BLOCK.replace("copies: 4\n", ""), "utf-8")
    for size in ("6 1/2", "6 1/4"):
        (tmp_path / "quilt.yaml").write_text(FRAMED.replace("SIZE", size), "utf-8")
        work = work_top(read_project(tmp_path), until="cutting")
        top, _ = press_top(work, memory=MEMORY)
        assert top is not None
        assert work.top is not None
        assert [piece.width for piece in top.top.pieces] == [p.width for p in work.top.pieces]
        found[size] = top
    planned, small = found["6 1/2"], found["6 1/4"]
    assert [block.scale for block in planned.top.blocks] == [(1, 1)]
    assert [block.scale for block in small.top.blocks] == [(Fraction(23, 24), Fraction(23, 24))]
    # The middle, where all eight seams meet, stays where it is; the frame is sewn on further in.
    assert planned.layers.most == small.layers.most
    assert planned.layers.most_at == pytest.approx(small.layers.most_at, abs=0.25)
    assert planned.laid.areas != small.laid.areas
