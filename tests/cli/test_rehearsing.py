"""`seamproof rehearse` from the command line."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from seamproof.cli import main

STAR = "name: Star\nfinished: 9\ncells:\n  - a   a/b a\n  - a\\b c   b\\a\n  - a   b/a a\n"
QUILT = (
    "name: Quilt\nfabrics:\n  - {letter: a, name: A}\n  - {letter: b, name: B}\n"
    "  - {letter: c, name: C}\npreferences:\n  oversize: auto\n  maker: new\n"
)

Capture = pytest.CaptureFixture[str]


@pytest.fixture(autouse=True)
def star(at_home: Path) -> None:
    (at_home / "star.yaml").write_text(STAR, "utf-8")


def asked(capsys: Capture, *arguments: str, code: int = 0) -> str:
    assert main(["rehearse", "star.yaml", "--makers", "500", *arguments]) == code
    said = capsys.readouterr()
    return said.out if code == 0 else said.err


def test_it_tells_sizes_shares_costs_advice_and_oversize(capsys: Capture) -> None:
    said = asked(capsys)
    assert said.startswith("Star: 500 makers, profile everyday (an assumption)\n")
    for words in (
        "of 100 makers come within 1/8 in both ways",
        "of 100 makers keep every point whole, to 1/32 in",
        "Crossing at, across and down",
        "seams that are all too wide or all too narrow",
        "trim the units before they meet anything: ",
        "so that 95 of 100 makers can",
        "is an assumption",
    ):
        assert words in said
    assert re.search(r"^width +9\.50 +9\.\d\d +9\.\d\d +9\.\d\d$", said, re.MULTILINE)


def test_the_same_seed_says_the_same(capsys: Capture) -> None:
    first = asked(capsys, "--seed", "7")
    assert asked(capsys, "--seed", "7", "--fresh") == first
    assert asked(capsys, "--seed", "8") != first


def test_a_picture_is_written(capsys: Capture, at_home: Path) -> None:
    assert "wrote star.svg" in asked(capsys, "-o", "star.svg")
    assert (at_home / "star.svg").read_text("utf-8").startswith("<svg")


def test_a_maker_who_is_not_there(capsys: Capture) -> None:
    said = asked(capsys, "--maker", "Bea", code=2)
    assert "there is no maker profile called Bea" in said
    assert "careful, everyday, new" in said


def test_the_maker_of_the_quilt_is_asked_if_none_is_named(capsys: Capture, at_home: Path) -> None:
    (at_home / "quilt.yaml").write_text(QUILT, "utf-8")
    found = json.loads(asked(capsys, "--json"))
    assert found["maker"]["name"] == "new"
    assert 504 in [note["code"] for note in found["findings"]]
    assert found["oversize"][0]["oversize"] == 0.375
    assert json.loads(asked(capsys, "--json", "--maker", "careful"))["maker"]["name"] == "careful"


def test_hard_to_trim_units_are_warned_of(capsys: Capture, at_home: Path) -> None:
    (at_home / "quilt.yaml").write_text(QUILT.replace("oversize: auto", "oversize: {hst: 0}"))
    said = asked(capsys)
    assert "can square up every one" in said
    assert "[502]" in said


def test_few_makers_are_refused(capsys: Capture) -> None:
    assert main(["rehearse", "star.yaml", "--makers", "5"]) == 2
    assert "100" in capsys.readouterr().err
