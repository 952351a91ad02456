"""Strips that are sewn into strip sets: how wide and how long they must be.

A strip is as wide as its patch with a seam allowance on either side. It is as long as a whole
number of slices, each as wide as the patch with its allowances the other way, and what squaring up
the ends of the set takes; and no longer than its cloth is wide.
"""

from __future__ import annotations

import math

from seamproof.cutting.model import CuttingSettings, Piece
from seamproof.findings import Finding
from seamproof.length.rounding import SAME, nearest
from seamproof.plane.model import Point
from seamproof.proof.checks import NEED, RULER, faulty, long
from seamproof.proof.cloth_geometry import polygon, pushed_out, straightened


def strip_fault(
    piece: Piece, patch: tuple[Point, ...], settings: CuttingSettings
) -> Finding | None:
    """What is wrong with the sizes of a strip whose slices show the finished patch."""
    grown = pushed_out(straightened(polygon(patch)), float(settings.seam))
    if len(grown) != 4:
        return faulty(NEED, f"{piece.letter}: no slice of a strip has this shape")
    sides = (abs(grown[1] - grown[0]), abs(grown[2] - grown[1]))
    ways = [
        (wide, along)
        for wide, along in (sides, sides[::-1])
        if abs(wide - piece.width.need) <= SAME and _slices(piece, along, settings)
    ]
    if not ways:
        return faulty(
            NEED,
            f"{piece.letter}: a strip for {long(sides[0])} by {long(sides[1])} is stated as "
            f"{long(piece.width.need)} wide and {long(piece.height.ruler)} long",
        )
    return _off_the_ruler(piece, settings)


def _slices(piece: Piece, along: float, settings: CuttingSettings) -> bool:
    """Whether the length is that of some slices, taken up to the ruler: each `along` wide or, where
    that lies between two marks, as wide as the larger of it and the nearest mark."""
    each = max(along, float(nearest(along, settings.step)))
    room = float(piece.height.ruler - settings.squaring + SAME)
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
