"""Days of releases, and the days before them."""

from __future__ import annotations

import calendar
from collections.abc import Collection
from datetime import date, timedelta

from seamproof.programme.model import Rhythm

MONTHS = 12
LONGEST_CLOSED = 366
"""Days looked through for an open one."""


def release_dates(start: date, rhythm: Rhythm, count: int) -> tuple[date, ...]:
    """The days of `count` releases; the first is `start`, or the first of the rhythm from it on.

    >>> jan = date(2027, 1, 31)
    >>> [str(day) for day in release_dates(jan, Rhythm(), 3)]
    ['2027-01-31', '2027-02-28', '2027-03-31']
    >>> [str(day) for day in release_dates(jan, Rhythm(nth=2, weekday=5), 2)]
    ['2027-02-13', '2027-03-13']
    >>> release_dates(jan, Rhythm(), 0)
    ()
    """
    if rhythm.unit == "week":
        return tuple(start + timedelta(weeks=rhythm.every * n) for n in range(count))
    if rhythm.weekday is None:
        return tuple(months_later(start, rhythm.every * n) for n in range(count))
    first = date(start.year, start.month, 1)
    if nth_weekday(first.year, first.month, rhythm.nth, rhythm.weekday) < start:
        first = months_later(first, 1)
    months = (months_later(first, rhythm.every * n) for n in range(count))
    return tuple(nth_weekday(m.year, m.month, rhythm.nth, rhythm.weekday) for m in months)


def months_later(day: date, months: int) -> date:
    """The same day so many months later, or the last of that month if it has no such day.

    >>> str(months_later(date(2028, 1, 31), 1)), str(months_later(date(2028, 2, 29), 12))
    ('2028-02-29', '2029-02-28')
    >>> str(months_later(date(2027, 3, 15), 0)), str(months_later(date(2027, 3, 15), -3))
    ('2027-03-15', '2026-12-15')
    """
    years, month = divmod(day.month - 1 + months, MONTHS)
    year, month = day.year + years, month + 1
    return date(year, month, min(day.day, calendar.monthrange(year, month)[1]))


def nth_weekday(year: int, month: int, nth: int, weekday: int) -> date:
    """The `nth` weekday (0 is Monday) of a month, from 1 to 4, or the last one for -1.

    >>> str(nth_weekday(2028, 2, -1, 1)), str(nth_weekday(2027, 5, 1, 5))
    ('2028-02-29', '2027-05-01')
    """
    days = calendar.monthrange(year, month)[1]
    if nth < 0:
        last = date(year, month, days)
        return last - timedelta(days=(last.weekday() - weekday) % 7)
    first = date(year, month, 1)
    return first + timedelta(days=(weekday - first.weekday()) % 7 + 7 * (nth - 1))


def open_day(day: date, weekdays: Collection[int], dates: Collection[date]) -> date:
    """The day itself, or the last one before it that is not closed; the day itself if none is.

    >>> str(open_day(date(2027, 5, 2), {5, 6}, {date(2027, 4, 30)}))
    '2027-04-29'
    """
    for back in range(LONGEST_CLOSED):
        tried = day - timedelta(days=back)
        if tried.weekday() not in weekdays and tried not in dates:
            return tried
    return day


def first_open(day: date, last: date, weekdays: Collection[int], dates: Collection[date]) -> date:
    """The first day from `day` to `last` that is not closed; `last` if none is.

    >>> str(first_open(date(2027, 5, 1), date(2027, 5, 9), {5, 6}, set()))
    '2027-05-03'
    """
    days = (day + timedelta(days=n) for n in range((last - day).days))
    return next((d for d in days if d.weekday() not in weekdays and d not in dates), last)
