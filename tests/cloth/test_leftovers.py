"""What is left over, and what of it is kept."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from seamproof.cloth.buying import Buying, bought
from seamproof.cloth.laying import lay
from seamproof.cloth.leftovers import leftovers, worth_keeping
from seamproof.cloth.model import Cloth, Demand, Fixed, Settings

W = Fraction(40)
EIGHTHS = st.integers(8, 320).map(lambda n: Fraction(n, 8))


def test_the_end_of_a_strip_and_of_the_length() -> None:
    """Three squares of 10 in: 10 × 10 in are left of the strip, and 13 1/2 − 11 in of the length,
    which is too narrow for anything but a strip."""
    made = lay(Cloth("a", W), [Demand("Aa", Fraction(10), Fraction(10), 3)], Settings(effort=0))
    found = leftovers(made, bought(made, Buying()), Buying())
    assert [(one.width, one.length, one.count) for one in found] == [
        (40, Fraction("2.5"), 1),
        (10, 10, 1),
    ]


def test_what_lies_on_the_shelf_is_kept_too() -> None:
    shelf = (Fixed("leftover", Fraction(20), Fraction(20), 1),)
    cloth = Cloth("a", W, shelf=shelf)
    made = lay(cloth, [Demand("Aa", Fraction(12), Fraction(12), 1)], Settings(effort=0))
    kept = leftovers(made, bought(made, Buying()), Buying())
    assert sum((one.width * one.length for one in kept), Fraction(0)) == 20 * 20 - 12 * 12


@given(
    st.lists(st.tuples(EIGHTHS, EIGHTHS, st.integers(1, 9)), min_size=1, max_size=5),
    st.fractions(0, Fraction(1, 10), max_denominator=100),
)
def test_pieces_and_leftovers_are_never_more_than_the_cloth(
    sizes: list[tuple[Fraction, Fraction, int]], shrinkage: Fraction
) -> None:
    demands = [Demand(f"A{n}", w, h, count) for n, (w, h, count) in enumerate(sizes)]
    buying = Buying(shrinkage=shrinkage)
    made = lay(Cloth("a", W), demands, Settings(effort=0))
    bill = bought(made, buying)
    kept = leftovers(made, bill, buying)
    assert all(worth_keeping(one.width, one.length) for one in kept)
    area = sum((d.width * d.height * d.count for d in demands), Fraction(0))
    area += sum((one.width * one.length * (one.count or 0) for one in kept), Fraction(0))
    assert area <= W * bill.buy
