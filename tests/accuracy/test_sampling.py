"""Makers drawn by lot: few numbers bring what many would."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.accuracy import sampling
from seamproof.accuracy.edges import HEIGHT, WIDTH
from seamproof.accuracy.forecasting import forecast
from seamproof.accuracy.model import MAKERS
from seamproof.accuracy.sampling import draw, triangle
from tests.accuracy.reference_blocks import SAMPLES, SEED, star

EVERYDAY = MAKERS["everyday"]


@given(
    st.integers(1, 6).flatmap(
        lambda rows: st.lists(
            st.lists(st.floats(-4, 4, width=16), min_size=8, max_size=8),
            min_size=rows,
            max_size=rows,
        )
    )
)
def test_a_triangle_has_the_same_products_of_rows(rows: list[list[float]]) -> None:
    table = np.array([*rows, np.sum(rows, axis=0)])
    small = triangle(table)
    assert small.shape[1] <= len(rows)
    assert small @ small.T == pytest.approx(table @ table.T, abs=1e-9)


def test_errors_drawn_singly_bring_the_same_spreads() -> None:
    few = draw(star(), EVERYDAY, SAMPLES, np.random.default_rng(SEED))
    many = draw(star(), EVERYDAY, SAMPLES, np.random.default_rng(SEED + 1), singly=True)
    # Four standard errors of the difference of two standard deviations.
    near = 4 * math.sqrt(2 / (2 * SAMPLES))
    assert few.edges.std(axis=1) == pytest.approx(many.edges.std(axis=1), rel=near)
    assert few.values.std(axis=1) == pytest.approx(many.values.std(axis=1), rel=near)
    for unit, slack in few.slacks.items():
        assert slack.std() == pytest.approx(many.slacks[unit].std(), rel=near)
    together = np.corrcoef(few.edges[[WIDTH, HEIGHT]])[0, 1]
    assert together == pytest.approx(
        np.corrcoef(many.edges[[WIDTH, HEIGHT]])[0, 1], abs=4 * math.sqrt(2 / SAMPLES)
    )


def test_a_block_put_together_of_its_parts_brings_the_same_spreads(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    whole = draw(star(), EVERYDAY, SAMPLES, np.random.default_rng(SEED), slacks=False)
    monkeypatch.setattr(sampling, "AT_ONCE", 40)
    parts = draw(star(), EVERYDAY, SAMPLES, np.random.default_rng(SEED), slacks=False)
    near = 4 * math.sqrt(2 / (2 * SAMPLES))
    assert parts.edges.std(axis=1) == pytest.approx(whole.edges.std(axis=1), rel=near)
    assert parts.marks == whole.marks
    assert parts.values.std(axis=1) == pytest.approx(whole.values.std(axis=1), rel=near)
    assert parts.above + parts.below == pytest.approx(whole.above + whole.below, abs=0.02)


def test_of_large_blocks_the_first_makers_are_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    everything = draw(star(), EVERYDAY, 3000, np.random.default_rng(SEED))
    monkeypatch.setattr(sampling, "KEPT", 1)
    few = draw(star(), EVERYDAY, 3000, np.random.default_rng(SEED))
    assert few.values.shape[1] == sampling.BATCH
    assert few.values == pytest.approx(everything.values[:, : sampling.BATCH])
    assert few.mean == pytest.approx(everything.mean)
    for unit, least in everything.least.items():
        assert few.least[unit] == pytest.approx(least)
        assert least == pytest.approx(everything.slacks[unit].min(axis=0), abs=1e-6)


def test_many_makers_come_out_as_the_forecast_says() -> None:
    told = forecast(star(), EVERYDAY, (12.5, 12.5))
    widths = 12.5 + draw(star(), EVERYDAY, SAMPLES, np.random.default_rng(SEED)).edges[WIDTH]
    assert widths.std() == pytest.approx(told.width.sd, rel=4 / math.sqrt(2 * SAMPLES))
    assert widths.mean() == pytest.approx(
        told.width.mean, abs=4 * told.width.sd / math.sqrt(SAMPLES)
    )


def test_makers_are_drawn_alike_in_any_batch() -> None:
    few = draw(star(), EVERYDAY, 1000, np.random.default_rng(SEED), slacks=False)
    many = draw(star(), EVERYDAY, 3000, np.random.default_rng(SEED), slacks=False)
    assert few.edges == pytest.approx(many.edges[:, :1000])
