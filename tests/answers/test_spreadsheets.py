"""Tables for a spreadsheet: text that begins like a formula is text, numbers stay numbers."""

from __future__ import annotations

import csv
import io

import pytest

from seamproof.answers.spreadsheets import csv_text


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", "\t", "\r"])
def test_text_that_begins_like_a_formula_is_text(sign: str) -> None:
    planted = f"{sign}HYPERLINK(1)"
    ((cell,),) = csv.reader(io.StringIO(csv_text([[planted]]), newline=""))
    assert cell == f"'{planted}".replace("\r", "\n")


@pytest.mark.parametrize("text", ["-3", "+2.5", "-1e3", "2 1/2", "Aa"])
def test_numbers_and_plain_words_stay(text: str) -> None:
    ((cell,),) = csv.reader(io.StringIO(csv_text([[text]]), newline=""))
    assert cell == text


def test_quotes_commas_and_lines_survive() -> None:
    rows = [["a,b", 'say "so"', "two\nlines"]]
    assert list(csv.reader(io.StringIO(csv_text(rows), newline=""))) == rows
