"""Cutting diagrams: to scale, everything told, nothing in anything's way."""

from __future__ import annotations

from fractions import Fraction

import pytest

from seamproof.cloth.model import Cut, Lay
from seamproof.cloth.pooling import Kind, Source, pooled
from seamproof.cutting.model import Piece
from seamproof.drawing.clashing import clashes
from seamproof.drawing.placing import place
from seamproof.drawing.scene import Cloth, Dimension, Label, Letter, Paint, Scene, Stroke
from seamproof.figures.lays import ALL_DRAWN, drawings, drawn_length, lay_scale, lay_scene
from tests.cloth.pieces import piece

W = Fraction(40)
PAINT = Paint("A", "#F2EFE6")


def kinds(*pieces: Piece) -> dict[str, Kind]:
    (pool,) = pooled([Source("Quay", pieces)])
    return {kind.demand.name: kind for kind in pool.kinds}


def strip(height: str, *pieces: Cut, times: int = 1) -> Cut:
    used = sum((cut.width * cut.times for cut in pieces), Fraction(0))
    rest = (Cut(W - used, Fraction(height)),) if used < W else ()
    return Cut(W, Fraction(height), "length", (*pieces, *rest), times=times)


def lay(*strips: Cut, cloth: str = "yardage") -> Lay:
    length = sum((cut.height * cut.times for cut in strips), Fraction(0))
    whole = Cut(W, length, "across", strips)
    return Lay("a", cloth, W, length, whole, 1, 1.0, 1.0, False)  # type: ignore[arg-type]


SQUARES = kinds(piece("Aa", "4.5", count=16), piece("Ab", "1.5", count=20))
LAY = lay(
    strip("4.5", Cut(Fraction("4.5"), Fraction("4.5"), piece="Aa", times=8), times=2),
    strip("1.5", Cut(Fraction("1.5"), Fraction("1.5"), piece="Ab", times=20)),
)


def drawn(made: Lay = LAY, known: dict[str, Kind] = SQUARES, bought: str | None = "18") -> Scene:
    length = None if bought is None else Fraction(bought)
    return lay_scene(
        made,
        known,
        PAINT,
        "in",
        scale=lay_scale(made, length),
        bought=length,
        title="Fabric A",
        key=[(kind.mark, f"{kind.count} squares") for kind in known.values()],
    )


def all_of(scene: Scene, sort: type) -> list:  # type: ignore[type-arg]
    return [shape for shape in scene.shapes if isinstance(shape, sort)]


def test_every_piece_and_all_cloth_is_drawn_once() -> None:
    from shapely import Polygon, union_all

    cloth = all_of(drawn(), Cloth)
    whole = [Polygon(one.corners) for one in cloth if not one.veiled]
    assert len(whole) == 16 + 20
    assert sum(p.area for p in whole) == pytest.approx(16 * 4.5**2 + 20 * 1.5**2)
    everything = [Polygon(one.corners) for one in cloth]
    assert sum(p.area for p in everything) == pytest.approx(18 * 40)
    assert union_all(everything).area == pytest.approx(18 * 40)


def test_first_cuts_run_from_selvage_to_selvage_where_the_strips_end() -> None:
    cuts = [s.points for s in all_of(drawn(), Stroke) if s.kind == "cut"]
    assert cuts == [((x, 0.0), (x, 40.0)) for x in (4.5, 9.0, 10.5)]
    assert sum(s.kind == "selvage" for s in all_of(drawn(), Stroke)) == 2


def test_a_fixed_piece_has_no_selvage() -> None:
    made = lay(*LAY.cut.parts, cloth="fixed")
    assert not [s for s in all_of(drawn(made, bought=None), Stroke) if s.kind == "selvage"]


def test_the_distance_from_cut_to_cut_is_told() -> None:
    told = [d.text for d in all_of(drawn(), Dimension)]
    assert told == ["4 1/2", "4 1/2", "1 1/2", "40 in"]


def test_the_first_of_alike_pieces_carries_the_letter() -> None:
    letters = [one.text for one in all_of(drawn(), Letter)]
    assert letters == ["a", "a", "b", "a", "b"]  # the last two are the key


def test_what_is_left_of_the_bought_length_is_told() -> None:
    assert "7 1/2 in left" in [label.text for label in all_of(drawn(), Label)]
    assert drawn_length(LAY, Fraction(18)) == 18
    assert drawn_length(LAY) == Fraction("10.5")


def test_of_a_long_lay_each_sort_of_strip_is_drawn_once() -> None:
    made = lay(*(Cut(W, p.height, p.along, p.parts, times=60) for p in LAY.cut.parts))
    assert made.length > ALL_DRAWN
    scene = drawn(made, bought="400")
    assert drawn_length(made, Fraction(400)) == 6
    texts = [label.text for label in all_of(scene, Label)]
    assert texts.count("cut 60") == 2
    assert len([s for s in all_of(scene, Stroke) if s.kind == "cut"]) == 1


def test_narrow_strips_do_not_tread_on_each_other() -> None:
    known = kinds(
        *(piece(f"A{letter}", 5 - n * Fraction("0.5")) for n, letter in enumerate("abcdefgh"))
    )
    strips = [
        strip(str(side), Cut(side, side, piece=name))
        for name, side in ((kind.demand.name, kind.sides[0]) for kind in known.values())
    ]
    for bought in ("27", "36"):
        scene = drawn(lay(*strips), known, bought)
        assert clashes(place(scene, lay_scale(lay(*strips), Fraction(bought)))) == ()


def test_diamonds_are_slanted() -> None:
    diamond = piece("Aa", 3, 3, 8, shape="diamond", angle=45)
    known = kinds(diamond)
    row = known["Aa"].demand.row
    assert row is not None
    cut = Cut(row.offset + 8 * row.pitch, Fraction(3), piece="Aa", slope=45.0, pieces=8)
    cloth = [c for c in all_of(drawn(lay(strip("3", cut)), known, None), Cloth) if not c.veiled]
    assert len(cloth) == 8
    (x0, y0), (x1, y1), *_ = cloth[0].corners
    assert (x1 - x0, y1 - y0) == pytest.approx((3, 3))


def test_triangles_stand_on_their_heads_by_turns() -> None:
    high, side = Fraction("3.5"), Fraction(4)
    outline = tuple((Fraction(x), Fraction(y)) for x, y in ((0, "3.5"), (2, 0), (4, "3.5")))
    known = kinds(piece("Aa", high, side, 3, shape="triangle", corners=outline, angle=60))
    cut = Cut(Fraction(8), high, piece="Aa", slope=60.0, pieces=3)
    cloth = [c for c in all_of(drawn(lay(strip("3.5", cut)), known, None), Cloth) if not c.veiled]
    assert [len(c.corners) for c in cloth] == [3, 3, 3]
    bases = [sorted(x for x, _ in c.corners).count(0.0) for c in cloth]
    assert bases == [2, 1, 2]


def test_cloth_cut_lengthwise_first() -> None:
    border = Cut(Fraction(6), Fraction(60), piece="Aa", times=2)
    whole = Cut(W, Fraction(60), "length", (border, Cut(Fraction(28), Fraction(60))))
    made = Lay("a", "yardage", W, Fraction(60), whole, 1, 1.0, 1.0, False)
    scene = drawn(made, kinds(piece("Aa", 6, 60, 2, grain="length")), None)
    cuts = [s.points for s in all_of(scene, Stroke) if s.kind == "cut"]
    assert cuts == [((0.0, 6.0), (60.0, 6.0)), ((0.0, 12.0), (60.0, 12.0))]


def test_a_lay_that_could_not_be_read_is_drawn_in_parts() -> None:
    wide = strip("4.5", Cut(Fraction("4.5"), Fraction("4.5"), piece="Aa", times=8), times=12)
    narrow = strip("1.5", Cut(Fraction("1.5"), Fraction("1.5"), piece="Ab", times=20), times=20)
    made = lay(wide, narrow)
    parts = drawings(made)
    assert [part.cut.parts for part in parts] == [(wide,), (narrow,)]
    assert sum(part.length for part in parts) == made.length
    assert drawings(LAY) == (LAY,)
    for part in parts:
        assert clashes(place(drawn(part, bought=None), lay_scale(part))) == ()


def test_lengths_that_come_first_have_a_drawing_of_their_own() -> None:
    border = Cut(W, Fraction(90), "length", (Cut(W, Fraction(90), piece="Border"),))
    made = lay(border, *LAY.cut.parts, *LAY.cut.parts)
    assert made.length > ALL_DRAWN
    assert [len(part.cut.parts) for part in drawings(made, {"Border"})] == [1, 4]
