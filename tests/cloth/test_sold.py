"""Cloth sold in pieces, against the sizes that the trade names."""

from __future__ import annotations

from fractions import Fraction

import pytest

from seamproof.cloth.sold import INCH, METRIC, SELVAGE, sold
from seamproof.length.exact import CM
from tests.cutting.facts import Fact, checked

NAMES = {
    "F423": "fat quarter",
    "F424": "quarter yard",
    "F426": "fat eighth",
    "F427": "2 1/2 in strip",
    "F428": "5 in square",
    "F429": "10 in square",
    "F431": "2 1/2 in square",
}
"""Rows of the family by the name they have here."""

OTHERS = {"F425", "F430"}
"""A fat quarter of narrow cloth, which a quilt file writes as 20 × 18, and how many squares are in
a pack, which nobody cuts by."""


@pytest.mark.parametrize(
    "fact", [f for f in checked("precut") if f.id not in OTHERS], ids=lambda fact: fact.id
)
def test_sizes_as_sold(fact: Fact) -> None:
    piece = INCH[NAMES[fact.id]]
    numbers = fact.numbers if len(fact.numbers) == 2 else fact.numbers * 2
    assert [piece.length, piece.width] == numbers


def test_every_row_is_accounted_for() -> None:
    assert {fact.id for fact in checked("precut")} == {*NAMES, *OTHERS}
    assert set(NAMES.values()) == set(INCH)


def test_selvages_are_not_used() -> None:
    for name, piece in INCH.items():
        found = sold(name)
        assert found is not None
        assert found.length == piece.length
        assert piece.width - found.width in (0, SELVAGE, 2 * SELVAGE)


def test_metric_pieces() -> None:
    """Trade table F432: 50 × 55 cm."""
    assert (METRIC["fat quarter"].length, METRIC["fat quarter"].width) == (CM * 50, CM * 55)
    found = sold("fat quarter", "cm")
    assert found is not None
    assert found.width == CM * Fraction("52.5")
    assert sold("10 in square", "cm") == sold("10 in square")
