"""Squares and rectangles from strips across the cloth."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from seamproof.cutting.strips import strips_for
from tests.cutting.drawn import TRIMMED, block_of, hst, listed

F = Fraction


def test_all_that_is_cut_comes_from_the_strips() -> None:
    made = listed(hst(4), copies=30)
    strips = strips_for(made.pieces, TRIMMED)
    assert [(s.fabric, s.width, s.count) for s in strips] == [("a", F(5), 4), ("b", F(5), 4)]
    assert [(c.each, c.strips, c.count) for s in strips for c in s.cuts] == [(8, 4, 30)] * 2
    assert strips[0].length == 20


def test_a_rectangle_lies_the_way_that_takes_less_cloth() -> None:
    """Bars of 2 1/2 by 12 1/2 in: three in a strip 2 1/2 in wide, sixteen in one 12 1/2 in wide."""
    singly = replace(TRIMMED, methods={"rail": "single patches"})
    few = strips_for(listed(block_of("a\nb", 12, 4), singly, 3).pieces, singly)
    assert [(s.width, s.count) for s in few] == [(F(5, 2), 1)] * 2
    many = strips_for(listed(block_of("a\nb", 12, 4), singly, 16).pieces, singly)
    assert [(s.width, s.count) for s in many] == [(F(25, 2), 1)] * 2


def test_what_is_sewn_in_strips_is_cut_as_it_is() -> None:
    strips = strips_for(listed(block_of("a\nb", 6), copies=7).pieces, TRIMMED)
    assert [(s.width, s.count, s.cuts[0].along) for s in strips] == [(F(7, 2), 2, F(27))] * 2


def test_what_no_strip_gives_is_left_out() -> None:
    wide = listed(block_of("a", 60))
    assert strips_for(wide.pieces, TRIMMED) == ()
    assert strips_for((), TRIMMED) == ()
