"""A lay strip after strip."""

from __future__ import annotations

from fractions import Fraction

from seamproof.cloth.model import Cut, Lay
from seamproof.cloth.ordering import counted, how_handled, strips_of

W, H = Fraction(40), Fraction(4)


def square(times: int = 1) -> Cut:
    return Cut(H, H, piece="Aa", times=times)


def lay(*parts: Cut, times: int = 1) -> Lay:
    length = sum((part.height * part.times for part in parts), Fraction(0))
    whole = Cut(W, length, "across", parts)
    return Lay("a", "yardage", W, length, whole, times, 1.0, 1.0, False)


def test_strips_and_what_is_left_of_them() -> None:
    tall = Cut(H, 2 * H, "across", (square(), Cut(H, H, piece="Ab")))
    strip = Cut(
        W,
        2 * H,
        "length",
        (Cut(H, 2 * H, "across", tall.parts, times=3), Cut(W - 3 * H, 2 * H)),
        times=2,
    )
    row = Cut(W, H, "length", (Cut(W, H, piece="Ac", slope=45.0, pieces=8),))
    made = lay(strip, row, Cut(W, H), times=5)
    first, second = strips_of(made)
    assert (first.times, first.pieces, first.left) == (2, (("Aa", 3), ("Ab", 3)), 28)
    assert (second.times, second.pieces, second.left) == (1, (("Ac", 8),), 0)
    assert counted((made,)) == {"Aa": 30, "Ab": 30, "Ac": 40}
    assert how_handled(second, {"Ac": "bias"}) == "bias"
    assert how_handled(first, {"Aa": "short", "Ab": "long"}) == "short"


def test_a_piece_that_is_a_whole_strip() -> None:
    (strip,) = strips_of(lay(Cut(W, H, piece="Aa")))
    assert (strip.pieces, strip.left, strip.crossings) == ((("Aa", 1),), 0, 0)


def test_cloth_cut_lengthwise_first_is_one_strip() -> None:
    whole = Cut(W, H, "length", (square(3), Cut(W - 3 * H, H)))
    made = Lay("a", "fixed", W, H, whole, 2, 1.0, 1.0, False, "fat quarter")
    (strip,) = strips_of(made)
    assert (strip.times, strip.pieces, strip.left) == (1, (("Aa", 3),), 28)
    assert counted((made,)) == {"Aa": 6}
