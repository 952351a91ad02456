"""Settings that come nearest to a size."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.errors import InputError
from seamproof.setting.targets import TARGETS, nearest
from tests.setting import tops
from tests.setting.tops import SETTINGS, block

STAR = block("Star")
SETTING = tops.straight(*["Star " * 3] * 4, sash=2)


def test_a_throw_from_twelve_blocks_comes_out_to_the_inch() -> None:
    (found,) = nearest(SETTING, [STAR], ["throw"], SETTINGS)
    assert found.once is not None
    assert found.once.off == (0, 0)
    assert (found.once.columns, found.once.rows, found.once.copies) == (3, 4, 12)
    assert found.as_set is not None
    assert found.as_set.size == (44, 58)


def test_more_blocks_come_nearer_to_a_bed() -> None:
    for name in ("twin", "queen", "king"):
        (found,) = nearest(SETTING, [STAR], [name], SETTINGS)
        assert found.once is not None
        assert found.more is not None
        assert found.on_point is not None
        assert sum(map(abs, found.more.off)) <= sum(map(abs, found.once.off))
        assert found.on_point.way == "on point"


def test_what_is_told_is_what_the_top_would_be() -> None:
    (found,) = nearest(SETTING, [STAR], ["wall"], SETTINGS)
    for made in (found.once, found.more, found.on_point):
        assert made is not None
        target = TARGETS["wall"]
        assert made.off == (made.size[0] - target.width, made.size[1] - target.height)
        assert made.pieces > 0
        assert made.cloth > 0


def test_oblong_blocks_are_not_put_on_point() -> None:
    (found,) = nearest(tops.straight("Long"), [block("Long", 9, 12)], ["crib"], SETTINGS)
    assert found.on_point is None
    assert found.more is not None


def test_sashing_stays_where_blocks_are_repeated() -> None:
    wide = replace(SETTING, sashing=tops.strip(3, "f"))
    (found,) = nearest(wide, [STAR], ["twin"], SETTINGS)
    assert found.more is not None
    assert found.more.sash == Fraction(3)


def test_an_unknown_size_is_refused() -> None:
    with pytest.raises(InputError, match=r"no size called .*wall"):
        nearest(SETTING, [STAR], ["barn"], SETTINGS)
