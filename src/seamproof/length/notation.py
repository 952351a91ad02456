"""Lengths as text: what a quilter writes, and what is written for them.

Three ways of writing, for three readers: `number` and `with_unit` for people (eighths where they
are exact, else a short decimal), `exactly` for files (nothing is lost), and `parse` reads all of
them and whatever else is usual at a cutting table.
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction
from typing import Literal

from seamproof.errors import LengthError
from seamproof.length.exact import CM

Measure = Literal["in", "cm"]
"""What lengths are written in: inches or centimetres."""

MOST_DIGITS = 12
"""Digits that one number of a length may have. A coordinate to the millionth of an inch has nine;
whoever needs more has slipped on the keys."""

FINEST_SPLIT = 64
"""The finest split of an inch that is written as a fraction; rulers stop at 32 or 64 parts."""

INCH_PLACES = 3
"""Decimals of an inch written for a length that is on no mark: a thousandth, a quarter of a
thread."""

CM_PLACES = 2
"""Decimals of a centimetre: a metric ruler's 0.25 cm is exact, and 0.1 mm is less than a thread."""

_FILE_PLACES = 6
"""Decimals written to a file before a fraction is shorter."""

_SPACES = dict.fromkeys(
    [*map(ord, "\t\u00a0\u1680\u202f\u205f\u3000"), *range(0x2000, 0x200B)], " "
)
_SIGNS = {
    **dict.fromkeys(map(ord, "\u2044\u2215"), "/"),  # fraction slash, division slash
    **dict.fromkeys(map(ord, "\u2010\u2011\u2012\u2013\u2212"), "-"),  # hyphens, minus
    **dict.fromkeys(map(ord, "\u201c\u201d\u201e\u2033\u02ba\uff02"), '"'),
    **dict.fromkeys(map(ord, "\u2018\u2019\u201a\u2032\u02b9"), "'"),
}

_PARTS = re.compile(
    r"""
    (?P<sign>[-+]?)\ ?
    (?:
        (?:(?P<whole>[0-9]+)(?:\ +|-))? (?P<upper>[0-9]+)\ ?/\ ?(?P<lower>[0-9]+)
      | (?P<decimal>[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)
    )
    \ *(?P<unit>[^0-9\ .,/-].*)?
    """,
    re.VERBOSE,
)

_UNITS = {
    **dict.fromkeys(('"', "''", "in", "inch", "inches"), Fraction(1)),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), CM),
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), CM / 10),
}

_OTHER_UNITS = {
    **dict.fromkeys(("'", "ft", "foot", "feet"), "a foot is 12 in"),
    **dict.fromkeys(("yd", "yds", "yard", "yards"), "a yard is 36 in"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "a metre is 100 cm"),
}

_EXAMPLES = "write a length such as 2 7/8, 2.875 in or 7.5 cm"


def parse(text: str, *, unit: Measure = "in", signed: bool = False) -> Fraction:
    """The length that `text` says, in inches. A number without a unit is in `unit`.

    Read are whole numbers, fractions (``7/8``), mixed numbers (``2 7/8``, ``2-7/8``, ``2⅞``) and
    decimals, then ``in``, ``"``, ``cm``, ``mm`` or their full words. A decimal comma is read
    unless it could part thousands (``2,875``). Zero is a length. A minus is read only if `signed`,
    for coordinates.

    Raises LengthError with what is wrong and what to write instead.

    >>> str(parse("2-7/8")), str(parse("2⅞")), str(parse("12,7 mm")), str(parse("2.54", unit="cm"))
    ('23/8', '23/8', '1/2', '1')
    >>> parse("0"), parse("-1 1/2", signed=True)
    (Fraction(0, 1), Fraction(-3, 2))
    >>> parse("2 9/8")
    Traceback (most recent call last):
    ...
    seamproof.errors.LengthError: the fraction in "2 9/8" is not below one; write 3 1/8
    """
    plain = _plain(text)
    if not plain:
        raise LengthError("a length is missing", mend=_EXAMPLES)
    match = _PARTS.fullmatch(plain)
    if match is None:
        raise LengthError(f"{_quoted(text)} is not a length", mend=_EXAMPLES)
    factor = _factor(match["unit"], text, unit)
    value = _number(match, text)
    if match["sign"] == "-" and not signed:
        raise LengthError(f"{_quoted(text)} is less than nothing", mend="leave out the minus")
    return (-value if match["sign"] == "-" else value) * factor


def number(value: Fraction, measure: Measure = "in") -> str:
    """`value`, in inches, as people read it in `measure`, without the unit.

    >>> number(Fraction(39, 8)), number(Fraction(39, 8), "cm")
    ('4 7/8', '12.38')
    """
    return inches(value) if measure == "in" else centimetres(value)


def with_unit(value: Fraction, measure: Measure = "in") -> str:
    """`value`, in inches, as people read it in `measure`, with ``in`` or ``cm`` behind it.

    >>> with_unit(Fraction(1, 4)), with_unit(CM * 3 / 4, "cm")
    ('1/4 in', '0.75 cm')
    """
    return f"{number(value, measure)} {measure}"


def inches(value: Fraction) -> str:
    """Inches as on a ruler: a mixed number if `value` lies on a mark of 1/64 in or coarser, else
    rounded to a decimal of at most three places.

    >>> inches(Fraction(39, 8)), inches(Fraction(7, 8)), inches(Fraction(3)), inches(Fraction(0))
    ('4 7/8', '7/8', '3', '0')
    >>> inches(Fraction(12, 5)), inches(Fraction(1, 3)), inches(Fraction(-5, 4))
    ('2.4', '0.333', '-1 1/4')
    """
    if FINEST_SPLIT % Fraction(value).denominator == 0:
        return mixed(Fraction(value))
    return _decimal(Fraction(value), INCH_PLACES)


def centimetres(value: Fraction) -> str:
    """`value`, in inches, in centimetres, rounded to a decimal of at most two places.

    >>> centimetres(Fraction(5)), centimetres(CM * 49 / 4), centimetres(Fraction(0))
    ('12.7', '12.25', '0')
    """
    return _decimal(Fraction(value) / CM, CM_PLACES)


def exactly(value: Fraction, measure: Measure = "in") -> str:
    """`value`, in inches, as text that `parse(…, unit=measure, signed=True)` reads back equal.

    A mixed number in ruler parts or a decimal of at most six places; the same in the other
    measure, with its unit, if only that is exact; else a mixed number whatever its denominator.

    >>> exactly(Fraction(23, 8)), exactly(Fraction("2.485281")), exactly(Fraction(22, 7))
    ('2 7/8', '2.485281', '3 1/7')
    >>> exactly(Fraction(1), "cm"), exactly(CM * 3 / 4, "cm"), exactly(CM * 3 / 4)
    ('2.54', '0.75', '0.75 cm')
    """
    own, other = (_short(value, "in"), _short(value, "cm"))
    if measure == "cm":
        own, other = other, own
    if own is not None:
        return own
    if other is not None:
        return f"{other} {'cm' if measure == 'in' else 'in'}"
    return mixed(Fraction(value) if measure == "in" else Fraction(value) / CM)


def _short(value: Fraction, measure: Measure) -> str | None:
    """The exact text in one measure, without unit; None if it takes more than a short decimal."""
    amount = Fraction(value) if measure == "in" else Fraction(value) / CM
    if measure == "in" and FINEST_SPLIT % amount.denominator == 0:
        return mixed(amount)
    return _decimal(amount, _FILE_PLACES) if 10**_FILE_PLACES % amount.denominator == 0 else None


def mixed(value: Fraction) -> str:
    """A number as a whole number and a fraction, exact whatever the denominator.

    >>> mixed(Fraction(39, 8)), mixed(Fraction(-1, 3)), mixed(Fraction(0))
    ('4 7/8', '-1/3', '0')
    """
    whole, rest = divmod(abs(value), 1)
    parts = [str(whole)] if whole or not rest else []
    parts += [str(rest)] if rest else []
    return ("-" if value < 0 else "") + " ".join(parts)


def _plain(text: str) -> str:
    """The text in plain characters: spaces, slashes, quotes, and fractions such as ⅞ spelt out."""
    spelt = []
    for character in text.translate(_SPACES).translate(_SIGNS):
        parts = unicodedata.decomposition(character).split()
        if parts[:1] == ["<fraction>"]:
            fraction = "".join(chr(int(part, 16)) for part in parts[1:]).replace("\u2044", "/")
            spelt.append(f" {fraction}")
        else:
            spelt.append(character)
    return re.sub(" +", " ", "".join(spelt)).strip(" ")


def _factor(written: str | None, text: str, unit: Measure) -> Fraction:
    if written is None:
        return _UNITS[unit]
    name = written.strip().rstrip(".").lower()
    if name in _UNITS:
        return _UNITS[name]
    if name in _OTHER_UNITS:
        raise LengthError(
            f"{_quoted(text)} is not in inches or centimetres",
            mend=f"{_OTHER_UNITS[name]}; write it in inches or centimetres",
        )
    raise LengthError(f"{_quoted(text)} is not a length", mend=_EXAMPLES)


def _number(match: re.Match[str], text: str) -> Fraction:
    figures = [match[part] for part in ("whole", "upper", "lower", "decimal") if match[part]]
    if any(len(part) > MOST_DIGITS for part in figures):
        raise LengthError(
            f"{_quoted(text)} has too many digits", mend=f"{MOST_DIGITS} are enough for any size"
        )
    if match["decimal"]:
        return _decimal_number(match["decimal"], text)
    upper, lower = int(match["upper"]), int(match["lower"])
    if lower == 0:
        raise LengthError(f"{_quoted(text)} divides by nothing", mend=_EXAMPLES)
    if match["whole"] and upper >= lower:
        raise LengthError(
            f"the fraction in {_quoted(text)} is not below one",
            mend=f"write {mixed(int(match['whole']) + Fraction(upper, lower))}",
        )
    return int(match["whole"] or 0) + Fraction(upper, lower)


def _decimal_number(written: str, text: str) -> Fraction:
    before, comma, after = written.partition(",")
    if comma and len(after) == 3 and before not in ("", "0"):
        raise LengthError(
            f"the comma in {_quoted(text)} may part thousands or decimals",
            mend=f"write {before}.{after} or {before}{after}",
        )
    return Fraction(written.replace(",", "."))


def _decimal(value: Fraction, places: int) -> str:
    scaled = (abs(value) * 10**places + Fraction(1, 2)) // 1
    whole, rest = divmod(scaled, 10**places)
    text = f"{whole}.{rest:0{places}d}".rstrip("0").rstrip(".")
    return f"-{text}" if value < 0 and scaled else text


def _quoted(text: str) -> str:
    """The text as it is shown in a sentence: on one line, and not longer than a line."""
    seen = "".join(c if c.isprintable() else "\ufffd" for c in text)
    return f'"{seen}"' if len(seen) <= 40 else f'"{seen[:37]}…"'
