"""A maker profile from what somebody measured: strips, half-square triangles, or whole blocks.

Each source tells what a seam takes up beyond its two allowances, and how surely; what it cannot
tell stays as in the preset that the maker is nearest to. Lengths are in inches.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass, replace

from seamproof.accuracy.model import FOLD, MAKERS, Maker
from seamproof.accuracy.spare_cloth import SewnUnits, student_quantile
from seamproof.accuracy.strip_test import (
    FOLD_SPREAD,
    READING,
    SURE,
    TAKES_UP,
    TAKES_UP_SPREAD,
    Known,
    SeamFit,
    StripSet,
    normal,
    seam_of,
)

ENOUGH_CUTS = 4
"""Measured strips that tell a spread of cuts; fewer leave it as in the preset."""

NEAR_NOTHING = 0.002
"""The least spread that a measured maker is given: an eighth of a thread, below what is read."""

USUAL_FOLD = normal(FOLD, FOLD_SPREAD)
"""The fold, where nobody pressed both ways and measured."""


@dataclass(frozen=True, slots=True)
class SewnBlock:
    """A block that was sewn and measured across: what it is `short` of its planned size (negative
    if it is too large), the `seams` and the `pieces` that lie across there."""

    short: float
    seams: float
    pieces: float


def fit_units(sewn: SewnUnits) -> SeamFit:
    """What raw sizes of half-square triangles, before they were trimmed, say about the seam.

    A unit from squares cut C measures C - T / sqrt 2 with T the whole take-up of its seam, so each
    tells B = sqrt 2 (C - size) - 2 s; the limits are those of Student's t (nothing assumed).
    Raises ValueError for overhangs, which do not tell the seam, and for fewer than two units.

    >>> from fractions import Fraction
    >>> raw = (3.60, 3.62, 3.61, 3.63)
    >>> fit = fit_units(SewnUnits("half-square triangle", Fraction(3), Fraction(4), raw=raw))
    >>> round(fit.takes_up.value, 3)
    0.044
    """
    if sewn.kind != "half-square triangle" or len(sewn.raw) < 2:
        raise ValueError("the seam is told by the raw sizes of two half-square triangles or more")
    cut, seam = float(sewn.cut), float(sewn.seam)
    told = [math.sqrt(2) * (cut - size) - 2 * seam for size in sewn.raw]
    count = len(told)
    spread = max(statistics.stdev(told), READING)
    error = spread / math.sqrt(count)
    reach = student_quantile((1 + SURE) / 2, count - 1) * error
    middle = statistics.fmean(told)
    takes_up = Known(middle, error, middle - reach, middle + reach)
    return SeamFit(takes_up, seam_of(takes_up, USUAL_FOLD), None, USUAL_FOLD, False, count)


def fit_blocks(blocks: Sequence[SewnBlock], *, maker: Maker = MAKERS["everyday"]) -> SeamFit:
    """What whole blocks say about the seam: a wide prior, and the scatter of `maker`.

    A block with N seams and P pieces across is short of N B, give or take
    sqrt(4 N scatter² + P cut²). Raises ValueError if no block has a seam across.

    >>> nine_patch = SewnBlock(short=0.25, seams=2, pieces=3)
    >>> round(fit_blocks([nine_patch]).takes_up.value, 3)
    0.105
    """
    used = [block for block in blocks if block.seams > 0]
    if not used:
        raise ValueError("no block has a seam across")
    precision, weighted = 1 / TAKES_UP_SPREAD**2, TAKES_UP / TAKES_UP_SPREAD**2
    for block in used:
        error = 4 * block.seams * maker.scatter**2 + block.pieces * maker.cut**2 + READING**2
        precision += block.seams**2 / error
        weighted += block.seams * block.short / error
    takes_up = normal(weighted / precision, precision**-0.5)
    seams = round(sum(block.seams for block in used))
    return SeamFit(takes_up, seam_of(takes_up, USUAL_FOLD), None, USUAL_FOLD, False, seams)


def measured_maker(
    name: str,
    fit: SeamFit,
    *,
    sets: Sequence[StripSet] = (),
    planned: Sequence[float] = (),
    like: Maker = MAKERS["everyday"],
) -> Maker:
    """The profile of the maker who was measured.

    What `fit` does not tell is that of `like`. `sets` are the strips whose measured cuts tell how
    she cuts, `planned` their planned widths, one a set. `between` is how well her seam is known.

    >>> from seamproof.accuracy.strip_test import fit_strips
    >>> sets = [StripSet(cuts=(1.5,) * 6, side=(6.31, 6.3, 6.32), inner=(0.96,) * 4)]
    >>> maker = measured_maker("ada", fit_strips(sets), sets=sets)
    >>> maker.assumed, round(maker.seam, 3), maker.pin == MAKERS["everyday"].pin
    (False, 0.003, True)
    """
    made = replace(
        like,
        name=name,
        seam=fit.seam.value,
        between=max(fit.seam.sd, NEAR_NOTHING),
        scatter=like.scatter if fit.scatter is None else max(fit.scatter.value, NEAR_NOTHING),
        fold=fit.fold.value,
        assumed=False,
    )
    errors = [
        cut - plan
        for some, plan in zip(sets, planned, strict=False)
        if some.measured
        for cut in some.cuts
    ]
    if len(errors) < ENOUGH_CUTS:
        return made
    spread = max(statistics.stdev(errors) ** 2 - READING**2, NEAR_NOTHING**2)
    return replace(made, cut=math.sqrt(spread), cut_bias=statistics.fmean(errors))


def nearest_preset(scatter: float | None) -> Maker:
    """The preset whose scatter is nearest to what was measured; everyday if nothing was.

    >>> nearest_preset(None).name, nearest_preset(1 / 30).name
    ('everyday', 'new')
    """
    if scatter is None:
        return MAKERS["everyday"]
    return min(MAKERS.values(), key=lambda maker: abs(math.log(maker.scatter / scatter)))
