"""What ``quilt.yaml`` says about the programme: when it goes out, to how many, and how."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from zoneinfo import ZoneInfo

from seamproof.errors import InputError
from seamproof.programme.model import (
    FINISHING,
    STEPS,
    Asked,
    Costs,
    FinishingPart,
    Lead,
    Level,
    ReleaseAsked,
    Rhythm,
    StepName,
)
from seamproof.project import limits
from seamproof.project.amounts import day, hour, money, per_cent, shop_length
from seamproof.project.fields import Fields
from seamproof.project.yaml_tree import Items, Node, Scalar, shortened

PROGRAMME_KEYS = (
    *("start", "rhythm", "releases", "people", "spares", "kit level", "leads", "closed"),
    *("hour", "zone", "one dye lot", "bolt", "costs"),
)
RELEASE_KEYS = ("blocks", "parts", "on")
COST_KEYS = ("wage", "cut seconds", "bag", "pattern", "postage", "once", "markup", "price")

LEVELS: Mapping[str, Level] = {"yardage": "yardage", "strips": "strips", "patches": "patches"}
PARTS: Mapping[str, FinishingPart] = {part: part for part in FINISHING}
LEADS: Mapping[str, StepName] = {step: step for step in STEPS if step != "release"}

MOST_RELEASES = 120
"""Ten years by the month."""

MOST_DAYS = 730
"""Two years: longer before a release nobody plans its parts."""

MOST_CLOSED = 400
MOST_SPARES = 50
"""Per cent of the people."""

MOST_SECONDS = 3_600
MOST_TIMES = 20
"""How many times its costs a kit is sold for, at most."""

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_NTHS = {"first": 1, "second": 2, "third": 3, "fourth": 4, "last": -1}
_EVERY = re.compile(r"every ([0-9]{1,2}) (week|month)s?")
_WEEKDAY = re.compile(f"({'|'.join(_NTHS)}) ({'|'.join(WEEKDAYS)})( of the month)?")
_WORDS: Mapping[str, Rhythm] = {
    "weekly": Rhythm(1, "week"),
    "fortnightly": Rhythm(2, "week"),
    "monthly": Rhythm(1, "month"),
}


def programme_of(fields: Fields, node: Node) -> Asked:
    """What the file says about the programme, the rest as is usual.

    Raises InputError at the place of whatever cannot be read. Whether it holds together is asked
    later.
    """
    values = fields.keys(node, "the programme", PROGRAMME_KEYS, required=("start", "releases"))
    weekdays, dates = _closed(fields, values["closed"]) if "closed" in values else (set(), set())
    mend = "write each on a line: - Lit Window"
    listed = fields.items(values["releases"], "releases", MOST_RELEASES, mend)
    return Asked(
        start=day(fields, values["start"], "the start"),
        releases=tuple(_release(fields, item) for item in listed),
        rhythm=_rhythm(fields, values["rhythm"]) if "rhythm" in values else Rhythm(),
        people=fields.whole(values["people"], "people", limits.COPIES) if "people" in values else 1,
        spares=per_cent(fields, values["spares"], "the spares", MOST_SPARES)
        if "spares" in values
        else Fraction(0),
        level=fields.word(values["kit level"], "the kit level", LEVELS)
        if "kit level" in values
        else "patches",
        leads=_leads(fields, values["leads"]) if "leads" in values else (),
        closed_weekdays=frozenset(weekdays),
        closed_dates=frozenset(dates),
        at=hour(fields, values["hour"], "the hour") if "hour" in values else None,
        zone=_zone(fields, values["zone"]) if "zone" in values else "UTC",
        one_lot=_letters(fields, values["one dye lot"]) if "one dye lot" in values else (),
        bolt=_bolt(fields, values["bolt"]) if "bolt" in values else None,
        costs=_costs(fields, values["costs"]) if "costs" in values else Costs(),
        where=fields.where(node),
    )


def _release(fields: Fields, node: Node) -> ReleaseAsked:
    """A block, a list of blocks, or a group that says more."""
    where = fields.where(node)
    if isinstance(node, Scalar):
        return ReleaseAsked((fields.text(node, "a block", limits.NAME_LENGTH),), where=where)
    if isinstance(node, Items):
        return ReleaseAsked(_names(fields, node), where=where)
    values = fields.keys(node, "a release", RELEASE_KEYS)
    if not ("blocks" in values or "parts" in values):
        raise fields.refusal(node, "the release holds nothing", "add blocks: or parts:")
    parts: tuple[FinishingPart, ...] = ()
    if "parts" in values:
        items = _one_or_more(fields, values["parts"], "parts", len(FINISHING))
        parts = tuple(fields.word(item, "a part", PARTS) for item in items)
    return ReleaseAsked(
        blocks=_names(fields, values["blocks"]) if "blocks" in values else (),
        parts=parts,
        on=day(fields, values["on"], "the day") if "on" in values else None,
        where=where,
    )


def _names(fields: Fields, node: Node) -> tuple[str, ...]:
    items = _one_or_more(fields, node, "blocks", limits.BLOCKS)
    return tuple(fields.text(item, "a block", limits.NAME_LENGTH) for item in items)


def _one_or_more(fields: Fields, node: Node, what: str, most: int) -> tuple[Node, ...]:
    return (node,) if isinstance(node, Scalar) else tuple(fields.items(node, what, most))


def _rhythm(fields: Fields, node: Node) -> Rhythm:
    text = fields.text(node, "the rhythm")
    plain = " ".join(text.lower().split())
    if plain in _WORDS:
        return _WORDS[plain]
    every = _EVERY.fullmatch(plain)
    if every is not None and int(every[1]):
        return Rhythm(int(every[1]), "week" if every[2] == "week" else "month")
    nth = _WEEKDAY.fullmatch(plain)
    if nth is not None:
        return Rhythm(nth=_NTHS[nth[1]], weekday=WEEKDAYS.index(nth[2]))
    raise fields.refusal(
        node,
        f'the rhythm cannot be "{shortened(text)}"',
        "write weekly, monthly, every 2 weeks, or second Saturday of the month",
    )


def _leads(fields: Fields, node: Node) -> tuple[tuple[StepName, Lead], ...]:
    found: dict[StepName, Lead] = {}
    for key, value in fields.named(node, "leads", len(LEADS)):
        step = fields.word(key, "a step", LEADS)
        if isinstance(value, Items):
            if len(value.items) != 2:
                raise fields.refusal(value, "a lead is one or two numbers", "such as [35, 28]")
            before, takes = (fields.whole(n, "the days", MOST_DAYS) for n in value.items)
        else:
            before, takes = fields.whole(value, "the days", MOST_DAYS), 1
        found[step] = Lead(before, takes)
    return tuple(found.items())


def _closed(fields: Fields, node: Node) -> tuple[set[int], set[date]]:
    weekdays: set[int] = set()
    dates: set[date] = set()
    for item in fields.items(node, "closed", MOST_CLOSED, "write each on a line: - Sunday"):
        word = fields.text(item, "a closed day").lower()
        if word in WEEKDAYS:
            weekdays.add(WEEKDAYS.index(word))
        else:
            dates.add(day(fields, item, "a closed day"))
    if len(weekdays) == len(WEEKDAYS):
        raise fields.refusal(node, "no day of the week is open", "leave one out")
    return weekdays, dates


def _zone(fields: Fields, node: Node) -> str:
    text = fields.text(node, "the zone", limits.NAME_LENGTH)
    try:
        return ZoneInfo(text).key
    except (ValueError, OSError, LookupError):  # LookupError: no such zone in the data base
        raise fields.refusal(
            node,
            f'"{shortened(text)}" is not a time zone',
            "write its name in the time zone database, such as Europe/Oslo or America/Denver",
        ) from None


def _letters(fields: Fields, node: Node) -> tuple[str, ...]:
    items = _one_or_more(fields, node, "one dye lot", limits.FABRICS)
    return tuple(dict.fromkeys(fields.fabric(item) for item in items))


def _bolt(fields: Fields, node: Node) -> Fraction:
    try:
        return shop_length(fields.text(node, "the bolt"), fields.measure)
    except InputError as problem:
        raise fields.document.placed(problem, node) from None


def _costs(fields: Fields, node: Node) -> Costs:
    values = fields.keys(node, "costs", COST_KEYS)

    def amount(key: str) -> Fraction:
        return money(fields, values[key], key) if key in values else Fraction(0)

    usual = Costs()
    markup = money(fields, values["markup"], "the markup") if "markup" in values else usual.markup
    if markup > MOST_TIMES:
        raise fields.too_much(values["markup"], f"the markup is more than {MOST_TIMES}", "check it")
    return Costs(
        wage=amount("wage"),
        cut_seconds=fields.whole(values["cut seconds"], "the seconds", MOST_SECONDS)
        if "cut seconds" in values
        else usual.cut_seconds,
        bag=amount("bag"),
        pattern=amount("pattern"),
        postage=amount("postage"),
        once=amount("once"),
        markup=markup,
        price=amount("price") if "price" in values else None,
    )
