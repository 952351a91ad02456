"""The calendar as a file: read back by two parsers that are not the one that writes it."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

import pytest
import vobject
from hypothesis import given
from hypothesis import strategies as st
from ical.calendar_stream import IcsCalendarStream

from seamproof.errors import InputError
from seamproof.programme.calendar import entries_of
from seamproof.programme.ical import Updated, updated
from seamproof.programme.model import Asked, Entry, ReleaseAsked

START = date(2028, 1, 31)

HARD = 'Ærlig, "quay"; back\\slash: ' + "Lykt i hamna 灯台 " * 6
"""Commas, semicolons, quotes, a backslash, and characters of two and three octets beyond a line."""


def programme(count: int = 3, at: time | None = None) -> tuple[Entry, ...]:
    asked = Asked(START, tuple(ReleaseAsked(("B",)) for _ in range(count)), at=at)
    whats = [HARD, "plain", "one, two; three"][:count]
    return entries_of(asked, whats, ["First line\nsecond, line", "", ""][:count])


def written(
    entries: tuple[Entry, ...], old: bytes = b"", name: str = "Lamps", zone: str = "UTC"
) -> Updated:
    return updated(entries, name=name, start=START, zone=zone, old=old)


def by_vobject(text: bytes) -> dict[str, tuple[object, ...]]:
    calendar = vobject.readOne(text.decode("utf-8"))
    return {
        event.uid.value: (
            event.summary.value,
            event.dtstart.value,
            event.dtend.value if hasattr(event, "dtend") else None,
            int(event.sequence.value),
        )
        for event in calendar.vevent_list
    }


def by_ical(text: bytes) -> dict[str, tuple[object, ...]]:
    calendar = IcsCalendarStream.calendar_from_ics(text.decode("utf-8"))
    return {
        event.uid: (event.summary, event.dtstart, event.dtend, event.sequence)
        for event in calendar.events
    }


READERS = (by_vobject, by_ical)


@pytest.mark.parametrize("read", READERS)
def test_whole_days_come_back_with_their_exclusive_ends(read: object) -> None:
    entries = programme()
    found = read(written(entries).text)  # type: ignore[operator]
    assert len(found) == len(entries)
    for entry in entries:
        (event,) = (event for uid, event in found.items() if uid.startswith(f"{entry.key}."))
        end = entry.ends + timedelta(days=1)
        assert event == (entry.title, entry.begins, end, 0)


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize(
    ("zone", "summer", "winter"),
    [("Europe/Oslo", 2, 1), ("America/Denver", -6, -7), ("Asia/Kolkata", 5.5, 5.5), ("UTC", 0, 0)],
)
def test_hours_come_back_in_their_time_zone(
    read: object, zone: str, summer: float, winter: float
) -> None:
    asked = Asked(
        date(2027, 1, 9), (ReleaseAsked(), ReleaseAsked(on=date(2027, 7, 1))), at=time(18, 30)
    )
    text = updated(entries_of(asked, ["x", "y"]), name="L", start=START, zone=zone).text
    found = read(text)  # type: ignore[operator]
    for key, day, hours in (
        ("release-001-release", date(2027, 1, 9), winter),
        ("release-002-release", date(2027, 7, 1), summer),
    ):
        (event,) = (event for uid, event in found.items() if uid.startswith(key))
        moment = datetime(day.year, day.month, day.day, 18, 30, tzinfo=UTC)
        assert event[1].astimezone(UTC) == moment - timedelta(hours=hours)


def test_lines_are_folded_by_octets_and_never_inside_a_character() -> None:
    text = written(programme()).text
    lines = text.split(b"\r\n")
    assert lines[-1] == b""
    assert b"\n" not in text.replace(b"\r\n", b"")
    assert max(map(len, lines)) <= 75
    assert any(line.startswith(b" ") for line in lines)
    for line in lines:
        line.decode("utf-8")


def test_texts_are_escaped() -> None:
    unfolded = written(programme()).text.replace(b"\r\n ", b"").decode("utf-8")
    summary = next(line for line in unfolded.splitlines() if "Release 1" in line)
    assert "Ærlig\\, " in summary
    assert "\\; back\\\\slash" in summary
    assert "DESCRIPTION:First line\\nsecond\\, line" in unfolded


def test_writing_again_changes_nothing() -> None:
    first = written(programme(at=time(18, 30)), zone="Europe/Oslo")
    again = written(programme(at=time(18, 30)), first.text, zone="Europe/Oslo")
    assert again.text == first.text
    assert (again.new, again.changed, again.cancelled, again.kept) == (0, 0, 0, len(programme()))


def test_a_changed_event_keeps_its_uid_and_gets_the_next_number() -> None:
    entries = programme()
    first = written(entries)
    moved = (replace(entries[0], ends=entries[0].ends + timedelta(days=1)), *entries[1:])
    second = written(moved, first.text, name="Lamps by another name")
    assert (second.changed, second.kept) == (1, len(entries) - 1)
    before, after = by_ical(first.text), by_ical(second.text)
    assert before.keys() == after.keys()
    changed = [uid for uid in before if before[uid] != after[uid]]
    assert [after[uid][3] for uid in changed] == [1]
    third = written(entries, second.text)
    assert by_ical(third.text)[changed[0]][3] == 2


def test_an_event_that_is_gone_is_cancelled_once_and_may_come_back() -> None:
    first = written(programme(3))
    second = written(programme(2), first.text)
    assert second.cancelled == 6
    text = second.text.decode("utf-8")
    assert text.count("STATUS:CANCELLED") == 6
    assert written(programme(2), second.text).text == second.text
    third = written(programme(3), second.text)
    assert third.text.count(b"STATUS:CANCELLED") == 0
    assert {event[3] for uid, event in by_ical(third.text).items() if "003" in uid} == {2}


@given(st.lists(st.booleans(), min_size=1, max_size=6))
def test_numbers_and_stamps_never_go_back(changes: list[bool]) -> None:
    entries, text = programme(1), b""
    seen: list[tuple[int, str]] = []
    for n, change in enumerate(changes):
        if change:
            entries = (replace(entries[0], title=f"again {n}"), *entries[1:])
        text = written(entries, text).text
        event = text.split(b"BEGIN:VEVENT")[1].decode("utf-8")
        stamp = re.search("DTSTAMP:(.*)Z", event)
        number = re.search("SEQUENCE:([0-9]+)", event)
        assert stamp
        assert number
        seen.append((int(number[1]), stamp[1]))
    assert seen == sorted(seen)
    assert seen[-1][0] == sum(changes[1:])


@pytest.mark.parametrize(
    "old", [b"not a calendar", b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\nEND:VCALENDAR\r\n"]
)
def test_another_file_is_not_written_over(old: bytes) -> None:
    with pytest.raises(InputError, match="not a calendar of this program"):
        written(programme(), old)


def test_two_programmes_do_not_share_events() -> None:
    one, other = written(programme()), written(programme(), name="Another")
    assert not by_ical(one.text).keys() & by_ical(other.text).keys()


@given(st.data())
def test_a_damaged_calendar_is_read_or_refused_and_nothing_else(data: st.DataObject) -> None:
    entries = programme(1)
    whole = written(entries).text
    at = data.draw(st.integers(0, len(whole) - 1))
    much = data.draw(st.integers(0, 60))
    instead = data.draw(
        st.sampled_from([b"", b"\x00", b"\xff", b":", b"\r\n", b"BEGIN:VEVENT\r\n"])
    )
    old = whole[:at] + instead + whole[at + much :]
    try:
        made = written(entries, old)
    except InputError:
        return
    assert len(by_vobject(made.text)) >= len(entries)
