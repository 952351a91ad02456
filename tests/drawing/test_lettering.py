"""Built fractions, letters of fabrics."""

from __future__ import annotations

import pytest

from seamproof.drawing.lettering import (
    FABRIC_LETTERS,
    NO_BREAK,
    NUMERATOR_SIZE,
    SLASH,
    THIN,
    glued,
    hatch_number,
    line,
)


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("4 7/8", f"4{THIN}7{SLASH}8"),
        ("13/16 in", f"13{SLASH}16{NO_BREAK}in"),
        ("4 × 4 in", f"4{NO_BREAK}×{NO_BREAK}4{NO_BREAK}in"),
        ("12.25 cm", f"12.25{NO_BREAK}cm"),
        ("unit 1", "unit 1"),
        ("2001/02/03", "2001/02/03"),
        ("", ""),
    ],
)
def test_what_is_read_back(text: str, read: str) -> None:
    assert line(text, 10).text == read


def test_a_built_fraction_is_raised_small_and_close() -> None:
    whole, upper, slash, lower = line("4 7/8", 10, 600).runs
    assert upper.rise == pytest.approx(3.1)
    assert (whole.rise, slash.rise, lower.rise) == (0, 0, 0)
    assert upper.size == lower.size == 10 * NUMERATOR_SIZE
    assert whole.x < upper.x < slash.x < lower.x


def test_no_size_is_torn_from_its_unit() -> None:
    assert " " not in glued("6 1/2 × 6 1/2 in").replace("6 1/2", "")


def test_letters_that_look_like_figures_are_left_out() -> None:
    assert not set("IOQZ") & set(FABRIC_LETTERS)
    assert [hatch_number(letter) for letter in FABRIC_LETTERS] == list(range(22))
