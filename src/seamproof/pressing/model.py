"""The words of pressing.

A *run* is one straight stretch of stitching of a part: run r of a join is ``join.sewn[r]``, of a
finish ``finish.seam[r]``. Its left and right are those of somebody who walks along it, as seen from
the front. A *press* says how the allowances of one run lie, in every copy of the part alike. A
*sheet* is one cut piece of cloth as it is folded: see `docs/explanation/layers.md`.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from seamproof.plane.model import Point

Way = Literal["open", "left", "right"]
"""How the allowances lie: split apart, or both on one side of the run."""


@dataclass(frozen=True, slots=True)
class Press:
    """How one run is pressed, and why.

    `spun` are the crossings on the run, in the part's frame and in the order of the run, at which
    the allowances change over to the other side, so that those round the crossing lie like the
    vanes of a wheel; `way` is then the side of the first stretch. `clockwise` is the turn of the
    first spun crossing **as seen from the back**, None if nothing is spun.
    `usual` tells whether the usual rule of the trade says the same.
    """

    part: int
    run: int
    way: Way
    spun: tuple[Point, ...] = ()
    clockwise: bool | None = None
    fixed: bool = False
    usual: bool = True
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Wish:
    """One aim of a press plan: its name, what the plan reaches, and the best that is possible once
    the wishes before it are kept. Less is better."""

    name: str
    value: float
    bound: float


@dataclass(frozen=True, slots=True)
class PressPlan:
    """One press for every run of every join and finish, in sewing order.

    `missed` are sentences about what could not be had. `proved` tells whether every wish reached
    its bound.
    """

    presses: tuple[Press, ...]
    missed: tuple[str, ...] = ()
    wishes: tuple[Wish, ...] = ()
    proved: bool = False


@dataclass(frozen=True, slots=True)
class ThickSpot:
    """A place with more layers or millimetres than the limit. `at` is in inches from the upper left
    corner of the finished block, front view; `area` in square inches."""

    at: tuple[float, float]
    layers: int
    area: float
    mm: float


@dataclass(frozen=True, slots=True)
class Cell:
    """A connected place with one count of layers: its outer ring, then its holes, in inches of the
    finished block."""

    layers: int
    rings: tuple[tuple[tuple[float, float], ...], ...]
    area: float


@dataclass(frozen=True, slots=True)
class LayerMap:
    """How many layers of cloth lie where, in the trimmed block, edge allowances included.

    `areas` pairs each count of layers with its square inches. `spots` are the thick spots, the
    worst first; `most` and `most_at` the greatest count and the middle of the first place that has
    it. `mm` is the thickness there.
    """

    areas: tuple[tuple[int, float], ...]
    most: int
    most_at: tuple[float, float]
    mm: float
    spots: tuple[ThickSpot, ...] = ()
    cells: tuple[Cell, ...] = ()


PlanName = Literal["best", "b", "usual", "open", "spun", "thin", "nested", "as-given"]
"""Press plans by name: what the wishes ask for once the maker's fixings are kept; the same with
every seam at the block's edge lying the other way, for the block's neighbours; by the usual rules;
all open; spun where possible; with the least thick area; with crossings that nest asked for before
flatness; and what the maker fixed, nothing else."""


@dataclass(frozen=True, slots=True)
class PressedRun:
    """One press as it first lies in the block: its line in inches, front view, the number of the
    round in which it is sewn (from 1), and `towards`, a point on the side the allowances lie on,
    None if they lie open or are spun."""

    press: Press
    start: tuple[float, float]
    end: tuple[float, float]
    round: int
    towards: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class Beside:
    """One plan beside others: the most layers, square inches of six layers and more, crossings
    that nest out of all, and seams that follow the usual rule out of all."""

    name: str
    layers: int
    thick_area: float
    nested: int
    crossings: int
    usual: int
    seams: int


@dataclass(frozen=True, slots=True)
class Pressed:
    """A block with every seam pressed. `ways` is the plan as one number per choice, for the
    pictures; `beside` are the plans worth laying beside it."""

    name: str
    plan: PressPlan
    runs: tuple[PressedRun, ...]
    ways: tuple[int, ...]
    layers: LayerMap
    here: Beside
    beside: tuple[Beside, ...] = ()


WISHES = (
    "limit",
    "flat",
    "nest",
    "to-the-dark-side",
    "few-rules",
    "neighbour",
)
"""What a press plan can aim at: fewest and smallest places above the limit; fewest layers at the
worst place; crossings that nest; allowances behind the darker cloth; few departures from the usual
rules; edges that nest with the next block."""


@dataclass(frozen=True, slots=True)
class PressSettings:
    """What the project decides about pressing.

    `limit` is the greatest count of layers that passes under the foot, `limit_mm` the thickness
    (both common practice, no source; machines differ); `cloth_mm` how thick one layer is (quilting
    cotton, from memory). `wishes` in their order. `values` say by letter how dark a fabric is,
    `seam` is the allowance in inches.
    """

    limit: int = 8
    limit_mm: float = 2.5
    cloth_mm: float = 0.25
    wishes: tuple[str, ...] = WISHES
    values: tuple[tuple[str, str], ...] = ()
    seam: Fraction = Fraction(1, 4)


def limit_of(settings: PressSettings) -> int:
    """The greatest count of layers that is neither too many nor too thick.

    >>> limit_of(PressSettings(limit=8, limit_mm=1.5, cloth_mm=0.25))
    6
    """
    return min(settings.limit, int(settings.limit_mm / settings.cloth_mm + 1e-9))
