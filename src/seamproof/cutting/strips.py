"""Squares and rectangles from strips: how many strips across the cloth, and how many from each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Piece
from seamproof.length.rounding import SAME


@dataclass(frozen=True, slots=True)
class SubCut:
    """Pieces of one letter from strips: each of `strips` strips gives `each` of them, cut across
    every `along` inches."""

    letter: str
    count: int
    along: Fraction
    each: int
    strips: int


@dataclass(frozen=True, slots=True)
class Strips:
    """Strips of one width of one fabric, and what is cut from them, the longest sub-cut first.

    Every letter has strips of its own; what fits on the rest of a strip is not counted on.
    """

    fabric: str
    width: Fraction
    cuts: tuple[SubCut, ...]

    @property
    def count(self) -> int:
        """How many strips."""
        return sum(cut.strips for cut in self.cuts)

    @property
    def length(self) -> Fraction:
        """How much cloth they take, along the selvage, in inches."""
        return self.count * self.width


def strips_for(pieces: Iterable[Piece], settings: CuttingSettings) -> tuple[Strips, ...]:
    """The strips for the rows of a cutting list, fabric by fabric, the widest first.

    A rectangle is cut from strips as wide as its shorter or its longer side, whichever takes less
    cloth. What is neither square, rectangle nor strip, or is longer than its cloth is wide, is left
    out.
    """
    found: dict[tuple[str, Fraction], list[SubCut]] = {}
    for piece in pieces:
        best = _best(piece, settings.usable(piece.fabric))
        if best is not None:
            width, cut = best
            found.setdefault((piece.fabric, width), []).append(cut)
    return tuple(
        Strips(fabric, width, tuple(sorted(cuts, key=lambda cut: (-cut.along, cut.letter))))
        for (fabric, width), cuts in sorted(
            found.items(), key=lambda item: (len(item[0][0]), item[0][0], -item[0][1])
        )
    )


def _best(piece: Piece, usable: Fraction) -> tuple[Fraction, SubCut] | None:
    short, long = piece.width.ruler, piece.height.ruler
    if piece.shape == "strip":
        ways = [(short, long)]
    elif piece.shape in ("square", "rectangle"):
        ways = [(short, long), (long, short)]
    else:
        return None
    fitting = [
        (width, SubCut(piece.letter, piece.count, along, each, -(-piece.count // each)))
        for width, along in ways
        if (each := int((usable + SAME) // along)) > 0
    ]
    return min(fitting, key=lambda way: (way[1].strips * way[0], way[0]), default=None)
