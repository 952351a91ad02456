"""Steps counted backwards from each release."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from seamproof.programme.calendar import days_of, entries_of, overlaps
from seamproof.programme.model import STEPS, USUAL_LEADS, Asked, Lead, ReleaseAsked, Rhythm

starts = st.dates(date(2020, 1, 1), date(2050, 1, 1))


def asked(start: date, count: int, **more: object) -> Asked:
    releases = tuple(ReleaseAsked((f"Block {n}",)) for n in range(count))
    return Asked(start, releases, **more)  # type: ignore[arg-type]


@given(starts, st.integers(1, 13), st.sets(st.integers(0, 6), max_size=3))
def test_every_step_leaves_its_days_and_keeps_its_order(
    start: date, count: int, closed: set[int]
) -> None:
    programme = asked(start, count, closed_weekdays=frozenset(closed))
    entries = entries_of(programme, ["x"] * count)
    days = days_of(programme)
    assert len(entries) == count * len(STEPS)
    assert len({entry.key for entry in entries}) == len(entries)
    for entry in entries:
        assert entry.begins <= entry.ends
        day = days[entry.release - 1]
        assert (day - entry.ends).days >= USUAL_LEADS[entry.step].before
        if entry.step == "release":
            assert entry.begins == entry.ends == day
        else:
            assert entry.ends.weekday() not in closed


def test_the_usual_leads_do_not_overlap() -> None:
    assert overlaps(entries_of(asked(date(2027, 1, 9), 12), ["x"] * 12)) == ()


def test_leads_that_are_too_tight_are_found() -> None:
    programme = asked(date(2027, 1, 9), 1, leads=(("cut", Lead(7, 60)),))
    (found,) = overlaps(entries_of(programme, ["x"]))
    assert (found.step, found.after) == ("cut", "test")


def test_a_release_may_have_a_day_of_its_own() -> None:
    releases = (ReleaseAsked(("A",)), ReleaseAsked(("B",), on=date(2027, 3, 3)))
    programme = Asked(date(2027, 1, 9), releases, Rhythm(1, "week"))
    assert days_of(programme) == (date(2027, 1, 9), date(2027, 3, 3))


@given(starts, st.integers(0, 400))
def test_moving_the_start_moves_everything(start: date, by: int) -> None:
    weekly = Rhythm(1, "week")
    one = entries_of(asked(start, 3, rhythm=weekly), ["x"] * 3)
    other = entries_of(asked(start + timedelta(days=by), 3, rhythm=weekly), ["x"] * 3)
    moved = {(e.key, e.begins + timedelta(days=by), e.ends + timedelta(days=by)) for e in one}
    assert moved == {(e.key, e.begins, e.ends) for e in other}
