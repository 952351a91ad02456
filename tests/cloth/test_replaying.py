"""The cutter that knows only straight cuts: a good tree passes, every planted fault is told."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.cloth.model import Cut, Demand, Laid, Lay, Row
from seamproof.cloth.replaying import faults

ROW = Row(Fraction(2), Fraction(3), 45.0)
WANTED = (
    Demand("A", Fraction(4), Fraction(5), 3),
    Demand("B", Fraction(2), Fraction(3), 2, may_turn=True),
    Demand("D", Fraction(0), Fraction(2), 5, row=ROW),
)


def inch(n: int) -> Fraction:
    return Fraction(n)


def piece(name: str, w: int, h: int, **more: object) -> Cut:
    return Cut(inch(w), inch(h), piece=name, **more)  # type: ignore[arg-type]


A = piece("A", 4, 5, times=3)
B = Cut(inch(3), inch(5), "across", (piece("B", 3, 2, turned=True, times=2), Cut(inch(3), inch(1))))
HIGH = Cut(inch(20), inch(5), "length", (A, B, Cut(inch(5), inch(5))))
LOW = Cut(inch(20), inch(2), "length", (piece("D", 17, 2, slope=45.0, pieces=5), piece("", 3, 2)))
LOW = replace(LOW, parts=(LOW.parts[0], Cut(inch(3), inch(2))))
WHOLE = Cut(inch(20), inch(7), "across", (HIGH, LOW))
LAY = Lay("a", "yardage", inch(20), inch(7), WHOLE, 1, 5.0, 5.0, False)


def with_whole(whole: Cut) -> Laid:
    return Laid((replace(LAY, cut=whole),))


def test_a_good_tree_passes() -> None:
    assert faults(Laid((LAY,)), WANTED) == []


def test_what_is_told_to_be_unmet_counts() -> None:
    more = (replace(WANTED[0], count=4), *WANTED[1:])
    assert faults(Laid((LAY,), (("A", 1),)), more) == []
    assert faults(Laid((LAY,)), more) == ["A: 3 come out of 4, 0 are told to be unmet"]


@pytest.mark.parametrize(
    ("whole", "told"),
    [
        (replace(WHOLE, height=inch(8)), "not as large as its cloth"),
        (replace(WHOLE, parts=(HIGH,)), "parts of 5 in a length of 7"),
        (replace(WHOLE, parts=(HIGH, HIGH)), "parts of 10 in a length of 7"),
        (
            replace(WHOLE, parts=(HIGH, replace(LOW, width=inch(19)))),
            "does not run from edge to edge",
        ),
        (replace(WHOLE, parts=(HIGH, replace(LOW, times=0))), "0 times"),
        (replace(WHOLE, piece="A"), "A is cut up"),
        (replace(WHOLE, along=None), "parts where nothing is cut"),
        (replace(WHOLE, parts=(HIGH, Cut(inch(20), inch(2), piece="Z"))), "nobody wants Z"),
        (
            replace(WHOLE, parts=(HIGH, Cut(inch(20), inch(2), piece="A"))),
            "A comes out as 20 × 2",
        ),
        (
            replace(WHOLE, parts=(HIGH, Cut(inch(20), inch(2), piece="A", turned=True))),
            "A lies against its grain",
        ),
        (
            replace(WHOLE, parts=(replace(HIGH, parts=(*HIGH.parts[:2], A)), LOW)),
            "parts of 27 in a length of 20",
        ),
        (
            replace(WHOLE, parts=(HIGH, piece("D", 20, 2, slope=45.0, pieces=7))),
            "7 of D do not fit their row",
        ),
        (
            replace(WHOLE, parts=(HIGH, piece("D", 20, 2, slope=60.0, pieces=5))),
            "D is not cut with its slope",
        ),
    ],
)
def test_a_planted_fault_is_told(whole: Cut, told: str) -> None:
    assert any(told in fault for fault in faults(with_whole(whole), WANTED))


def test_cuts_that_never_end_are_told() -> None:
    deep = Cut(inch(20), inch(7))
    for _ in range(8):
        deep = Cut(inch(20), inch(7), "across", (deep,))
    assert any("one in the other" in fault for fault in faults(with_whole(deep), ()))


def test_too_large_and_cut_all_the_same() -> None:
    laid = Laid((LAY,), too_large=("A",))
    assert faults(laid, WANTED) == ["A is told to be too large and is cut"]
