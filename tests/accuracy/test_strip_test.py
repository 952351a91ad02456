"""The fit finds the maker it was given, as often as it says it does."""

from __future__ import annotations

import math
import random

import pytest

from seamproof.accuracy.strip_test import Known, StripSet, fit_strips, fold_of
from tests.accuracy.sewist import strips

MAKERS = 300
FEW_PERCENT = 4.5 * math.sqrt(0.9 * 0.1 / MAKERS)
"""Four and a half standard errors of a share of 0.9: what a right fit stays within."""


def sewn(die: random.Random, seam: float, scatter: float, **design: bool | int) -> StripSet:
    made = strips(
        die,
        count=int(design["count"]),
        width=1.5,
        seam=seam,
        scatter=scatter,
        cut=1 / 64,
        fold=0.01,
        reading=1 / 128,
        places=3,
    )
    measured = bool(design.get("measured"))
    return StripSet(
        cuts=tuple(made["cuts"]) if measured else (1.5,) * int(design["count"]),
        measured=measured,
        side=tuple(made["side"]),
        open=tuple(made["open"]) if design.get("both") else (),
        inner=tuple(made["inner"]),
    )


def covered(known: Known, truth: float) -> bool:
    return known.low <= truth <= known.high


def as_stated(held: int) -> bool:
    """Whether limits that say 90 of 100 held for so many of `MAKERS`."""
    return abs(held / MAKERS - 0.9) < FEW_PERCENT


def test_limits_half_or_twice_as_wide_would_be_noticed() -> None:
    die = random.Random(20240)
    held = {0.5: 0, 1.0: 0, 2.0: 0}
    for _ in range(MAKERS):
        seam, scatter = die.gauss(0, 0.025), math.exp(die.gauss(math.log(1 / 64), 0.8))
        known = fit_strips([sewn(die, seam, scatter, count=3, measured=True)]).takes_up
        middle, reach = (known.high + known.low) / 2, (known.high - known.low) / 2
        for wrong in held:
            stated = Known(middle, known.sd, middle - wrong * reach, middle + wrong * reach)
            held[wrong] += covered(stated, 2 * seam + math.pi * 0.01)
    assert {wrong: as_stated(times) for wrong, times in held.items()} == {
        0.5: False,
        1.0: True,
        2.0: False,
    }


@pytest.mark.parametrize(
    ("design", "within"),
    [
        ({"count": 3}, 0.034),
        ({"count": 6}, 0.024),
        ({"count": 6, "measured": True}, 0.022),
        ({"count": 6, "sets": 3}, 0.018),
    ],
    ids=["three strips", "six strips", "six strips, cuts measured", "three sets of six"],
)
def test_the_take_up_is_found_within_the_stated_limits(
    design: dict[str, int], within: float
) -> None:
    die = random.Random(20240)
    errors: list[float] = []
    held, held_scatter = 0, 0
    for _ in range(MAKERS):
        seam = die.gauss(0, 0.025)
        scatter = math.exp(die.gauss(math.log(1 / 64), 0.8))
        sets = [sewn(die, seam, scatter, **design) for _ in range(design.get("sets", 1))]
        fit = fit_strips(sets)
        truth = 2 * seam + math.pi * 0.01
        errors.append(fit.takes_up.value - truth)
        held += covered(fit.takes_up, truth)
        assert fit.scatter is not None
        held_scatter += covered(fit.scatter, scatter)
    rms = math.sqrt(sum(error**2 for error in errors) / MAKERS)
    assert rms < within
    assert as_stated(held)
    assert as_stated(held_scatter)


def test_three_sets_of_six_by_an_everyday_maker_are_right_to_a_hundredth() -> None:
    die = random.Random(7)
    errors = []
    for _ in range(60):
        seam = die.gauss(0, 0.025)
        fit = fit_strips([sewn(die, seam, 1 / 64, count=6) for _ in range(3)])
        errors.append(fit.takes_up.value - 2 * seam - math.pi * 0.01)
    assert math.sqrt(sum(error**2 for error in errors) / 60) < 0.0125


def test_exact_strips_have_an_exact_seam() -> None:
    """Nothing taken up, read by a ruler: what is left is the prior, a hundredth of its width."""
    fit = fit_strips([StripSet((1.5,) * 10, measured=True, side=(10.5,) * 3, inner=(1.0,) * 8)])
    assert fit.takes_up.value == pytest.approx(0, abs=0.002)
    assert fit.seam.value == pytest.approx(-math.pi * 0.01 / 2, abs=0.002)


def test_the_published_ten_strips() -> None:
    """Ten strips of 1 1/2 in came to 10 1/8 in: 3/8 in short over nine seams."""
    fit = fit_strips([StripSet((1.5,) * 10, side=(10.125,))])
    assert fit.takes_up.value == pytest.approx(0.375 / 9, abs=0.003)
    assert fit.scatter is None


def test_another_allowance_is_reckoned_with() -> None:
    """Strips of 4 cm sewn with 0.75 cm: five of them are 14 cm across."""
    cm = 1 / 2.54
    metric = StripSet((4 * cm,) * 5, side=(14 * cm,) * 3)
    inches = StripSet((1.5,) * 5, side=(5.5,) * 3)
    assert fit_strips([metric], seam=0.75 * cm).takes_up.value == pytest.approx(
        fit_strips([inches]).takes_up.value
    )


def test_pressing_both_ways_tells_the_fold() -> None:
    both = StripSet((1.5,) * 6, side=(6.3, 6.3), open=(6.5, 6.5))
    fold, measured = fold_of([both])
    assert measured
    assert fold.value == pytest.approx(0.02, abs=0.001)
    usual, measured = fold_of([StripSet((1.5,) * 6, side=(6.3,))])
    assert (usual.value, measured) == (0.01, False)


def test_a_set_measured_open_only_is_brought_to_one_side() -> None:
    side = fit_strips([StripSet((1.5,) * 6, side=(6.3,) * 3)])
    opened = fit_strips([StripSet((1.5,) * 6, open=(6.4,) * 3)])  # 2 x 0.01 a seam more
    assert opened.takes_up.value == pytest.approx(side.takes_up.value, abs=0.002)
    assert opened.takes_up.sd > side.takes_up.sd


@pytest.mark.parametrize(
    "wrong",
    [
        StripSet((1.5,), side=(1.5,)),
        StripSet((1.5, 1.5)),
        StripSet((1.5,) * 4, side=(4.5,), inner=(1.0,)),
    ],
    ids=["one strip", "nothing measured", "an inner strip is missing"],
)
def test_half_a_strip_test_is_refused(wrong: StripSet) -> None:
    with pytest.raises(ValueError, match="strip test needs"):
        fit_strips([wrong])
