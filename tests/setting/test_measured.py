"""Real blocks in the place of planned ones."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from seamproof.setting.model import Coping, Measured
from tests.setting import tops
from tests.setting.tops import block, strip, top_of

STAR, BOAT = block("Star"), block("Boat", 9)
SETTING = tops.straight("Star Boat", sash=2, coping=(Coping("Boat", (strip("3/2", "a"),)),))


def measured(name: str, width: str, height: str | None = None) -> Measured:
    return Measured(name, Fraction(width), Fraction(height or width))


def test_coping_is_recomputed() -> None:
    setting = replace(SETTING, measured=(measured("Boat", "9.25", "9.375"),))
    before, after = top_of(SETTING, STAR, BOAT), top_of(setting, STAR, BOAT)
    assert (after.width, after.height) == (before.width, before.height)
    (coped,) = after.coped
    (frame,) = coped.frames
    # 9 1/4 in raw is 8 3/4 in finished: (12 - 8 3/4) / 2 beside, (12 - 8 7/8) / 2 above
    assert (frame.beside, frame.above) == (Fraction(13, 8), Fraction(25, 16))
    strips = [p for p in after.pieces if p.name == "coping"]
    assert {(p.rounding, p.width.ruler) for p in strips} == {
        ("on the ruler", Fraction(17, 8)),
        ("trimmed", Fraction(17, 8)),  # 2 1/16 in, up to the mark
    }
    (advice,) = after.advice
    assert advice.what == "frame"
    (boat,) = [b for b in after.blocks if b.name == "Boat"]
    assert boat.scale == (Fraction("8.75") / 9, Fraction("8.875") / 9)


def test_bare_blocks_keep_the_cell_and_get_advice() -> None:
    cases = {
        "12.5": "fits",
        "12.375": "ease in",
        "12.25": "press again",
        "12": "frame",
        "13": "trim",
    }
    for size, what in cases.items():
        top = top_of(replace(SETTING, measured=(measured("Star", size),)), STAR, BOAT)
        assert [advice.what for advice in top.advice] == [what], size
        assert (top.width, top.height) == (2 * 12 + 3 * 2, 12 + 2 * 2)


def test_sashing_is_recomputed_so_that_the_top_keeps_its_size() -> None:
    top = top_of(replace(SETTING, measured=(measured("Star", "12.25"),)), STAR, BOAT)
    other = top.resashing
    assert other is not None
    assert other.cell == (Fraction("11.75"), Fraction("11.75"))
    assert 2 * other.cell[0] + 3 * other.beside == top.width
    assert other.cell[1] + 2 * other.above == top.height


def test_without_sashing_nothing_can_be_made_wider() -> None:
    setting = tops.straight("Star", measured=(measured("Star", "12.25"),))
    assert top_of(setting, STAR).resashing is None


def test_a_coping_trim_is_cut_wider() -> None:
    top = top_of(replace(SETTING, trim=Fraction(1, 4)), STAR, BOAT)
    strips = [p for p in top.pieces if p.name == "coping"]
    assert {p.width.ruler for p in strips} == {Fraction(9, 4)}
    assert {p.rounding for p in strips} == {"trimmed"}
