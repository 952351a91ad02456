"""``seamproof booklet`` for a folder: the files it writes, and how it ends when it cannot."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from seamproof.cli import main

STAR = "name: Star\nfinished: 6\ncells:\n  - a/b b/a\n  - b   a\n"
QUILT = """\
name: One star
fabrics: [{letter: a}, {letter: b}, {letter: c}]
setting:
  rows: [[Star]]
  sashing: 2 of c
"""


@pytest.fixture(autouse=True)
def quilt(at_home: Path) -> Path:
    folder = at_home / "quilt"
    folder.mkdir()
    (folder / "quilt.yaml").write_text(QUILT, encoding="utf-8")
    (folder / "star.yaml").write_text(STAR, encoding="utf-8")
    return folder


def test_a_whole_pattern_is_written(quilt: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["booklet", "quilt", "-o", "printed", "--json"]) == 0
    plain = json.loads(capsys.readouterr().out)
    printed = quilt.parent / "printed"
    assert [Path(file).name for file in plain["files"]] == [
        *("one-star-letter.pdf", "one-star-a4.pdf", "one-star.html"),
        *("tables", "pictures", "lessons"),
    ]
    assert (printed / "one-star-a4.pdf").read_bytes().startswith(b"%PDF-")
    assert (printed / "tables" / "cut-star.csv").read_text("utf-8").startswith("block,fabric")
    assert (printed / "pictures" / "star-back.svg").read_text("utf-8").startswith("<svg")
    assert (printed / "pictures" / "top.png").read_bytes().startswith(b"\x89PNG")
    assert (printed / "lessons" / "star.vtt").read_text("utf-8").startswith("WEBVTT")


def test_editions_have_names_of_their_own(quilt: Path) -> None:
    asked = ["--block", "star", "--paper", "a4", "--large-print", "--left-handed", "--metric"]
    assert main(["booklet", "quilt", "-o", "printed", *asked]) == 0
    names = {path.name for path in (quilt.parent / "printed").iterdir() if path.is_file()}
    stem = "star-metric-large-print-left-handed"
    assert names == {f"{stem}-a4.pdf", f"{stem}.html"}


def test_what_does_not_come_out_is_not_printed(
    quilt: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = QUILT.replace("[[Star]]", "[[Star, Star]]")
    (quilt / "quilt.yaml").write_text(text, encoding="utf-8")
    assert main(["booklet", "quilt", "-o", "printed"]) == 1
    assert "nothing was written" in capsys.readouterr().out
    assert not (quilt.parent / "printed").exists()


@pytest.mark.parametrize(
    "wrong",
    [
        ["booklet", "quilt", "-o", "printed", "--block", "Moon"],
        ["booklet", "nowhere", "-o", "printed"],
        ["booklet", "quilt", "-o", "printed", "--copies", "3"],
        ["booklet", "quilt/star.yaml", "-o", "star.pdf", "--sheet", "--large-print"],
    ],
    ids=str,
)
def test_what_cannot_be_used_ends_with_two(wrong: list[str]) -> None:
    assert main(wrong) == 2
