"""What a top asks of the cloth: every piece of it, joined only where it must be."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from fractions import Fraction
from typing import Any

import pytest

from seamproof.cloth.pooling import Joined
from seamproof.cloth.tops import BACKING, BINDING, Asked, asked_by, backing_cloth, binding_cloth
from seamproof.cutting.model import Piece
from seamproof.setting.model import (
    BackingAsked,
    BindingAsked,
    BorderAsked,
    Setting,
    Top,
)
from tests.setting.tops import block, on_point, straight, strip, top_of

SEAM = Fraction(1, 4)
CLOTHS = (*"abcdef", BINDING, BACKING)


def asked(
    setting: Setting, *, width: int = 40, directional: Collection[str] = (), side: int = 12
) -> Asked:
    usable = {letter: Fraction(width) for letter in CLOTHS}
    top = top_of(setting, block("Star", side))
    return asked_by(top, setting, usable, seam=SEAM, directional=directional)


def pieces(made: Asked, name: str) -> list[Piece]:
    return [piece for source in made.sources if source.name == name for piece in source.pieces]


def sizes(made: Asked, name: str) -> list[tuple[float, float, int]]:
    return [(p.width.need, p.height.need, p.count) for p in pieces(made, name)]


def joined(made: Asked, name: str) -> list[Joined]:
    return [one for one in made.joined if one.name == name]


def test_sashes_and_cornerstones() -> None:
    made = asked(straight("Star Star", "Star Star", sash=2))
    assert sizes(made, "sash") == [(2.5, 12.5, 12)]
    assert sizes(made, "cornerstone") == [(2.5, 2.5, 9)]
    assert {p.fabric for p in pieces(made, "sash")} == {"f"}


def test_setting_triangles_are_squares_that_are_parted() -> None:
    made = asked(on_point("Star Star", "Star", "Star Star"))
    (side,) = pieces(made, "setting triangle")
    (corner,) = pieces(made, "corner triangle")
    assert (side.split, side.count, corner.split, corner.count) == ("twice", 1, "once", 2)


def test_a_border_across_the_cloth_is_joined_where_it_is_too_long() -> None:
    border = BorderAsked(Fraction(4), "d")
    short = asked(straight("Star Star", borders=(border,)))
    assert sizes(short, "border strip") == [(4.5, 12.5, 2), (4.5, 32.5, 2)]
    assert joined(short, "border strip") == []
    long = asked(straight("Star Star Star", borders=(border,)))
    (one,) = joined(long, "border strip")
    assert (one.width, one.length, one.join) == (Fraction("4.5"), 2 * Fraction("44.5"), 2 * SEAM)
    assert sizes(long, "border strip") == [(4.5, 12.5, 2)]
    assert one.strips(Fraction(40)) == 3


def test_a_lengthwise_border_comes_first_and_is_never_joined() -> None:
    border = BorderAsked(Fraction(4), "d", lengthwise=True)
    made = asked(straight("Star Star Star Star", borders=(border,)))
    first = [source for source in made.sources if source.first]
    assert [source.name for source in first] == ["border strip", "border strip", "backing"]
    assert {p.grain for p in pieces(made, "border strip")} == {"length"}
    assert joined(made, "border strip") == []


def test_a_long_sash_is_joined() -> None:
    setting = straight("Star Star Star Star", "Star Star Star Star", sashing=strip(2, "f"))
    (one,) = joined(asked(setting), "sash")
    assert (one.width, one.join) == (Fraction("2.5"), 2 * SEAM)
    assert one.length > 3 * 40


def test_binding_is_joined_on_the_slant() -> None:
    made = asked(straight("Star Star", binding=BindingAsked("d")))
    (one,) = joined(made, "binding strip")
    assert (one.fabric, one.length, one.join) == ("d", 2 * (24 + 12) + 20, Fraction("2.5"))


def test_bias_binding_is_one_square() -> None:
    made = asked(straight("Star Star", binding=BindingAsked("d", way="bias")))
    (square,) = pieces(made, "binding square")
    assert square.width == square.height
    assert joined(made, "binding strip") == []


def test_what_has_no_fabric_is_cloth_of_its_own() -> None:
    setting = straight("Star Star")
    made = asked(setting)
    assert {one.fabric for one in made.joined} == {BINDING}
    assert {p.fabric for p in pieces(made, "backing")} == {BACKING}
    top = top_of(setting, block("Star"))
    assert (binding_cloth(top), backing_cloth(top, setting)) == (BINDING, BACKING)


def test_a_wide_backing_is_another_bolt() -> None:
    wide = straight("Star Star", backing=BackingAsked("a", Fraction(108)))
    plain = straight("Star Star", backing=BackingAsked("a"))
    top = top_of(plain, block("Star"))
    assert (backing_cloth(top, plain), backing_cloth(top, wide)) == ("a", BACKING)


def covered(made: Asked, seam: Fraction) -> Fraction:
    """How wide a backing is that is sewn of its panels side by side, seams upright or level."""
    panels = pieces(made, "backing")
    count = sum(p.count for p in panels)
    across = sum(
        ((p.width if p.grain == "length" else p.height).ruler * p.count for p in panels),
        Fraction(0),
    )
    return across - (count - 1) * 2 * seam


@pytest.mark.parametrize("columns", [1, 2, 3, 5, 7])
@pytest.mark.parametrize("rows", [1, 3, 6])
def test_the_panels_of_a_backing_cover_it_to_the_inch(columns: int, rows: int) -> None:
    setting = straight(*[" ".join(["Star"] * columns)] * rows)
    made = asked(setting)
    over = {Fraction(12 * columns + 8), Fraction(12 * rows + 8)}
    panels = pieces(made, "backing")
    long = {(p.height if p.grain == "length" else p.width).ruler for p in panels}
    assert len(long) == 1
    assert covered(made, Fraction(1, 2)) in over
    assert {*long, covered(made, Fraction(1, 2))} == over


def test_a_backing_with_a_direction_stands() -> None:
    setting = straight("Star Star Star", "Star Star Star", backing=BackingAsked("a"))
    level, upright = asked(setting), asked(setting, directional="a")
    assert {p.height.ruler for p in pieces(level, "backing")} == {44}
    assert {p.height.ruler for p in pieces(upright, "backing")} == {32, 40}


def test_strips_of_a_print_with_a_direction_stand_or_lie() -> None:
    made = asked(straight("Star Star", "Star Star", sash=2), directional="f")
    grains = Counter[str]()
    for piece in pieces(made, "sash"):
        grains[piece.grain] += piece.count
    assert grains == {"length": 6, "cross": 6}


def test_every_piece_of_the_top_is_asked_for() -> None:
    border = BorderAsked(Fraction(3), "d", corners="squares", squares="e")
    setting = straight("Star Star", "Star plain-c", sash=2, borders=(border,), sleeve=strip(4, "a"))
    top: Top = top_of(setting, block("Star"))
    made = asked(setting)
    counts: dict[str, Any] = Counter()
    for source in made.sources:
        counts[source.name] += sum(piece.count for piece in source.pieces)
    for one in made.joined:
        counts[one.name] += 0
    for piece in top.pieces:
        assert counts[piece.name] > 0 or joined(made, piece.name), piece.name
    assert counts["plain block"] == 1
    assert counts["corner square"] == 4
