"""Borders: plain, mitred, with corner squares, pieced, with the spacer that makes them fit."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.setting.borders import divided, middle_of_three, spacer_for
from seamproof.setting.model import BorderAsked, SetCell
from tests.setting import tops
from tests.setting.tops import block, top_of

STAR = block("Star")
PLAIN = BorderAsked(Fraction(3), "c")
UNITS = (SetCell("a", plain=True), SetCell("b", plain=True))


def cut(border: BorderAsked) -> dict[str, list[tuple[str, str, int]]]:
    """What is cut for one border round a block of 12 in, by name."""
    top = top_of(tops.straight("Star", borders=(border,)), STAR)
    found: dict[str, list[tuple[str, str, int]]] = {}
    for piece in top.pieces:
        size = (str(piece.width.ruler), str(piece.height.ruler), piece.count)
        found.setdefault(piece.name, []).append(size)
    return found


def test_butted_ends_run_over_the_sides() -> None:
    assert cut(PLAIN) == {"border strip": [("7/2", "25/2", 2), ("7/2", "37/2", 2)]}


def test_corner_squares_make_all_strips_alike() -> None:
    made = cut(replace(PLAIN, corners="squares", squares="d"))
    assert made == {"border strip": [("7/2", "25/2", 4)], "corner square": [("7/2", "7/2", 4)]}


def test_mitred_strips_are_alike_and_reach_past_the_corner() -> None:
    # 12 + 2 x 3 finished along the outer edge, and 1/4 in x (1 + root 2) at either end: 19.207
    assert cut(replace(PLAIN, corners="mitred")) == {"border strip": [("7/2", "77/4", 4)]}
    top = top_of(tops.straight("Star", borders=(replace(PLAIN, corners="mitred"),)), STAR)
    assert top.plan.set_in_points == 4


def test_lengthwise_strips_are_not_joined() -> None:
    for lengthwise in (False, True):
        asked = replace(PLAIN, lengthwise=lengthwise)
        top = top_of(tops.straight("Star", borders=(asked,)), STAR)
        assert {(p.may_join, p.grain) for p in top.pieces} == {
            (not lengthwise, "length" if lengthwise else "cross")
        }


def test_a_pieced_border_of_squares() -> None:
    asked = BorderAsked(Fraction(3), None, squares="d", units=UNITS)
    top = top_of(tops.straight("Star", borders=(asked,)), STAR)
    counts = {(p.name, p.fabric): p.count for p in top.pieces}
    assert counts == {
        ("border unit", "a"): 8,
        ("border unit", "b"): 8,
        ("corner square", "d"): 4,
    }
    assert top.borders[0].along == (4, 4)


def test_a_pieced_border_of_blocks() -> None:
    asked = BorderAsked(Fraction(3), "d", units=(SetCell("Geese"),), unit=Fraction(6))
    top = top_of(tops.straight("Star", borders=(asked,)), STAR, block("Geese", 6, 3))
    assert sum(b.name == "Geese" for b in top.blocks) == 8
    assert {b.turn for b in top.blocks if b.name == "Geese"} == {0, Fraction(1, 4)}


SIDES = st.integers(8, 800).map(lambda n: Fraction(n, 8))


@given(SIDES, SIDES, st.sampled_from([Fraction(n, 4) for n in range(4, 25)]))
def test_the_spacer_makes_any_border_fit(width: Fraction, height: Fraction, unit: Fraction) -> None:
    asked = BorderAsked(unit, "a", units=UNITS)
    fit = spacer_for((width, height), asked, Fraction(1))
    if fit is None:
        assert divided((width, height), asked) is not None
        return
    assert divided((width, height), asked) is None
    assert divided((width + 2 * fit.beside, height + 2 * fit.above), asked) is not None
    assert all(not wide or 1 <= wide < 1 + unit for wide in (fit.beside, fit.above))


def test_the_same_spacer_all_round_if_one_does() -> None:
    fit = spacer_for((Fraction(43), Fraction(61)), BorderAsked(Fraction(3), "a"), Fraction(1))
    assert fit is not None
    assert fit.beside == fit.above == 1


@pytest.mark.parametrize("shift", [Fraction(0), Fraction(1, 4)])
def test_the_mean_of_three(shift: Fraction) -> None:
    lengths = [Fraction(58) - shift, Fraction(58), Fraction(58) + shift]
    assert middle_of_three(lengths) == 58
