"""``seamproof top`` in the terminal."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from seamproof.cli.starting import main
from seamproof.project.starting import copy_demo


@pytest.fixture(scope="module")
def lamps(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("lamps")
    copy_demo(folder)
    return folder


pytestmark = pytest.mark.usefixtures("at_home", "remembering")


def run(*arguments: object) -> int:
    return main([str(argument) for argument in arguments])


def test_what_the_demo_says(lamps: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("top", lamps) == 0
    told = capsys.readouterr().out
    for words in (
        "44 × 58 in finished",
        "31 of F, cut 2 1/2 × 12 1/2 in",
        "20 of B, cut 2 1/2 in",
        "3 3/4 yd: 2 lengths of 66 in",
        "6 strips 2 1/2 in wide across the cloth",
        "51.04: 2,552 square inches at 0.02",
        "Close the blade",
        "the top ",
    ):
        assert words in told


def test_settings_nearest_to_sizes(lamps: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("top", lamps, "--what-if", "wall, crib") == 0
    told = capsys.readouterr().out
    assert [name in told for name in ("Wall, 36 in", "Crib, 39 × 54 in")] == [True] * 2
    assert "trade table F405" in told
    assert run("top", lamps, "--what-if", "barn") == 2
    assert 'no size called "barn"' in capsys.readouterr().err


def test_json_and_pictures(lamps: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page = tmp_path / "page.svg"
    drawn = ("-o", tmp_path / "top.svg", "--bulk", tmp_path / "bulk.svg")
    assert run("top", lamps, *drawn, "--hand-off", page, "--json") == 0
    plain = json.loads(capsys.readouterr().out)
    assert plain["width"] == 44
    assert plain["hand_off"] == [str(page), str(tmp_path / "page.csv")]
    for name in ("top.svg", "bulk.svg"):
        assert (tmp_path / name).read_text("utf-8").startswith("<svg")


def test_borders_measured_blocks_and_bias_are_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    copy_demo(tmp_path)
    quilt = tmp_path / "quilt.yaml"
    more = (
        "  borders:\n"
        "    - {width: 1, fabric: d}\n"
        "    - {width: 4, fabric: e, corners: mitred, cut: lengthwise}\n"
        "  binding: {fabric: d, way: bias}\n"
        "  sleeve: 4 of a\n"
        "  measured: {Breakwater: 12 1/4}\n"
    )
    text = quilt.read_text("utf-8").replace("  binding: 2 1/2 of d\n", more)
    quilt.write_text(text, "utf-8")
    assert run("top", tmp_path) == 0
    told = capsys.readouterr().out
    for words in (
        "54 × 68 in finished",
        "take the mean of the three",
        "close the mitres last",
        "it should be 58 1/2 in",
        "whole turns give",
        "press again",
        "the top keeps its size",
        "53 in long",
    ):
        assert words in told, words


def test_a_hole_is_told_with_its_place(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    copy_demo(tmp_path)
    quilt = tmp_path / "quilt.yaml"
    quilt.write_text(quilt.read_text("utf-8").replace("Herring Run, Leading", "Leading"), "utf-8")
    assert run("top", tmp_path) == 1
    told = capsys.readouterr().out
    assert "the top cannot be set" in told
    assert "row 2 has 2 blocks where 3 belong" in told
    assert "quilt.yaml:" in told


def test_a_quilt_without_a_setting(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "quilt.yaml").write_text("name: Q\nfabrics:\n  - {letter: a}\n", "utf-8")
    assert run("top", tmp_path) == 2
    assert "the quilt file has no setting" in capsys.readouterr().err
