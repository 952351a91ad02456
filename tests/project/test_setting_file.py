"""What ``quilt.yaml`` says about the top."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from seamproof.errors import InputError
from seamproof.length.exact import CM
from seamproof.project.quilt_file import quilt_project
from seamproof.project.setting_file import BORDER_KEYS, SETTING_KEYS
from seamproof.project.yaml_tree import document
from seamproof.setting.habits import CENTIMETRES, INCHES
from seamproof.setting.model import BindingAsked, SetCell, Setting

HEAD = "name: Q\nfabrics:\n  - {letter: a}\n"
PAGE = (Path(__file__).parents[2] / "docs" / "reference" / "files.md").read_text("utf-8")


def read(*lines: str, measure: str = "in") -> Setting:
    text = HEAD + f"preferences:\n  measure: {measure}\nsetting:\n"
    text += "".join(f"  {line}\n" for line in lines)
    setting = quilt_project(document(text.encode(), "quilt.yaml"), Path("none")).setting
    assert setting is not None
    return setting


def refused(*lines: str) -> InputError:
    with pytest.raises(InputError) as caught:
        read(*lines)
    return caught.value


ROWS = "rows: [[Star, Rail]]"


def test_a_layout_alone_has_the_usual_rest() -> None:
    setting = read(ROWS)
    assert [[cell.name for cell in row] for row in setting.rows] == [["Star", "Rail"]]
    assert (setting.way, setting.cell, setting.sashing, setting.outer) == (
        "straight",
        None,
        None,
        True,
    )
    assert setting.binding == BindingAsked()
    assert setting.price == INCHES.price


def test_a_metric_quilt_has_the_usual_sizes_of_a_metric_ruler() -> None:
    setting = read(ROWS, "binding: 6 of a", "backing: {fabric: a}", measure="cm")
    assert (setting.backing.margin, setting.batting) == (10 * CM, 10 * CM)
    assert (setting.binding.extra, setting.backing.seam) == (50 * CM, CM * 3 / 2)
    assert read(ROWS, measure="cm").binding.width == CM * 13 / 2
    priced = read(ROWS, "quilting price: 0.003", measure="cm")
    assert priced.price == CENTIMETRES.price


def test_a_quilt_without_a_setting_has_none() -> None:
    assert quilt_project(document(HEAD.encode(), "quilt.yaml"), Path("none")).setting is None


def test_places_of_the_layout() -> None:
    setting = read(
        "rows:", "  - [Lamp Room, \"Lamp Room'\", Star''']", "  - [plain ab, Star'', Plain a]"
    )
    cells = [(c.name, c.quarters, c.plain) for row in setting.rows for c in row]
    assert cells == [
        ("Lamp Room", 0, False),
        ("Lamp Room", 1, False),
        ("Star", 3, False),
        ("ab", 0, True),
        ("Star", 2, False),
        ("Plain a", 0, False),
    ]
    assert setting.rows[1][0].where.line == 9
    assert isinstance(setting.rows[0][0], SetCell)


def test_strips() -> None:
    setting = read(
        ROWS, "sashing: 2 1/2 of a", "coping: {Star: [1 in of a, 1.5 of b], Rail: 2 of c}"
    )
    assert setting.sashing is not None
    assert (setting.sashing.width, setting.sashing.fabric) == (Fraction(5, 2), "a")
    widths = {c.block: [(s.width, s.fabric) for s in c.frames] for c in setting.coping}
    assert widths == {"Star": [(1, "a"), (Fraction(3, 2), "b")], "Rail": [(2, "c")]}


def test_a_strip_without_cloth_is_read_and_said_later() -> None:
    setting = read(ROWS, "sashing: 2", "borders: [{width: 4}]")
    assert setting.sashing is not None
    assert setting.sashing.fabric is None
    assert setting.borders[0].fabric is None
    assert setting.borders[0].where.line == 9


def test_centimetres() -> None:
    setting = read(ROWS, "sashing: 5 of a", "measured: {Star: [31.5, 32]}", measure="cm")
    assert setting.sashing is not None
    assert setting.sashing.width == Fraction(500, 254)
    assert setting.measured[0].width == Fraction(3150, 254)


def test_borders_and_finishing() -> None:
    setting = read(
        ROWS,
        "borders:",
        "  - {width: 4, fabric: a, corners: mitred, cut: lengthwise}",
        "  - {width: 2, units: [plain a, Star], unit: 3, corner squares: b, spacer: a}",
        "binding: {fabric: a, width: 2 1/4, way: bias, extra: 12}",
        "backing: {fabric: a, width: 42, margin: 3, seam: 5/8}",
        "batting: 3",
        "sleeve: 4 of a",
        "label: {width: 5, height: 7, fabric: a}",
        "quilting price: 0.015",
        "outer sashing: no",
        "floating: 1",
        "coping trim: 1/4",
    )
    first, second = setting.borders
    assert (first.corners, first.lengthwise) == ("mitred", True)
    assert (second.corners, second.unit, second.spacer, len(second.units)) == ("squares", 3, "a", 2)
    assert (setting.binding.way, setting.binding.extra) == ("bias", 12)
    assert (setting.backing.width, setting.backing.margin, setting.batting) == (42, 3, 3)
    assert setting.sleeve is not None
    assert setting.label is not None
    assert (setting.price, setting.outer, setting.floating) == (Fraction("0.015"), False, 1)
    assert setting.trim == Fraction(1, 4)


def test_binding_in_one_line() -> None:
    binding = read(ROWS, "binding: 2 1/2 of a").binding
    assert (binding.fabric, binding.width, binding.way) == ("a", Fraction(5, 2), "cross-grain")


REFUSALS = {
    "no rows": (("way: straight",), "no rows", "rows"),
    "way": ((ROWS, "way: crooked"), 'cannot be "crooked"', "straight"),
    "row": (("rows: [Star, Rail]",), "a row is not a list", "- ["),
    "five turns": (("rows: [[\"Star''''\"]]",), "four quarter turns", "leave out"),
    "turn of nothing": (('rows: [["\'"]]',), "without a block", "name"),
    "strip": ((ROWS, "sashing: wide of a"), "not a length", "1 1/2 of a"),
    "strip fabric": ((ROWS, "sashing: 2 of A1"), "small letters", "1 1/2 of a"),
    "strip width": ((ROWS, "sashing: 999 of a"), "cannot be 999", "check"),
    "border key": ((ROWS, "borders: [{width: 4, colour: a}]"), '"colour" is not a key', ""),
    "border width": ((ROWS, "borders: [{fabric: a}]"), "no width", "width"),
    "unit alone": ((ROWS, "borders: [{width: 4, unit: 2}]"), "without units", "units"),
    "mitred pieces": (
        (ROWS, "borders: [{width: 4, units: [plain a], corners: mitred}]"),
        "corner squares",
        "corners",
    ),
    "spacer alone": ((ROWS, "borders: [{width: 4, spacer: a}]"), "pieced border", "border"),
    "measured": ((ROWS, "measured: {Star: {width: 12}}"), "one length or two", "[12"),
    "price": ((ROWS, "quilting price: cheap"), "not a price", "0.02"),
    "cell": ((ROWS, "cell: [1, 2, 3]"), "not two lengths", "[width"),
}


@pytest.mark.parametrize("name", REFUSALS)
def test_what_cannot_be_read_is_refused_at_its_place(name: str) -> None:
    lines, what, mend = REFUSALS[name]
    error = refused(*lines)
    assert what in error.what
    assert mend in error.mend
    assert error.place.line >= 6


@pytest.mark.parametrize("key", [*SETTING_KEYS, *BORDER_KEYS])
def test_every_key_is_on_the_page(key: str) -> None:
    assert f"`{key}`" in PAGE.split("## The top")[1].split("## Limits")[0]
