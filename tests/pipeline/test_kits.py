"""Sixty kits of one block, from its file."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from seamproof.pipeline.kits import KitWishes, work_kits
from seamproof.programme.model import Level

QUILT = """\
name: Stars
fabrics:
  - {letter: s, name: Star, usable width: 42}
  - {letter: g, name: Ground, usable width: 42}
preferences: {sizes: exact}
"""

STAR = """\
name: Friendship star
finished: 12
cells:
  - g    g/s  g
  - g\\s  s    s\\g
  - g    s/g  g
"""


@pytest.fixture
def block(tmp_path: Path) -> Path:
    (tmp_path / "quilt.yaml").write_text(QUILT, encoding="utf-8")
    made = tmp_path / "star.yaml"
    made.write_text(STAR, encoding="utf-8")
    return made


def test_sixty_friendship_stars_in_the_exact_form(block: Path) -> None:
    """104 5/8 in of star and 194 5/8 in of ground before rounding: calculated, see
    tests/programme/test_kits.py."""
    made = work_kits(block, KitWishes(people=60, quick=True))
    bare = {one.fabric.letter: one.kit.bare for one in made.fabrics}
    assert bare == {"s": Fraction("104.625"), "g": Fraction("194.625")}
    told = {one.fabric.letter: made.buying.told(one.buy) for one in made.fabrics}
    assert told == {"s": "3 yd", "g": "5 1/2 yd"}


def test_sixty_three_take_one_strip_more(block: Path) -> None:
    """As somebody reckoned by hand: 16 and 7 strips of star, 16 and 28 of ground."""
    made = work_kits(block, KitWishes(people=60, spares=Fraction(5, 100), quick=True))
    strips = {
        (one.fabric.letter, across.height): 0 for one in made.fabrics for across in one.kit.across
    }
    for one in made.fabrics:
        for across in one.kit.across:
            strips[one.fabric.letter, across.height] += across.times
    wide, narrow = Fraction("4.875"), Fraction("4.5")
    assert strips == {("s", wide): 16, ("s", narrow): 7, ("g", wide): 16, ("g", narrow): 28}
    assert [one.kit.bag.pieces for one in made.fabrics] == [
        (("Ga", 2), ("Gb", 4)),
        (("Sa", 2), ("Sb", 1)),
    ]


@pytest.mark.parametrize("level", ["yardage", "strips"])
def test_levels_that_are_not_pooled_grow_with_the_kits(block: Path, level: Level) -> None:
    one = work_kits(block, KitWishes(people=1, level=level, quick=True))
    many = work_kits(block, KitWishes(people=60, level=level, quick=True))
    assert [f.kit.bare * 60 for f in one.fabrics] == [f.kit.bare for f in many.fabrics]


def test_pooled_cloth_is_never_more_than_one_kit_so_often(block: Path) -> None:
    one = work_kits(block, KitWishes(people=1, quick=True))
    for people in (2, 7, 60, 999):
        many = work_kits(block, KitWishes(people=people, quick=True))
        for single, pooled in zip(one.fabrics, many.fabrics, strict=True):
            assert pooled.kit.bare <= single.kit.bare * people


def test_few_settings_are_never_said_to_be_shorter_than_the_shortest(block: Path) -> None:
    made = work_kits(block, KitWishes(people=7))
    assert all(one.kit.best is not None and one.kit.best <= one.kit.bare for one in made.fabrics)


def test_in_centimetres_everything_lies_on_the_marks(tmp_path: Path) -> None:
    metric = QUILT.replace("sizes: exact", "measure: cm").replace("42", "100")
    (tmp_path / "quilt.yaml").write_text(metric, encoding="utf-8")
    star = tmp_path / "star.yaml"
    star.write_text(STAR.replace("finished: 12", "finished: 30"), encoding="utf-8")
    made = work_kits(star, KitWishes(people=60, quick=True))
    for one in made.fabrics:
        steps = one.kit.bare / (Fraction(100, 254) / 4)
        assert steps.denominator == 1
        assert made.buying.told(one.buy).endswith(" m")


def test_what_is_bought_is_enough_for_the_bolts_that_are_cut(block: Path) -> None:
    """Every bolt loses an inch to straightening and has an end that is too short for a strip: a
    length that is worked out as if it came from one bolt would not do."""
    programme = """\
blocks: [star]
programme:
  start: 2027-01-09
  people: 60
  bolt: 1 yd
  releases: [Friendship star]
"""
    (block.parent / "quilt.yaml").write_text(QUILT + programme, encoding="utf-8")
    work = work_kits(block, KitWishes(people=60))
    assert any(sum(use.times for use in fabric.bolts) > 1 for fabric in work.fabrics)
    for fabric in work.fabrics:
        taken = sum(use.length * use.times for use in fabric.bolts) - fabric.bolts[-1].end
        assert fabric.buy >= taken > fabric.kit.bare
