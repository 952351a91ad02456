"""The plan at once: replayed with straight cuts only, by a check that knows nothing else."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from seamproof.cloth.first_plan import lay
from seamproof.cloth.model import Cloth, Cut, Demand, Fixed, Laid, Row, Settings
from seamproof.cloth.ordering import counted

WIDTH = Fraction(40)
SIDES = st.integers(8, 8 * 16).map(lambda n: Fraction(n, 8))
ROW = Row(Fraction(3), Fraction(17, 4), 45.0)


@st.composite
def demands(draw: st.DrawFn) -> tuple[Demand, ...]:
    made = []
    for n in range(draw(st.integers(1, 8))):
        width, height, count = draw(SIDES), draw(SIDES), draw(st.integers(1, 40))
        if draw(st.integers(0, 5)) == 0:
            made.append(Demand(f"A{n}", Fraction(0), Fraction(3), count, row=ROW))
        else:
            made.append(Demand(f"A{n}", width, height, count, draw(st.booleans())))
    return tuple(made)


def replay(cut: Cut, wanted: dict[str, Demand]) -> None:
    """Straight cuts part a rectangle into rectangles that fill it; a piece is as it was asked."""
    assert cut.width > 0
    assert cut.height > 0
    assert cut.times >= 1
    if cut.along is None:
        assert not cut.parts
        if cut.piece is None:
            return
        demand = wanted[cut.piece]
        if demand.row is not None:
            assert cut.height == demand.height
            assert demand.row.offset + cut.pieces * demand.row.pitch == cut.width
            return
        lies = (demand.width, demand.height)
        assert cut.turned <= demand.may_turn
        assert (cut.width, cut.height) == (lies[::-1] if cut.turned else lies)
        return
    if cut.along == "across":
        assert all(part.width == cut.width for part in cut.parts)
        assert sum(part.height * part.times for part in cut.parts) == cut.height
    else:
        assert all(part.height == cut.height for part in cut.parts)
        assert sum(part.width * part.times for part in cut.parts) == cut.width
    for part in cut.parts:
        replay(part, wanted)


def checked(laid: Laid, wanted: tuple[Demand, ...]) -> None:
    known = {demand.name: demand for demand in wanted}
    for one in laid.lays:
        assert (one.cut.width, one.cut.height) == (one.width, one.length)
        replay(one.cut, known)
    got = counted(laid.lays)
    unmet = dict(laid.unmet)
    for demand in wanted:
        assert got.get(demand.name, 0) + unmet.get(demand.name, 0) == demand.count


@given(wanted=demands(), simple=st.booleans())
def test_every_piece_comes_out(wanted: tuple[Demand, ...], simple: bool) -> None:
    laid = lay(Cloth("a", WIDTH), wanted, Settings(simple=simple))
    checked(laid, wanted)
    assert laid.unmet == ()
    for one in laid.lays:
        assert one.bound <= float(one.length) * (1 + 1e-12)


@given(wanted=demands(), pieces=st.integers(0, 6), yardage=st.booleans())
def test_fixed_pieces_and_the_shelf_go_first(
    wanted: tuple[Demand, ...], pieces: int, yardage: bool
) -> None:
    shelf = (Fixed("18 x 21", Fraction(18), Fraction(21), pieces),) if pieces else ()
    cloth = Cloth("a", WIDTH, yardage, (Fixed("fat quarter", Fraction(21), Fraction(18)),), shelf)
    laid = lay(cloth, wanted)
    checked(laid, wanted)
    assert laid.length == 0
    used = sum(one.times for one in laid.lays if one.stock == "18 x 21")
    assert used <= pieces


@given(wanted=demands(), kits=st.integers(2, 50))
def test_kits_together_take_no_more_than_apart(wanted: tuple[Demand, ...], kits: int) -> None:
    many = tuple(
        Demand(d.name, d.width, d.height, d.count * kits, d.may_turn, d.row) for d in wanted
    )
    laid = lay(Cloth("a", WIDTH), many)
    checked(laid, many)
    strips = sum(len(one.cut.parts) for one in laid.lays)
    assert strips <= 200  # counts are not spelt out


@given(wanted=demands())
def test_the_same_again(wanted: tuple[Demand, ...]) -> None:
    assert lay(Cloth("a", WIDTH), wanted) == lay(Cloth("a", WIDTH), wanted)


def test_simple_lays_mix_no_heights() -> None:
    wanted = (Demand("A1", Fraction(4), Fraction(4), 9), Demand("A2", Fraction(2), Fraction(2), 9))
    laid = lay(Cloth("a", WIDTH), wanted, Settings(simple=True))
    for strip in laid.lays[0].cut.parts:
        assert all(part.along is None for part in strip.parts)


def test_a_piece_that_fits_nowhere_is_named() -> None:
    wanted = (Demand("A1", Fraction(41), Fraction(50), 2, may_turn=True),)
    laid = lay(Cloth("a", WIDTH), wanted)
    assert (laid.too_large, laid.unmet, laid.lays) == (("A1",), (("A1", 2),), ())


def test_stopped_keeps_the_first_plan() -> None:
    wanted = (Demand("A1", Fraction(4), Fraction(6), 30, may_turn=True),)
    laid = lay(Cloth("a", WIDTH), wanted, stop=lambda: True)
    assert laid.stopped
    checked(laid, wanted)
