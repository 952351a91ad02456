"""The calendar of a programme, counted backwards from each release."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from seamproof.programme.dates import first_open, open_day, release_dates
from seamproof.programme.model import STEPS, Asked, Entry, StepName

TITLES: dict[StepName, str] = {
    "draft": "Draft release {number}: {what}",
    "test": "Testers sew release {number}: {what}",
    "order": "Order cloth for release {number}: {what}",
    "cut": "Cut kits for release {number}: {what}",
    "post": "Post release {number}: {what}",
    "release": "Release {number}: {what}",
}


@dataclass(frozen=True, slots=True)
class Overlap:
    """A step that begins before the one it waits for is finished."""

    release: int
    step: StepName
    begins: date
    after: StepName
    ends: date


def days_of(asked: Asked) -> tuple[date, ...]:
    """The day of every release."""
    by_rhythm = release_dates(asked.start, asked.rhythm, len(asked.releases))
    return tuple(r.on or day for r, day in zip(asked.releases, by_rhythm, strict=True))


def entries_of(asked: Asked, whats: Sequence[str], notes: Sequence[str] = ()) -> tuple[Entry, ...]:
    """Every step of every release, in the order of days. `whats` says what each release holds.

    A step ends on the last open day that leaves its days before the release, and begins so many
    days earlier, or on the first open day after that. The release itself is never moved.

    >>> from seamproof.programme.model import ReleaseAsked
    >>> asked = Asked(date(2028, 3, 1), (ReleaseAsked(("Star",)),))
    >>> [(e.step, str(e.begins), str(e.ends)) for e in entries_of(asked, ["Star"])][3:5]
    [('cut', '2028-02-19', '2028-02-23'), ('post', '2028-02-25', '2028-02-25')]
    """
    found: list[Entry] = []
    for n, day in enumerate(days_of(asked)):
        for step in STEPS:
            begins, ends = _span(asked, step, day)
            found.append(
                Entry(
                    key=f"release-{n + 1:03d}-{step}",
                    release=n + 1,
                    step=step,
                    begins=begins,
                    ends=ends,
                    title=TITLES[step].format(number=n + 1, what=whats[n]),
                    note=notes[n] if step == "release" and n < len(notes) else "",
                    at=asked.at if step == "release" else None,
                )
            )
    return tuple(sorted(found, key=lambda e: (e.begins, e.ends, e.release, STEPS.index(e.step))))


def _span(asked: Asked, step: StepName, day: date) -> tuple[date, date]:
    if step == "release":
        return day, day
    lead = asked.lead(step)
    closed = (asked.closed_weekdays, asked.closed_dates)
    ends = open_day(day - timedelta(days=lead.before), *closed)
    return first_open(ends - timedelta(days=lead.takes - 1), ends, *closed), ends


def overlaps(entries: Iterable[Entry]) -> tuple[Overlap, ...]:
    """Steps of one release that begin before what they wait for is done: tests wait for the draft,
    cutting for the tests, posting for the cutting, and the release for the post."""
    waits: dict[StepName, StepName] = {
        "test": "draft",
        "cut": "test",
        "post": "cut",
        "release": "post",
    }
    by_step = {(entry.release, entry.step): entry for entry in entries}
    found = []
    for (release, step), entry in sorted(by_step.items(), key=lambda pair: pair[0][0]):
        before = waits.get(step)
        if before is None:
            continue
        other = by_step[release, before]
        last = other.ends if step == "release" else other.ends + timedelta(days=1)
        if entry.begins < last:
            found.append(Overlap(release, step, entry.begins, before, other.ends))
    return tuple(found)
