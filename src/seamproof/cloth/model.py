"""The words of the cloth: what is wanted, what there is, and how it is cut.

Everywhere `width` runs across the cloth, from selvage to selvage, and `height` (of a whole cloth:
`length`) along it, in inches. A *cut* is a straight line from edge to edge of what lies under the
ruler. *Strips* run from selvage to selvage; each is *cross-cut*; with three stages a cross-cut part
may be cut once more. A *lay* is one length of cloth with all its cuts.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

RULER_STEP = Fraction(1, 8)
"""Rulers are marked in eighths of an inch (common practice, no source)."""

EFFORT = 16
"""Rounds of improvement after the first good plan: about two seconds a fabric on one core."""


@dataclass(frozen=True, slots=True)
class Row:
    """How pieces that are not rectangles lie side by side in a strip, cut apart by slanted cuts.

    n of them take `offset` + n × `pitch` of the strip's length. `slope` is the angle of the cut
    with the strip's edge in degrees. For strip height h: equilateral triangles of side a have
    offset a/2 and pitch a/2; trapezoids with parallel sides a > b (a − b)/2 and (a + b)/2, every
    other one upside down; 45° diamonds and parallelograms h and the length of their base.
    """

    offset: Fraction
    pitch: Fraction
    slope: float


@dataclass(frozen=True, slots=True)
class Demand:
    """`count` equal pieces, as cut from cloth. `name` tells this kind from all others.

    `width` lies across the cloth and `height` along it; where `may_turn`, also the other way
    round. With a `row` the piece is cut from a strip `height` high, `width` is not used (0), and it
    is never turned.
    """

    name: str
    width: Fraction
    height: Fraction
    count: int
    may_turn: bool = False
    row: Row | None = None


@dataclass(frozen=True, slots=True)
class Fixed:
    """Cloth of a fixed size: a fat quarter, a precut, a leftover. `count` None: as many as needed.

    `width` is that between usable edges, `length` runs along the selvage.
    """

    name: str
    width: Fraction
    length: Fraction
    count: int | None = None


@dataclass(frozen=True, slots=True)
class Cloth:
    """What one fabric can be cut from.

    What lies on the `shelf` is cut first, as much from it as will go; then the `fixed` pieces, the
    fewest square inches of them; and the rest from cloth `width` wide by length, unless `yardage`
    is False. Without yardage and enough fixed pieces some demand stays unmet.
    """

    fabric: str
    width: Fraction
    yardage: bool = True
    fixed: tuple[Fixed, ...] = ()
    shelf: tuple[Fixed, ...] = ()


@dataclass(frozen=True, slots=True)
class Settings:
    """How to cut. `stages` 2: strips and cross-cuts (a piece lower than its strip is trimmed);
    3: a cross-cut part may hold pieces above one another. `simple`: the fewest different strip
    heights and ruler settings first, then the length. `step`: all cuts lie on multiples of it.
    `effort`: rounds of improvement; 0 takes the first good plan."""

    stages: Literal[2, 3] = 2
    simple: bool = False
    step: Fraction = RULER_STEP
    effort: int = EFFORT


@dataclass(frozen=True, slots=True)
class Cut:
    """A rectangle of cloth and how it is cut; `times` equal ones lie side by side.

    `along` says which way the cuts in it run: "across" the cloth, so that `parts` follow each other
    along it, or along its "length", so that they stand side by side from left to right; None: it is
    not cut again. Then `piece` is the name of what it is, or None for what is left over; it holds
    `pieces` of them, more than one only in a row with slanted cuts of `slope` degrees. `turned`:
    the piece lies a quarter turned. The parts, with their times, fill the rectangle.
    """

    width: Fraction
    height: Fraction
    along: Literal["across", "length"] | None = None
    parts: tuple[Cut, ...] = ()
    piece: str | None = None
    turned: bool = False
    slope: float | None = None
    times: int = 1
    pieces: int = 1


@dataclass(frozen=True, slots=True)
class Lay:
    """`times` equal lengths of cloth, cut alike. `cut` is the whole of one, `width` × `length`.

    `cloth` "yardage": bought by length; "fixed": a fixed piece or leftover named `stock`, and
    `length` is all of it. `bound`: no cutting in as many stages needs less than that length in
    inches (for fixed pieces: less than that many square inches of all of them together); proved in
    exact fractions; with `simple`, none in strips of just these heights. `area_bound`: the same for
    any way of cutting at all. `proved`: none is shorter on the ruler. Where a shelf or fixed pieces
    may take over, both are what these leave at least; what is cut first out of the full length
    takes in `bound` the length that it takes.
    """

    fabric: str
    cloth: Literal["yardage", "fixed"]
    width: Fraction
    length: Fraction
    cut: Cut
    times: int
    bound: float
    area_bound: float
    proved: bool
    stock: str = ""


@dataclass(frozen=True, slots=True)
class Laid:
    """One fabric, laid. `lays` in cutting order: shelf, fixed pieces, yardage.

    `unmet`: name and count of what no cloth was left for. `too_large`: names of pieces that fit no
    cloth there is, in any way they may lie. `settings_used`: different strip heights and
    cross-cut widths, the ruler settings. `stopped`: somebody stopped it, the best so far.
    """

    lays: tuple[Lay, ...]
    unmet: tuple[tuple[str, int], ...] = ()
    too_large: tuple[str, ...] = ()
    strip_heights: tuple[Fraction, ...] = ()
    settings_used: int = 0
    stopped: bool = False

    @property
    def length(self) -> Fraction:
        """Length of yardage, in inches."""
        return sum(
            (lay.length * lay.times for lay in self.lays if lay.cloth == "yardage"), Fraction(0)
        )
