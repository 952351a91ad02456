"""Spreads that can be written down, and the published examples of adding errors up."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from statistics import NormalDist

import numpy as np
import pytest

from seamproof.accuracy.edges import WIDTH
from seamproof.accuracy.forecasting import linear
from seamproof.accuracy.model import EXACT, Maker
from seamproof.accuracy.sampling import draw
from seamproof.accuracy.sewing import COMMON, Matching
from seamproof.accuracy.spreads import common, deviations
from seamproof.accuracy.workshop import Workshop
from tests.accuracy.reference_blocks import FOUR_PATCH, SPARE, Values, workshop

# As in the model's own examples.
CUT, SCATTER, FOLD = 0.02, 0.015, 0.01
MAKER = replace(EXACT, cut=CUT, scatter=SCATTER, fold=FOLD, pin=0.01)


def row_of(count: int) -> Workshop:
    """Strips 1 1/2 in wide, finished, in a row."""
    return workshop(" ".join("abcdefgh"[:count]), Fraction(3, 2) * count, 3)


def width_sd(shop: Workshop, maker: Maker) -> float:
    parts = linear(shop).parts(maker).values()
    return math.sqrt(sum(float(part[WIDTH, WIDTH]) for part in parts))


@pytest.mark.parametrize("count", [2, 3, 5, 8])
def test_a_row_of_strips(count: int) -> None:
    seams = count - 1
    own = count * CUT**2 + seams * 4 * SCATTER**2
    assert width_sd(row_of(count), MAKER) == pytest.approx(math.sqrt(own))
    differing = replace(MAKER, between=0.02)
    shared = (2 * seams * 0.02) ** 2
    assert width_sd(row_of(count), differing) == pytest.approx(math.sqrt(own + shared))
    wide = replace(MAKER, seam=0.01)
    taken = seams * (2 * 0.01 + math.pi * FOLD)
    assert linear(row_of(count)).mean(wide)[WIDTH] == pytest.approx(-taken)


CROSSINGS: dict[Matching, float] = {
    "start": math.sqrt(2 * CUT**2 + 2 * SCATTER**2),
    "centre": CUT,
    "nest": 0.01,
}


def marks(shop: Workshop, maker: Maker) -> tuple[Values, Values]:
    """Means, and the weights of single errors times their spread, of the marks inside a block."""
    made = shop.made(shop.plan.whole)
    means = made.marked[:, :COMMON] @ common(maker)
    return means, made.marked[:, COMMON:] * deviations(maker, made.errors)


@pytest.mark.parametrize("matching", CROSSINGS)
def test_the_crossing_of_a_four_patch(matching: Matching) -> None:
    means, weights = marks(workshop(FOUR_PATCH, 6, matching=matching), MAKER)
    assert np.linalg.norm(weights[0]) == pytest.approx(CROSSINGS[matching])
    # Its two rows are one part, turned: so they are pressed opposite ways, and the fold shows.
    shows = (math.pi - 2) * FOLD if matching != "nest" else 0.0
    assert abs(means[0]) == pytest.approx(shows, abs=1e-12)


def test_a_nine_patch_whose_seams_nest() -> None:
    maker = replace(MAKER, pin=0.0)
    shop = workshop("a b c\nd e f\ng h i", 9)
    _, weights = marks(shop, maker)
    crossing = math.sqrt(CUT**2 / 2 + SCATTER**2)
    assert [np.linalg.norm(row) for row in weights] == pytest.approx([crossing] * 4)
    ease = math.sqrt(2 * CUT**2 + 4 * SCATTER**2)
    assert np.linalg.norm(weights[0] - weights[1]) == pytest.approx(ease)
    width = math.sqrt((3 * CUT**2 + 8 * SCATTER**2) / 3)
    assert width_sd(shop, maker) == pytest.approx(width)


def test_the_worst_case_of_a_row_adds_up_and_the_usual_one_by_squares() -> None:
    """Two allowances for each seam: `limit` each at worst."""
    shop = row_of(5)
    made = shop.made(shop.plan.whole)
    weights = (shop.edges().weights @ made.table)[WIDTH, COMMON:]
    seams = [w for w, error in zip(weights, made.errors, strict=True) if error == "seam scatter"]
    limit = 1 / 32
    assert sum(abs(w) * limit for w in seams) == pytest.approx(4 * 2 * limit)
    assert math.hypot(*(w * limit for w in seams)) == pytest.approx(math.sqrt(4) * 2 * limit)


def test_a_half_square_triangle_before_it_is_trimmed() -> None:
    """Of squares cut F + 7/8: what they have to spare, less what the seam takes, over the root of
    two. Its size is the mean of width and height, whose edges were cut one by one."""
    shop = workshop("a/b", 3, trim=False)
    maker = replace(MAKER, seam=0.01)
    taken = 2 * 0.01 + math.pi * FOLD
    assert linear(shop).mean(maker)[WIDTH] == pytest.approx(2 * SPARE - taken / math.sqrt(2))
    both = np.array([0.5, 0.5])
    parts = [part[:2, :2] for part in linear(shop).parts(maker).values()]
    size = math.sqrt(sum(float(both @ part @ both) for part in parts))
    assert size == pytest.approx(math.sqrt(CUT**2 / 2 + 2 * SCATTER**2))


def test_the_edges_of_an_untrimmed_triangle_end_on_its_seam() -> None:
    """A drawn line that is off by 1 moves the end of the edge beside it by the root of two. Two
    such ends and two square corners are brought together on average, so a half of their difference
    is left, a quarter on either side of the line through the edges below: the point lies off by
    3/4 of its own and 1/4 of its neighbour's. The ruler would have taken all of that away."""
    maker = replace(EXACT, mark=1.0)
    for trim, wanted in ((False, math.sqrt(2 * (9 + 1) / 16)), (True, 0.0)):
        shop = workshop("a\\b a/b\nb/a b\\a", 6, trim=trim)
        _, weights = marks(shop, maker)
        points = [
            float(np.linalg.norm(row))
            for mark, row in zip(shop.made(shop.plan.whole).marks, weights, strict=True)
            if mark.kind == "point" and abs(mark.at - (3 + 3j)) < 0.1
        ]
        assert points == pytest.approx([wanted] * 4, abs=1e-9)


def test_a_half_square_triangle_that_errs_in_its_seam_only() -> None:
    """Its slack is the smaller of two that differ by the fold: the chance is a normal one."""
    shop = workshop("a/b", 3)
    maker = replace(EXACT, scatter=SCATTER, fold=FOLD, seam=0.01)
    slack = draw(shop, maker, 20_000, np.random.default_rng(1)).slacks[shop.plan.whole]
    lost = math.sqrt(2) * (0.01 + (math.pi - 1) * FOLD)
    trimmable = NormalDist().cdf((2 * SPARE + 1 / 16 - lost) / (math.sqrt(2) * SCATTER))
    assert trimmable == pytest.approx(0.96876, abs=5e-6)
    error = math.sqrt(trimmable * (1 - trimmable) / 20_000)
    assert np.mean(slack >= -1 / 16) == pytest.approx(trimmable, abs=4 * error)


def test_a_line_drawn_beside_the_diagonal() -> None:
    """Slack is then the smaller of two that are jointly normal."""
    shop = workshop("a/b", 3)
    maker = replace(EXACT, scatter=SCATTER, fold=FOLD, seam=0.01, mark=0.0125)
    slack = draw(shop, maker, 20_000, np.random.default_rng(1)).slacks[shop.plan.whole]
    lots = np.random.default_rng(2).standard_normal((2, 200_000))
    two = [
        2 * SPARE
        - math.sqrt(2) * (0.01 + fold * FOLD + SCATTER * lots[0] + sign * 0.0125 * lots[1])
        for fold, sign in ((math.pi - 1, 1), (1, -1))
    ]
    expected = np.minimum(*two)
    assert slack.mean() == pytest.approx(expected.mean(), abs=4 * expected.std() / 140)
    assert slack.std() == pytest.approx(expected.std(), rel=0.03)


def test_apexes_of_trimmed_geese_lose_what_the_seam_takes() -> None:
    from tests.accuracy.reference_blocks import APEXES, drawn, marks_at, star

    outcome = drawn(star(), replace(EXACT, seam=1 / 32))
    assert marks_at(outcome, "point", APEXES) == pytest.approx(np.full((4, 20_000), -1 / 32))


def test_a_row_with_one_seam_more_is_that_much_shorter() -> None:
    from tests.accuracy.reference_blocks import JUNCTIONS, drawn, marks_at, star

    outcome = drawn(star(), replace(EXACT, seam=1 / 32))
    junctions = marks_at(outcome, "crossing", JUNCTIONS)
    assert np.abs(junctions) == pytest.approx(np.full((4, 20_000), 1 / 32), abs=1e-6)


class Rectangular:
    """Lots from a rectangle of standard deviation 1 instead of a normal curve."""

    def __init__(self, seed: int) -> None:
        self.lots = np.random.default_rng(seed)

    def standard_normal(
        self,
        size: int | tuple[int, ...] | None = None,
        dtype: type = np.float64,  # noqa: ARG002  `out` has it
        out: Values | None = None,
    ) -> Values:
        half = math.sqrt(3)
        drawn = self.lots.uniform(-half, half, size if out is None else out.shape)
        if out is not None:
            out[:] = drawn
        return drawn


MANY = 200_000


@pytest.mark.parametrize(
    ("lots", "between", "sd", "half"),
    [
        ("normal", 0.0, 2.00, 3.92),
        ("rectangular", 0.0, 2.00, 3.88),
        ("rectangular", 10 / 6, 10.1, 17.0),
    ],
)
def test_the_additive_examples_of_jcgm_101(
    lots: str, between: float, sd: float, half: float
) -> None:
    """JCGM 101:2008 (Supplement 1 to the GUM), clause 9.2: the sum of four errors of standard
    deviation 1, normal (9.2.2) and rectangular (9.2.3, its Table 3), and of three of them and one
    of 10 (9.2.4): standard deviation and 95 % interval by drawing lots. The supplement itself was
    not at hand. The first two are as told by others who cite it (2.00 and 3.88 also by the public
    tests of a library of acoustics, which name Table 3), the third is from memory; the test below
    derives all three.

    Ours are seams that scatter by 1/2, each of which counts twice; the large one is the maker's
    own bias, which goes six times into a row of four strips.
    """
    strips = 5 if not between else 4
    maker = replace(EXACT, scatter=0.5, between=between)
    generator = np.random.default_rng(1) if lots == "normal" else Rectangular(1)
    outcome = draw(row_of(strips), maker, MANY, generator, singly=True)  # type: ignore[arg-type]
    widths = outcome.edges[WIDTH]
    low, high = np.quantile(widths, (0.025, 0.975))
    error = sd / math.sqrt(2 * MANY)
    assert widths.std() == pytest.approx(sd, abs=4 * error + 0.005 * (1 if sd < 10 else 10))
    tail = 4 * math.sqrt(0.025 * 0.975 / MANY) / (0.05 / sd) / 2
    assert (high - low) / 2 == pytest.approx(half, abs=tail + (0.005 if half < 10 else 0.05))


@pytest.mark.parametrize(
    ("sds", "half"),
    [((1.0, 1.0, 1.0, 1.0), 3.88), ((1.0, 1.0, 1.0, 10.0), 17.0)],
)
def test_the_rectangular_examples_by_folding_their_curves(
    sds: tuple[float, ...], half: float
) -> None:
    """Without lots: the curve of a sum is the curves of its parts folded into each other. For four
    alike there is a closed form, 2 sqrt 3 (2 - 0.6^(1/4))."""
    step = 0.005
    curve = np.ones(1)
    for sd in sds:
        # The share of each step that lies under the rectangle, its two ends in part.
        reach = math.sqrt(3) * sd / step
        whole = math.floor(reach - 0.5)
        ends = [reach - 0.5 - whole]
        one = np.concatenate([ends, np.ones(2 * whole + 1), ends]) / (2 * reach)
        curve = np.convolve(curve, one)
    assert curve.sum() == pytest.approx(1.0)
    places = step * (np.arange(len(curve)) - len(curve) // 2 + 0.5)
    found = float(np.interp(0.975, np.cumsum(curve), places))
    assert found == pytest.approx(half, abs=0.005 if half < 10 else 0.05)
    if len(set(sds)) == 1:
        assert found == pytest.approx(2 * math.sqrt(3) * (2 - 0.6**0.25), abs=0.001)
    assert NormalDist(0, math.sqrt(4)).inv_cdf(0.975) == pytest.approx(3.92, abs=0.005)
