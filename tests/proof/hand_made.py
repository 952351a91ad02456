"""Cutting lists worked out with paper and pencil, by nobody's code: what the ledger is held to.

Lengths in inches, seam allowance 1/4. `D` is how far a line at 45 degrees moves along a straight
side if it moves by one seam allowance.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Literal

from seamproof.cutting.model import CuttingList, Piece, Step, Stock
from seamproof.length.rounding import Rounding, Size
from seamproof.plane.model import Line, Point

S = Fraction(1, 4)
D = Fraction(3535533906, 10**10)  # S times the root of 2

Number = Fraction | int | str


def points(*pairs: tuple[Number, Number]) -> tuple[Point, ...]:
    return tuple((Fraction(x), Fraction(y)) for x, y in pairs)


def line(a: tuple[Number, Number], b: tuple[Number, Number]) -> Line:
    one, other = points(a, b)
    return (one, other)


def upright(left: Number, top: Number, right: Number, bottom: Number) -> tuple[Point, ...]:
    return points((left, top), (right, top), (right, bottom), (left, bottom))


def face_down(corners: Sequence[Point]) -> tuple[Point, ...]:
    """The corners of a thing turned over in its place: from the same corner, the other way."""
    return (corners[0], *reversed(corners[1:]))


def piece(
    letter: str,
    fabric: str,
    side: Fraction,
    count: int,
    *,
    split: Literal["whole", "once", "twice"] = "whole",
    rounding: Rounding = "on the ruler",
    need: float | None = None,
) -> Piece:
    size = Size(side, float(side) if need is None else need)
    return Piece(
        letter, fabric, "square", size, size, count, split, "either", rounding, 0, "unit", "by hand"
    )


def listed(pieces: Sequence[Piece], steps: Sequence[Step], copies: int = 1) -> CuttingList:
    return CuttingList(copies, tuple(pieces), (), tuple(steps))


def four_patch() -> CuttingList:
    """Two fabrics, 2 in finished squares: a 4 in block, its upper left and lower right of a."""
    pieces = [piece("Aa", "a", Fraction(5, 2), 2), piece("Ba", "b", Fraction(5, 2), 2)]
    pair = Step(
        "sew",
        takes=(
            Stock("Aa", upright(0, 0, "5/2", "5/2"), 2),
            Stock("Ba", upright(0, 0, "5/2", "5/2"), 2, "down"),
        ),
        gives=(Stock("pair", upright(0, 0, "9/2", "5/2"), 2),),
        stitched=(line(("9/4", 0), ("9/4", "5/2")),),
    )
    # The second pair lies turned by half below the first: its corner 0 at the lower right. Turned
    # over the seam y = 9/4, the lower right corner comes to the upper right.
    below = points(("9/2", "9/2"), (0, "9/2"), (0, 2), ("9/2", 2))
    over = face_down([(x, Fraction(9, 2) - y) for x, y in below])
    block = Step(
        "sew",
        takes=(Stock("pair", upright(0, 0, "9/2", "5/2"), 1), Stock("pair", over, 1, "down")),
        gives=(Stock("block", upright(0, 0, "9/2", "9/2"), 1),),
        stitched=(line((0, "9/4"), ("9/2", "9/4")),),
    )
    return listed(pieces, [pair, block])


def half_square_triangles() -> CuttingList:
    """4 in finished, two at a time from 5 in squares, trimmed to 4 1/2 in: two blocks of one unit,
    a at the upper left."""
    cut, trimmed = Fraction(5), Fraction(9, 2)
    pieces = [
        piece("Aa", "a", cut, 1, rounding="trimmed", need=4.8535533906),
        piece("Ba", "b", cut, 1, rounding="trimmed", need=4.8535533906),
    ]
    whole, drawn = upright(0, 0, cut, cut), line((0, cut), (cut, 0))
    sewn = upright(0, 0, cut - D, cut - D)
    sew = Step(
        "sew",
        takes=(Stock("Aa", whole, 1), Stock("Ba", whole, 1, "down")),
        gives=(Stock("sewn", sewn, 2),),
        drawn=(drawn,),
        stitched=(line((0, cut - D), (cut - D, 0)), line((D, cut), (cut, D))),
        cuts=(drawn,),
    )
    rim = (cut - D - trimmed) / 2
    trim = Step(
        "trim",
        takes=(Stock("sewn", sewn, 2),),
        gives=(Stock("unit", upright(rim, rim, rim + trimmed, rim + trimmed), 2),),
    )
    return listed(pieces, [sew, trim], copies=2)


def flying_goose() -> CuttingList:
    """4 x 2 in finished, from triangles as cut: a goose of a pointing up, skies of b."""
    h = 4 + 2 * S + 2 * D  # the long side of the goose with its allowances
    leg = 2 + 2 * S + D  # a leg of a sky with its allowances
    pieces = [
        piece("Aa", "a", Fraction(21, 4), 1, split="twice", rounding="as cut", need=float(h)),
        piece("Ba", "b", Fraction(23, 8), 1, split="once", rounding="as cut", need=float(leg)),
    ]
    goose = points((h / 2, 0), (h, h / 2), (0, h / 2))
    left, right, top = D, h - D, D - S  # the raw edges of the unit at its sides and its top
    sky = points((left, top), (left + leg, top), (left, top + leg))
    c = h / 2 + D  # the left stitching runs along x + y = c
    first = Step(
        "sew",
        takes=(
            Stock("Aa", goose, 1),
            Stock("Ba", face_down([(c - y, c - x) for x, y in sky]), 1, "down"),
        ),
        gives=(
            Stock("half", points((left, top), (h / 2 + top, top), (h, h / 2), (left, h / 2)), 1),
        ),
        stitched=(line((h / 2 + D / 2, D / 2), (D, h / 2)),),
    )
    other = points((right, top), (right, top + leg), (right - leg, top))
    d = h / 2 - D  # the right stitching runs along x - y = d
    second = Step(
        "sew",
        takes=(
            first.gives[0],
            Stock("Ba", face_down([(y + d, x - d) for x, y in other]), 1, "down"),
        ),
        gives=(Stock("block", upright(left, top, right, h / 2), 1),),
        stitched=(line((h / 2 - D + top, top), (h - D, h / 2)),),
    )
    return listed(pieces, [first, second])
