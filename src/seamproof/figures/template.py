"""Templates: outlines to be cut round, at true size."""

from __future__ import annotations

from fractions import Fraction

from seamproof.cutting.model import Piece
from seamproof.drawing.scene import Grain, Label, Letter, Scene, Shape, Stroke
from seamproof.figures.cloth import letter, spots
from seamproof.plane.offsets import offset

_GRAIN_BELOW = 0.45
"""Inches from the letter of a template down to its grain arrow."""

_ROOM_FOR_GRAIN = 0.8
"""Inches: a template with less room round its letter has no grain arrow; its side says enough."""


def template_scene(piece: Piece, mark: str, seam: Fraction) -> Scene:
    """The outline of a piece as it is cut, its seam line inside, its `mark` and its grain.

    The grain runs level or upright in the drawing, as the piece lies in the block.
    """
    named = letter(spots(piece.corners), mark)
    shapes: list[Shape] = [
        Stroke("outline", spots(piece.corners), closed=True),
        Stroke("stitching", spots(offset(piece.corners, -seam)), closed=True),
        Letter(named.at, named.text, named.room),
    ]
    if named.room > _ROOM_FOR_GRAIN:
        x, y = named.at[0], named.at[1] + _GRAIN_BELOW
        shapes += [Grain((x, y)), Label((x, y), "grain", "middle", below=4.0)]
    return Scene(tuple(shapes), f"template {mark} at true size")
