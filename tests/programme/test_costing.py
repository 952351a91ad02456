"""The money of a run of kits."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from seamproof.programme.costing import costing
from seamproof.programme.model import Costs

money = st.integers(0, 100_000).map(lambda cents: Fraction(cents, 100))


@given(money, money, money, st.integers(1, 500), st.integers(0, 5000))
def test_break_even_is_the_first_number_that_pays(
    cloth: Fraction, once: Fraction, price: Fraction, people: int, knife: int
) -> None:
    rules = Costs(wage=Fraction(18), bag=Fraction(1), once=once, price=price)
    run = costing(rules, cloth, knife, people, people)
    assert run.each * people == run.cloth + run.cutting + run.bags
    if run.break_even is None:
        assert run.left(10**9) < 0 or run.price <= run.each
        return
    assert run.left(run.break_even) >= 0
    if run.break_even > 0:
        assert run.left(run.break_even - 1) < 0


def test_spare_kits_are_paid_by_those_that_are_sold() -> None:
    rules = Costs(bag=Fraction(1), price=Fraction(10))
    assert costing(rules, Fraction(120), 0, 63, 60).each == Fraction(183, 60)
