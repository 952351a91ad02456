"""Letters of fabrics, and sizes set as print sets them: fractions built, nothing that belongs
together torn apart."""

from __future__ import annotations

import re
from dataclasses import dataclass

from seamproof.drawing.widths import CHARACTERS, WIDTHS

FAMILY = "Atkinson Hyperlegible Next"

FABRIC_LETTERS = "ABCDEFGHJKLMNPRSTUVWXY"
"""Letters for fabrics in their order. I, O, Q and Z are left out: they are too like 1, 0 and 2."""

NO_BREAK, THIN, SLASH = "\u00a0", "\u2009", "\u2044"

NUMERATOR_SIZE = 0.74
NUMERATOR_RISE = 0.31
SLASH_PULL = 0.125
"""How far the fraction slash reaches into its neighbours, as a share of the type size."""

ASCENT, DESCENT = 0.73, 0.21
"""Top of figures and letters above the base line, and foot of g and y below it, as a share of the
type size."""

_FRACTION = re.compile(r"(?:(?<![\d/])(\d+)[ \u00a0])?(?<![\d/.])(\d{1,3})/(\d{1,3})(?![\d/])")
_GLUED = re.compile(r" (?=×)|(?<=×) |(?<=\d) (?=in\b|cm\b|yd\b)")


@dataclass(frozen=True, slots=True)
class Run:
    """Characters of one size on one height: `x` from the start of the line, `rise` above its base
    line."""

    text: str
    x: float
    rise: float
    size: float


@dataclass(frozen=True, slots=True)
class Line:
    """A line of text, set. Lengths are in the unit of its type size."""

    runs: tuple[Run, ...]
    width: float
    size: float
    weight: int

    @property
    def text(self) -> str:
        """Its characters as they are read back from a print."""
        return "".join(run.text for run in self.runs)


def printed(letter: str) -> str:
    """A fabric's letter as it is printed: ``a`` becomes ``A``."""
    return letter.upper()


def hatch_number(letter: str) -> int:
    """Which hatch a printed letter has, counted from 0 in the order of the fabric letters; letters
    that are left out of it come after them, anything else after those.

    >>> hatch_number("A"), hatch_number("J"), hatch_number("N"), hatch_number("O")
    (0, 8, 12, 23)
    """
    order = FABRIC_LETTERS + "IOQZ"
    return order.index(letter) if letter in order else len(order) + sum(map(ord, letter)) % 12


def glued(text: str) -> str:
    """The text with no-break spaces where a size, its × and its unit belong together.

    >>> glued("trim to 4 × 4 in").replace(NO_BREAK, "_")
    'trim to 4_×_4_in'
    """
    return _GLUED.sub(NO_BREAK, text)


def width_of(text: str, size: float, weight: int) -> float:
    """Length of plain characters in a row; one that is not in the table counts as a wide one.

    >>> round(width_of("11", 10, 400), 2), width_of("", 10, 400)
    (8.14, 0.0)
    """
    table = WIDTHS[weight]
    return sum(table[CHARACTERS.index(c)] if c in CHARACTERS else 1000 for c in text) * size / 1000


def line(text: str, size: float, weight: int = 400) -> Line:
    """The text set in one line, ``7/8`` as a built fraction.

    >>> line("4 7/8 in", 10).text.translate({0x2009: "_", 0x2044: "/", 0xA0: "-"})
    '4_7/8-in'
    >>> line("", 10)
    Line(runs=(), width=0.0, size=10, weight=400)
    """
    runs: list[Run] = []
    x = 0.0

    def put(characters: str, share: float = 1.0, rise: float = 0.0) -> None:
        nonlocal x
        if characters:
            runs.append(Run(characters, x, rise * size, share * size))
            x += width_of(characters, share * size, weight)

    text = glued(text)
    done = 0
    for found in _FRACTION.finditer(text):
        whole, upper, lower = found.groups()
        put(text[done : found.start()] + (whole + THIN if whole else ""))
        put(upper, NUMERATOR_SIZE, NUMERATOR_RISE)
        x -= SLASH_PULL * size
        put(SLASH)
        x -= SLASH_PULL * size
        put(lower, NUMERATOR_SIZE)
        done = found.end()
    put(text[done:])
    return Line(tuple(runs), x, size, weight)
