"""Measurements from tables and as typed: what they become, and what is said of the impossible."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest

from seamproof.errors import InputError
from seamproof.project.measured_file import (
    COLUMNS,
    Readings,
    What,
    readings,
    sewn_units,
    strip_set,
    typed,
    typed_named,
    typed_size,
)
from seamproof.project.plain_table import table

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "files.md"
QUARTER = Fraction(1, 4)


def sets(text: str) -> tuple[Readings, ...]:
    return readings(table(text.encode(), "strips.csv", COLUMNS, ("what", "size")))


def some(**sizes: str) -> Readings:
    return Readings("", tuple((_what(what), typed([text], what)) for what, text in sizes.items()))


def _what(word: str) -> What:
    known: dict[str, What] = {
        "cut": "cut", "side": "side", "open": "open", "inner": "inner", "raw": "raw",
    }  # fmt: skip
    return known[word]


def test_the_example_of_the_reference_page() -> None:
    page = PAGE.read_text("utf-8").split("## Measurements")[1].split("\n## ")[0]
    (example,) = re.findall(r"```text\n(.*?)```", page, re.DOTALL)
    first, second = sets(example)
    assert first.of("side") == (Fraction(55, 16),)
    made, planned = strip_set(second, strips=None, cut=None, seam=QUARTER, measure="in")
    assert (made.cuts, made.measured, planned) == ((1.5, 1.5, 1.5), False, None)


@pytest.mark.parametrize(
    ("text", "place", "said"),
    [
        ("what,size\ncut,x\n", "strips.csv:2:5", "not a length"),
        ("what,size\ncut,0\n", "strips.csv:2:5", "was not measured"),
        ("what,size\ncut,-1\n", "strips.csv:2:5", "less than nothing"),
        ("what,size\ncut,900\n", "strips.csv:2:5", "more than 100 in"),
        ("what,size\ncuts,1\n", "strips.csv:2:1", "nothing that is measured"),
        ("what,size\ncut,\n", "strips.csv:2:1", "no size"),
        ("what,size\n", "strips.csv:1:1", "no rows"),
    ],
)
def test_readings_that_cannot_be(text: str, place: str, said: str) -> None:
    with pytest.raises(InputError, match=said) as refused:
        sets(text)
    assert str(refused.value.place) == place


def test_overhangs_may_be_short() -> None:
    assert sets("what,size\noverhang,-1/32\n")[0].of("overhang") == (Fraction(-1, 32),)


def test_strips_measured_one_by_one() -> None:
    sizes = some(cut="1 1/2; 1 15/32; 1 1/2", side="3 7/16", inner="31/32")
    made, planned = strip_set(sizes, strips=3, cut=None, seam=QUARTER, measure="in")
    assert made.measured
    assert made.cuts[1] == 1 + 15 / 32
    assert planned is None
    _, planned = strip_set(sizes, strips=None, cut=Fraction(3, 2), seam=QUARTER, measure="in")
    assert planned == Fraction(3, 2)


@pytest.mark.parametrize(
    ("sizes", "strips", "said"),
    [
        (some(cut="1 1/2", side="3 7/16"), None, "how many strips"),
        (some(cut="1 1/2", side="1 1/2"), 1, "make no strip test"),
        (some(cut="1 1/2", side="1 1/2"), 500, "make no strip test"),
        (some(cut="1 1/2; 1 1/2", side="3 7/16"), 3, "3 strips and 2 cut widths"),
        (some(side="3 7/16"), 3, "how wide were the strips cut"),
        (some(cut="1 1/2"), 3, "how wide is the sewn set"),
        (some(cut="1 1/2", side="4 7/16", inner="1"), 4, "2 inner strips and 1"),
        (some(cut="1 1/2", side="8.7"), 3, "no seam does that"),
        (some(cut="4", side="3 1/2"), 3, "no seam does that"),
        (some(cut="1 1/2", side="3 7/16", inner="2"), 3, "inner strip 2 is 2 in"),
        (some(cut="1 1/2", side="3 7/16", open="35 mm"), 3, "pressed open"),
    ],
)
def test_strips_that_cannot_be(sizes: Readings, strips: int | None, said: str) -> None:
    with pytest.raises(InputError, match=said) as refused:
        strip_set(sizes, strips=strips, cut=None, seam=QUARTER, measure="in")
    assert refused.value.mend


def units(kind: str = "half-square triangle", **more: object) -> object:
    sizes = more.pop("sizes", some(raw="3 9/16; 3 5/8"))
    told = {"finished": Fraction(3), "cut": Fraction(4), **more}
    return sewn_units(kind, sizes, seam=QUARTER, measure="in", **told)  # type: ignore[arg-type]


def test_units_as_they_are() -> None:
    assert units().raw == (3 + 9 / 16, 3 + 5 / 8)  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"finished": None}, "how large do the units finish"),
        ({"cut": Fraction(3)}, "do not make units that finish 3 in"),
        ({"cut": Fraction(10)}, "do not make units"),
        ({"sizes": some(raw="3 9/16")}, "tells no spread"),
        ({"sizes": some(cut="4")}, "raw sizes, or their overhangs"),
        ({"sizes": some(raw="9; 9.1")}, "is not that of a unit"),
        ({"kind": "flying geese"}, "of geese the overhangs"),
    ],
)
def test_units_that_cannot_be(more: dict[str, object], said: str) -> None:
    with pytest.raises(InputError, match=said):
        units(**more)  # type: ignore[arg-type]


def test_sizes_as_typed() -> None:
    assert typed(["1,5 cm; 6 3/8, 7"], "side")[1:] == (Fraction(51, 8), Fraction(7))
    assert typed_size("9 1/4 × 9 3/8") == (Fraction(37, 4), Fraction(75, 8))
    assert typed_named("flying geese: 3 1/2", "unit") == ("flying geese", Fraction(7, 2))


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: typed(["a lot"], "side"), "--side"),
        (lambda: typed(["1;" * 300 + "1"], "side"), "more than 200"),
        (lambda: typed_size("1 x 2 x 3"), "is no size"),
        (lambda: typed_named("3 1/2", "unit"), "no name and size"),
    ],
)
def test_what_was_typed_wrongly(call: object, said: str) -> None:
    with pytest.raises(InputError, match=said):
        call()  # type: ignore[operator]
