"""The words of the programme.

A *programme* gives out a quilt release by release; a *release* is what goes out on one day: blocks,
and parts of the finishing. A *step* is what has to be done before it: draft, test, order, cut,
post. A *quilt's needs* are what one maker cuts; a *kit* is what one of many people gets in a bag.
Lengths are in inches, money in the currency of the project.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, time
from fractions import Fraction
from typing import Literal

from seamproof.findings import Where

Level = Literal["yardage", "strips", "patches"]
"""What lies in the bag: a length of each cloth; strips from selvage to selvage; cut pieces."""

StepName = Literal["draft", "test", "order", "cut", "post", "release"]

STEPS: tuple[StepName, ...] = ("draft", "test", "order", "cut", "post", "release")
"""In the order of work."""

FinishingPart = Literal["setting", "borders", "binding", "backing", "sleeve", "label"]

PART_OF: Mapping[str, FinishingPart] = {
    "border strip": "borders",
    "border unit": "borders",
    "corner square": "borders",
    "spacer strip": "borders",
    "binding strip": "binding",
    "binding square": "binding",
    "backing": "backing",
    "hanging sleeve": "sleeve",
    "label": "label",
}
"""The part of the finishing to which a piece of the top belongs, by its name; all others belong to
the setting."""

FINISHING: tuple[FinishingPart, ...] = (
    *("setting", "borders", "binding", "backing", "sleeve", "label"),
)
"""What finishes the quilt. *setting* is all that stands between and round the blocks: coping,
sashing, cornerstones, setting triangles."""


@dataclass(frozen=True, slots=True)
class Lead:
    """A step is finished `before` days before its release, and takes `takes` days."""

    before: int
    takes: int


USUAL_LEADS: Mapping[StepName, Lead] = {
    "draft": Lead(63, 14),
    "test": Lead(35, 28),
    "order": Lead(33, 1),
    "cut": Lead(7, 5),
    "post": Lead(5, 1),
    "release": Lead(0, 1),
}
"""Testers have four weeks, cloth comes within three (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Rhythm:
    """How releases follow each other: every so many weeks or months.

    By the month the day of the first release is kept; where a month is too short for it, its last
    day is taken. With `weekday` (0 is Monday) it is the `nth` such day of the month instead, -1
    being the last one.
    """

    every: int = 1
    unit: Literal["week", "month"] = "month"
    nth: int = 0
    weekday: int | None = None


@dataclass(frozen=True, slots=True)
class ReleaseAsked:
    """One release as somebody wrote it: block names, and what of the finishing goes with them.
    `on` overrides the day that the rhythm gives."""

    blocks: tuple[str, ...] = ()
    parts: tuple[FinishingPart, ...] = ()
    on: date | None = None
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class Costs:
    """What a kit costs besides its cloth, and how its price is found.

    `wage` is for an hour of cutting; a cut through a stack takes `cut_seconds`, laying the stack
    included. `bag`, `pattern` and `postage` are for one bag. `once` is spent once for the whole
    programme: design, samples, testing. The price of a kit is `price`, or else `markup` times what
    one costs to make.
    """

    wage: Fraction = Fraction(0)
    cut_seconds: int = 20
    bag: Fraction = Fraction(0)
    pattern: Fraction = Fraction(0)
    postage: Fraction = Fraction(0)
    once: Fraction = Fraction(0)
    markup: Fraction = Fraction(2)
    price: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Asked:
    """A programme as somebody wrote it.

    `closed` are days on which nobody works: weekdays (0 is Monday) and dates. `at` is the hour of
    a release in `zone`, a name of the time zone database; None: it is a matter of whole days.
    `spares` is the share of kits made on top of one for each of the `people`. `one_lot` are letters
    of cloths of which no two dye lots may be mixed. `bolt` is the length of a bolt.
    """

    start: date
    releases: tuple[ReleaseAsked, ...]
    rhythm: Rhythm = Rhythm()
    people: int = 1
    spares: Fraction = Fraction(0)
    level: Level = "patches"
    leads: tuple[tuple[StepName, Lead], ...] = ()
    closed_weekdays: frozenset[int] = frozenset()
    closed_dates: frozenset[date] = frozenset()
    at: time | None = None
    zone: str = "UTC"
    one_lot: tuple[str, ...] = ()
    bolt: Fraction | None = None
    costs: Costs = field(default_factory=Costs)
    where: Where = Where()

    def lead(self, step: StepName) -> Lead:
        """When a step is done: as somebody wrote, else as is usual."""
        return dict(self.leads).get(step, USUAL_LEADS[step])


# The calendar -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Entry:
    """One step of one release: it is worked on from `begins` to `ends`, both included.

    `key` stays the same when the day, the blocks or the names change.
    """

    key: str
    release: int
    step: StepName
    begins: date
    ends: date
    title: str
    note: str = ""
    at: time | None = None


# What one quilt needs -----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Saved:
    """`count` pieces of the kind called `piece`, cut with release `cut` and sewn in `used`."""

    piece: str
    count: int
    cut: int
    used: int


@dataclass(frozen=True, slots=True)
class StripCut:
    """`times` equal strips `height` high, each giving `pieces` (names and counts); `left` is the
    end of each that is not used."""

    height: Fraction
    times: int
    pieces: tuple[tuple[str, int], ...]
    left: Fraction = Fraction(0)


LEAST_SCRAP = Fraction(3, 2)
"""Inches: what is narrower than this either way nobody keeps (an assumption)."""


@dataclass(frozen=True, slots=True)
class Need:
    """One fabric in one release of one quilt.

    `pieces` are those that are sewn in it, `area` theirs as cut, in square inches. `strips` are cut
    from the length in it, `length` in all; `fixed` pieces of cloth are cut up in it. `save` is cut
    now for later, `take` was saved before.
    """

    release: int
    fabric: str
    pieces: tuple[tuple[str, int], ...]
    area: Fraction
    strips: tuple[StripCut, ...]
    length: Fraction
    fixed: tuple[tuple[str, int], ...] = ()
    save: tuple[Saved, ...] = ()
    take: tuple[Saved, ...] = ()

    @property
    def scraps(self) -> tuple[tuple[Fraction, Fraction, int], ...]:
        """What is left over of the strips: height, length and count, the largest first. Nothing
        that comes later relies on it."""
        found: dict[tuple[Fraction, Fraction], int] = {}
        for strip in self.strips:
            if min(strip.left, strip.height) >= LEAST_SCRAP:
                size = (strip.height, strip.left)
                found[size] = found.get(size, 0) + strip.times
        order = sorted(found, key=lambda size: (-size[0] * size[1], size))
        return tuple((*size, found[size]) for size in order)
