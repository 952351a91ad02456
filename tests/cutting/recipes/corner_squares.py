"""Corner-square triangles, drawn."""

from __future__ import annotations

from fractions import Fraction

from seamproof.draft.model import Block
from tests.cast import polygon_drawing, understood


def corner_square(finished: Fraction | int, fabrics: str = "abcc") -> Block:
    """One unit: fabrics of the half, of the square, of the triangles at the top and at the left."""
    f = Fraction(finished)
    q, o = f / 2, Fraction(0)
    corners = (
        [(f, o), (f, f), (o, f)],
        [(o, o), (q, o), (q, q), (o, q)],
        [(q, o), (f, o), (q, q)],
        [(o, q), (q, q), (o, f)],
    )
    return understood(
        polygon_drawing("corner square", (f, f), list(zip(fabrics, corners, strict=True)))
    )
