"""Patterns of cloth by length and of fixed pieces."""

from __future__ import annotations

import numpy as np

from seamproof.cloth.columns import TwoStages
from seamproof.cloth.patterns import Kind
from seamproof.cloth.sources import Source

LOW, HIGH = Kind(0, False, 4, 3), Kind(1, False, 5, 7)
PRICER = TwoStages((LOW, HIGH), 10)


def test_cloth_by_length_offers_a_strip_of_every_height() -> None:
    source = Source(0, 0, 10, None, False, 1.0, PRICER)
    offers = source.offers(np.array([1.0, 2.0]), np.array([9, 9]))
    assert offers is not None
    assert offers.cost.tolist() == [3.0, 7.0]
    assert offers.worth.tolist() == [2.0, 4.0]
    assert offers.pattern(1).counts.tolist() == [0, 2]
    assert offers.pattern(1).cost == 7.0


def test_a_fixed_piece_is_filled_strip_after_strip() -> None:
    source = Source(0, 0, 10, 13, False, 5.0, PRICER)
    offers = source.offers(np.array([1.0, 3.0]), np.array([9, 9]))
    assert offers is not None
    filled = offers.pattern(0)
    assert sorted(strip.height for strip in filled.strips) == [3, 3, 7]
    assert filled.counts.tolist() == [4, 2]
    assert filled.cost == 5.0


def test_a_fixed_piece_gives_no_more_than_is_left() -> None:
    source = Source(0, 0, 10, 13, False, 5.0, PRICER)
    offers = source.offers(np.array([1.0, 3.0]), np.array([3, 1]))
    assert offers is not None
    assert offers.pattern(0).counts.tolist() == [3, 1]


def test_nothing_left_is_no_offer() -> None:
    for length in (None, 13):
        source = Source(0, 0, 10, length, False, 5.0, PRICER)
        assert source.offers(np.array([1.0, 3.0]), np.array([0, 0])) is None
