"""Colours and pens: what each kind of line is drawn with, on paper and on the screen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from seamproof.drawing.scene import LineKind

INK = "#171C1E"
INK2 = "#4A5254"
SIGN = "#15191B"
"""Signs on cloth: the same on light and dark pages."""
RULE = "#A9AEAD"
WHITE = "#FFFFFF"
MADDER = "#A8281A"

_WRONG_GREY = "#D8D6D0"
_WRONG_WHITE, _WRONG_MIX = 0.55, 0.18
_VEIL = 0.72
_LIGHT_CLOTH = 0.30
"""Relative luminance (WCAG 2) from which cloth is light enough for a hatch in ink."""


@dataclass(frozen=True, slots=True)
class Pen:
    """How a line is drawn, in points on paper or CSS pixels on the screen. `casing` is the width
    of the white line under it, 0 for none."""

    width: float
    colour: str = INK
    dash: tuple[float, ...] = ()
    casing: float = 0.0


@dataclass(frozen=True, slots=True)
class Medium:
    """Paper or screen: its `unit` in SVG, units to the inch, and everything that has a fixed size
    there.

    `past` is how far a cut runs past the cloth, `bar` half the cross-bar at its ends. `clear` is
    the distance of a dimension line from the cloth, `tick` half its end bars, `gap` from the line
    to its label. `small` and `large` are the sizes of labels and of patch letters, `disc` the
    radius under a letter. `sign` is the length of a press sign. `dot` is the radius of a dot, `rim`
    the width of the white round it. With `plain` cloth is white and its hatch is in full ink.
    """

    unit: Literal["pt", "px"]
    per_inch: float
    pens: dict[LineKind, Pen]
    dimension: Pen
    grain: Pen
    hatch: float
    pitch: float
    small: float
    large: float
    disc: float
    past: float
    bar: float
    clear: float
    tick: float
    gap: float
    arrow: float
    sign: float
    dot: float
    rim: float
    margin: float
    plain: bool = False


PRINT = Medium(
    unit="pt",
    per_inch=72.0,
    pens={
        "outline": Pen(1.0),
        "seam": Pen(0.75),
        "stitching": Pen(0.8, dash=(3.75, 2.25), casing=2.0),
        "to come": Pen(0.5, dash=(1.1, 2.25)),
        "raw edge": Pen(0.5),
        "unfinished": Pen(0.5, RULE),
        "marked": Pen(0.5),
        "cut": Pen(1.2, MADDER, casing=2.6),
        "cross-cut": Pen(0.5, casing=1.7),
        "selvage": Pen(2.0, dash=(1.1, 3.0)),
        "leftover": Pen(0.5, dash=(3.0, 2.25)),
        "stitch": Pen(1.9),
        "broken stitch": Pen(1.9, MADDER, dash=(3.6, 2.2)),
        "enlarged": Pen(1.0, SIGN, casing=3.0),
        "finished": Pen(0.4, WHITE),
    },
    dimension=Pen(0.5, INK2),
    grain=Pen(0.8, casing=2.6),
    hatch=0.5,
    pitch=2.4 / 25.4 * 72,
    small=9.0,
    large=9.0,
    disc=6.4,
    past=8.0,
    bar=4.0,
    clear=8.0,
    tick=3.0,
    gap=4.5,
    arrow=20.0,
    sign=4.5 / 25.4 * 72,
    dot=1.9,
    rim=0.9,
    margin=0.6,
)
"""LOOK of the printed page: weights in points."""

SCREEN = Medium(
    unit="px",
    per_inch=96.0,
    pens={
        "outline": Pen(2.0),
        "seam": Pen(1.25),
        "stitching": Pen(1.25, dash=(5.0, 3.0), casing=3.0),
        "to come": Pen(0.8, dash=(1.5, 3.0)),
        "raw edge": Pen(0.8),
        "unfinished": Pen(1.0, RULE),
        "marked": Pen(0.8),
        "cut": Pen(1.5, MADDER, casing=3.5),
        "cross-cut": Pen(0.8, casing=2.4),
        "selvage": Pen(3.0, dash=(1.5, 4.0)),
        "leftover": Pen(0.8, dash=(4.0, 3.0)),
        "stitch": Pen(2.5),
        "broken stitch": Pen(2.5, MADDER, dash=(4.8, 2.9)),
        "enlarged": Pen(1.5, SIGN, casing=4.5),
        "finished": Pen(0.6, WHITE),
    },
    dimension=Pen(0.8, INK2),
    grain=Pen(1.25, casing=4.0),
    hatch=0.9,
    pitch=10.0,
    small=12.0,
    large=15.0,
    disc=12.0,
    past=10.0,
    bar=6.0,
    clear=10.0,
    tick=4.0,
    gap=6.0,
    arrow=26.0,
    sign=16.0,
    dot=3.5,
    rim=1.5,
    margin=1.5,
)
"""The same on the screen: weights in CSS pixels."""


def luminance(colour: str) -> float:
    """Relative luminance of ``#RRGGBB``, 0 black to 1 white (WCAG 2.2, "relative luminance").

    >>> luminance("#FFFFFF"), luminance("#000000")
    (1.0, 0.0)
    """
    red, green, blue = (_linear(part / 255) for part in _parts(colour))
    return round(0.2126 * red + 0.7152 * green + 0.0722 * blue, 12)


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21 (WCAG 2.2, "contrast ratio").

    >>> contrast("#000000", "#FFFFFF"), contrast("#777777", "#777777")
    (21.0, 1.0)
    """
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def wrong_side(colour: str) -> str:
    """The colour of the back of a cloth: paler and a little greyer.

    >>> wrong_side("#000000"), wrong_side("#FFFFFF")
    ('#9A9998', '#F8F8F7')
    """
    return mixed(mixed(colour, WHITE, _WRONG_WHITE), _WRONG_GREY, _WRONG_MIX)


def veiled(colour: str) -> str:
    """The colour of cloth that is left over."""
    return mixed(colour, WHITE, _VEIL)


def hatch_ink(colour: str) -> tuple[str, float]:
    """Colour and opacity of the hatch on a cloth: ink on light cloth, white on dark.

    >>> hatch_ink("#F2EFE6"), hatch_ink("#141F3B")
    (('#171C1E', 0.42), ('#FFFFFF', 0.5))
    """
    return (INK, 0.42) if luminance(colour) >= _LIGHT_CLOTH else (WHITE, 0.5)


def mixed(colour: str, other: str, share: float) -> str:
    """`colour` with `share` of it replaced by `other`."""
    parts = zip(_parts(colour), _parts(other), strict=True)
    return "#" + "".join(f"{round(a + (b - a) * share):02X}" for a, b in parts)


def _parts(colour: str) -> tuple[int, int, int]:
    return (int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16))


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else float(((part + 0.055) / 1.055) ** 2.4)
