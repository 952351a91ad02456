"""The list of strips is whole, and what is chosen of it is a shorter plan of just the pieces."""

from __future__ import annotations

from itertools import product

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from seamproof.cloth import listing
from seamproof.cloth.columns import TwoStages
from seamproof.cloth.listing import shorter
from seamproof.cloth.masters import master
from seamproof.cloth.patterns import Kind
from seamproof.cloth.sources import Pattern, Source


def source(kinds: tuple[Kind, ...], width: int) -> Source:
    return Source(0, 0, width, None, False, 1.0, TwoStages(kinds, width))


def upright(*sizes: tuple[int, int]) -> tuple[Kind, ...]:
    kinds = [Kind(number, False, w, h) for number, (w, h) in enumerate(sizes)]
    return tuple(sorted(kinds, key=lambda k: (k.height, k.width)))


SIZES = st.lists(st.tuples(st.integers(2, 9), st.integers(1, 9)), min_size=1, max_size=4)


@given(SIZES, st.lists(st.integers(1, 3), min_size=4, max_size=4), st.integers(0, 4))
def test_every_full_strip_that_is_cheap_is_listed(
    sizes: list[tuple[int, int]], times: list[int], more: int
) -> None:
    kinds, width = upright(*sizes), 12
    counts = np.array(times[: len(sizes)], dtype=np.int64)
    prices = np.array([w * h / width for w, h in sizes])
    found = listing._Lister(kinds, width, prices, counts).listed(more)
    wanted = set()
    for copies in product(*(range(counts[kind.demand] + 1) for kind in kinds)):
        across = sum(n * kind.width for n, kind in zip(copies, kinds, strict=True))
        height = max((k.height for n, k in zip(copies, kinds, strict=True) if n), default=0)
        worth = sum(n * prices[kind.demand] for n, kind in zip(copies, kinds, strict=True))
        full = not any(
            kind.height <= height and n < counts[kind.demand] and across + kind.width <= width
            for n, kind in zip(copies, kinds, strict=True)
        )
        if any(copies) and across <= width and full and worth >= height - more:
            wanted.add(tuple((i, n) for i, n in reversed(list(enumerate(copies))) if n))
    assert found is not None
    assert len(set(found)) == len(found)
    assert set(found) == wanted


def test_a_piece_that_is_worth_nothing_is_listed_too() -> None:
    kinds = upright((5, 4), (2, 4))
    found = listing._Lister(kinds, 10, np.array([2.0, 0.0]), np.array([1, 1])).listed(2.0)
    assert found == [((1, 1), (0, 1))]


def test_a_row_takes_its_own_widths() -> None:
    kinds = (Kind(0, False, 6, 4, (6, 8, 10)), Kind(1, False, 4, 4))
    lister = listing._Lister(kinds, 10, np.array([1.0, 1.0]), np.array([3, 1]))
    assert lister.listed(2.5) == [((1, 1), (0, 1)), ((0, 3),)]


def test_a_plan_is_shortened_to_just_its_pieces() -> None:
    """Heights 5 and 4 beside one another instead of three strips: 5 + 4 units of cloth."""
    kinds = upright((6, 5), (4, 5), (5, 4))
    counts = np.array([1, 1, 2], dtype=np.int64)
    cloth = source(kinds, 10)
    single = [Pattern(None, row, 50.0, ()) for row in np.eye(3, dtype=np.int64)]
    found = master([cloth], counts, [None], single, lambda: False)
    least = float(found.prices @ counts)
    plan = shorter(cloth, found.prices, counts, least, 14.0)
    assert plan is not None
    assert sum(pattern.cost * times for pattern, times in plan) == 9
    assert np.sum([pattern.counts * times for pattern, times in plan], axis=0).tolist() == [1, 1, 2]
    assert shorter(cloth, found.prices, counts, least, 9.0) is None


def test_too_many_strips_are_not_listed() -> None:
    kinds = upright(*((2 + n % 3, 1 + n % 5) for n in range(30)))
    counts = np.full(30, 9, dtype=np.int64)
    prices = np.array([0.0] * 30)
    assert listing._Lister(kinds, 60, prices, counts).listed(10.0) is None
