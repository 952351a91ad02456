"""The sign of pressing: a small arrow across a seam, or a hook round a crossing that is spun.

All of it grows with the length of the arrow, so that a small sign is the same sign.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from seamproof.drawing.hatches import Path

Spot = tuple[float, float]

SHAFT, HEAD, CASING = 1.6 / 16, 6.0 / 16, 1.5 / 16
"""Width of the shaft, length of the head, and of the white round both, as shares of the length."""

HALF_HEAD = 2.6 / 16
"""Half the breadth of the head, likewise."""

EITHER = 0.75
"""Length of each of the two arrows of an open seam: they stand back to back and reach less far."""

BETWEEN = 0.12
"""From the seam to the end of such an arrow: two arrows must not read as one."""

ROOM = 3.0
"""A stretch of seam holds a sign if it is so many times as long: then the signs of two seams that
meet at 45 degrees or more do not meet, nor those of open seams at 60 or more."""

LEAST = 0.6
"""A sign is drawn no smaller than this; it is left out instead."""

AGAIN = 20.0
"""From so many lengths on a stretch bears two signs."""

HOOK, SWEEP, STEPS = 0.5, 250.0, 24
"""Radius of the hook, as a share of the length of an arrow; how far round it goes, in degrees;
and of how many straight pieces it is drawn."""


@dataclass(frozen=True, slots=True)
class Sign:
    """A line with a filled head, and the length everything in it is a share of."""

    shaft: Path
    head: Path
    length: float


def across(
    a: Spot, b: Spot, way: Literal["open", "left", "right"], length: float, *, needed: bool
) -> Iterator[Sign]:
    """The signs of a stretch of seam from a to b: left and right as seen, y downwards. None if the
    stretch is too short, unless one is `needed`.

    >>> [sign.head[0] for sign in across((0, 0), (60, 0), "left", 16, needed=False)]
    [(30.0, -8.0)]
    >>> list(across((0, 0), (10, 0), "left", 16, needed=False))
    []
    """
    reach = math.dist(a, b)
    size = min(length, reach / ROOM)
    if size < LEAST * length:
        if not needed or reach == 0:
            return
        size = LEAST * length
    left = ((b[1] - a[1]) / reach, (a[0] - b[0]) / reach)
    for share in (0.25, 0.75) if reach > AGAIN * length else (0.5,):
        at = (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
        if way == "open":
            tail = BETWEEN * size
            yield _arrow(at, left, tail, EITHER * size, size)
            yield _arrow(at, (-left[0], -left[1]), tail, EITHER * size, size)
        else:
            sign = 1 if way == "left" else -1
            out = (sign * left[0], sign * left[1])
            yield _arrow(at, out, -size / 2, size / 2, size)


def hook(at: Spot, length: float, *, clockwise: bool) -> Sign:
    """The sign of a spun crossing; `clockwise` as seen, y downwards.

    >>> hook((0, 0), 16, clockwise=True).length
    16
    """
    radius, turn = HOOK * length, 1 if clockwise else -1
    # It begins beside an upright seam, so that no seam hides in its gap's ends.
    start = math.radians(-90 + turn * 25)
    end = start + turn * math.radians(SWEEP)

    def on(angle: float, far: float = radius) -> Spot:
        return (at[0] + far * math.cos(angle), at[1] + far * math.sin(angle))

    arc = tuple(on(start + (end - start) * k / STEPS) for k in range(STEPS + 1))
    half = HALF_HEAD * length
    along = (-turn * math.sin(end), turn * math.cos(end))
    long = HEAD * length * 0.9
    base = on(end)
    tip = (base[0] + along[0] * long, base[1] + along[1] * long)
    return Sign(arc, (tip, on(end, radius + half), on(end, radius - half)), length)


def _arrow(at: Spot, out: Spot, tail: float, tip: float, size: float) -> Sign:
    """An arrow through `at` from so far out to so far out."""

    def to(far: float, aside: float = 0.0) -> Spot:
        return (at[0] + out[0] * far - out[1] * aside, at[1] + out[1] * far + out[0] * aside)

    neck, half = tip - HEAD * size, HALF_HEAD * size
    return Sign((to(tail), to(neck)), (to(tip), to(neck, half), to(neck, -half)), size)
