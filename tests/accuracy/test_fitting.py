"""Profiles from units and blocks."""

from __future__ import annotations

import math
import random
from fractions import Fraction

import pytest

from seamproof.accuracy.fitting import (
    SewnBlock,
    fit_blocks,
    fit_units,
    measured_maker,
    nearest_preset,
)
from seamproof.accuracy.model import MAKERS
from seamproof.accuracy.spare_cloth import SewnUnits
from seamproof.accuracy.strip_test import StripSet, fit_strips
from tests.accuracy.sewist import strips, triangles


def test_units_tell_the_seam_as_often_as_they_say() -> None:
    die = random.Random(3)
    runs, held = 800, 0
    for _ in range(runs):
        seam = die.gauss(0, 1 / 32)
        raw = triangles(die, count=6, cut=4.0, seam=seam, scatter=1 / 64, error=1 / 64)
        sewn = SewnUnits("half-square triangle", Fraction(3), Fraction(4), raw=tuple(raw))
        known = fit_units(sewn).takes_up
        held += known.low <= 2 * seam <= known.high
    assert abs(held / runs - 0.9) < 4 * math.sqrt(0.9 * 0.1 / runs)


def test_blocks_tell_the_seam_as_often_as_they_say() -> None:
    """Nine-patches whose makers differ as the prior says."""
    die = random.Random(5)
    runs, held = 2000, 0
    for _ in range(runs):
        takes_up = die.gauss(0.031, 0.05)
        short = 2 * takes_up
        short += sum(2 * die.gauss(0, 1 / 64) for _ in range(2))
        short += sum(die.gauss(0, 1 / 64) for _ in range(3)) + die.gauss(0, 1 / 128)
        known = fit_blocks([SewnBlock(short, 2, 3)]).takes_up
        held += known.low <= takes_up <= known.high
    assert abs(held / runs - 0.9) < 4 * math.sqrt(0.9 * 0.1 / runs)


def test_more_blocks_are_surer() -> None:
    one = fit_blocks([SewnBlock(0.25, 2, 3)])
    six = fit_blocks([SewnBlock(0.25, 2, 3)] * 6)
    assert six.takes_up.sd < one.takes_up.sd / 2
    assert six.takes_up.value == pytest.approx(0.125, abs=0.005)


def test_a_profile_of_three_sets_is_near_the_maker() -> None:
    die = random.Random(11)
    sets = []
    for _ in range(3):
        made = strips(
            die,
            count=6,
            width=1.5 + 1 / 64,
            seam=0.03,
            scatter=1 / 64,
            cut=1 / 50,
            fold=0.015,
            reading=1 / 128,
            places=3,
        )
        sets.append(
            StripSet(
                tuple(made["cuts"]),
                True,
                tuple(made["side"]),
                tuple(made["open"]),
                tuple(made["inner"]),
            )
        )
    fit = fit_strips(sets)
    maker = measured_maker("ada", fit, sets=sets, planned=(1.5,) * 3)
    assert not maker.assumed
    assert maker.seam == pytest.approx(0.03, abs=3 * fit.seam.sd)
    assert maker.between == fit.seam.sd < 0.01
    assert maker.fold == pytest.approx(0.015, abs=0.001)
    assert maker.cut == pytest.approx(1 / 50, rel=0.5)
    assert maker.cut_bias == pytest.approx(1 / 64, abs=0.012)
    assert maker.trim == MAKERS["everyday"].trim


def test_what_was_not_measured_is_that_of_the_preset() -> None:
    fit = fit_strips([StripSet((1.5,) * 4, side=(4.4,))])
    maker = measured_maker("ada", fit, like=MAKERS["new"])
    assert (maker.scatter, maker.cut, maker.pin) == (
        MAKERS["new"].scatter,
        MAKERS["new"].cut,
        MAKERS["new"].pin,
    )


def test_the_nearest_preset() -> None:
    assert nearest_preset(0.007).name == "careful"
    assert nearest_preset(None).name == "everyday"


def test_what_tells_nothing_is_refused() -> None:
    overhangs = SewnUnits("half-square triangle", Fraction(3), Fraction(4), overhangs=(0.1, 0.1))
    with pytest.raises(ValueError, match="raw sizes"):
        fit_units(overhangs)
    with pytest.raises(ValueError, match="no block"):
        fit_blocks([SewnBlock(0.1, 0, 1)])
