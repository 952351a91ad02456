from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.draft.model import Cells, Drawing, Written
from seamproof.findings import Where
from tests.cast import understood
from tests.cutting.drawn import TRIMMED, cut, listed

HST = "half-square triangle"
SHARES = (Fraction(1), Fraction(2))


def _methods_by_size(methods: dict[str, str]) -> dict[Fraction, str]:
    """How split squares of the same fabrics, 2 in and 4 in, are made."""
    rows = tuple(
        tuple(Written(text, Where()) for text in row) for row in (("a/b", "c"), ("c", "a/b"))
    )
    six = (Fraction(6), Fraction(6))
    block = understood(Drawing("test", six, Cells(rows, SHARES, SHARES)))
    made, findings = cut(block, replace(TRIMMED, methods=methods), copies=2)
    assert not findings
    sizes = {}
    for recipe in made.recipes:
        if recipe.kind == HST:
            assert recipe.trim is not None
            sizes[recipe.trim[0] - Fraction(1, 2)] = recipe.method
    return sizes


@pytest.mark.parametrize(
    ("methods", "expected"),
    [
        ({}, {2: "two at a time", 4: "two at a time"}),
        ({f"{HST} 2 x 2": "from triangles"}, {2: "from triangles", 4: "two at a time"}),
        ({f"{HST} a b 4 x 4": "from triangles"}, {2: "two at a time", 4: "from triangles"}),
        (
            {HST: "from triangles", f"{HST} 2 x 2": "two at a time"},
            {2: "two at a time", 4: "from triangles"},
        ),
    ],
)
def test_the_closest_name_goes_first(methods: dict[str, str], expected: dict[int, str]) -> None:
    assert _methods_by_size(methods) == expected


def test_one_size_of_square_by_template() -> None:
    rows = tuple(tuple(Written(text, Where()) for text in row) for row in ("ab", "ba"))
    drawing = Drawing("test", (Fraction(6), Fraction(6)), Cells(rows, SHARES, SHARES))
    made = listed(understood(drawing), replace(TRIMMED, methods={"square 2 x 2": "by template"}))
    assert {piece.shape for piece in made.pieces if piece.fabric == "b"} == {"rectangle"}
    assert {(piece.width.ruler, piece.shape) for piece in made.pieces if piece.fabric == "a"} == {
        (Fraction(5, 2), "template"),
        (Fraction(9, 2), "square"),
    }


def test_a_size_that_no_unit_has_is_told() -> None:
    rows = ((Written("a/b", Where()),),)
    drawing = Drawing("test", (Fraction(3), Fraction(3)), Cells(rows))
    _, (finding,) = cut(understood(drawing), replace(TRIMMED, methods={f"{HST} 2 x 2": "x"}), 2)
    assert finding.code == 305
    assert f"{HST} 2 x 2" in finding.what
