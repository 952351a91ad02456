"""What is told of many makers, and who of them is shown."""

from __future__ import annotations

import numpy as np

from seamproof.accuracy.model import MAKERS
from seamproof.accuracy.rehearsing import rehearse
from seamproof.accuracy.workshop import Setup
from tests.accuracy.reference_blocks import FOUR_PATCH, planned


def test_the_hundred_who_are_shown_stand_for_all() -> None:
    setup = Setup(planned(FOUR_PATCH, 6))
    told = rehearse(setup, MAKERS["new"], np.random.default_rng(1), makers=4000)
    assert len(told.shown) == 100
    worst = [max(abs(w - 6.5), abs(h - 6.5)) for w, h in told.shown]
    for tolerance, share in told.within:
        assert abs(sum(off <= tolerance for off in worst) - 100 * share) <= 1


def test_of_few_makers_all_are_shown_once() -> None:
    setup = Setup(planned(FOUR_PATCH, 6))
    told = rehearse(setup, MAKERS["new"], np.random.default_rng(1), makers=60)
    assert len(set(told.shown)) == 60
