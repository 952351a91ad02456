"""What is cut out of the full length first, and what is cut beside it."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from seamproof.cloth.laying import lay
from seamproof.cloth.model import Cloth, Cut, Demand, Fixed, Settings
from seamproof.cloth.ordering import counted
from seamproof.cloth.replaying import faults
from seamproof.cloth.reserving import joined_to, reserved

W = Fraction(40)
BORDER = Demand("Aa", Fraction(6), Fraction(62), 4)
FIRST = Settings(effort=0)
SQUARE = Demand("Ab", Fraction(5), Fraction(5), 20)


def laid(cloth: Cloth, first: list[Demand], rest: list[Demand]):  # type: ignore[no-untyped-def]
    set_aside = reserved(cloth, first)
    return joined_to(set_aside, lay(set_aside.rest, tuple(rest), FIRST), [*first, *rest])


def filled(cut: Cut) -> bool:
    """Whether the parts of every cut fill it, to the last thread."""
    if cut.along is None:
        return True
    along = sum((part.height * part.times for part in cut.parts), Fraction(0))
    across = sum((part.width * part.times for part in cut.parts), Fraction(0))
    if cut.along == "across":
        whole = along == cut.height and all(part.width == cut.width for part in cut.parts)
    else:
        whole = across == cut.width and all(part.height == cut.height for part in cut.parts)
    return whole and all(filled(part) for part in cut.parts)


def test_borders_stand_side_by_side_and_squares_beside_them() -> None:
    made = laid(Cloth("a", W), [BORDER], [SQUARE])
    (whole,) = made.lays
    assert made.length == 62
    assert counted(made.lays) == {"Aa": 4, "Ab": 20}
    assert whole.cut.parts[0].along == "length"
    assert filled(whole.cut)


def test_lower_pieces_beside_are_trimmed_and_that_can_be_cut() -> None:
    low = Demand("Ac", Fraction(5), Fraction(4), 3)
    made = laid(Cloth("a", W), [BORDER], [SQUARE, low])
    assert faults(made, [BORDER, SQUARE, low]) == []


def test_what_does_not_fit_beside_is_cut_from_the_rest_of_the_bolt() -> None:
    made = laid(Cloth("a", W), [BORDER], [Demand("Ab", Fraction(20), Fraction(5), 4)])
    assert made.length == 62 + 2 * 5
    assert counted(made.lays) == {"Aa": 4, "Ab": 4}


def test_without_anything_that_comes_first_nothing_changes() -> None:
    plain = lay(Cloth("a", W), (SQUARE,), FIRST)
    assert laid(Cloth("a", W), [], [SQUARE]) == plain


def test_the_shelf_stays_on_the_shelf() -> None:
    shelf = Fixed("leftover", Fraction(10), Fraction(10), 1)
    made = laid(Cloth("a", W, shelf=(shelf,)), [BORDER], [SQUARE])
    assert [one.stock for one in made.lays] == ["leftover", ""]
    assert counted(made.lays) == {"Aa": 4, "Ab": 20}


def test_kits_are_counts() -> None:
    many = Demand("Aa", Fraction(6), Fraction(62), 4 * 10_000)
    made = reserved(Cloth("a", W), [many])
    assert sum(one.times for one in made.lengths) == -(-40_000 // 6)
    assert len(made.lengths) == 2


@given(
    st.lists(
        st.tuples(st.integers(4, 320), st.integers(80, 800), st.integers(1, 9)),
        min_size=1,
        max_size=6,
    ),
    st.lists(st.tuples(st.integers(4, 320), st.integers(4, 200), st.integers(1, 30)), max_size=6),
)
def test_every_piece_comes_out_and_the_area_is_the_least(
    first: list[tuple[int, int, int]], rest: list[tuple[int, int, int]]
) -> None:
    one, other = (
        [
            Demand(f"{name}{n}", Fraction(w, 8), Fraction(h, 8), count)
            for n, (w, h, count) in enumerate(some)
        ]
        for name, some in (("A", first), ("B", rest))
    )
    made = laid(Cloth("a", W), one, other)
    assert counted(made.lays) == {demand.name: demand.count for demand in (*one, *other)}
    assert all(filled(lay.cut) for lay in made.lays)
    assert faults(made, [*one, *other]) == []
    area = sum((d.width * d.height * d.count for d in (*one, *other)), Fraction(0))
    assert made.length * W >= area
    assert abs(sum(lay.area_bound for lay in made.lays) - float(area / W)) < 1e-9
    for made_ in made.lays:
        assert made_.area_bound * (1 - 1e-12) <= made_.bound <= float(made.length) * (1 + 1e-12)


def test_the_bound_counts_what_comes_first_as_it_is_cut() -> None:
    """Four borders of 6 × 62 in leave 16 in beside them, room for eighteen squares of 12 in no
    more than five; each strip of 40 in holds three."""
    square = Demand("Ab", Fraction(12), Fraction(12), 20)
    set_aside = reserved(Cloth("a", W), [BORDER])
    rest = lay(set_aside.rest, (square,), Settings(effort=1))
    (whole,) = joined_to(set_aside, rest, [BORDER, square]).lays
    assert (whole.length, whole.bound, whole.proved) == (62 + 60, 62 + 60.0, True)
    assert whole.area_bound < 110
