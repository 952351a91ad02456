"""Equal pieces of all blocks together, as a lay asks for them."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from typing import Literal

import pytest

from seamproof.cloth.laying import lay
from seamproof.cloth.model import Cloth, Settings
from seamproof.cloth.pooling import Joined, Source, pooled
from seamproof.cloth.replaying import faults
from seamproof.cutting.model import Piece
from tests.cloth.pieces import Length, piece
from tests.cutting.drawn import EXACT, block_of, listed
from tests.cutting.facts import facts


def one(*pieces: Piece, **options: object) -> list[tuple[str, str, str, int, bool]]:
    """Name, width across, height along, count and whether it may turn, of the first fabric."""
    (pool, *_) = pooled([Source("Quay", pieces)], **options)  # type: ignore[arg-type]
    return [(d.name, str(d.width), str(d.height), d.count, d.may_turn) for d in pool.demands]


def test_the_largest_first_with_the_letters_of_the_only_table() -> None:
    assert one(piece("Ab", 2, 4, 6), piece("Aa", 5, count=3)) == [
        ("Aa", "5", "5", 3, False),
        ("Ab", "4", "2", 6, True),
    ]


def test_equal_pieces_are_one_kind_whatever_becomes_of_them() -> None:
    whole, halved = piece("Aa", 4, count=3), replace(piece("Ab", 4, count=2), split="once")
    (pool,) = pooled([Source("Quay", (whole, halved))])
    (kind,) = pool.kinds
    assert (kind.demand.name, kind.mark, kind.count) == ("Aa b", "a b", 5)
    assert [(use.letter, use.count, use.split) for use in kind.uses] == [
        ("Aa", 3, "whole"),
        ("Ab", 2, "once"),
    ]


def test_blocks_share_their_pieces_under_letters_of_their_own() -> None:
    sources = [
        Source("Quay", (piece("Aa", 2, count=4),)),
        Source("Pier", (piece("Aa", 6), piece("Ab", 2))),
    ]
    (pool,) = pooled(sources)
    assert [(k.mark, k.count, [u.source for u in k.uses]) for k in pool.kinds] == [
        ("a", 1, ["Pier"]),
        ("b", 5, ["Quay", "Pier"]),
    ]


def test_fabrics_keep_apart_in_the_order_of_their_letters() -> None:
    pools = pooled([Source("Quay", (piece("Ba", 2), piece("Aa", 2)))])
    assert [pool.fabric for pool in pools] == ["a", "b"]
    assert pooled([Source("Quay", ())]) == ()


def test_a_directional_print_is_not_turned() -> None:
    assert one(piece("Aa", 2, 4), directional={"a"}) == [("Aa", "4", "2", 1, False)]


@pytest.mark.parametrize(
    ("grain", "lies"), [("length", ("2", "9")), ("cross", ("9", "2")), ("either", ("9", "2"))]
)
def test_grain_says_how_a_piece_lies(grain: str, lies: tuple[str, str]) -> None:
    ((_, width, height, _, turn),) = one(replace(piece("Aa", 2, 9), grain=grain))  # type: ignore[arg-type]
    assert ((width, height), turn) == (lies, grain == "either")


def test_strips_for_strip_sets_run_across_and_are_not_turned() -> None:
    strip = piece("Aa", "2.5", 21, shape="strip", grain="cross")
    lying = {name: (width, turn) for name, width, _, _, turn in one(strip, piece("Ab", "2.5", 21))}
    assert lying == {"Aa": ("21", False), "Ab": ("21", True)}


def test_kits_multiply_counts() -> None:
    assert one(piece("Aa", 5, count=3), kits=60)[0][3] == 180


def corners(*points: tuple[Length, Length]) -> tuple[tuple[Fraction, Fraction], ...]:
    return tuple((Fraction(x), Fraction(y)) for x, y in points)


def test_diamonds_lie_side_by_side() -> None:
    diamond = piece("Aa", 3, 3, 8, shape="diamond", angle=45)
    (pool,) = pooled([Source("Quay", (diamond,))])
    row = pool.demands[0].row
    assert row is not None
    assert (row.offset, row.slope) == (3, pytest.approx(45))
    assert float(row.pitch) == pytest.approx(3 * math.sqrt(2), abs=1e-6)
    assert (pool.demands[0].width, pool.demands[0].height) == (0, 3)


def test_triangles_and_trapezoids_turn_every_other_one() -> None:
    side, high = Fraction(4), Fraction("3.5")
    tri = corners((0, high), (2, 0), (4, high))
    trap = corners((1, 0), (3, 0), (4, high), (0, high))
    for outline, narrow in ((tri, 0), (trap, 2)):
        shape = "triangle" if narrow == 0 else "trapezoid"
        made = piece("Aa", high, side, 5, shape=shape, corners=outline, angle=60)  # type: ignore[arg-type]
        (pool,) = pooled([Source("Quay", (made,))])
        row = pool.demands[0].row
        assert row is not None
        assert row.offset == pytest.approx(Fraction(4 - narrow, 2))
        assert row.pitch == pytest.approx(Fraction(4 + narrow, 2))


def rows_of_shapes() -> list[Piece]:
    """A diamond, a triangle, a trapezoid and a hexagon, and rectangles as high as their strips."""
    high = Fraction("3.5")
    triangle = corners((0, high), (2, 0), (4, high))
    trapezoid = corners((1, 0), (3, 0), (4, high), (0, high))
    hexagon = corners((1, 0), (3, 0), (4, "1.75"), (3, high), (1, high), (0, "1.75"))
    return [
        piece("Aa", high, high, 9, shape="diamond", angle=60),
        piece("Ab", high, 4, 14, shape="triangle", corners=triangle, angle=60),
        piece("Ac", high, 4, 7, shape="trapezoid", corners=trapezoid, angle=60),
        piece("Ad", high, 4, 5, shape="hexagon", corners=hexagon, angle=60),
        piece("Ae", high, 6, 11),
        piece("Af", 2, 5, 6),
    ]


@pytest.mark.parametrize("stages", [2, 3])
def test_rows_of_every_shape_are_replayed(stages: Literal[2, 3]) -> None:
    (pool,) = pooled([Source("Quay", tuple(rows_of_shapes()))])
    assert sum(demand.row is not None for demand in pool.demands) == 4
    laid = lay(Cloth("a", Fraction(42)), pool.demands, Settings(stages=stages, effort=0))
    assert laid.unmet == ()
    assert faults(laid, pool.demands) == []
    for wide, demand in enumerate(pool.demands):
        if demand.row is not None:
            wider = replace(demand, row=replace(demand.row, pitch=demand.row.pitch * 2))
            others = [*pool.demands[:wide], wider, *pool.demands[wide + 1 :]]
            assert any("do not fit their row" in fault for fault in faults(laid, others))


def test_equal_strip_sets_of_two_units_are_one_kind() -> None:
    strip = piece("Aa", "2.5", 21, 3, shape="strip", grain="cross")
    (pool,) = pooled(
        [Source("Quay", (strip, replace(strip, letter="Ab", count=2))), Source("Pier", (strip,))]
    )
    (kind,) = pool.kinds
    assert (kind.count, [use.count for use in kind.uses]) == (8, [3, 2, 3])


def test_a_template_gets_room_for_its_outline() -> None:
    outline = corners((0, 0), (3, 0), (1, "4.3"))
    made = piece("Aa", "3", "4.25", shape="template", grain="length", corners=outline)
    made = replace(made, height=replace(made.height, need=4.3))
    assert one(made) == [("Aa", "3", "35/8", 1, False)]


def test_friendship_stars() -> None:
    """Twelve stars of 12 in with exact sizes: 24 squares of 4 7/8 and 12 of 4 1/2 of the star."""
    rows = "a e/a a\na\\e e e\\a\na a/e a"
    made = listed(block_of(rows, 12), EXACT, copies=12)
    pools = pooled([Source("Star", made.pieces)])
    assert {pool.fabric: [(str(k.sides[0]), k.count) for k in pool.kinds] for pool in pools} == {
        "a": [("39/8", 24), ("9/2", 48)],
        "e": [("39/8", 24), ("9/2", 12)],
    }


# Joined strips ------------------------------------------------------------------------------------


def test_binding_from_joined_strips() -> None:
    """Trade table F367, F368: 50 x 60 from strips of 40 in that lose 2 in each."""
    (sizes, strips) = (fact for fact in facts("binding") if fact.id in ("F367", "F368"))
    exact, whole = sizes.numbers
    binding = Joined("Binding", "d", Fraction("2.5"), Fraction(2 * (50 + 60)), Fraction(2))
    assert float(binding.length / 38) == pytest.approx(float(exact), abs=0.005)
    assert binding.strips(Fraction(40)) == whole
    long = Joined("Binding", "d", Fraction("2.5"), Fraction(7 * 38), Fraction(2))
    assert long.strips(Fraction(40)) * long.width == strips.number


def test_metric_border_from_joined_strips() -> None:
    """Trade table F375: 1.5 m x 1 m, cloth of 110 cm, strips of 12 cm."""
    (fact,) = facts("strips_metric")
    exact, whole, length = fact.numbers
    around = Joined("Border", "d", Fraction(12), Fraction(2 * (150 + 100)), Fraction(0))
    assert float(around.length / 110) == pytest.approx(float(exact), abs=0.01)
    assert around.strips(Fraction(110)) == whole
    assert around.strips(Fraction(110)) * around.width == length


def test_joined_strips_are_asked_for_across_the_whole_cloth() -> None:
    binding = Joined("Binding", "d", Fraction("2.5"), Fraction(220), Fraction(2))
    (pool,) = pooled([], joined=[binding], usable={"d": Fraction(40)}, kits=2)
    (kind,) = pool.kinds
    assert (kind.demand.width, kind.demand.height, kind.count) == (40, Fraction(5, 2), 12)
    assert [use.source for use in kind.uses] == ["Binding"]


def test_a_strip_that_fits_is_not_joined() -> None:
    sash = Joined("Sashing", "f", Fraction("2.5"), Fraction(30), Fraction(1))
    (pool,) = pooled([], joined=[sash], usable={"f": Fraction(40)})
    assert (pool.demands[0].width, pool.demands[0].count) == (30, 1)
