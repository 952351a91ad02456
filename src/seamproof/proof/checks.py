"""What the proof has to say when a cutting list does not add up."""

from __future__ import annotations

from fractions import Fraction

from seamproof.findings import Finding, Kind, Where
from seamproof.length.notation import with_unit
from seamproof.length.rounding import SAME
from seamproof.plane.model import Point

# The account of stock
NOT_ON_TABLE = Kind(901, "error", "A step takes what is not on the table")
OTHER_SHAPE = Kind(902, "error", "What lies on the table has another size or shape")
ALLOWANCE = Kind(903, "error", "A seam allowance is not as wide as stated")
SHORT = Kind(904, "error", "What is shown is larger than the cloth")
LEFT_OVER_CLOTH = Kind(905, "error", "Cloth sticks out beyond what is shown")
NO_ROOM_TO_TRIM = Kind(906, "error", "A unit cannot be trimmed to its size")
COUNT = Kind(907, "error", "A count does not add up")
MEASURE = Kind(908, "error", "A unit does not measure what is stated")
STITCHING = Kind(909, "error", "A stitched, drawn or cut line does not lie where it must")
UNLIKE = Kind(910, "error", "Things of one name are not alike")
# What comes out
NOT_THE_BLOCK = Kind(920, "error", "The sewn block is not the block that was drawn")
SPARE = Kind(921, "error", "What is left over is not what the recipe says")
# Sizes
NEED = Kind(930, "error", "A piece is not as large as the geometry asks for")
RULER = Kind(931, "error", "A cutting size is not what its rule makes of it")
TRIM = Kind(932, "error", "A trim size is not the finished size and two seam allowances")
SUM = Kind(933, "error", "Two sizes and their seam do not add up")
RECIPE = Kind(934, "error", "A recipe says something else than its steps")
SHEETS = Kind(935, "error", "A recipe says that its cut pieces lie elsewhere")
WASTE = Kind(936, "error", "A recipe wastes another share of the cloth than it says")
BIAS = Kind(937, "error", "A recipe leaves other edges on the bias than it says")

RECUT = "this is a mistake in the cutting list: do not cut by it"
"""The mend of every error of the proof: the list was made by the program or typed by somebody, and
whoever reads it must not cut."""


def faulty(kind: Kind, what: str, *, at: Point | None = None) -> Finding:
    """A finding of the proof, at a point of the finished block if one is known."""
    return kind.found(what, mend=RECUT, where=Where(at=at))


def long(value: float | Fraction) -> str:
    """A length for a sentence.

    >>> long(4.875), long(0.0213), long(Fraction(1, 8))
    ('4 7/8 in', '0.021 in', '1/8 in')
    """
    exact = Fraction(value)
    nice = exact.limit_denominator(64)
    return with_unit(nice if abs(nice - exact) <= SAME else exact)


def by(width: float | Fraction, height: float | Fraction) -> str:
    """Two lengths for a sentence.

    >>> by(3, 4.5)
    '3 in × 4 1/2 in'
    """
    return f"{long(width)} × {long(height)}"
