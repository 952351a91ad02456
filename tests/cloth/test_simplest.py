"""The fewest heights of strip, then the fewest cross-cuts."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from seamproof.cloth.patterns import Kind
from seamproof.cloth.simplest import fewest_settings

sizes = st.lists(st.tuples(st.integers(1, 5), st.integers(1, 5)), min_size=1, max_size=5)


def rank(kinds: tuple[Kind, ...]) -> tuple[int, int]:
    return len({k.height for k in kinds}), len({k.width for k in kinds})


@given(sizes)
def test_no_other_choice_has_fewer(lying: list[tuple[int, int]]) -> None:
    ways = [
        [Kind(n, False, w, h), *([Kind(n, True, h, w)] if w != h else [])]
        for n, (w, h) in enumerate(lying)
    ]
    chosen = fewest_settings([kind for both in ways for kind in both])
    assert sorted(kind.demand for kind in chosen) == list(range(len(lying)))
    assert rank(chosen) == min(rank(choice) for choice in product(*ways))


def test_a_row_has_a_height_and_no_cross_cut() -> None:
    row = Kind(0, False, 6, 3, (6, 9))
    other = (Kind(1, False, 3, 8), Kind(1, True, 8, 3))
    assert fewest_settings([row, *other]) == (row, other[1])
