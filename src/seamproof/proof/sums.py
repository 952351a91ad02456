"""Sizes added up in fractions: across every seam, and every trim.

The cloth itself is followed in floating point (`cloth_geometry.py`). What a maker reads and adds up
in the head is added here in fractions: one side and the other, less two seam allowances, is the
whole. Where sides lie on the drafting grid and seams run upright or level the sum must be exact;
elsewhere it must hold to `SAME`.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from seamproof.cutting.model import CuttingList, CuttingSettings, Step
from seamproof.findings import Finding
from seamproof.length.exact import MAX_DENOMINATOR
from seamproof.length.rounding import SAME
from seamproof.proof.checks import SUM, faulty, long
from seamproof.proof.cloth_geometry import Ray, point


@dataclass(frozen=True, slots=True)
class Sums:
    """How many sums came out exactly in fractions, how many to `SAME`, and those that did not."""

    exact: int = 0
    near: int = 0
    findings: tuple[Finding, ...] = ()

    def __add__(self, other: Sums) -> Sums:
        return Sums(
            self.exact + other.exact, self.near + other.near, self.findings + other.findings
        )


def compared(said: Fraction | float, true: Fraction | float, what: str) -> Sums:
    """One size against another that was worked out here.

    `what` starts the sentence if they differ. A size counts as exact only if both are fractions on
    a drafting grid and equal.

    >>> compared(Fraction(9, 2), Fraction(9, 2), "the unit").exact, compared(4.5, 4.5, "").near
    (1, 1)
    >>> compared(Fraction(35, 8), Fraction(9, 2), "the unit").findings[0].what
    'the unit comes to 4 1/2 in, and 4 3/8 in is stated'
    """
    if abs(Fraction(said) - Fraction(true)) > SAME:
        text = f"{what} comes to {long(true)}, and {long(said)} is stated"
        return Sums(findings=(faulty(SUM, text),))
    exact = isinstance(said, Fraction) and said == true and said.denominator <= MAX_DENOMINATOR
    return Sums(exact=1) if exact else Sums(near=1)


def across_seams(cutting: CuttingList, settings: CuttingSettings) -> Sums:
    """The sums across every seam that joins two things from end to end."""
    total = Sums()
    for number, step in enumerate(cutting.steps, start=1):
        if step.verb == "sew" and not step.cuts and len(step.takes) == 2 and len(step.gives) == 1:
            total += _across(step, settings.seam, f"step {number}: across the seam, the whole")
    return total


def _across(step: Step, seam: Fraction, what: str) -> Sums:
    if len(step.stitched) != 1:
        return Sums()  # round a corner there is no one direction to add in
    a, b = step.stitched[0]
    things = [stock.corners for stock in (*step.takes, *step.gives)]
    sides: list[list[Fraction]]
    if a[1] == b[1]:
        sides = [[p[1] - a[1] for p in corners] for corners in things]
    elif a[0] == b[0]:
        sides = [[p[0] - a[0] for p in corners] for corners in things]
    else:
        line = Ray.through(point(a), point(b))
        sides = [[Fraction(line.off(point(p))) for p in corners] for corners in things]
    left, right, whole = (max(side) - min(side) for side in sides)
    if any(abs(min(max(side), -min(side)) - seam) > SAME for side in sides[:2]):
        return Sums()  # cloth goes on beyond the seam's end: the sides do not just add up
    return compared(whole, left + right - 2 * seam, what)
