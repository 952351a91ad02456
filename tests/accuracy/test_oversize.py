"""How much larger to cut, so that nearly every maker can square up all she needs."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from seamproof.accuracy.model import MAKERS
from seamproof.accuracy.oversize import enough, unit_slack
from seamproof.accuracy.workshop import Setup, Squaring
from tests.accuracy.reference_blocks import GOOSE, HALF_SQUARE, workshop

FINE = Fraction(1, 1024)


def setup(cells: str, width: int, oversize: Fraction = Fraction(0)) -> Setup:
    """Units in a row, cut so much over F + 7/8 (and over F + 1 1/4)."""
    shop = workshop(cells, width, 3)
    squarings = {
        unit: Squaring(
            unit, one.kind, tuple(out + float(oversize) / 2 for out in one.planned), oversize
        )
        for unit, one in shop.squarings.items()
    }
    return Setup(shop.plan, squarings, shop.cut_apart, shop.presses)


def asked(made: Setup, share: int, maker: str = "everyday", step: Fraction = FINE) -> Fraction:
    wanted = {"half-square triangle": share, "flying geese": share}
    generator = np.random.default_rng(1)
    found = enough(made, MAKERS[maker], generator, wanted, step=step, makers=20_000)
    ((_, size),) = found
    return size


@pytest.mark.parametrize(
    ("maker", "least", "most"),
    [("careful", 0.054, 0.066), ("everyday", 0.150, 0.175), ("new", 0.321, 0.372)],
)
def test_eight_half_square_triangles_as_the_model_has_it(
    maker: str, least: float, most: float
) -> None:
    """From the model's own table, of 20,000 sewers."""
    made = setup(" ".join([HALF_SQUARE] * 8), 24)
    assert float(asked(made, 95, maker)) == pytest.approx(least, abs=0.008)
    assert float(asked(made, 99, maker)) == pytest.approx(most, abs=0.016)


def test_it_does_not_matter_what_was_cut_before() -> None:
    for cells, width in ((HALF_SQUARE, 3), (GOOSE, 6)):
        before, after = (
            asked(setup(cells, width, over), 95) for over in (Fraction(0), Fraction(1, 2))
        )
        assert float(before) == pytest.approx(float(after), abs=0.01)


def test_so_many_makers_can_with_it() -> None:
    cells = " ".join([GOOSE] * 4)
    size = asked(setup(cells, 24), 95)
    made = setup(cells, 24, size)
    shop = made.workshop()
    from seamproof.accuracy.sampling import squared_up

    slacks, least = squared_up(shop, MAKERS["everyday"], 20_000, np.random.default_rng(2))
    ((unit, squaring),) = made.squarings.items()
    told = unit_slack(squaring, shop.overhang(unit), slacks[unit], least[unit], Fraction(1, 8))
    assert told.makers == pytest.approx(0.95, abs=0.008)
    assert told.uses == 4
    assert told.trimmable > told.makers
    assert float(told.all95) == pytest.approx(float(size), abs=0.008)


def test_more_copies_need_no_less() -> None:
    sizes = [asked(setup(" ".join([HALF_SQUARE] * n), 3 * n), 95) for n in (1, 4, 12)]
    assert sizes == sorted(sizes)
    assert sizes[0] < sizes[-1]


def test_what_is_not_asked_for_is_not_told() -> None:
    made = setup(HALF_SQUARE, 3)
    generator = np.random.default_rng(1)
    nothing = enough(made, MAKERS["everyday"], generator, {"hourglass": 95}, step=FINE, makers=100)
    assert nothing == ()


def test_exact_makers_need_only_what_geometry_asks_for() -> None:
    exact = replace(MAKERS["everyday"], name="exact", fold=0.0, seam=0.0)
    still = replace(
        exact,
        **dict.fromkeys(
            ("cut", "tilt", "between", "scatter", "drift", "flush", "pin", "mark", "ruler", "trim"),
            0.0,
        ),
        stretch=0.0,
        stretch_scatter=0.0,
    )
    found = enough(
        setup(HALF_SQUARE, 3),
        still,
        np.random.default_rng(1),
        {"half-square triangle": 99},
        step=Fraction(1, 8),
        makers=100,
    )
    assert found == (("half-square triangle", 0),)
