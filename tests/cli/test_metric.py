"""A metric project from its files to its cutting list: 0.75 cm seams, marks every 0.25 cm."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from seamproof.cli import main

QUILT = """\
name: Metric
fabrics:
  - {letter: a}
  - {letter: b}
preferences:
  measure: cm
"""

BLOCK = """\
name: Slack Water, metric
finished: 24
cells:
  - a/b     a.b.a.b b\\\\a
  - b.a.b.a a       a.b.a.b
  - a\\\\b     b.a.b.a b/a
"""


@pytest.fixture
def quilt(tmp_path: Path) -> Path:
    """A folder with a quilt file and a block."""
    (tmp_path / "quilt.yaml").write_text(QUILT, encoding="utf-8")
    (tmp_path / "block.yaml").write_text(BLOCK.replace("\\\\", "\\"), encoding="utf-8")
    return tmp_path


def answer(
    capsys: pytest.CaptureFixture[str], command: str, quilt: Path, preferences: str = ""
) -> dict[str, Any]:
    """What a command says as JSON."""
    (quilt / "quilt.yaml").write_text(QUILT + preferences, encoding="utf-8")
    assert main([command, str(quilt / "block.yaml"), "--json"]) == 0
    said: dict[str, Any] = json.loads(capsys.readouterr().out)
    return said


def cuts(said: dict[str, Any]) -> set[tuple[str, str, str | None]]:
    """Unit, cut width and what it is trimmed to."""
    return {(row["unit"], row["cut_width"], row["trim_to"]) for row in said["pieces"]}


def test_sizes_are_in_centimetres_and_trimmed(
    quilt: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # 8 cm finished: 10.561 and 11.621 cm are needed, up to the mark, one mark and two more.
    assert cuts(answer(capsys, "cut", quilt)) == {
        ("half-square triangle", "11", "9.5"),
        ("hourglass", "12.25", "9.5"),
        ("square", "9.5", None),
    }


def test_exact_sizes_go_up_to_the_mark(quilt: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cuts(answer(capsys, "cut", quilt, "  sizes: exact\n")) == {
        ("half-square triangle", "10.75", None),
        ("hourglass", "11.75", None),
        ("square", "9.5", None),
    }


@pytest.mark.parametrize("sizes", ["trimmed", "exact"])
def test_the_usual_metric_sizes_are_told_with_what_they_lack(
    quilt: Path, capsys: pytest.CaptureFixture[str], sizes: str
) -> None:
    said = answer(capsys, "cut", quilt, f"  sizes: {sizes}\n")
    notes = [finding["what"] for finding in said["findings"] if finding["code"] == 309]
    assert len(notes) == 2
    assert "2.5 cm more" in notes[0]
    assert "0.06 cm short" in notes[0]
    assert "3.5 cm more" in notes[1]
    assert "0.12 cm short" in notes[1]


def test_in_inches_nothing_is_said_of_that(quilt: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said = answer(capsys, "cut", quilt, "  seam: 1/4 in\n")
    assert 309 not in {finding["code"] for finding in said["findings"]}


def test_it_is_proved(quilt: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said = answer(capsys, "proof", quilt)
    assert [f for f in said["findings"] if f["code"] >= 900] == []


def test_a_top_has_the_sizes_of_a_metric_home(
    quilt: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    more = 'setting:\n  rows: [["Slack Water, metric"]]\n  binding: {fabric: a, way: bias}\n'
    (quilt / "quilt.yaml").write_text(QUILT + more, encoding="utf-8")
    assert main(["top", str(quilt), "--what-if", "wall"]) == 0
    told = capsys.readouterr().out
    for words in (
        "44 cm with 10 cm on every side",
        "146 cm long, 50 cm of it for joining",
        "576 square centimetres at 0.003",
        "Wall, 90 cm: common practice",
    ):
        assert words in told, words
    assert "its area promises" in told
    assert " in of the" not in told
