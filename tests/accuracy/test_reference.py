"""Every row of the table of an exact engine: to 1e-5 where nothing is drawn by lot, else within
four standard errors of the difference of two drawings of 20,000 makers."""

from __future__ import annotations

import functools
import math
import re
from collections import Counter
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from seamproof.accuracy.edges import DIAGONALS, HEIGHT, WIDTH
from seamproof.accuracy.forecasting import linear
from seamproof.accuracy.model import EXACT, Maker
from seamproof.accuracy.sewing import COMMON
from seamproof.accuracy.workshop import Workshop
from tests.accuracy.reference_blocks import (
    APEXES,
    FOUR_PATCH,
    GOOSE,
    HALF_SQUARE,
    JUNCTIONS,
    LEVELS,
    PINWHEEL,
    ROW_OF_FIVE,
    SAMPLES,
    SPARE,
    TIPS,
    Row,
    Values,
    calibrated,
    drawn,
    maker_of,
    marks_at,
    rows,
    star,
    workshop,
)

STANDARD_ERRORS = 4

APART: tuple[tuple[str, str, float, float], ...] = (
    # The corners of an untrimmed pinwheel, and how far its points spread: an exact simulation that
    # shares nothing with the engine agrees with it. These are held to that in
    # test_by_simulation.py.
    (r"pinwheel6 not trimmed.*practised", r"corner angle error deg (mean|p50)", 0.035, 0.0),
    (r"pinwheel6 not trimmed", r"clearance sd|centre spread", 0.05, 0.0),
    # The largest errors there are: we reckon in first order, the table does not.
    (r"pinwheel6 trimmed.*sewists differ.*beginner", r"largest corner .* mean", 0.02, 0.0),
    # An untrimmed star: 4 in 100 apart in the most careful hands only.
    (r"nothing trimmed.*practised", r"diagdiff", 0.05, 0.0),
)
"""Rows held less strictly, by pattern of case, parameters and level, and of metric: to this share
of their value, or, if they are shares themselves, to this much."""


def apart(row: Row) -> float:
    """How far a row may be off though it is no matter of luck."""
    return max(
        (
            absolute if figure(row.metric) == "share" else relative * abs(row.value)
            for case, metric, relative, absolute in APART
            if re.search(case, f"{row.case}, {row.parameters}, {row.level}")
            and re.search(metric, row.metric)
        ),
        default=0.0,
    )


Sample = tuple[Values, str]
"""What was drawn, and which figure of it is asked for: mean, sd, rms, p5, p50, p95, or share."""


def figure(metric: str) -> str:
    """The figure at the end of a metric's name."""
    for word in ("mean", "sd", "p5", "p50", "p95"):
        if metric.endswith((f" {word}", f"_{word}")):
            return word
    return "rms" if "rms" in metric else "sd" if metric.startswith("crossing sd") else "share"


def of_block(shop: Workshop, maker: Maker, row: Row) -> Sample | None:
    """What any block is asked: its width, its diagonals, its corners."""
    out = drawn(shop, maker)
    kind, metric = figure(row.metric), row.metric
    if metric.startswith(("raw width", "width_")):
        return out.edges[WIDTH], kind
    if metric.startswith(("diagonal difference", "diagdiff")):
        return np.abs(out.edges[DIAGONALS]), kind
    if metric.startswith("largest corner"):
        return np.degrees(np.abs(out.edges[3 : 3 + out.corners]).max(axis=0)), kind
    return None


def of_pinwheel(shop: Workshop, maker: Maker, row: Row) -> Sample:
    points = marks_at(drawn(shop, maker), "point", [3 + 3j])
    assert len(points) == 4
    if row.metric.startswith("share"):
        return (np.abs(points) > 1 / 32).astype(float), "share"
    if row.metric.startswith("centre spread"):
        return points.max(axis=0) - points.min(axis=0), "p95"
    return points, figure(row.metric)


def of_star(shop: Workshop, maker: Maker, row: Row) -> Sample:
    out, metric = drawn(shop, maker), row.metric
    off = np.abs(out.edges[[WIDTH, HEIGHT]]).max(axis=0)
    if metric == "within_1_8":
        return (off <= 1 / 8).astype(float), "share"
    if found := re.match(r"share of blocks within ([\d.]+)", metric):
        return (off <= float(found[1])).astype(float), "share"
    apexes, tips = marks_at(out, "point", APEXES), marks_at(out, "point", TIPS)
    assert (len(apexes), len(tips)) == (4, 8)
    if metric.startswith("share of blocks with no point"):
        return (np.concatenate([apexes, tips]).min(axis=0) >= -1 / 32).astype(float), "share"
    if "cross" in metric:
        junctions = marks_at(out, "crossing", JUNCTIONS)
        return (junctions, "rms") if "rms" in metric else (np.abs(junctions) > 1 / 16, "share")
    points = apexes if "apex" in metric else tips
    if "clearance" in metric:
        return points, figure(metric)
    if metric.endswith("cut_1_32"):
        return points < -1 / 32, "share"
    found = re.search(r"(cut off|floating) by more than ([\d.]+)", metric)
    assert found is not None, metric
    limit = float(found[2])
    return (points < -limit if found[1] == "cut off" else points > limit), "share"


def of_four_patch(maker: Maker, row: Row) -> Sample:
    ends = row.metric.rsplit(" ", 1)[1]
    matching = {"start": "start", "centre": "centre", "nest": "nest"}[ends]
    shop = four_patch(matching)
    crossing = marks_at(drawn(shop, maker), "crossing", [3 + 3j])
    if row.metric.startswith("share"):
        return np.abs(crossing) > 1 / 16, "share"
    return crossing, figure(row.metric)


@functools.cache
def four_patch(matching: str = "nest") -> Workshop:
    return workshop(FOUR_PATCH, 6, matching=matching)


@functools.cache
def units(cells: str, count: int, width: int) -> Workshop:
    """So many alike units in a row, to be squared up."""
    return workshop(" ".join([cells] * count), width * count, 3)


def of_units(shop: Workshop, maker: Maker, row: Row) -> Sample:
    (unit,) = shop.squarings
    slack = drawn(shop, maker, slacks=True).slacks[unit]
    each = shop.overhang(unit).per_oversize
    if found := re.search(r"(?:F\+7/8\+|squares cut )([\d.]+)", row.metric):
        return slack + each * float(found[1]) >= 0, "share"
    if row.metric.startswith("slack"):
        return slack, figure(row.metric)
    needed = -slack / each
    found = re.search(r"(95|99)% of (units|sewists)", row.metric)
    assert found is not None, row
    return (needed if found[2] == "units" else needed.max(axis=0)), f"p{found[1]}"


def scenario(row: Row) -> tuple[Workshop, Maker]:
    """What the star was sewn of, and by whom."""
    trim, told = "units trimmed" in row.parameters, row.parameters
    maker = maker_of(row.level)
    if "calibrated" in told and "uncalibrated" not in told:
        maker = calibrated(maker)
    if "scatter halved" in told:
        # Of the drift along a seam too: the table does not say so, but all seven of its rows do.
        maker = replace(maker, scatter=maker.scatter / 2, drift=maker.drift / 2)
    if "ruler placed twice" in told:
        maker = replace(maker, ruler=maker.ruler / 2, trim=maker.trim / 2)
    return (star(trim=trim, pressed="o") if "open" in told else star(trim=trim)), maker


def sampled(row: Row, planted: float = 0.0) -> Sample:
    """What we draw for a row of the table, with so much added to every seam."""
    case = row.case
    if case == "star12 scenario":
        shop, maker = scenario(row)
        maker = replace(maker, seam=maker.seam + planted)
        return of_block(shop, maker, row) or of_star(shop, maker, row)
    maker = maker_of(row.level)
    maker = replace(maker, seam=maker.seam + planted)
    if "typical" in row.parameters:
        maker = replace(maker, between=0.0)
    if case == "strips5x1.5":
        shop = workshop_of_strips()
    elif case == "fourpatch3":
        if "ends" in row.metric or "crossing" in row.metric:
            return of_four_patch(maker, row)
        shop = four_patch()
    elif case == "star12 trimmed":
        return of_block(star(), maker, row) or of_star(star(), maker, row)
    elif case.startswith("pinwheel6"):
        shop = pinwheel("not trimmed" not in case)
        return of_block(shop, maker, row) or of_pinwheel(shop, maker, row)
    elif case.startswith("HST"):
        if row.parameters.endswith("not trimmed"):
            shop = half_square()
        else:
            return of_units(units(HALF_SQUARE, 8, 3), maker, row)
    else:
        assert case == "goose 6x3"
        return of_units(units(GOOSE, 4, 6), maker, row)
    found = of_block(shop, maker, row)
    assert found is not None, row
    return found


@functools.cache
def workshop_of_strips() -> Workshop:
    return workshop(ROW_OF_FIVE, Fraction(15, 2), 3)


@functools.cache
def pinwheel(trim: bool) -> Workshop:
    return workshop(PINWHEEL, 6, trim=trim)


@functools.cache
def half_square() -> Workshop:
    return workshop(HALF_SQUARE, 3, trim=False)


def measured(sample: Sample) -> tuple[float, float]:
    """The figure that is asked for, and its standard error. The copies of one maker are not
    independent, so makers are counted, not copies."""
    values, kind = np.asarray(sample[0], float).ravel(), sample[1]
    n = SAMPLES
    mean, sd = float(values.mean()), float(values.std())
    if kind in ("mean", "share"):
        return mean, sd / math.sqrt(n)
    if kind in ("sd", "rms"):
        size = sd if kind == "sd" else math.sqrt(float(np.mean(values**2)))
        tails = float(np.mean((values - mean) ** 4)) / sd**4 - 1 if sd else 0.0
        return size, size * math.sqrt(tails / (4 * n))
    share = int(kind[1:]) / 100
    value = float(np.quantile(values, share))
    near = float(np.mean(np.abs(values - value) < 0.1 * sd)) / (0.2 * sd)
    return value, math.sqrt(share * (1 - share) / n) / near


DRAWN = [row for row in rows() if row.level in LEVELS]


def allowed(row: Row, error: float) -> float:
    """How far apart two drawings of a row may be."""
    if figure(row.metric) == "share":  # none of 20,000 is as good as one
        rare = max(row.value * (1 - row.value), 1 / SAMPLES)
        error = max(error, math.sqrt(rare / SAMPLES))
    return max(STANDARD_ERRORS * math.sqrt(2) * error, apart(row))


def off(row: Row, planted: float = 0.0) -> bool:
    """Whether a row is off, with so much added to every seam of the makers."""
    value, error = measured(sampled(row, planted))
    return abs(value - row.value) > allowed(row, error)


@pytest.mark.parametrize("case", sorted({row.case for row in DRAWN}))
def test_what_is_drawn_by_lot_is_within_four_standard_errors(case: str) -> None:
    assert [str(row) for row in DRAWN if row.case == case and off(row)] == []


@pytest.mark.parametrize("case", sorted({row.case for row in DRAWN}))
def test_a_seam_too_wide_by_half_a_thread_is_noticed(case: str) -> None:
    chosen = [row for row in DRAWN if row.case == case and row.level == "practised"]
    assert any(off(row, 1 / 128) for row in chosen or DRAWN[-1:])


def test_few_rows_are_held_less_strictly() -> None:
    counted = Counter(row.case for row in DRAWN if apart(row))
    assert counted.total() == 11
    assert set(counted) == {
        "star12 scenario",
        "pinwheel6 not trimmed, cut F+7/8",
        "pinwheel6 trimmed",
    }


FIXED = {
    "b=+1/32": replace(EXACT, seam=1 / 32),
    "b=-1/64": replace(EXACT, seam=-1 / 64),
    "b=0, fold r=0.01 pressed to side": replace(EXACT, fold=0.01),
    "b=0, fold r=0.01 pressed open": replace(EXACT, fold=0.01),
    "b=-pi*r/2, r=0.01 side (scant quarter)": replace(EXACT, fold=0.01, seam=-math.pi * 0.01 / 2),
    "cut_bias=+1/64 each width": replace(EXACT, cut_bias=1 / 64),
}


@pytest.mark.parametrize("row", [r for r in rows() if r.level == "deterministic"], ids=str)
def test_what_is_fixed_comes_out_to_the_fifth_place(row: Row) -> None:
    pressed = "o" if "open" in row.parameters else "l"
    if row.case == "strips5x1.5":
        shop, planned = workshop(ROW_OF_FIVE, Fraction(15, 2), 3, pressed=pressed), 8.0
    else:
        shop, planned = workshop(FOUR_PATCH, 6, pressed=pressed), 6.5
    width = planned + linear(shop).mean(FIXED[row.parameters])[WIDTH]
    assert width == pytest.approx(row.value, abs=1e-5)


def test_a_stretched_unit_leans_as_the_closed_form_says() -> None:
    """Corners are looked for where they lie in planned work, not 1/50 in further out where the
    squares were cut F + 7/8."""
    (leaning,) = [row.value for row in rows() if row.metric == "diagonal difference"]
    stretched = drawn(half_square(), replace(EXACT, stretch=0.01))
    diagonals = np.abs(stretched.edges[DIAGONALS])
    assert diagonals == pytest.approx(leaning * 3.5 / (3.5 + 2 * SPARE), abs=1e-5)
    angle = np.degrees(np.abs(stretched.edges[3:7])).max()
    assert angle == pytest.approx(2 * math.degrees(math.atan(1.01**2)) - 90, abs=2e-4)


def test_drift_makes_a_row_taper() -> None:
    (taper,) = [row.value for row in rows() if row.case == "strips2x1.5 length 6"]
    shop = workshop("a b", 3, 6)
    made = shop.made(shop.plan.whole)
    # Between the raw ends of the strips, half an inch further apart than where they finish.
    (right,) = [i for i, line in enumerate(made.lines) if line.raw and line.normal.real > 0.5]
    leaning = made.table[2 * right + 1] - made.table[2 * right]
    drift = leaning[COMMON:] @ np.diag([error == "drift" for error in made.errors])
    assert 0.008 * float(np.linalg.norm(drift)) * 6.5 / 6 == pytest.approx(taper, rel=0.01)


def test_every_row_is_compared() -> None:
    levels = Counter(row.level for row in rows())
    assert levels.pop("check") == 2
    assert levels.pop("deterministic") == 12
    assert levels.total() == len(DRAWN) == 567
