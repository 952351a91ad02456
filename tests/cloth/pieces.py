"""Cut pieces for tests, without the block they come from."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from seamproof.cutting.model import Grain, Piece, Shape
from seamproof.length.rounding import Size
from seamproof.plane.model import Polygon

Length = Fraction | int | str


def size(length: Length) -> Size:
    return Size(Fraction(length), float(Fraction(length)))


def piece(
    letter: str,
    width: Length,
    height: Length | None = None,
    count: int = 1,
    *,
    shape: Shape | None = None,
    grain: Grain = "either",
    corners: Polygon = (),
    angle: int | None = None,
) -> Piece:
    """A piece of the fabric that its letter begins with; a square unless a height is given."""
    made = Piece(
        letter=letter,
        fabric=letter[0].lower(),
        shape="square" if height is None else "rectangle",
        width=size(width),
        height=size(width if height is None else height),
        count=count,
        split="whole",
        grain=grain,
        rounding="on the ruler",
        part=0,
        unit="square",
        method="by ruler",
        corners=corners,
        angle=angle,
    )
    return made if shape is None else replace(made, shape=shape)
