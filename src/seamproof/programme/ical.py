"""The calendar as an iCalendar file (RFC 5545) that updates instead of duplicating.

A calendar program knows an event again by its UID and takes the higher SEQUENCE. Both are kept by
reading the file that was written before: an event that did not change is written as it was, one
that changed gets the next number, and one that is gone stays as cancelled, so that it goes away
wherever it was imported. No clock is read: the stamp of an event is the first day of the programme,
and one second later for each change.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import icalendar

from seamproof.errors import InputError
from seamproof.programme.model import Entry

PRODUCT = "-//Seamproof//Programme//EN"

IDENTITY_LENGTH = 16
"""Hexadecimal digits that tell one programme from all others."""

DOMAIN = "seamproof.invalid"
"""A domain that belongs to nobody (RFC 2606), behind the @ of UIDs."""


@dataclass(frozen=True, slots=True)
class Updated:
    """The file, and how many events in it are new, changed, cancelled or as they were."""

    text: bytes
    new: int
    changed: int
    cancelled: int
    kept: int


def identity_of(name: str, start: date) -> str:
    """What UIDs of a programme end with that was never written before.

    >>> identity_of("Lamps Along the Quay", date(2027, 1, 9))
    'ea96ff4c24390755'
    """
    return hashlib.sha256(f"{name}\n{start}".encode()).hexdigest()[:IDENTITY_LENGTH]


def updated(
    entries: Sequence[Entry], *, name: str, start: date, zone: str = "UTC", old: bytes = b""
) -> Updated:
    """The calendar of some entries as a file, taking up `old`, what was written before.

    All-day events end, as the standard has it, on the day after their last. Raises InputError if
    `old` is not a calendar of ours.
    """
    before, identity = _read(old) if old.strip() else ({}, identity_of(name, start))
    first = min((entry.begins for entry in entries), default=start)
    stamp = datetime.combine(first, time(), UTC)
    calendar = icalendar.Calendar()
    for key, value in (("version", "2.0"), ("prodid", PRODUCT), ("calscale", "GREGORIAN")):
        calendar.add(key, value)
    for key in ("name", "x-wr-calname"):
        calendar.add(key, name)
    calendar.add("uid", f"{identity}@{DOMAIN}")
    counts = {"new": 0, "changed": 0, "cancelled": 0, "kept": 0}
    events = []
    for entry in entries:
        uid = f"{entry.key}.{identity}@{DOMAIN}"
        known = before.pop(uid, None)
        event, what = _next(entry, uid, known, stamp, zone)
        counts[what] += 1
        events.append(event)
    for _, event in sorted(before.items()):
        counts["cancelled" if _cancel(event) else "kept"] += 1
        events.append(event)
    for event in events:
        calendar.add_component(event)
    if any(entry.at is not None for entry in entries):
        last = max(entry.ends for entry in entries)
        year = timedelta(days=366)
        calendar.add_missing_timezones(first_date=first - year, last_date=last + year)
    return Updated(calendar.to_ical(), **counts)


def _read(old: bytes) -> tuple[dict[str, Any], str]:
    try:
        calendar = icalendar.Calendar.from_ical(old)
        identity = str(calendar["uid"]).removesuffix(f"@{DOMAIN}")
        ours = str(calendar["prodid"]) == PRODUCT
        events = {str(event["uid"]): event for event in calendar.walk("VEVENT")}
        ours = ours and bool(identity) and all(map(_sound, events.values()))
    except (ValueError, KeyError, IndexError, TypeError, AttributeError):
        ours = False
    if not ours:
        raise InputError(
            "the file that is there is not a calendar of this program",
            mend="give the calendar another name, or move that file away",
        )
    return events, identity


def _sound(event: Any) -> bool:
    """Whether an event has once, and whole, what every event of ours has."""
    stamp, start = event["dtstamp"].dt, event["dtstart"].dt
    stamped = isinstance(stamp, datetime) and stamp.tzinfo is not None
    once = not any(isinstance(event[key], list) for key in ("uid", "sequence", "summary"))
    return stamped and once and isinstance(start, date) and int(event["sequence"]) >= 0


def _next(entry: Entry, uid: str, known: Any | None, stamp: datetime, zone: str) -> tuple[Any, str]:
    """An event as it is to be written, and what became of it."""
    if known is None:
        return _event(entry, uid, 0, stamp, zone), "new"
    sequence, stamped = int(known["sequence"]), known["dtstamp"].dt
    same = _event(entry, uid, sequence, stamped, zone)
    if same.to_ical() == known.to_ical():
        return same, "kept"
    later = max(stamp, stamped + timedelta(seconds=1))
    return _event(entry, uid, sequence + 1, later, zone), "changed"


def _event(entry: Entry, uid: str, sequence: int, stamp: datetime, zone: str) -> Any:
    event = icalendar.Event()
    event.add("uid", uid)
    event.add("dtstamp", stamp)
    event.add("sequence", sequence)
    event.add("summary", entry.title)
    if entry.note:
        event.add("description", entry.note)
    if entry.at is None:
        event.add("dtstart", entry.begins)
        event.add("dtend", entry.ends + timedelta(days=1))
    else:
        event.add("dtstart", datetime.combine(entry.begins, entry.at, ZoneInfo(zone)))
    event.add("transp", "TRANSPARENT")
    event.add("categories", [entry.step])
    return event


def _cancel(event: Any) -> bool:
    """Mark an event as cancelled; False if it is already."""
    if str(event.get("status", "")) == "CANCELLED":
        return False
    event["status"] = icalendar.vText("CANCELLED")
    event["sequence"] = icalendar.vInt(int(event["sequence"]) + 1)
    event["dtstamp"] = icalendar.vDDDTypes(event["dtstamp"].dt + timedelta(seconds=1))
    return True
