"""The words of the rehearsal: will the block come out square in real hands?

A *maker profile* says how accurately one maker cuts, sews, presses and trims. In a *rehearsal* many
makers of one profile sew the block: each has a bias of her own that goes into every seam she sews,
and every cut, seam and trim errs on its own besides. A *forecast* is the same answer at once, by
straight-line reckoning instead of by trial. Lengths are in inches, spreads are standard deviations.

Nothing here was compared with sewn cloth. The three presets are assumptions, and say so, until a
maker measures herself. See `docs/explanation/accuracy.md`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

THREAD = 1 / 64
"""About one thread of quilting cotton: the scale in which the presets were chosen (assumption)."""

FOLD = 0.010
"""Radius of the fold of a pressed seam: between that of a tight fold of cloth 0.25 mm thick, 0.005,
and hobby readings up to 0.023 (assumption)."""

Source = Literal[
    "cut",
    "tilt",
    "seam bias",
    "seam scatter",
    "drift",
    "edges not flush",
    "pins",
    "marking",
    "ruler",
    "trimming",
    "stretch",
    "shrink",
]
"""Where an error comes from. What shrinks across a stretched seam belongs to the stretch, and is
counted with it."""


@dataclass(frozen=True, slots=True)
class Maker:
    """How accurately one maker works.

    `seam` is how much wider than planned (positive) her seam allowance is on average, and
    `between` how much that differs from one such maker to the next. All others but `cut_bias`,
    `fold` and `stretch` are standard deviations of errors with mean 0:

    - `cut`: of the width of a cut piece, `cut_bias` its mean; `tilt`: half the difference between
      the two ends of a cut edge.
    - `scatter`: of the allowance from seam to seam; `drift`: half its change along one
      seam, from raw edge to raw edge.
    - `flush`: how far two raw edges lie apart while they are sewn; `pin`: where seams are matched.
    - `mark`: of a drawn line; `ruler`: of laying the ruler before trimming; `trim`: of a trimmed
      width.
    - `fold`: radius of the fold of a pressed seam, the same for every seam.
    - `stretch`: by what share a bias seam grows in length at the iron, `stretch_scatter` its
      standard deviation.

    `assumed` tells that the numbers are assumptions and were not measured on this maker.
    """

    name: str
    cut: float
    tilt: float
    seam: float
    between: float
    scatter: float
    drift: float
    flush: float
    pin: float
    mark: float
    ruler: float
    trim: float
    fold: float = FOLD
    stretch: float = 0.0
    stretch_scatter: float = 0.0
    cut_bias: float = 0.0
    assumed: bool = True

    @property
    def fold_side(self) -> float:
        """What both sides of a seam pressed to one side lose together.

        >>> round(MAKERS["everyday"].fold_side, 4)
        0.0314
        """
        return math.pi * self.fold

    @property
    def fold_open(self) -> float:
        """What both sides of a seam pressed open lose together."""
        return (math.pi - 2) * self.fold


EXACT = Maker(
    name="exact",
    cut=0.0,
    tilt=0.0,
    seam=0.0,
    between=0.0,
    scatter=0.0,
    drift=0.0,
    flush=0.0,
    pin=0.0,
    mark=0.0,
    ruler=0.0,
    trim=0.0,
    fold=0.0,
)
"""A maker who never errs, of cloth that takes no room in a fold."""

MAKERS: Mapping[str, Maker] = {
    # Half a thread; the scant quarter was adjusted, which cancels the fold of a seam pressed to one
    # side.
    "careful": Maker(
        name="careful",
        cut=THREAD / 2,
        tilt=THREAD / 8,
        seam=-math.pi * FOLD / 2,
        between=THREAD / 2,
        scatter=THREAD / 2,
        drift=THREAD / 4,
        flush=THREAD / 4,
        pin=THREAD / 2,
        mark=THREAD / 2,
        ruler=THREAD / 2,
        trim=THREAD / 2,
        stretch_scatter=0.0015,
    ),
    # One thread; a true quarter.
    "everyday": Maker(
        name="everyday",
        cut=THREAD,
        tilt=THREAD / 4,
        seam=0.0,
        between=THREAD,
        scatter=THREAD,
        drift=THREAD / 2,
        flush=THREAD / 2,
        pin=THREAD,
        mark=THREAD,
        ruler=THREAD,
        trim=THREAD,
        stretch=0.002,
        stretch_scatter=0.004,
    ),
    # Two threads, and seams a thread too wide.
    "new": Maker(
        name="new",
        cut=2 * THREAD,
        tilt=THREAD / 2,
        seam=THREAD,
        between=2 * THREAD,
        scatter=2 * THREAD,
        drift=THREAD,
        flush=THREAD,
        pin=2 * THREAD,
        mark=2 * THREAD,
        ruler=2 * THREAD,
        trim=2 * THREAD,
        stretch=0.005,
        stretch_scatter=0.008,
    ),
}
"""The presets, by name. All are assumptions: chosen in threads, then checked against one published
exercise in which 3 of 18 sewers brought ten strips within 1/16 in of 10 1/2 in."""

TOLERANCES = (Fraction(1, 16), Fraction(1, 8), Fraction(1, 4))
"""How near width and height have to come, in inches: what a rehearsal counts makers by."""

NEAR_ENOUGH = Fraction(1, 8)
"""How near the block has to come both ways when advice is weighed, in inches."""

MISSES = Fraction(1, 16)
"""A crossing that misses by more than this, in inches, shows (common practice, no source)."""

SHOWS = Fraction(1, 32)
"""A point that is cut off or floats by more than this shows (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Spread:
    """How a length comes out from maker to maker: 5 and 95 of 100 are at or below `p05`, `p95`."""

    mean: float
    sd: float
    p05: float
    p95: float


@dataclass(frozen=True, slots=True)
class Crossing:
    """A place where seams of both sides of a seam meet, and how far they miss each other there.

    `x`, `y` are in inches from the upper left corner of the finished block. `rms` is the root mean
    square, 95 of 100 are within `p95`, `over` is the share that misses by more than 1/16 in.
    """

    x: float
    y: float
    rms: float
    p95: float
    over: float


@dataclass(frozen=True, slots=True)
class Tip:
    """A point of a patch at a seam: `cut_off` and `floating` are the shares of makers whose point
    is cut off by that seam, or floats clear of it, by more than `SHOWS`. `mean` and `sd` are of how
    far it lies clear; negative is cut off."""

    x: float
    y: float
    cut_off: float
    floating: float
    mean: float
    sd: float


@dataclass(frozen=True, slots=True)
class Cost:
    """`share` of the variance of one result that comes from `source`; `sd` the part it brings."""

    source: Source
    share: float
    sd: float


@dataclass(frozen=True, slots=True)
class UnitSlack:
    """Whether the copies of one unit can be squared up.

    `unit` is the number of its part, `kind` its trade name, `uses` how many one block needs.
    `oversize` is what its pieces are cut over what geometry asks for, taken up to the ruler;
    `trimmable` is the share of units that can be trimmed then, `makers` that of makers who can trim
    all they need. `p95` and `p99` are the oversize that lets 95 or 99 of 100 units be
    trimmed, `all95` and `all99` the one that lets 95 or 99 of 100 makers trim all they need;
    `marks95` and `marks99` are the latter two in marks of the ruler.
    """

    unit: int
    kind: str
    uses: int
    oversize: Fraction
    trimmable: float
    makers: float
    p95: float
    p99: float
    all95: float
    all99: float
    marks95: Fraction
    marks99: Fraction


@dataclass(frozen=True, slots=True)
class Advice:
    """Something to change, and what it brings: `within` is the share of makers whose block comes
    within `NEAR_ENOUGH` both ways once it is done, `before` the same as things are. `change` is its
    name, `what` says what to do."""

    change: str
    what: str
    before: float
    within: float


@dataclass(frozen=True, slots=True)
class Forecast:
    """The answer at once, by linear reckoning: means and standard deviations, and the share of
    each source in the variance, the costliest first. `within` as in a rehearsal."""

    maker: Maker
    width: Spread
    height: Spread
    out_of_square: Spread
    within: tuple[tuple[Fraction, float], ...]
    costs: tuple[Cost, ...]


@dataclass(frozen=True, slots=True)
class Rehearsal:
    """What came out when `makers` makers of one profile had sewn the block, one copy each.

    `width`, `height` and `out_of_square` (the difference of the diagonals) are unfinished, raw edge
    to raw edge; `wanted` is (width, height) as planned. `angle` is the largest error of a corner in
    degrees. `within` pairs a tolerance with the share of makers who keep it both ways, `whole` is
    the share of makers who cut off no point by more than `SHOWS`, None if there is none. `costs`
    are shares of the variance of width and height together, the costliest first. `shown` are
    (width, height) of a hundred makers who stand for all of them, for the picture.
    """

    maker: Maker
    makers: int
    seed: int
    wanted: tuple[float, float]
    width: Spread
    height: Spread
    out_of_square: Spread
    angle: Spread
    within: tuple[tuple[Fraction, float], ...]
    whole: float | None
    crossings: tuple[Crossing, ...]
    points: tuple[Tip, ...]
    costs: tuple[Cost, ...]
    units: tuple[UnitSlack, ...]
    advice: tuple[Advice, ...]
    shown: tuple[tuple[float, float], ...] = ()
