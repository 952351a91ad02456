"""`seamproof measure` from the command line: strips, units, blocks, diagnosis, the log."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from seamproof.answers.asking import ANSWERS
from seamproof.cli import main
from tests.cli.test_commands import GAP

NINE = "name: Nine\nfinished: 9\ncells:\n  - a b a\n  - b a b\n  - a b a\n"
STRIPS = ("--strips", "6", "--cut", "1 1/2", "--side", "6 1/4, 6 5/16, 6 1/4")
PROFILE = Path("makers/ada.yaml")

Capture = pytest.CaptureFixture[str]


@pytest.fixture(autouse=True)
def nine(at_home: Path) -> None:
    (at_home / "nine.yaml").write_text(NINE, "utf-8")


def asked(capsys: Capture, *arguments: str, code: int = 0) -> str:
    assert main(["measure", *arguments]) == code
    said = capsys.readouterr()
    return said.out if code != 2 else said.err


def plain(capsys: Capture, of: str, *arguments: str, code: int = 0) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(asked(capsys, *arguments, "--json", code=code))
    jsonschema.validate(found, ANSWERS[of].json_schema())
    return found


def test_a_strip_test_says_how_to_move_the_needle(capsys: Capture) -> None:
    said = asked(
        capsys, "--strips", "6", "--cut", "1 1/2", "--side", "6.3", "--inner", "0.96, 0.96",
        "--inner", "0.96;0.96",
    )  # fmt: skip
    assert "takes up 0.04 in more than planned" in said
    assert "0.02 in towards the raw edge" in said


def test_three_strips_are_not_enough(capsys: Capture) -> None:
    said = asked(capsys, "--strips", "3", "--cut", "1 1/2", "--side", "3 7/16")
    assert "fixes it only to about 0.03 in per seam" in said


def test_a_profile_is_written_kept_and_replaced(capsys: Capture) -> None:
    found = plain(capsys, "measure", *STRIPS, "--name", "Ada")
    assert found["written"] == str(PROFILE)
    assert found["profile"]["like"] == "everyday"
    first = PROFILE.read_text("utf-8") + "typed:\n  pin: 1/32   # few\n"
    PROFILE.write_text(first, "utf-8")

    other = ("--strips", "6", "--cut", "1 1/2", "--side", "6 7/16", "--name", "Ada")
    found = plain(capsys, "measure", *other)
    assert found["written"] is None
    assert [note["code"] for note in found["findings"]] == [520]
    assert PROFILE.read_text("utf-8") == first

    found = plain(capsys, "measure", *other, "--replace")
    assert [note["code"] for note in found["findings"]] == [521]
    assert "seam: " in found["findings"][0]["what"]
    assert "becomes" in found["findings"][0]["what"]
    after = PROFILE.read_text("utf-8")
    assert after != first
    assert after.endswith("typed:\n  pin: 1/32   # few\n")


def test_a_measured_maker_rehearses_and_is_no_assumption(capsys: Capture) -> None:
    asked(capsys, *STRIPS, "--name", "Ada")
    assert main(["rehearse", "nine.yaml", "--maker", "Ada", "--makers", "100", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["maker"] == {"name": "Ada", "assumed": False}
    assert 501 not in [note["code"] for note in found["findings"]]


def test_strips_from_a_table(capsys: Capture) -> None:
    table = "set,what,size\n" + "".join(
        f"{n},cut,1 1/2\n{n},side,3 7/16\n{n},inner,31/32\n" for n in (1, 2, 3)
    )
    Path("strips.csv").write_text(table, "utf-8")
    found = plain(capsys, "measure", "strips.csv", "--name", "Ada")
    assert found["seams"] == 6
    assert "3 strip sets, 6 seams" in PROFILE.read_text("utf-8")


def test_units_say_what_to_cut_next(capsys: Capture) -> None:
    units = ("--units", "hst", "--finished", "3", "--cut", "4")
    raw = plain(capsys, "measure", *units, "--raw", "3 9/16, 3 5/8, 3 19/32, 3 17/32")
    assert raw["takes_up"]["value"] == pytest.approx(0.0966, abs=0.0002)
    assert raw["next"]["more"] == 8
    over = plain(capsys, "measure", *units, "--overhang", "1/8, 1/16, 3/32, -1/16", "--next", "24")
    assert over["takes_up"] is None
    assert over["next"]["short"] == 1
    assert over["next"]["cut_in"] >= raw["next"]["cut_in"]
    geese = asked(
        capsys, "--units", "geese", "--finished", "3", "--cut", "4", "--overhang", "0, 1/16, 1/32"
    )
    assert "large squares" in geese
    refused = asked(capsys, *units, "--overhang", "1/8, 1/16", "--name", "Ada", code=2)
    assert "do not tell the seam" in refused


def test_the_short_nine_patch(capsys: Capture) -> None:
    said = asked(capsys, "nine.yaml", "--got", "9 1/4 x 9 1/4")
    assert "1/16 in too wide on each side" in said
    assert said.index("Press it again") < said.index("1. The seam takes up too much")
    assert "they must be 3 1/2 in across" in said
    found = plain(capsys, "diagnose", "nine.yaml", "--got", "9-1/4", "--piece", "Aa: 3 3/8")
    assert found["seams_across"] == 2
    assert found["each"] == pytest.approx(1 / 8)
    assert "cutting" in [cause["cause"] for cause in found["causes"]]
    right = plain(capsys, "diagnose", "nine.yaml", "--got", "9 1/2")
    assert (right["causes"], right["first"]) == ([], None)


def test_a_block_that_is_none_has_no_diagnosis(capsys: Capture) -> None:
    Path("gap.yaml").write_text(GAP, "utf-8")
    found = plain(capsys, "diagnose", "gap.yaml", "--got", "9 1/4", code=1)
    assert found["causes"] is None
    assert found["says"] is None


def test_copies_of_a_block_tell_the_seam(capsys: Capture) -> None:
    got = [word for _ in range(4) for word in ("--got", "9 1/4 x 9 1/4")]
    found = plain(capsys, "measure", "nine.yaml", *got, "--name", "Ada")
    assert found["measured"] == "blocks"
    assert found["takes_up"]["value"] == pytest.approx(0.125, abs=0.01)
    assert PROFILE.is_file()


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ((), "how many strips"),
        (("nine.yaml",), "what did the block measure"),
        (("--got", "9"), "--got goes with a block file"),
        (("nine.yaml", "--got", "23 1/2"), "no size of this block"),
        (("nine.yaml", "--got", "9 1/4 x"), "a length is missing"),
        (("nine.yaml", "--got", "9 1/4", "--unit", "hst: 3 1/2"), "has no half-square triangle"),
        (("nine.yaml", "--got", "9 1/4", "--piece", "Zz: 3"), "lettered Zz"),
        (("nine.yaml", "--got", "9 1/4", "--maker", "bob"), "no maker profile called bob"),
        (("--strips", "6", "--cut", "1 1/2", "--side", "15.9 yd"), "not in inches"),
        (("--strips", "6", "--cut", "1 1/2", "--side", "15.9"), "no seam does that"),
        (("--strips", "6", "--cut", "1 1/2", "--side=-6"), "less than nothing"),
        (("--replace",), "goes with --name"),
        (("--unit", "hst: 3"), "go with --got"),
        ((*STRIPS, "--name", "careful"), "comes with the program"),
        (("nowhere.csv",), "no such file"),
        ((".",), "no such file"),
    ],
)
def test_what_cannot_be_is_said(capsys: Capture, arguments: tuple[str, ...], said: str) -> None:
    assert said in asked(capsys, *arguments, code=2)
    assert not PROFILE.exists()


def test_the_log_beside_the_forecast(capsys: Capture) -> None:
    Path("copies.csv").write_text(
        "block,pressed,top,middle,bottom,minutes,notes\n"
        'Nine,usual,9 7/16,9 7/16,9 3/8,52,"flat, at last"\n'
        "nine,open,9 1/2,,,71,\n"
        "Nine,,8,,,,\n"
        "Moon,open,9,,,,\n",
        "utf-8",
    )
    found = plain(capsys, "copies", ".", code=1)
    assert [copy["pressed"] for copy in found["copies"]] == ["usual", "open", ""]
    one, opened, _ = found["copies"]
    assert one["width"] == pytest.approx(9.4167, abs=0.001)
    assert one["forecast_p05"] < one["forecast"] < one["forecast_p95"]
    # What is pressed open takes up two radii of the fold less in each of two seams.
    assert opened["forecast"] - one["forecast"] == pytest.approx(0.04, abs=0.002)
    assert [(note["code"], note["where"]["line"]) for note in found["findings"]] == [
        (524, 4),
        (523, 5),
    ]
    said = asked(capsys, ".", code=1)
    assert "as forecast" in said
    assert "copies.csv:5:1" in said


def test_in_centimetres(capsys: Capture) -> None:
    Path("quilt.yaml").write_text(
        "name: Metric\nfabrics:\n  - {letter: a}\n  - {letter: b}\npreferences: {measure: cm}\n",
        "utf-8",
    )
    said = asked(capsys, "--strips", "5", "--cut", "4", "--side", "13.6", "--name", "Ada")
    assert "takes up 1.0 mm more" in said or "takes up 0.9 mm more" in said
    Path("nine.yaml").write_text(NINE.replace("9", "24"), "utf-8")
    said = asked(capsys, "nine.yaml", "--got", "25")
    assert "5.0 mm too narrow; planned: 25.5 cm" in said
    assert "two 5 cm squares" in said
