"""Strips that are sewn into strip sets: how wide and how long they must be.

A strip is as wide as its patch with a seam allowance on either side. It is as long as a whole
number of slices, each as wide as the patch with its allowances the other way, and what squaring up
the ends of the set takes; and no longer than its cloth is wide. For diamonds the strips are cut
aslant: then a slice takes more of their length than it is wide, and so do the ends.
"""

from __future__ import annotations

import math

from seamproof.cutting.model import CuttingSettings, Piece
from seamproof.findings import Finding
from seamproof.length.rounding import SAME, nearest
from seamproof.plane.model import Point
from seamproof.proof.checks import NEED, RULER, faulty, long
from seamproof.proof.cloth_geometry import cross, edges, polygon, pushed_out, straightened


def strip_fault(
    piece: Piece, patch: tuple[Point, ...], settings: CuttingSettings
) -> Finding | None:
    """What is wrong with the sizes of a strip whose slices show the finished patch."""
    grown = pushed_out(straightened(polygon(patch)), float(settings.seam))
    if len(grown) != 4:
        return faulty(NEED, f"{piece.letter}: no slice of a strip has this shape")
    one, other = (edge.ahead for edge in edges(grown)[:2])
    sine = abs(cross(one, other))
    cosine = abs((one * other.conjugate()).real)
    # How far apart the sides are: of a rectangle its height and its width.
    spans = (sine * abs(grown[2] - grown[1]), sine * abs(grown[1] - grown[0]))
    ways = [
        (wide, across)
        for wide, across in (spans, spans[::-1])
        if abs(wide - piece.width.need) <= SAME and _slices(piece, across, sine, cosine, settings)
    ]
    if not ways:
        return faulty(
            NEED,
            f"{piece.letter}: a strip for {long(spans[0])} by {long(spans[1])} is stated as "
            f"{long(piece.width.need)} wide and {long(piece.height.ruler)} long",
        )
    return _off_the_ruler(piece, settings)


def _slices(
    piece: Piece, across: float, sine: float, cosine: float, settings: CuttingSettings
) -> bool:
    """Whether the length is that of some slices, taken up to the ruler: each `across` wide or,
    where that lies between two marks, as wide as the larger of it and the nearest mark. `sine` and
    `cosine` are those of the angle between the strip and the cuts."""
    each = max(across, float(nearest(across, settings.step))) / sine
    ends = piece.width.need if piece.rounding == "as cut" else float(piece.width.ruler)
    room = float(piece.height.ruler - settings.squaring + SAME) - ends * cosine / sine
    slices = math.floor(room / each)
    return slices > 0 and room - slices * each < settings.step


def _off_the_ruler(piece: Piece, settings: CuttingSettings) -> Finding | None:
    width, length = piece.width, piece.height
    right = nearest(width.need, settings.step)
    if width.ruler != right:
        text = f"{piece.letter} is cut {long(width.ruler)} wide; the nearest mark is {long(right)}"
        return faulty(RULER, text)
    if (abs(width.surplus) <= SAME) != (piece.rounding == "on the ruler"):
        return faulty(RULER, f"{piece.letter} is not “{piece.rounding}”")
    usable = settings.usable(piece.fabric)
    on_mark = length.ruler == nearest(length.ruler, settings.step)
    if abs(length.surplus) > SAME or not on_mark or length.ruler > usable:
        return faulty(
            RULER,
            f"{piece.letter} is cut {long(length.ruler)} long, {long(length.need)} being needed, "
            f"from cloth {long(usable)} wide",
        )
    return None
