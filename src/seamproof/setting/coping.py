"""Coping: the frames that bring a smaller block to the size of the cell."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from seamproof.plane.model import Point
from seamproof.setting.model import Frame, Strip


def frames_of(block: Point, strips: Sequence[Strip], cell: Point) -> tuple[Frame, ...]:
    """The frames of a block from the inside out. The outermost takes up whatever is left between
    what the strips say and the cell, so that a block that came out otherwise still fills it.

    >>> inch = Fraction(1)
    >>> strips = [Strip(inch, "e"), Strip(2 * inch, "a")]
    >>> made = frames_of((6 * inch, 6 * inch), strips, (12 * inch, 12 * inch))
    >>> [(frame.fabric, str(frame.beside), str(frame.outer[0])) for frame in made]
    [('e', '1', '8'), ('a', '2', '12')]
    >>> frames_of((12 * inch, 12 * inch), [], (12 * inch, 12 * inch))
    ()
    """
    found = []
    inner = block
    for number, strip in enumerate(strips):
        beside = above = strip.width
        if number == len(strips) - 1:
            beside, above = (cell[0] - inner[0]) / 2, (cell[1] - inner[1]) / 2
        outer = (inner[0] + 2 * beside, inner[1] + 2 * above)
        found.append(Frame(strip.fabric or "", beside, above, inner, outer))
        inner = outer
    return tuple(found)


def missing(block: Point, strips: Sequence[Strip], cell: Point) -> Point:
    """How much wider and higher the cell is than the block with the frames as written; negative
    where they are too wide."""
    taken = 2 * sum((strip.width for strip in strips), Fraction(0))
    return (cell[0] - block[0] - taken, cell[1] - block[1] - taken)
