"""Pieces of cloth as somebody writes them: ``fat quarter``, ``2 of 18 × 21``."""

from __future__ import annotations

import re
from dataclasses import replace

from seamproof.cloth.model import Fixed
from seamproof.cloth.sold import INCH, sold
from seamproof.errors import InputError, LengthError
from seamproof.length.notation import Measure, parse
from seamproof.project import limits

_COUNTED = re.compile(r"(?P<count>[0-9]{1,9}) +of +(?P<piece>.+)", re.IGNORECASE | re.DOTALL)
_TIMES = re.compile(r" *[x×] *", re.IGNORECASE)

_EXAMPLES = "write width × length, such as 18 x 21 or 2 of 18 x 21, or a name: " + ", ".join(INCH)


def cloth_piece(text: str, measure: Measure = "in") -> Fixed:
    """The piece that `text` says: a name of the trade or width × length, the length along the
    selvage, and before it how many, as in ``3 of fat quarter``. A number without a unit is in
    `measure`. `count` is None if no number is said.

    A size of nothing, or less, is read: what to make of it is for the checks to say. Raises
    InputError for what is no piece of cloth at all, and LimitError for more than can be carried.

    >>> cloth_piece("fat quarter").name, cloth_piece("2 of 5 x 5").count
    ('fat quarter', 2)
    >>> str(cloth_piece("-3 × 18").width)
    '-3'
    >>> cloth_piece("a bit")
    Traceback (most recent call last):
    ...
    seamproof.errors.InputError: "a bit" is not a piece of cloth; write width × length, such as \
18 x 21 or 2 of 18 x 21, or a name: fat quarter, fat eighth, quarter yard, 2 1/2 in strip, \
2 1/2 in square, 5 in square, 10 in square
    """
    plain = " ".join(text.split())
    found = _COUNTED.fullmatch(plain)
    count = int(found["count"]) if found else None
    if count is not None and count > limits.COPIES:
        raise InputError(f"{count:,} pieces of cloth are more than {limits.COPIES:,}")
    what = found["piece"] if found else plain
    named = sold(what.lower().removesuffix("s"), measure) or sold(what.lower(), measure)
    if named is not None:
        return replace(named, count=count)
    sides = _TIMES.split(what)
    if len(sides) != 2:
        raise InputError(f'"{plain[:40]}" is not a piece of cloth', mend=_EXAMPLES)
    try:
        width, length = (parse(side, unit=measure, signed=True) for side in sides)
    except LengthError as error:
        raise InputError(
            f'"{plain[:40]}" is not a piece of cloth, since {error.what}', mend=_EXAMPLES
        ) from None
    if max(width, length) > limits.LONGEST_CLOTH:
        raise InputError(
            f'"{plain[:40]}" is larger than any cloth',
            mend=f"the longest that is read is {limits.LONGEST_CLOTH} in",
        )
    return Fixed(what, width, length, count)
