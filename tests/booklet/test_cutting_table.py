"""The cutting table: strips first, the largest first, every piece once."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from seamproof.booklet.cutting_table import cutting_table
from seamproof.booklet.model import CuttingRow, KeyRow
from seamproof.cutting.model import CuttingSettings, Piece
from seamproof.drawing.scene import Paint
from tests.by_hand import cutting, size

KEY = {"a": KeyRow(Paint("A", "#F2EFE6"), "Sea mist", "light")}
PLAIN = cutting().pieces[0]


def piece(letter: str, width: object, height: object, count: int, **more: object) -> Piece:
    return replace(
        PLAIN,
        letter=letter,
        fabric="a",
        width=size(Fraction(width)),  # type: ignore[arg-type]
        height=size(Fraction(height)),  # type: ignore[arg-type]
        count=count,
        **{"shape": "rectangle", "split": "whole", **more},  # type: ignore[arg-type]
    )


def rows(*pieces: Piece) -> list[CuttingRow]:
    tables = cutting_table(pieces, KEY, {}, CuttingSettings(), "in")
    return [row for table in tables for row in table.rows]


def test_logs_of_one_width_come_from_one_strip() -> None:
    found = rows(*(piece(f"A{s}", 2, w, 1) for s, w in zip("abcd", (12, 11, 6, 5), strict=True)))
    assert found[0].what == "strip across the cloth, 2 in wide"
    assert (found[0].count, found[0].letter) == (1, "")
    assert [row.what for row in found[1:]] == [
        "rectangle, 2 × 12 in",
        "rectangle, 2 × 11 in",
        "rectangle, 2 × 6 in",
        "rectangle, 2 × 5 in",
    ]
    assert all(row.under for row in found[1:])


def test_what_one_strip_does_not_hold_takes_another() -> None:
    found = rows(piece("Aa", 2, 15, 3), piece("Ab", 2, 5, 2))
    assert found[0].count == 2


def test_strips_come_before_single_pieces_and_the_widest_first() -> None:
    found = rows(
        piece("Aa", 8, 8, 1, shape="square"),
        piece("Ab", 2, 15, 2),
        piece("Ac", 2, 5, 1),
        piece("Ad", 3, 20, 1),
        piece("Ae", 3, 10, 1),
    )
    assert [row.letter for row in found] == ["", "Ad", "Ae", "", "Ab", "Ac", "Aa"]


def test_many_pieces_of_one_kind_say_how_many_strips() -> None:
    (row,) = rows(piece("Aa", 4, 4, 12, shape="square"))
    assert (row.what, row.split) == ("squares, 4 × 4 in", "from two strips")


def test_a_few_pieces_are_cut_from_what_is_at_hand() -> None:
    (row,) = rows(piece("Aa", 4, 4, 2, shape="square", split="once"))
    assert (row.what, row.split) == ("squares, 4 × 4 in", "each cut once on the diagonal")


def test_slanted_cuts_name_their_strip() -> None:
    (row,) = rows(piece("Aa", 3, 3, 4, shape="diamond", angle=45))
    assert (row.what, row.split) == ("diamonds, cut every 3 in at 45°", "from strips 3 in wide")
