"""A rehearsal drawn: one stitch for each of a hundred makers, stacked over a ruler."""

from __future__ import annotations

import math
from collections import Counter
from fractions import Fraction

from seamproof.accuracy.model import Rehearsal
from seamproof.drawing.scene import Label, Scene, Shape, Stroke
from seamproof.length.notation import Measure, inches, number, with_unit

SIXTEENTH = 0.36
"""Inches on paper for a sixteenth of an inch on the ruler: nearly six times as large."""

STITCH, ROW = 0.13, 0.062
"""Length of one stitch, and from row to row of the stack: two stacks to a sixteenth."""

TICKS = {1: 0.08, 2: 0.14, 4: 0.22}
"""Length of the ruler's ticks, by how many sixteenths they count."""

LEAST, MOST = 5, 14
"""Sixteenths on either side of the size that is wanted: at least as many as show the tolerance, and
no more than a page holds; makers further off are stacked at the end."""

PAST = 0.12
"""A limit is drawn like a cut, which runs on so far beyond its end: it shall stand on the ruler."""

TOLERANCE = 2
"""An eighth of an inch, in sixteenths: stitches further off are broken."""


def rehearsal_scene(rehearsal: Rehearsal, name: str, measure: Measure = "in") -> Scene:
    """The makers of a rehearsal, each where the side of her block lies that is further off, over a
    ruler in sixteenths of an inch. To be set at scale 1. Sizes are told in `measure`."""
    off = [_further(width, height, rehearsal) * 16 for width, height in rehearsal.shown]
    reach = min(max(LEAST, math.ceil(max(map(abs, off), default=0.0))), MOST)
    shapes: list[Shape] = []
    stacked: Counter[int] = Counter()
    for value in sorted(off, key=abs):
        place = min(max(math.floor(2 * value), -2 * reach), 2 * reach - 1)
        outside = abs(value) > TOLERANCE
        x, y = (place + 0.5) / 2 * SIXTEENTH, -(stacked[place] + 1) * ROW
        stacked[place] += 1
        half = STITCH / 2
        shapes.append(
            Stroke("broken stitch" if outside else "stitch", ((x - half, y), (x + half, y)))
        )
    top = -(max(stacked.values(), default=0) + 2) * ROW
    left, right = -reach * SIXTEENTH, reach * SIXTEENTH
    for side in (-1, 1):
        x = side * TOLERANCE * SIXTEENTH
        shapes.append(Stroke("cut", ((x, top), (x, -PAST))))
    shapes.append(Stroke("outline", ((left, 0.0), (right, 0.0))))
    for count in range(-reach, reach + 1):
        size = next(s for s in (4, 2, 1) if count % s == 0)
        x = count * SIXTEENTH
        shapes.append(Stroke("raw edge", ((x, 0.0), (x, TICKS[size]))))
        if count % 4 == 0 or abs(count) == TOLERANCE:
            shapes.append(Label((x, TICKS[4]), _read(count), below=8.0))
    wide, high = (
        number(Fraction(size).limit_denominator(64), measure) for size in rehearsal.wanted
    )
    near = with_unit(Fraction(TOLERANCE, 16), measure)
    makers = len(rehearsal.shown)
    inside = sum(abs(value) <= TOLERANCE for value in off)
    assumed = " (an assumption)" if rehearsal.maker.assumed else ""
    shapes += [
        Label((left, TICKS[4]), "too small", anchor="start", below=26.0),
        Label((right, TICKS[4]), "too large", anchor="end", below=26.0),
        *(
            Label((left, top), text, anchor="start", below=below)
            for text, below in (
                (f"one stitch for each of {makers} makers, where her worse side lies", -51.0),
                (f"{wide} × {high} {measure}, raw edge to raw edge", -38.0),
                (f"profile {rehearsal.maker.name}{assumed}; {inside} are within {near}", -25.0),
            )
        ),
    ]
    return Scene(
        tuple(shapes),
        f"{name}: the blocks of {makers} makers over a ruler; {inside} are within {near} both ways",
    )


def _further(width: float, height: float, rehearsal: Rehearsal) -> float:
    """The error of the side that is further off."""
    return max(width - rehearsal.wanted[0], height - rehearsal.wanted[1], key=abs)


def _read(count: int) -> str:
    """What stands under a tick."""
    if count == 0:
        return "as planned"
    return inches(Fraction(abs(count), 16))
