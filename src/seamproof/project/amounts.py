"""Amounts that are no lengths at a ruler: money, shares, days, and lengths as a shop says them."""

from __future__ import annotations

import re
from datetime import date, time
from fractions import Fraction

from seamproof.cloth.buying import METRE, YARD
from seamproof.errors import InputError, LengthError
from seamproof.length.notation import Measure, parse
from seamproof.project import limits
from seamproof.project.fields import Fields
from seamproof.project.yaml_tree import Node, shortened

FIRST_YEAR, LAST_YEAR = 1990, 2199
"""Years of days that are read: outside them somebody has slipped on the keys."""

_PER_CENT = re.compile(r"([0-9]{1,2}(?:[.,][0-9]{1,3})?) ?%?")
_MONEY = re.compile(r"([0-9]{1,9})(?:[.,]([0-9]{1,2}))?")
_SHOP = re.compile(r"(.*\S) ?(yd|yds|yard|yards|m|metre|metres|meter|meters)", re.IGNORECASE)
_DAY = re.compile("[0-9]{4}-[0-9]{2}-[0-9]{2}")
_HOUR = re.compile("([0-9]{1,2}):([0-9]{2})")


def money(fields: Fields, node: Node, what: str = "the price") -> Fraction:
    """An amount of money, in whatever currency the project is in."""
    text = fields.text(node, what)
    found = _MONEY.fullmatch(text)
    if found is None:
        raise fields.refusal(
            node, f'{what} cannot be "{shortened(text)}"', "write a number such as 12.50"
        )
    return Fraction(f"{found[1]}.{found[2] or 0}")


def per_cent(fields: Fields, node: Node, what: str, most: int) -> Fraction:
    """A share, written per cent."""
    text = fields.text(node, what)
    found = _PER_CENT.fullmatch(text)
    if found is None:
        raise fields.refusal(
            node, f'{what} cannot be "{shortened(text)}"', "write per cent, such as 3 %"
        )
    share = Fraction(found[1].replace(",", ".")) / 100
    if share > Fraction(most, 100):
        raise fields.too_much(node, f"{what} is more than {most} %", "check the number")
    return share


def share_of(text: str) -> Fraction:
    """A share written per cent outside a file, from 0 to 99 %.

    >>> share_of("5%"), share_of("2.5 %")
    (Fraction(1, 20), Fraction(1, 40))
    """
    found = _PER_CENT.fullmatch(text.strip())
    if found is None:
        raise InputError(f'"{shortened(text)}" is not a share', mend="write per cent, such as 5%")
    return Fraction(found[1].replace(",", ".")) / 100


def shop_length(text: str, measure: Measure = "in") -> Fraction:
    """A length of cloth in inches, written in yards or metres, or as any other length.

    Raises InputError for what is no length, or is longer than any bolt.

    >>> str(shop_length("9 1/2 yd")), str(shop_length("36 in")), shop_length("2.54 m")
    ('342', '36', Fraction(100, 1))
    """
    plain = " ".join(text.split())
    found = _SHOP.fullmatch(plain)
    if found is None or found[1].lower().endswith(("c", "m")):
        length = parse(plain, unit=measure)
    else:
        unit = YARD if found[2].lower().startswith("y") else METRE
        length = parse(found[1], unit="in") * unit
    if length > limits.LONGEST_CLOTH:
        raise InputError(
            f'"{shortened(plain)}" is longer than any bolt',
            mend=f"the longest that is read is {limits.LONGEST_CLOTH} in",
        )
    if not length:
        raise LengthError(f'"{shortened(plain)}" is no length', mend="such as 12 yd")
    return length


def day(fields: Fields, node: Node, what: str) -> date:
    """A day, written year-month-day."""
    text = fields.text(node, what)
    try:
        found = date.fromisoformat(text) if _DAY.fullmatch(text) else _no_day(text)
    except ValueError:
        raise fields.refusal(
            node,
            f'{what} cannot be "{shortened(text)}"',
            "write a day that is in the calendar as year-month-day, such as 2027-01-09",
        ) from None
    if not FIRST_YEAR <= found.year <= LAST_YEAR:
        raise fields.too_much(
            node, f"{what} is not between {FIRST_YEAR} and {LAST_YEAR}", "check the year"
        )
    return found


def hour(fields: Fields, node: Node, what: str) -> time:
    """An hour of the day, written with a colon."""
    text = fields.text(node, what)
    found = _HOUR.fullmatch(text)
    if found is None or int(found[1]) > 23 or int(found[2]) > 59:
        raise fields.refusal(
            node, f'{what} cannot be "{shortened(text)}"', 'write it as "18:30", in quotes'
        )
    return time(int(found[1]), int(found[2]))


def _no_day(text: str) -> date:
    raise ValueError(text)
