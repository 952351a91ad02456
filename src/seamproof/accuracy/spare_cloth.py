"""How much larger to cut the next units, told by those that were sewn.

A sewn unit can be squared up if it overhangs its trim size on all sides; the smallest overhang is
its *slack*, negative if it is short. Slack grows by the whole oversize for a half-square triangle,
which may slide under the ruler along its diagonal, and by half of it for flying geese, whose point
must stay where it is. So what some units showed at one oversize tells what the next ones need.

The rule uses nothing but what was measured (a flat prior): a prior centred on everyday makers is
too hopeful for new ones. Lengths are in inches.
"""

from __future__ import annotations

import math
import statistics
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from seamproof.accuracy.model import FOLD
from seamproof.accuracy.strip_test import READING
from seamproof.length.rounding import INCH_STEP, up

SquaredUp = Literal["half-square triangle", "flying geese"]

ALL_GOOD = 0.95
"""The share of makers who shall be able to square up all of their next units."""

FEWEST = 2
"""Units that tell a spread at all; `ENOUGH` of them tell it without asking for much cloth."""
ENOUGH = 4

_GAIN = {"half-square triangle": 1.0, "flying geese": 0.5}


@dataclass(frozen=True, slots=True)
class SewnUnits:
    """Units of one kind that were sewn and measured before they were trimmed.

    `finished` is the finished size of a half-square triangle, or the height of a goose; `cut` the
    size of the squares it was made of (for geese the small ones). `overhangs` are the slacks, or
    `raw` the sizes of half-square triangles, the smaller of width and height of each; one of the
    two. `seam` is the planned allowance.
    """

    kind: SquaredUp
    finished: Fraction
    cut: Fraction
    overhangs: tuple[float, ...] = ()
    raw: tuple[float, ...] = ()
    seam: Fraction = Fraction(1, 4)

    @property
    def need(self) -> float:
        """What geometry asks the squares to be cut: F + s (2 + sqrt 2)."""
        return float(self.finished) + float(self.seam) * (2 + math.sqrt(2))

    @property
    def slacks(self) -> tuple[float, ...]:
        """The slack of each.

        That of a raw size is what it exceeds the trim size by, less what the fold takes from the
        side that is overhung: a unit pressed to one side is not folded on its drawn diagonal.
        """
        if self.overhangs:
            return self.overhangs
        trim = float(self.finished + 2 * self.seam)
        folded = math.sqrt(2) * (math.pi - 1) * FOLD - math.pi * FOLD / math.sqrt(2)
        return tuple(size - trim - folded for size in self.raw)

    @property
    def at_need(self) -> tuple[float, ...]:
        """The slacks they would have had, cut exactly as geometry asks."""
        gained = _GAIN[self.kind] * (float(self.cut) - self.need)
        return tuple(slack - gained for slack in self.slacks)


@dataclass(frozen=True, slots=True)
class NextUnits:
    """What to cut so that 95 of 100 makers can square up all of the `more` next units.

    `oversize` is what is needed over what geometry asks for; `cut` the mark to cut the squares at,
    and for geese `goose_cut` that of the large square. `marks` is by how much that exceeds the mark
    at which they are cut without oversize: what a file's ``oversize`` says. `short` of those
    measured could not be squared up.
    """

    more: int
    oversize: float
    cut: Fraction
    goose_cut: Fraction | None
    marks: Fraction
    short: int


def next_units(sewn: SewnUnits, more: int, *, step: Fraction = INCH_STEP) -> NextUnits:
    """What to cut for the next `more` units like those that were `sewn`, on a ruler with `step`.

    o = (t sd sqrt(1 + 1/n) - mean) / gain, with mean and sd of the n slacks brought to no
    oversize, and t the quantile 1 - (1 - p) / more of Student's t with n - 1 degrees of freedom
    (Bonferroni over the units). Raises ValueError for fewer than two units, or none to come.

    >>> sewn = SewnUnits("half-square triangle", Fraction(3), Fraction(4), (0.08, 0.12, 0.1, 0.06))
    >>> answer = next_units(sewn, 8)
    >>> round(answer.oversize, 3), str(answer.cut), str(answer.marks)
    (0.212, '33/8', '1/4')
    """
    at_need = sewn.at_need
    count = len(at_need)
    if count < FEWEST or more < 1:
        raise ValueError("measure at least two units, and ask for at least one more")
    spread = max(statistics.stdev(at_need), READING)
    t = student_quantile(1 - (1 - ALL_GOOD) / more, count - 1)
    short = t * spread * math.sqrt(1 + 1 / count) - statistics.fmean(at_need)
    oversize = max(short, 0.0) / _GAIN[sewn.kind]
    base = up(sewn.need, step)
    cut = max(up(sewn.need + oversize, step), base)
    goose = None
    if sewn.kind == "flying geese":
        large = 2 * float(sewn.finished) + float(sewn.seam) * (2 + 2 * math.sqrt(2))
        goose = up(large, step) + cut - base
    return NextUnits(
        more=more,
        oversize=oversize,
        cut=cut,
        goose_cut=goose,
        marks=cut - base,
        short=sum(slack < 0 for slack in sewn.slacks),
    )


def student_quantile(share: float, freedom: int) -> float:
    """Where a `share` of Student's t with a whole number of degrees of freedom lies below.

    >>> round(student_quantile(0.975, 1), 3), round(student_quantile(0.95, 7), 4)
    (12.706, 1.8946)
    >>> student_quantile(0.5, 3)
    0.0
    """
    if not 0 < share < 1 or freedom < 1:
        raise ValueError("a share lies between 0 and 1, and freedom is at least 1")
    if share < 0.5:
        return -student_quantile(1 - share, freedom)
    if share == 0.5:
        return 0.0
    low, high = 0.0, 1.0
    while _below(high, freedom) < share:
        high *= 2
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if _below(middle, freedom) < share else (low, middle)
    return (low + high) / 2


def _below(t: float, freedom: int) -> float:
    """The distribution function for t ≥ 0: Abramowitz and Stegun 26.7.3 and 26.7.4."""
    angle = math.atan(t / math.sqrt(freedom))
    cosine = math.cos(angle) ** 2
    term, total = 1.0, 0.0
    if freedom % 2:
        term = math.cos(angle)
        for k in range(3, freedom + 1, 2):
            total += term
            term *= cosine * (k - 1) / k
        within = 2 / math.pi * (angle + math.sin(angle) * total)
    else:
        for k in range(2, freedom + 1, 2):
            total += term
            term *= cosine * (k - 1) / k
        within = math.sin(angle) * total
    return (1 + within) / 2


__all__ = [
    "ALL_GOOD",
    "ENOUGH",
    "FEWEST",
    "NextUnits",
    "SewnUnits",
    "SquaredUp",
    "next_units",
    "student_quantile",
]
