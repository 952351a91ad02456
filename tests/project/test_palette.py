"""Colours for fabrics that nobody chose: told apart in colour and, near each other, in grey."""

from __future__ import annotations

import itertools
import math

import pytest

from seamproof.project.palette import (
    LEAST_DIFFERENCE,
    PALETTE,
    fabrics_from_palette,
    lab,
    value_of,
)


def test_no_two_colours_are_close() -> None:
    assert len(PALETTE) == 24
    assert len({shade.name for shade in PALETTE}) == 24
    for one, other in itertools.combinations(PALETTE, 2):
        assert math.dist(lab(one.colour), lab(other.colour)) >= LEAST_DIFFERENCE, (one, other)


def test_neighbours_differ_in_lightness() -> None:
    """The first six letters, of which most blocks are made, can be told apart in grey."""
    lightness = sorted(lab(shade.colour)[0] for shade in PALETTE[:6])
    assert all(darker + 5 < lighter for darker, lighter in itertools.pairwise(lightness))


def test_values_are_mixed() -> None:
    for begin in range(0, 24, 6):
        values = {value_of(shade.colour) for shade in PALETTE[begin : begin + 6]}
        assert len(values) >= 4, values


def test_a_letter_keeps_its_colour() -> None:
    alone = fabrics_from_palette(["c"])[0]
    assert fabrics_from_palette(["a", "b", "c"])[2] == alone
    assert fabrics_from_palette(["y"])[0].colour == fabrics_from_palette(["a"])[0].colour


def test_colours_are_not_given_twice_while_there_are_others() -> None:
    letters = [*"abcdefghijklmnopqrstuvwx"]
    assert len({fabric.colour for fabric in fabrics_from_palette(letters)}) == 24
    both = fabrics_from_palette(["a", "y"])
    assert both[0].colour != both[1].colour
    other = fabrics_from_palette(["a"], taken={PALETTE[0].colour})
    assert other[0].colour == PALETTE[1].colour
    assert len(fabrics_from_palette([*letters, "y", "z"])) == 26


# Corners of sRGB under D65, as every colour calculator gives them (from memory).
@pytest.mark.parametrize(
    ("colour", "expected"),
    [
        ("#FFFFFF", (100.0, 0.0, 0.0)),
        ("#000000", (0.0, 0.0, 0.0)),
        ("#FF0000", (53.2, 80.1, 67.2)),
        ("#00FF00", (87.7, -86.2, 83.2)),
        ("#0000FF", (32.3, 79.2, -107.9)),
    ],
)
def test_lightness_and_colour(colour: str, expected: tuple[float, float, float]) -> None:
    assert lab(colour) == pytest.approx(expected, abs=0.1)
