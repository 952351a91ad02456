"""Hexagons, wedges, kites, diamonds and set-in squares in blocks: proved, and what is said."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from seamproof.cutting.model import CuttingSettings
from seamproof.draft.model import Block
from tests.cutting.drawn import cut, piece_of
from tests.cutting.recipes.proving import SETTINGS, drawn, silent, ways_round
from tests.cutting.recipes.stars import star

F = Fraction
ROOT3 = math.sqrt(3)


def hexagon() -> Block:
    return drawn([("a", [(1, 0), (3, 0), (4, ROOT3), (3, 2 * ROOT3), (1, 2 * ROOT3), (0, ROOT3)])])


def spike() -> Block:
    """A wedge in a square, and a half-rectangle of either hand beside it."""
    return drawn(
        [
            ("a", [(0, 0), (1.5, 0), (0, 3)]),
            ("b", [(1.5, 0), (3, 3), (0, 3)]),
            ("a", [(1.5, 0), (3, 0), (3, 3)]),
        ]
    )


def kite() -> Block:
    return drawn(
        [
            ("a", [(2, 0), (4, 2), (2, 6), (0, 2)]),
            ("b", [(0, 0), (2, 0), (0, 2)]),
            ("b", [(2, 0), (4, 0), (4, 2)]),
            ("c", [(4, 2), (4, 6), (2, 6)]),
            ("c", [(0, 2), (2, 6), (0, 6)]),
        ]
    )


@pytest.mark.parametrize("block", [hexagon(), spike(), kite()], ids=["hexagon", "spike", "kite"])
@pytest.mark.parametrize("settings", SETTINGS.values(), ids=SETTINGS)
def test_the_proof_is_silent(block: Block, settings: CuttingSettings) -> None:
    for seen in ways_round(block):
        silent(seen, settings, copies=2)


def test_set_in_squares_and_triangles_of_an_eight_pointed_star() -> None:
    """4.0147 in: no mark shows that. The mark below is taken and said; what is larger may lie
    outside, and so does the long side of the triangles."""
    made, found = cut(star(12))
    square, triangle = piece_of(made, "a"), piece_of(made, "c")
    assert square.width.need == pytest.approx(4.0147, abs=1e-4)
    assert square.width.ruler == 4
    assert square.rounding == "as cut"
    (said,) = [f for f in found if f.code == 301 and f.what.startswith(square.letter)]
    assert "0.015 in too small" in said.what
    assert "adds up to 0.029 in" in said.what
    assert "cut 4 1/8 in, match the inner corner" in said.mend
    assert triangle.split == "twice"
    assert triangle.width.ruler == F("6.25")
    (full,) = [f for f in found if f.code == 302]
    assert full.what.startswith(triangle.letter)


def test_a_square_between_others_cannot_lie_outside() -> None:
    block = drawn([(f, [(x, 0), (x + 2.4, 0), (x + 2.4, 2.4), (x, 2.4)]) for f, x in ROW])
    _, found = cut(block)
    assert not [f for f in found if "match the inner corner" in f.mend]


ROW = (("a", 0.0), ("b", 2.4), ("a", 4.8))
