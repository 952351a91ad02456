"""Published sizes of tops and of what finishes them. Every row names its source in the table."""

from __future__ import annotations

import math
import re
from fractions import Fraction

import pytest

from seamproof.length.rounding import INCH_STEP, up
from seamproof.setting import on_point, straight
from seamproof.setting.backing import PACKAGES, YARD, backing_for, batting_for, panels
from seamproof.setting.binding import (
    bias_by_area,
    bias_makes,
    bias_square,
    bias_square_by_area,
    binding_for,
    strips_for,
    way_round,
)
from seamproof.setting.borders import cut_lengths
from seamproof.setting.faults import WIDEST_SASH
from seamproof.setting.habits import INCHES
from seamproof.setting.model import BackingAsked, BindingAsked, BorderAsked
from seamproof.setting.targets import TARGETS
from tests.cutting.facts import Fact, Tally, disputed
from tests.setting import tops
from tests.setting.tops import block, top_of

SEAM = Fraction(1, 4)
QUARTER, HALF = Fraction(1, 4), Fraction(1, 2)
EIGHTH_YARD = YARD / 8
TALLY = Tally(
    set_side=16,
    set_corner=16,
    set_square=1,
    onpoint_count=2,
    bias=3,
    bias_diag=1,
    binding=4,
    binding_len=1,
    binding_rule=3,
    border=4,
    backing=8,
    backing_table=1,
    longarm=8,
    bed_sizes=5,
    batting_pkg=3,
    sashing=4,
    layout=1,
)


def size(text: str) -> tuple[Fraction, Fraction]:
    """The first width and height of a text: ``quilt=60x80``."""
    found = re.search(r"(\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)", text)
    assert found is not None
    return Fraction(found[1]), Fraction(found[2])


# On point -----------------------------------------------------------------------------------------


@TALLY.rows("set_side")
def test_setting_triangles(fact: Fact) -> None:
    side = fact.given("block")
    need = on_point.setting_square(side, SEAM, QUARTER).need
    if "before rounding" in fact_unit(fact):  # the rule, 1 1/4 for what is 1.2071
        assert float(fact.number) == pytest.approx(need + 1.25 - (HALF + math.sqrt(0.5)), abs=0.005)
        return
    step = HALF if "1/2" in fact.inputs else QUARTER
    assert on_point.setting_square(side, SEAM, step).ruler == fact.number


def fact_unit(fact: Fact) -> str:
    """F211 alone states the size before it is rounded."""
    return "before rounding" if fact.id == "F211" else ""


@TALLY.rows("set_corner")
def test_corner_triangles(fact: Fact) -> None:
    step = QUARTER if "1/4" in fact.inputs else INCH_STEP
    assert on_point.corner_square(fact.given("block"), SEAM, step).ruler == fact.number


@TALLY.rows("set_square")
def test_a_plain_block_on_point(fact: Fact) -> None:
    side = fact.given("block")
    top = top_of(tops.on_point("Star plain-c", "Star", "Star Star"), block("Star", side))
    (plain,) = [piece for piece in top.pieces if piece.name == "plain block"]
    assert plain.width.ruler == plain.height.ruler == fact.number


@TALLY.rows("onpoint_count")
def test_blocks_of_an_on_point_setting(fact: Fact) -> None:
    assert fact.number == on_point.blocks_in(4, 5)  # 4 x 5 and 3 x 4, as the row says
    top = top_of(tops.on_point(*(["Star " * 4, "Star " * 3] * 5)[:9]), block("Star"))
    assert len(top.blocks) == fact.number
    assert sum(role == "setting triangle" for role, _, _ in top.leaves) == 14
    assert sum(role == "corner triangle" for role, _, _ in top.leaves) == 4


def test_setting_triangles_that_were_rounded_down() -> None:
    (row,) = [row for row in disputed("set_side") if row.id == "D11"]
    published = [Fraction(n) for n in row.published.split(";")]
    sizes = [Fraction(14), Fraction(17), Fraction(20)]
    needs = [on_point.setting_square(side, SEAM, QUARTER).need for side in sizes]
    short = [need > cut for need, cut in zip(needs, published, strict=True)]
    assert short == [True, False, False]
    assert needs[0] - float(published[0]) == pytest.approx(0.006, abs=0.0005)
    # All three are below the rule of 1 1/4, taken up to the next quarter.
    by_rule = [up(float(side) * math.sqrt(2) + 1.25, QUARTER) for side in sizes]
    assert by_rule == [Fraction("21.25"), Fraction("25.5"), Fraction("29.75")]
    assert all(rule > cut for rule, cut in zip(by_rule, published, strict=True))


def test_corner_triangles_that_were_made_too_large() -> None:
    (row,) = disputed("set_corner")
    published = [Fraction(n) for n in row.published.split(";")]
    ours = [on_point.corner_square(Fraction(n), SEAM, QUARTER).ruler for n in (9, 15)]
    assert ours == [Fraction(n) for n in row.holds_up.split(";")]
    assert all(cut > own for cut, own in zip(published, ours, strict=True))


def test_a_root_of_two_cut_short_changes_the_mark() -> None:
    (row,) = [row for row in disputed("set_side") if row.id == "D13"]
    short, true = (up(16 * root + 1.25) for root in (1.414, math.sqrt(2)))
    assert str(float(short)) in row.published
    assert true == 24 > short
    size = on_point.setting_square(Fraction(16), SEAM, INCH_STEP)
    assert size.need == pytest.approx(23.835, abs=0.0005)
    assert size.ruler == short  # 1 1/4 is generous: geometry asks for 1.207


# Straight -----------------------------------------------------------------------------------------


@TALLY.rows("sashing")
def test_sashing(fact: Fact) -> None:
    if fact.id == "F418":
        top = top_of(tops.straight(*["Star " * 4] * 5, sash=4), block("Star"))
        wide, high, count = fact.numbers
        assert (top.width, top.height) == (wide, high)
        level = [c for role, _, c in top.leaves if role == "sash" and c[1][0] - c[0][0] == 12]
        assert len(level) == count
    elif fact.id == "F419":
        top = top_of(tops.straight("Star", sash=4), block("Star"))
        (sash,) = [piece for piece in top.pieces if piece.name == "sash"]
        long, wide, each = fact.numbers
        assert (sash.width.ruler, sash.height.ruler) == (wide, long)
        assert 44 // sash.height.ruler == each
    else:
        assert fact.number == 12 * WIDEST_SASH


@TALLY.rows("layout")
def test_blocks_without_sashing(fact: Fact) -> None:
    wide, high = fact.numbers
    top = top_of(tops.straight(*["Star " * 4] * 5), block("Star", 9))
    assert (top.width, top.height) == (wide, high)


def test_a_width_that_was_summed_wrongly() -> None:
    (row,) = disputed("sashing")
    sash = Fraction("3.625")
    width, height = straight.size_of(4, 5, (Fraction(9), Fraction(9)), sash, outer=True)
    assert (width, height) == (Fraction("54.125"), Fraction("66.75"))
    assert row.holds_up.startswith("54 1/8 x 66 3/4")
    assert row.published.startswith("55 3/8 x 66 3/4")


# Borders ------------------------------------------------------------------------------------------


@TALLY.rows("border")
def test_borders(fact: Fact) -> None:
    if fact.id == "F374":
        inner, width = size(fact.inputs), Fraction("6.5") - 2 * SEAM
        sides, ends = cut_lengths(inner, BorderAsked(width, "a"), SEAM, INCH_STEP)
        wide, high, length = fact.numbers
        assert (inner[0] + 2 * width, inner[1] + 2 * width) == (wide, high)
        assert 2 * (sides.ruler + ends.ruler) == length
    elif fact.id == "F376":
        long, yards = fact.numbers
        assert fact.given("longest") + 10 == long == yards * YARD
    elif fact.id == "F377":
        setting = tops.straight("Star", borders=(BorderAsked(Fraction(9), "c"),))
        top = top_of(setting, block("Star"))
        assert {p.width.ruler for p in top.pieces if p.name == "border strip"} == {fact.number}
    else:  # four strips side by side are wider than the cloth
        assert 4 * 12 == fact.number > 42


def test_one_width_and_one_length_is_no_layout() -> None:
    (row,) = disputed("border")
    inner, asked = (Fraction(40), Fraction(50)), BorderAsked(Fraction(5), "a")
    sides, ends = cut_lengths(inner, asked, SEAM, INCH_STEP)
    across = math.ceil(2 * (sides.ruler + ends.ruler) / 40) * Fraction("5.5")
    assert float(across / YARD) == pytest.approx(0.92, abs=0.005)
    mitred = BorderAsked(Fraction(5), "a", corners="mitred")
    longest = max(s.ruler for s in cut_lengths(inner, mitred, SEAM, INCH_STEP))
    assert 60 < longest <= Fraction("61.25")
    assert 4 * Fraction("5.5") <= 42  # side by side in one length
    assert float(61 / YARD) == pytest.approx(1.7, abs=0.01)
    assert "3.1 yd" in row.published
    assert max(across, longest) < Fraction("3.1") * YARD


# Backing and batting ------------------------------------------------------------------------------


@TALLY.rows("backing")
def test_backing(fact: Fact) -> None:
    wide = Fraction(42)
    numbers = fact.numbers
    if fact.id == "F382":
        made = panels(Fraction(65), Fraction(78), wide, HALF, EIGHTH_YARD)
        assert [made.yardage, made.buy / YARD] == numbers
    elif fact.id == "F383":
        made = panels(Fraction(78), Fraction(65), wide, HALF, EIGHTH_YARD)
        assert made.yardage == numbers[0]
        assert float(made.yardage / YARD) == pytest.approx(float(numbers[1]), abs=5e-4)
    elif fact.id == "F384":
        made = panels(Fraction(100), Fraction(83), wide, HALF, EIGHTH_YARD)
        assert (made.count, made.width) == (2, fact.number)
    elif fact.id == "F385":
        made = panels(numbers[1], Fraction(80), wide, HALF, EIGHTH_YARD)
        assert [made.yardage, made.length] == numbers
        assert made.buy / YARD == Fraction("3.75")
    elif fact.id == "F386":
        made = panels(Fraction(74), Fraction(80), wide, HALF, YARD / 4)
        assert [made.yardage, made.buy / YARD] == numbers
    elif fact.id == "F387":
        backing = backing_for(size(fact.inputs), BackingAsked(), wide, EIGHTH_YARD, INCH_STEP)
        assert (backing.width, backing.height) == size(fact.expected)
    elif fact.id == "F388":
        made = panels(Fraction(110), Fraction(100), Fraction(108), HALF, EIGHTH_YARD)
        yards, rounded, shrunk = numbers
        assert made.count == 1
        assert float(made.yardage / YARD) == pytest.approx(float(yards), abs=0.006)
        assert made.buy / YARD == rounded == shrunk - Fraction(1, 8)
    else:
        asked = BackingAsked(margin=Fraction(3))
        backing = backing_for(size(fact.inputs), asked, wide, EIGHTH_YARD, INCH_STEP)
        assert backing.across.buy / YARD == fact.number


def test_a_backing_whose_margin_was_not_told() -> None:
    (row,) = disputed("backing")
    quilt, wide = size("84x92"), Fraction(42)
    three, four = (
        backing_for(quilt, BackingAsked(margin=Fraction(n)), wide, EIGHTH_YARD, INCH_STEP)
        for n in (3, 4)
    )
    assert three.across.yardage / YARD == Fraction(row.published)
    assert four.across.yardage == 276
    assert four.lengthwise.yardage == 300
    assert float(four.across.yardage / YARD) == pytest.approx(7.667, abs=5e-4)


@TALLY.rows("backing_table")
def test_a_table_of_backings(fact: Fact) -> None:
    # The row tells amounts, no sizes. Each is what two or three lengths take for the published
    # quilt of that bed with a margin that some quilter asks for.
    for name, yards in zip(
        ("twin", "queen", "king"), (fact.numbers[i] for i in (0, 2, 3)), strict=True
    ):
        target = TARGETS[name]
        lengths = []
        for margin in (Fraction(n, 2) for n in range(13)):
            asked = BackingAsked(margin=margin)
            made = backing_for(
                (target.width, target.height), asked, Fraction(42), YARD / 4, INCH_STEP
            )
            lengths += [made.across.buy / YARD, made.lengthwise.buy / YARD]
        assert yards in lengths, name


@TALLY.rows("longarm")
def test_longarm(fact: Fact) -> None:
    low, *_ = fact.numbers
    if fact.inputs.startswith("quilt="):
        usual = backing_for(size(fact.inputs), BackingAsked(), Fraction(42), EIGHTH_YARD, INCH_STEP)
        assert (usual.width, usual.height) == size(fact.expected)
    elif "each side" in fact.inputs:
        assert re.findall(r"\d+", fact.expected)[0] == str(INCHES.margin)
    elif fact.id == "F400":
        assert low == INCHES.backing_seam
    elif fact.id == "F398":  # a stretchy backing: more than is usual, so it is a setting
        asked = BackingAsked(margin=low / 2)
        made = backing_for(size("40x60"), asked, Fraction(60), EIGHTH_YARD, INCH_STEP)
        assert made.width - 40 == low
    elif fact.id == "F401":
        assert batting_for(size("40x60"), INCHES.margin).width - 40 >= low
    else:
        assert low == 2 * INCHES.margin


def test_what_sticks_out_is_a_setting() -> None:
    (row,) = disputed("backing_extra")
    asked = [Fraction(n) for n in re.findall(r"\d+", row.published)]
    assert INCHES.margin in asked
    widths = {
        backing_for(
            size("60x80"), BackingAsked(margin=n), Fraction(42), EIGHTH_YARD, INCH_STEP
        ).width
        for n in asked
    }
    assert len(widths) == len(asked) == 4


@TALLY.rows("bed_sizes")
def test_beds(fact: Fact) -> None:
    target = TARGETS[fact.inputs]
    mattress, quilt, package = fact.expected.split(";")
    assert (target.width, target.height) == size(quilt)
    assert target.mattress == size(mattress.replace("76-78", "76"))
    assert (fact.inputs, *size(package)) in PACKAGES
    assert batting_for(size(package), Fraction(0)).package == fact.inputs


def test_every_bed_names_its_row() -> None:
    rows = {t.source.rpartition(" ")[2].rstrip(")") for t in TARGETS.values() if t.mattress}
    assert rows == {"F405", "F406", "F408", "F409", "F411"}
    assert all("no source" in t.source for t in TARGETS.values() if t.mattress is None)


@TALLY.rows("batting_pkg")
def test_packages_of_batting(fact: Fact) -> None:
    names = {"baby": "crib"}
    name = names.get(fact.inputs, fact.inputs)
    assert (name, *size(fact.expected)) in PACKAGES


def test_packages_whose_makers_differ_take_the_smaller() -> None:
    (row,) = disputed("batting_pkg")
    known = {name: (a, b) for name, a, b in PACKAGES}
    for name, said, held in zip(
        ("full", "king"), row.published.split(";"), row.holds_up.split(";"), strict=True
    ):
        assert known[name] == size(held)
        assert known[name][0] <= size(said)[0]


def test_mattresses_that_writers_tell_otherwise() -> None:
    long_twin, others = disputed("mattress")
    assert TARGETS["twin-xl"].mattress == size(long_twin.holds_up) != size(long_twin.published)
    for name, said, held in zip(
        ("twin", "king"), others.published.split(";"), others.holds_up.split(";"), strict=True
    ):
        assert TARGETS[name].mattress == size(held) != size(said)


# Binding ------------------------------------------------------------------------------------------


@TALLY.rows("binding")
def test_binding(fact: Fact) -> None:
    if fact.id == "F367":
        share, whole = fact.numbers
        length = way_round(size(fact.inputs))
        assert float(length / 38) == pytest.approx(float(share), abs=0.005)
        assert strips_for(length, Fraction(40), Fraction(2)) == whole
    elif fact.id == "F368":
        made = binding_for(
            (Fraction(60), Fraction(70)), BindingAsked("a"), Fraction(42), SEAM, INCH_STEP
        )
        assert 7 * made.width == fact.number == made.buy + (7 - made.strips) * made.width
    else:
        assert way_round(size(fact.inputs)) == fact.number


@TALLY.rows("binding_len", "binding_rule")
def test_length_of_binding(fact: Fact) -> None:
    if fact.family == "binding_len":
        made = binding_for(
            size(fact.inputs), BindingAsked(extra=Fraction(16)), Fraction(40), SEAM, INCH_STEP
        )
        assert made.length == fact.number
        return
    made = binding_for(
        size("50x60"), BindingAsked(extra=fact.number), Fraction(40), SEAM, INCH_STEP
    )
    assert made.length - made.round == fact.number


def test_what_is_added_to_a_binding_is_stated() -> None:
    (row,) = disputed("binding_extra")
    numbers = [Fraction(n) for n in re.findall(r"\d+", row.published)]
    assert INCHES.extra in numbers
    assert len(numbers) == 4
    made = binding_for(size("50x60"), BindingAsked(), Fraction(40), SEAM, INCH_STEP)
    assert (made.round, made.length) == (220, 220 + INCHES.extra)


@TALLY.rows("bias")
def test_continuous_bias_by_area(fact: Fact) -> None:
    numbers = fact.numbers
    if fact.id == "F361":
        side = bias_square_by_area(fact.given("need"), fact.given("strip"))
        assert float(numbers[0]) <= side < float(numbers[0]) + 0.01  # cut off, not rounded
        assert math.ceil(side) == numbers[1]
    elif fact.id == "F362":
        across = Fraction(18 * 18, 42)
        assert float(across) == pytest.approx(float(numbers[0]), abs=5e-4)
        assert math.ceil(across) == numbers[1]
    else:
        around, length, area, side, yards = numbers
        made = binding_for(size(fact.inputs), BindingAsked(), Fraction(40), SEAM, INCH_STEP)
        assert (made.round, made.length) == (around, length)
        assert length * made.width == area
        by_area = bias_square_by_area(length, made.width)
        assert by_area == pytest.approx(float(side), abs=0.05)
        assert by_area / 36 == pytest.approx(float(yards), abs=0.01)


def test_bias_loses_two_seams() -> None:
    (row,) = disputed("bias")
    lost = bias_by_area(Fraction(20), Fraction(2), SEAM)
    assert lost == pytest.approx(190.1, abs=0.05)
    assert lost < 200 == Fraction(re.findall(r"\d+", row.published)[0])
    # Strips are marked side by side, and the last one has to be whole.
    assert bias_makes(Fraction(20), Fraction(2), SEAM) < lost


@TALLY.rows("bias_diag")
def test_bias_across_a_cloth(fact: Fact) -> None:
    assert math.ceil(31 * math.sqrt(2)) == fact.number


def test_the_square_for_a_bias_binding_gives_enough() -> None:
    for length in (Fraction(n) for n in (60, 150, 244, 400)):
        side = bias_square(length, Fraction(5, 2), SEAM, INCH_STEP)
        assert bias_makes(side, Fraction(5, 2), SEAM) >= length
        smaller = side - INCH_STEP
        promised = bias_square_by_area(length, Fraction(5, 2))
        assert bias_makes(smaller, Fraction(5, 2), SEAM) < length or smaller < promised


def test_every_row_of_these_families_is_tested() -> None:
    assert TALLY.faults() == ({}, set())
