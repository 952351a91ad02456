"""Test copies beside the forecast."""

from __future__ import annotations

import pytest

from seamproof.accuracy.copies import SewnCopy, beside, copy_findings, copy_sentence
from seamproof.accuracy.model import MAKERS, Forecast, Spread
from seamproof.findings import Where


def copy(*widths: float) -> SewnCopy:
    return SewnCopy("Star", "open", widths, 52, "", "", Where("copies.csv", 2, 1))


def forecast(mean: float, sd: float) -> Forecast:
    spread = Spread(mean, sd, mean - 1.645 * sd, mean + 1.645 * sd)
    return Forecast(MAKERS["everyday"], spread, spread, spread, (), ())


FORECAST = forecast(12.42, 0.085)


def test_a_copy_is_judged_by_the_mean_of_its_places() -> None:
    one = beside(copy(12.375, 12.5, 12.4375), 12.5, FORECAST)
    assert one.off == pytest.approx(-0.0625)
    assert one.wide == pytest.approx(0.125)
    assert copy_findings([one]) == ()


def test_what_was_to_be_expected_is_said_to_be() -> None:
    said = copy_sentence(beside(copy(12.375), 12.5, FORECAST))
    assert said == (
        "It is 1/8 in too narrow, as forecast: 90 of 100 lie between 12.28 and 12.56 in."
    )


def test_what_is_unlike_the_forecast_is_told() -> None:
    one = beside(copy(12.1), 12.5, FORECAST)
    assert "narrower than forecast" in copy_sentence(one)
    (finding,) = copy_findings([one])
    assert (finding.code, finding.where.line) == (525, 2)


def test_another_size_is_told_instead() -> None:
    (finding,) = copy_findings([beside(copy(9.5), 12.5, FORECAST)])
    assert finding.code == 524


def test_a_copy_without_sizes_or_forecast() -> None:
    assert copy_sentence(beside(copy(), 12.5, FORECAST)) == "It was not measured."
    assert copy_findings([beside(copy(), 12.5, FORECAST)]) == ()
    assert copy_sentence(beside(copy(12.5), 12.5, None)) == "It came out as planned."


def test_the_share_that_is_nearer_is_that_of_a_normal_spread() -> None:
    one = beside(copy(12.42 + 0.085), 12.5, FORECAST)
    assert one.further == pytest.approx(0.6827, abs=0.0001)
