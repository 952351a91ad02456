from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from seamproof.answers.cutting import CutAnswer, cut_answer
from seamproof.cutting.model import CuttingList, Piece
from seamproof.length.exact import CM
from seamproof.length.rounding import Size
from seamproof.pipeline.working import work_block
from seamproof.project.model import Preferences
from seamproof.project.reading import read_block_bytes

SOURCE = read_block_bytes(b"name: One\nfinished: 6\ncells:\n  - a\n", "one.yaml")

TRIANGLES = Piece(
    letter="Aa",
    fabric="a",
    shape="square",
    width=Size(Fraction(39, 8), 4.853553),
    height=Size(Fraction(39, 8), 4.853553),
    count=24,
    split="once",
    grain="either",
    rounding="trimmed",
    part=0,
    unit="half-square triangle",
    method="two at a time",
    hand="pair",
    trim=(Fraction(9, 2), Fraction(9, 2)),
)


def answered(piece: Piece, preferences: Preferences | None = None) -> CutAnswer:
    project = replace(SOURCE.project, preferences=preferences or Preferences())
    work = work_block(replace(SOURCE, project=project), until="draft")
    return cut_answer(replace(work, cutting=CuttingList(1, (piece,), (), ())))


def test_a_piece_as_it_is_shown() -> None:
    answer = answered(TRIANGLES)
    assert answer.to_json()["pieces"] == [
        {
            "letter": "Aa",
            "fabric": "a",
            "shape": "square",
            "cut_width": "4 7/8",
            "cut_width_in": 4.875,
            "cut_height": "4 7/8",
            "cut_height_in": 4.875,
            "need_in": 4.853553,
            "count": 24,
            "method": "two at a time",
            "unit": "half-square triangle",
            "hand": "pair",
            "trim_to": "4 1/2",
            "trim_to_in": 4.5,
        }
    ]


def test_what_is_not_square_is_trimmed_to_two_sizes() -> None:
    geese = replace(TRIANGLES, trim=(Fraction(9, 2), Fraction(5, 2)))
    (piece,) = answered(geese).pieces or ()
    assert (piece.trim_to, piece.trim_to_in) == ("4 1/2 × 2 1/2", (4.5, 2.5))


def test_what_is_not_trimmed_has_no_trim() -> None:
    (piece,) = answered(replace(TRIANGLES, trim=None)).pieces or ()
    assert (piece.trim_to, piece.trim_to_in) == (None, None)


def test_texts_are_in_the_projects_measure_and_numbers_in_inches() -> None:
    size = Size(CM * 49 / 4, float(CM * 12))
    piece = replace(TRIANGLES, width=size, height=size, trim=(CM * 23 / 2, CM * 23 / 2))
    (line,) = answered(piece, Preferences(measure="cm")).pieces or ()
    assert (line.cut_width, line.trim_to) == ("12.25", "11.5")
    assert line.cut_width_in == float(CM * 49 / 4)


def test_without_a_cutting_list_there_are_no_pieces() -> None:
    assert cut_answer(work_block(SOURCE, until="draft")).pieces is None


def test_a_plain_square_is_cut_with_its_allowances() -> None:
    answer = cut_answer(work_block(SOURCE, copies=5))
    (piece,) = answer.pieces or ()
    assert (piece.cut_width, piece.cut_height, piece.count) == ("6 1/2", "6 1/2", 5)
    assert (piece.need_in, piece.trim_to) == (6.5, None)
    assert answer.exit_code == 0
