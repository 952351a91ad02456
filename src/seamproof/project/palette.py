"""Colours for fabrics that nobody chose: our own palette of 24, light, medium and dark mixed.

Two fabrics that are likely to meet (letters near each other) differ in lightness first and in hue
second, so that a block reads in grey as well. No two colours of the palette are closer than
`LEAST_DIFFERENCE` apart.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable
from typing import Literal, NamedTuple, get_args

from seamproof.draft.model import Fabric

Value = Literal["light", "light-medium", "medium-light", "medium", "medium-dark", "dark"]

LEAST_DIFFERENCE = 14.0
"""Distance of two colours of the palette in CIE L*a*b* (CIE 15:2004, 1976 formula); 2.3 is a
just noticeable difference, and 14 tells two cloths apart across a room (from memory, judged by
eye)."""


class _Shade(NamedTuple):
    name: str
    colour: str


PALETTE: tuple[_Shade, ...] = (
    _Shade("Chalk", "#F1EBDD"),
    _Shade("Ink", "#232B45"),
    _Shade("Clay", "#B9603F"),
    _Shade("Straw", "#E9CB74"),
    _Shade("Pine", "#2F5A48"),
    _Shade("Rain", "#8FB2C4"),
    _Shade("Plum", "#63304F"),
    _Shade("Blush", "#EBB9A6"),
    _Shade("Moss", "#8A9448"),
    _Shade("Denim", "#3E6799"),
    _Shade("Oatmeal", "#C9B48C"),
    _Shade("Brick", "#8C2F2B"),
    _Shade("Mint", "#BCDCC3"),
    _Shade("Slate", "#5C6770"),
    _Shade("Amber", "#D68E2C"),
    _Shade("Heather", "#9C82B4"),
    _Shade("Cocoa", "#513A2C"),
    _Shade("Sky", "#C6DDEB"),
    _Shade("Rose", "#C9708A"),
    _Shade("Teal", "#1E7F85"),
    _Shade("Lilac", "#DCCBE6"),
    _Shade("Olive", "#5E5A23"),
    _Shade("Jade", "#63AE8C"),
    _Shade("Indigo", "#46408A"),
)


def fabrics_from_palette(letters: Iterable[str], taken: Collection[str] = ()) -> tuple[Fabric, ...]:
    """A fabric for each letter, its colour not among those `taken` while there are others.

    A letter keeps its colour whatever other letters a block uses, unless two letters (such as a
    and aa) would have the same one.
    """
    used = set(taken)
    fabrics = []
    for letter in letters:
        begin = _number(letter) % len(PALETTE)
        turn = [*PALETTE[begin:], *PALETTE[:begin]]
        shade = next((shade for shade in turn if shade.colour not in used), turn[0])
        used.add(shade.colour)
        fabrics.append(Fabric(letter, shade.name, shade.colour, value_of(shade.colour)))
    return tuple(fabrics)


def value_of(colour: str) -> Value:
    """The value of a colour in the trade's six steps, by its lightness.

    >>> value_of("#FFFFFF"), value_of("#808080"), value_of("#000000")
    ('light', 'medium', 'dark')
    """
    steps: tuple[Value, ...] = get_args(Value)
    lightness = lab(colour)[0]
    return steps[sum(lightness < least for least in _LEAST_LIGHTNESS)]


_LEAST_LIGHTNESS = (86.0, 74.0, 62.0, 45.0, 28.0)
"""Lightness L* from which a cloth counts as light, light-medium, medium-light, medium and
medium-dark (judged by eye; the trade has no numbers for them)."""


def lab(colour: str) -> tuple[float, float, float]:
    """L*, a*, b* of ``#RRGGBB`` in sRGB under D65 (IEC 61966-2-1; CIE 15:2004).

    >>> [round(part, 1) + 0.0 for part in lab("#FFFFFF")]
    [100.0, 0.0, 0.0]
    """
    red, green, blue = (_linear(int(colour[i : i + 2], 16) / 255) for i in (1, 3, 5))
    x = _root((0.4124564 * red + 0.3575761 * green + 0.1804375 * blue) / 0.950470)
    y = _root(0.2126729 * red + 0.7151522 * green + 0.0721750 * blue)
    z = _root((0.0193339 * red + 0.1191920 * green + 0.9503041 * blue) / 1.088830)
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else math.pow((channel + 0.055) / 1.055, 2.4)


def _root(share: float) -> float:
    return math.cbrt(share) if share > 216 / 24389 else (24389 / 27 * share + 16) / 116


def _number(letter: str) -> int:
    """Place of a letter in the row a to z, aa, ab and so on, from 0."""
    number = 0
    for character in letter:
        number = number * 26 + ord(character) - ord("a") + 1
    return number - 1
