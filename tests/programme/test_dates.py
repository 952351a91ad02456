"""Days of releases: month ends, leap days, weekdays."""

from __future__ import annotations

import calendar
import itertools
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.programme.dates import first_open, months_later, open_day, release_dates
from seamproof.programme.model import Rhythm

days = st.dates(date(1990, 1, 1), date(2090, 12, 31))


@pytest.mark.parametrize(
    ("start", "second"),
    [
        ("2027-01-31", "2027-02-28"),
        ("2028-01-31", "2028-02-29"),
        ("2028-02-29", "2028-03-29"),
        ("2027-12-15", "2028-01-15"),
        ("2100-01-30", "2100-02-28"),  # a century that is no leap year
    ],
)
def test_a_month_later(start: str, second: str) -> None:
    found = release_dates(date.fromisoformat(start), Rhythm(), 2)
    assert [str(day) for day in found] == [start, second]


def test_a_short_month_does_not_shorten_those_after_it() -> None:
    found = release_dates(date(2027, 10, 31), Rhythm(), 6)
    assert [day.day for day in found] == [31, 30, 31, 31, 29, 31]


@given(days, st.integers(1, 6), st.integers(1, 24))
def test_by_the_month_each_is_in_its_month_and_no_later_than_the_day(
    start: date, every: int, count: int
) -> None:
    for n, day in enumerate(release_dates(start, Rhythm(every), count)):
        assert (day.year * 12 + day.month) - (start.year * 12 + start.month) == n * every
        last = calendar.monthrange(day.year, day.month)[1]
        assert day.day == min(start.day, last)


@given(days, st.sampled_from([1, 2, 3, 4, -1]), st.integers(0, 6), st.integers(1, 24))
def test_weekdays_of_the_month(start: date, nth: int, weekday: int, count: int) -> None:
    found = release_dates(start, Rhythm(nth=nth, weekday=weekday), count)
    assert found[0] >= start
    assert found[0] - start <= timedelta(days=62)
    for day in found:
        assert day.weekday() == weekday
        if nth > 0:
            assert (day.day - 1) // 7 == nth - 1
        else:
            assert (day + timedelta(days=7)).month != day.month
    assert list(found) == sorted(set(found))


@given(days, st.integers(1, 4))
def test_weeks(start: date, every: int) -> None:
    found = release_dates(start, Rhythm(every, "week"), 5)
    assert {(b - a).days for a, b in itertools.pairwise(found)} == {7 * every}


@given(days, st.integers(-60, 60))
def test_months_there_and_back_lose_a_day_of_the_month_at_most(day: date, months: int) -> None:
    back = months_later(months_later(day, months), -months)
    assert (back.year, back.month) == (day.year, day.month)
    assert back.day <= day.day


@given(days, st.sets(st.integers(0, 6), max_size=6), st.sets(days, max_size=5))
def test_open_days_are_open(day: date, weekdays: set[int], dates: set[date]) -> None:
    before = open_day(day, weekdays, dates)
    assert before <= day
    assert before.weekday() not in weekdays
    assert before not in dates
    after = first_open(day, day + timedelta(days=9), weekdays, dates)
    assert day <= after <= day + timedelta(days=9)
