from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from seamproof.cutting.lettering import SMALL, key_of, lettered, pooled, small
from seamproof.cutting.model import Piece
from seamproof.length.rounding import Size


def square(side: int, fabric: str = "a", count: int = 1, **changes: object) -> Piece:
    size = Size(Fraction(side), float(side))
    piece = Piece(
        letter="?",
        fabric=fabric,
        shape="square",
        width=size,
        height=size,
        count=count,
        split="whole",
        grain="either",
        rounding="on the ruler",
        part=0,
        unit="square",
        method="by ruler",
    )
    return replace(piece, **changes)  # type: ignore[arg-type]


def test_the_largest_of_a_fabric_is_a() -> None:
    small_one, large_one, other = square(2), square(5), square(3, "b")
    letters = lettered([small_one, other, large_one])
    assert [letters[key_of(p)] for p in (large_one, small_one, other)] == ["Aa", "Ab", "Ba"]


def test_letters_do_not_depend_on_the_order_of_recipes() -> None:
    pieces = [square(side, fabric) for side in (2, 3, 5) for fabric in "ab"]
    assert lettered(pieces) == lettered(pieces[::-1])


def test_what_is_cut_for_another_unit_has_another_letter() -> None:
    assert key_of(square(3)) != key_of(square(3, unit="hourglass"))
    assert key_of(square(3)) != key_of(square(3, split="once"))


def test_halves_of_a_rectangle_are_kept_apart_by_hand() -> None:
    left = square(3, shape="rectangle", split="once", hand="left")
    assert key_of(left) != key_of(replace(left, hand="right"))


def test_equal_pieces_are_added_up() -> None:
    one = square(3, count=2, letter="Aa", hand="left", part=7)
    other = square(3, count=5, letter="Aa", hand="right", part=4)
    (row,) = pooled([one, other])
    assert (row.count, row.hand, row.part) == (7, "pair", 4)


def test_after_the_last_letter_come_pairs() -> None:
    names = [small(rank) for rank in range(len(SMALL) ** 2)]
    assert len(set(names)) == len(names)
    assert not set("".join(names)) & set("ioqz")
