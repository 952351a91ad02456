"""Strips become trees of cuts: order, trims, what is left, turned frames."""

from __future__ import annotations

from fractions import Fraction

from seamproof.cloth.model import Cut, Demand
from seamproof.cloth.patterns import Grid, Kind, Stack, Strip
from seamproof.cloth.trees import Trees, flipped
from tests.cloth.demands import DIAMONDS

HALF = Fraction(1, 2)
DEMANDS = (
    Demand("A", Fraction(4), Fraction(3), 9, may_turn=True),
    Demand("B", Fraction(2), Fraction(1), 9),
    Demand("D", Fraction(0), Fraction(3), 9, row=DIAMONDS),
)
KINDS = (
    Kind(0, False, 8, 6),
    Kind(0, True, 6, 8),
    Kind(1, False, 4, 2),
    Kind(2, False, 15, 6, (15, 23, 32)),
)
TREES = Trees(DEMANDS, Grid(HALF, ((8, 6), (4, 2), (0, 6))), KINDS)


def size(cut: Cut) -> tuple[Fraction, Fraction]:
    return cut.width, cut.height


def test_a_lower_piece_is_trimmed_and_the_rest_of_the_strip_is_left() -> None:
    strip = Strip(8, ((Stack(8, ((0, 1),)), 2), (Stack(6, ((1, 1),)), 1)))
    cut = TREES.strip(strip, Fraction(20))
    assert (cut.along, size(cut)) == ("length", (20, 4))
    high, low, rest = cut.parts
    assert (high.piece, high.turned, size(high)) == ("A", True, (3, 4))
    assert (low.times, low.along) == (2, "across")
    assert [(p.piece, size(p)) for p in low.parts] == [("A", (4, 3)), (None, (4, 1))]
    assert (rest.piece, size(rest)) == (None, (9, 4))


def test_a_stack_of_narrower_pieces_is_cut_a_third_and_a_fourth_time() -> None:
    strip = Strip(10, ((Stack(8, ((0, 1), (2, 2))), 1),))
    (stack, _) = TREES.strip(strip, Fraction(20)).parts
    piece, low = stack.parts
    assert (piece.piece, size(piece)) == ("A", (4, 3))
    assert (low.times, low.along, size(low)) == (2, "length", (4, 1))
    assert [(p.piece, size(p)) for p in low.parts] == [("B", (2, 1)), (None, (2, 1))]


def test_a_row_carries_its_slope_and_its_count() -> None:
    strip = Strip(6, ((Stack(32, ((3, 3),)), 1),))
    row, rest = TREES.strip(strip, Fraction(20)).parts
    assert (row.piece, row.pieces, row.slope, row.width) == ("D", 3, 45.0, 16)
    assert rest.width == 4


def test_the_highest_strips_come_first_and_what_is_left_last() -> None:
    low = Strip(2, ((Stack(4, ((2, 1),)), 10),))
    high = Strip(6, ((Stack(8, ((0, 1),)), 5),))
    whole = TREES.whole(Fraction(20), Fraction(12), [(low, 3), (high, 2)])
    assert [(p.height, p.times) for p in whole.parts] == [(3, 2), (1, 3), (3, 1)]
    assert whole.parts[2].piece is None


def test_one_strip_is_a_whole_cloth() -> None:
    high = Strip(6, ((Stack(8, ((0, 1),)), 5),))
    whole = TREES.whole(Fraction(20), Fraction(3), [(high, 1)])
    assert (whole.along, len(whole.parts)) == ("across", 1)


def test_flipped_twice_is_as_before() -> None:
    strip = Strip(8, ((Stack(8, ((0, 1),)), 2), (Stack(6, ((1, 1),)), 1)))
    cut = TREES.strip(strip, Fraction(20))
    assert flipped(cut).along == "across"
    assert flipped(flipped(cut)) == cut
