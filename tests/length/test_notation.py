"""Lengths as text: what is read, what is refused, and that nothing is lost on the way."""

from __future__ import annotations

import contextlib
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from seamproof.errors import LengthError
from seamproof.length.exact import CM, FINEST
from seamproof.length.notation import (
    MOST_DIGITS,
    Measure,
    centimetres,
    exactly,
    inches,
    mixed,
    number,
    parse,
    with_unit,
)

EIGHTHS = Fraction(23, 8)

READ = [
    ("2 7/8", EIGHTHS),
    ('2-7/8"', EIGHTHS),
    ("2 7/8 in", EIGHTHS),
    ("2⅞", EIGHTHS),
    ("2 ⅞", EIGHTHS),
    ("2 7⁄8", EIGHTHS),
    ("2\u00a07/8”", EIGHTHS),
    ("2\u202f7/8″", EIGHTHS),
    ("2 7 / 8 Inches", EIGHTHS),
    ("2‑7/8", EIGHTHS),
    ("7/8", Fraction(7, 8)),
    ("⅞", Fraction(7, 8)),
    ("9/8", Fraction(9, 8)),
    ("2.875 in", EIGHTHS),
    ("2.875", EIGHTHS),
    (".875", Fraction(7, 8)),
    ("0,875", Fraction(7, 8)),
    ("2 in.", Fraction(2)),
    ("2 inches", Fraction(2)),
    ("2''", Fraction(2)),
    ("1 INCH", Fraction(1)),
    ("+3", Fraction(3)),
    ("0", Fraction(0)),
    ("73 mm", CM * Fraction(73, 10)),
    ("12 cm", CM * 12),
    ("12cm", CM * 12),
    ("12,5 cm", CM * Fraction(25, 2)),
    ("12,55 centimetres", CM * Fraction(1255, 100)),
    ("7 1/2 cm", CM * Fraction(15, 2)),
]


@pytest.mark.parametrize(("text", "value"), READ)
def test_what_a_quilter_writes_is_read_exactly(text: str, value: Fraction) -> None:
    assert parse(text) == value


REFUSED = [
    ("", "missing"),
    ("  ", "missing"),
    ("inf", "not a length"),
    ("nan", "not a length"),
    ("1e308", "not a length"),
    ("1_000", "not a length"),
    ("0x10", "not a length"),
    ("2.", "not a length"),
    ("1..2", "not a length"),
    ("1/2/3", "not a length"),
    ("2 - 7/8", "not a length"),
    ("2 -7/8", "not a length"),
    ("1 2 3", "not a length"),
    ("½½", "not a length"),
    ("٣", "not a length"),  # figures of another script
    ("2 furlongs", "not a length"),
    ("2 in in", "not a length"),
    ("2\x007", "not a length"),
    ("1/0", "divides by nothing"),
    ("2 1/0", "divides by nothing"),
    ("2 9/8", "not below one"),
    ("2 8/8", "not below one"),
    ("-0", "less than nothing"),
    ("-1", "less than nothing"),
    ("−1 1/2 in", "less than nothing"),
    ("2,875", "may part thousands"),
    ("12,500 mm", "may part thousands"),
    ("3 ft", "not in inches"),
    ("3'", "not in inches"),
    ("1 yard", "not in inches"),
    ("2 m", "not in inches"),
    ("1" * 400, "too many digits"),
    ("1/" + "3" * 13, "too many digits"),
    ("0." + "0" * 13, "too many digits"),
]


@pytest.mark.parametrize(("text", "why"), REFUSED)
def test_what_is_no_length_is_refused_in_words(text: str, why: str) -> None:
    with pytest.raises(LengthError) as caught:
        parse(text)
    assert why in caught.value.what
    assert caught.value.mend
    assert len(str(caught.value)) < 200


def test_feet_and_yards_say_how_many_inches() -> None:
    with pytest.raises(LengthError, match="a foot is 12 in"):
        parse("3 ft")
    with pytest.raises(LengthError, match="a yard is 36 in"):
        parse("1 yd")


def test_coordinates_may_be_negative() -> None:
    assert parse("-1 1/2", signed=True) == Fraction(-3, 2)
    assert parse("-0", signed=True) == 0


def test_a_number_alone_is_in_the_measure_asked_for() -> None:
    assert parse("2.54", unit="cm") == 1
    assert parse("1 in", unit="cm") == 1
    assert parse("25.4 mm", unit="in") == 1


@given(st.text(max_size=30))
@example("1" * 5000)
def test_any_text_is_a_length_or_a_length_error(text: str) -> None:
    value = Fraction(0)
    with contextlib.suppress(LengthError):
        value = parse(text)
    assert value >= 0


@pytest.mark.parametrize(
    ("value", "inch", "centimetre"),
    [
        (Fraction(39, 8), "4 7/8", "12.38"),
        (Fraction(1, 64), "1/64", "0.04"),
        (Fraction(1, 128), "0.008", "0.02"),
        (Fraction(12, 5), "2.4", "6.1"),
        (Fraction(-7, 8), "-7/8", "-2.22"),
        (Fraction(-1, 10**6), "0", "0"),
        (Fraction(0), "0", "0"),
        (Fraction(1999999, 1000000), "2", "5.08"),
        (CM * Fraction(49, 4), "4.823", "12.25"),
    ],
)
def test_what_is_written(value: Fraction, inch: str, centimetre: str) -> None:
    assert inches(value) == inch
    assert centimetres(value) == centimetre
    assert number(value, "in") == inch
    assert with_unit(value, "cm") == f"{centimetre} cm"


measures = st.sampled_from(["in", "cm"])
lengths = st.one_of(
    st.fractions(-400, 400, max_denominator=64 * 15),
    st.integers(-4000, 4000).map(lambda n: Fraction(n, 64)),
    st.integers(-(10**8), 10**8).map(lambda n: Fraction(n, 10**6)),
    st.integers(-4000, 4000).map(lambda n: n * CM / 4),
    st.integers(-(2**28), 2**28).map(lambda n: n * FINEST),
)


@given(lengths, measures)
def test_what_is_written_to_a_file_is_read_back_equal(value: Fraction, measure: Measure) -> None:
    assert parse(exactly(value, measure), unit=measure, signed=True) == value


@given(lengths, measures)
def test_what_people_read_is_the_length_to_less_than_a_thread(
    value: Fraction, measure: Measure
) -> None:
    read = parse(with_unit(value, measure), signed=True)
    assert abs(read - value) <= (Fraction(1, 2000) if measure == "in" else CM / 200)


@given(st.integers(0, 64 * 200))
def test_ruler_marks_are_read_back_equal(sixty_fourths: int) -> None:
    value = Fraction(sixty_fourths, 64)
    assert parse(inches(value)) == value
    assert parse(mixed(value)) == value


@given(st.integers(0, 4 * 500))
def test_metric_ruler_marks_are_read_back_equal(quarters: int) -> None:
    value = CM * quarters / 4
    assert parse(centimetres(value), unit="cm") == value


def test_the_longest_number_is_read() -> None:
    assert parse("9" * MOST_DIGITS) == 10**MOST_DIGITS - 1
