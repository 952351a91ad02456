"""Maker profiles as files: read, written anew without touching what was typed."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from seamproof.accuracy.model import MAKERS
from seamproof.errors import InputError
from seamproof.project.maker_file import (
    NUMBERS,
    MakerFile,
    changes,
    known_makers,
    maker_file,
    maker_path,
    maker_text,
    read_maker,
)
from seamproof.project.yaml_tree import document

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "files.md"
EVERYDAY = MAKERS["everyday"]
ADA = replace(EVERYDAY, name="Ada B", seam=-0.0123, between=0.0061, fold=0.0044, assumed=False)


def read(text: str) -> MakerFile:
    return maker_file(document(text.encode(), "ada.yaml"), Path("ada.yaml"))


def test_what_is_written_is_read_back() -> None:
    made = read(maker_text(ADA, "everyday", "1 strip set: 5 seams"))
    assert made.maker == ADA
    assert set(made.measured) == {"seam", "between", "fold"}  # the rest was not measured


def test_only_what_was_measured_is_written_anew() -> None:
    text = (
        "# mine\nname: Ada B   # herself\nmeasured:\n  seam: 0.02\n  between: 0.01\n\n"
        "typed:\n  pin: 1/32   # few pins\n"
    )
    before = read(text)
    after = maker_text(ADA, "everyday", "3 sets", before)
    assert "# mine" in after
    assert "# herself" in after
    assert "  pin: 1/32   # few pins\n" in after
    made = read(after)
    assert made.maker.seam == -0.0123
    assert made.maker.pin == 1 / 32
    assert [change.key for change in changes(before, ADA, EVERYDAY)] == ["seam", "between", "fold"]
    assert changes(made, ADA, EVERYDAY) == ()


def test_what_was_typed_goes_before_what_was_measured() -> None:
    made = read("name: Ada\nlike: new\nmeasured:\n  seam: 0.02\ntyped:\n  seam: 1/64\n")
    assert made.maker.seam == 1 / 64
    assert made.maker.pin == MAKERS["new"].pin
    assert not made.maker.assumed


def test_a_profile_that_was_only_typed_is_an_assumption() -> None:
    made = read("name: Ada\ntyped:\n  seam: 0.5 mm\n")
    assert made.maker.assumed
    assert made.maker.seam == pytest.approx(0.5 / 25.4)
    after = read(maker_text(ADA, "everyday", "strips", made))
    assert after.measured["seam"] == Fraction("-0.0123")
    assert after.maker.seam == made.maker.seam


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("name: Ada\n", "says nothing"),
        ("typed:\n  pin: 1/32\n", "no name"),
        ("name: Ada\ntyped:\n  pins: 1/32\n", "not a key of typed"),
        ("name: Ada\ntyped:\n  pin: -1/32\n", "pin is less than nothing"),
        ("name: Ada\ntyped:\n  seam: 1\n", "more than 1/4 in"),
        ("name: Ada\nlike: best\ntyped:\n  pin: 0\n", "like cannot be"),
        ("seamproof: 2\nname: Ada\ntyped:\n  pin: 0\n", "newer"),
    ],
)
def test_what_is_no_profile_is_refused_at_its_place(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said) as refused:
        read(text)
    assert refused.value.place.line > 0


def test_makers_are_found_by_name(tmp_path: Path) -> None:
    path = maker_path(tmp_path, "Ada B")
    path.parent.mkdir()
    path.write_text(maker_text(ADA, "everyday", "strips"), "utf-8")
    assert known_makers(tmp_path) == ("ada-b",)
    assert read_maker(tmp_path, "Ada B") == ADA
    assert read_maker(tmp_path, "new") is MAKERS["new"]
    with pytest.raises(InputError, match="no maker profile called bob") as refused:
        read_maker(tmp_path, "bob")
    assert "ada-b" in refused.value.mend


@pytest.mark.parametrize("name", ["Careful", " ", "x" * 100])
def test_names_that_cannot_be(name: str) -> None:
    with pytest.raises(InputError):
        maker_path("lamps", name)


def test_the_reference_page_has_every_number_and_its_example_is_read() -> None:
    page = PAGE.read_text("utf-8").split("## A maker profile")[1].split("\n## ")[0]
    for key in NUMBERS:
        assert f"`{key}`" in page
    (example,) = re.findall(r"```text\n(.*?)```", page, re.DOTALL)
    assert read(example).maker.seam == 0.0123
