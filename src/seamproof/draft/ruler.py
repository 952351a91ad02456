"""Sizes of a block that no mark of the ruler shows, and block sizes that would be on it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction

from seamproof.draft.checks import OFF_RULER, at, shown
from seamproof.draft.loops import Partition
from seamproof.findings import Finding, Where
from seamproof.length.exact import CM, MAX_DENOMINATOR
from seamproof.length.rounding import INCH_STEP, on_ruler
from seamproof.plane.model import Line, Point

SEAM = Fraction(1, 4)
"""The seam allowance unless a project says otherwise, in inches (common practice, no source)."""

FINEST_GRID = 64
"""A side that is a share of the block with no larger denominator lies on a grid that somebody
drafted on; other sides (an eight-pointed star's) lie on no ruler at any block size."""


def off_ruler(
    name: str,
    size: Point,
    found: Partition,
    where: Where,
    *,
    step: Fraction = INCH_STEP,
    seam: Fraction = SEAM,
) -> list[Finding]:
    """At most one note: which upright or level sides of the grid are off the ruler, and nearby
    sizes of the block that bring all of them on it. `step` is the ruler's, in inches; the note
    speaks in centimetres if the ruler does.
    """
    lengths: dict[Fraction, tuple[Point, Point]] = {}
    for loop in found.loops:
        for p, q in _upright_or_level([found.vertices[v] for v in loop.corners]):
            lengths.setdefault(abs(p[0] - q[0]) + abs(p[1] - q[1]), (p, q))
    shares = {
        length: length / size[0]
        for length in (*lengths, *size)
        if length.denominator <= MAX_DENOMINATOR and (length / size[0]).denominator <= FINEST_GRID
    }
    off = sorted(
        length for length in shares if length in lengths and not on_ruler(length + 2 * seam, step)
    )
    if not off:
        return []
    p, q = lengths[off[0]]
    base = _base(step)
    unit = "in" if base == 1 else "cm"
    named = " and ".join(
        f"{shown(length / base)} {unit} finished (cut {shown((length + 2 * seam) / base)} {unit})"
        for length in off[:2]
    )
    fitting = fitting_widths(size[0], list(shares.values()), step)
    return [
        OFF_RULER.found(
            f"some sides are {named}, which no mark of a {shown(step / base)} {unit} ruler shows",
            mend="these finished widths of the block put every side of its grid on the ruler: "
            + ", ".join(f"{shown(width / base)} {unit}" for width in fitting),
            where=at(where, name, ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)),
        )
    ]


def _upright_or_level(loop: Sequence[Point]) -> Iterator[Line]:
    """The upright and level sides of a loop, each from corner to corner."""
    for axis in (0, 1):
        for i, p in enumerate(loop):
            if loop[i - 1][axis] == p[axis]:
                continue
            end = i
            while loop[(end + 1) % len(loop)][axis] == p[axis]:
                end += 1
            if end > i:
                yield p, loop[end % len(loop)]


def fitting_widths(
    width: Fraction, shares: Sequence[Fraction], step: Fraction = INCH_STEP
) -> tuple[Fraction, ...]:
    """Widths near `width` at which each of these shares of it is a multiple of `step`: the next
    smaller and larger, and the next ones in whole inches (or centimetres, as the ruler has).

    >>> [str(w) for w in fitting_widths(Fraction(12), [Fraction(1, 5), Fraction(2, 5)])]
    ['10', '95/8', '25/2', '15']
    >>> fitting_widths(Fraction(12), [])
    (Fraction(12, 1),)
    """
    if not shares:
        return (width,)
    base = _base(step)
    unit = step * math.lcm(*(s.denominator for s in shares))
    unit /= math.gcd(*(s.numerator for s in shares))
    whole = base * (unit / base).numerator
    near = {
        rounded(width / measure) * measure
        for measure in (unit, whole)
        for rounded in (math.floor, math.ceil)
    }
    return tuple(sorted(w for w in near if w > 0))


def _base(step: Fraction) -> Fraction:
    """One inch or one centimetre, whichever the ruler's step is a plain part of."""
    return min((Fraction(1), CM), key=lambda base: (step / base).denominator)
