"""Half-square triangles."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Recipe, Step, Stock
from seamproof.cutting.recipes.making import (
    Cut,
    Method,
    Wanted,
    finished_by,
    last_name,
    measured,
    root2,
    to_trim,
)
from seamproof.cutting.table import exact, opened, rectangle
from seamproof.length.rounding import Size
from seamproof.plane.model import Line

KIND = "half-square triangle"

EIGHT_FROM = 64
"""So many alike are made eight at a time unless another way is named: eight rounds. Fewer are made
two at a time, which leaves one over at most where eight leave seven, and whose squares come out of
ordinary strips (common practice; the trade names no number)."""


def need(finished: Fraction, seam: Fraction) -> float:
    """The side of the square from which a half-square triangle of this finished side is made.

    A right triangle with one allowance all round has legs F + s (2 + root 2).

    >>> round(need(Fraction(4), Fraction(1, 4)), 4), need(Fraction(4), Fraction(0))
    (4.8536, 4.0)
    """
    return float(finished) + float(seam) * (2 + math.sqrt(2))


@dataclass(frozen=True, slots=True)
class TwoAtATime(Method):
    """Two squares, sewn on both sides of a drawn diagonal and cut apart on it: two units."""

    kind: str = KIND
    name: str = "two at a time"

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: the squares of the first fabric, those of the second."""
        rounds = -(-wanted.count // 2)
        cut = to_trim(need(wanted.like.unit.width, settings.seam), KIND, settings)
        pieces = tuple(self.piece(wanted, letters[role], role, cut, rounds) for role in (0, 1))
        name = last_name(wanted, settings)
        sew = sewn_pair(cut.shown, rounds, (letters[0], letters[1]), name, settings)
        steps = finished_by(wanted, settings, (sew,))
        return self.recipe(wanted, settings, pieces, steps, gives=2, made=2 * rounds)


@dataclass(frozen=True, slots=True)
class FromTriangles(Method):
    """Two triangles, each half a square."""

    kind: str = KIND
    name: str = "from triangles"

    def suits(self, wanted: Wanted) -> bool:  # noqa: ARG002 - two at a time comes first
        """Never by itself: the bias edge would be handled before it is sewn."""
        return False

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: squares of the first fabric, squares of the second, each cut once."""
        count = wanted.count
        cut = to_trim(need(wanted.like.unit.width, settings.seam), KIND, settings)
        pieces = tuple(
            self.piece(wanted, letters[role], role, cut, -(-count // 2), split=2) for role in (0, 1)
        )
        name = last_name(wanted, settings)
        c, d, o = cut.shown, root2(settings.seam), Fraction(0)
        triangle = ((o, o), (c, o), (o, c))
        stitched = ((o, c - d), (c - d, o))
        shown = opened(triangle, [triangle], stitched)
        sew = Step(
            "sew",
            takes=(
                Stock(letters[0], triangle, count),
                Stock(letters[1], triangle, count, "down"),
            ),
            gives=(Stock(name, shown, count),),
            stitched=(stitched,),
            measure=measured(shown, settings.step),
        )
        return self.recipe(wanted, settings, pieces, finished_by(wanted, settings, (sew,)))


@dataclass(frozen=True, slots=True)
class EightAtATime(Method):
    """Two large squares, sewn on both sides of both diagonals and cut apart on these and on the
    lines half-way across: eight units, straight grain on all sides."""

    kind: str = KIND
    name: str = "eight at a time"

    def suits(self, wanted: Wanted) -> bool:
        """From `EIGHT_FROM` on."""
        return wanted.count >= EIGHT_FROM

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: the large squares of the first fabric, those of the second. Each is twice as
        large as one for two at a time, so that its half is on the ruler too."""
        rounds = -(-wanted.count // 8)
        quarter = to_trim(need(wanted.like.unit.width, settings.seam), KIND, settings)
        size = Size(2 * quarter.size.ruler, 2 * quarter.size.need)
        cut = Cut(size, 2 * quarter.shown, quarter.rounding)
        pieces = tuple(self.piece(wanted, letters[role], role, cut, rounds) for role in (0, 1))
        sew = _sewn_eight(quarter.shown, rounds, letters, last_name(wanted, settings), settings)
        steps = finished_by(wanted, settings, (sew,))
        return self.recipe(wanted, settings, pieces, steps, gives=8, made=8 * rounds)


@dataclass(frozen=True, slots=True)
class FourAtATime(Method):
    """Two squares, sewn together all round and cut apart on both diagonals: four units, whose
    outer edges are all on the bias."""

    kind: str = KIND
    name: str = "four at a time"

    def suits(self, wanted: Wanted) -> bool:  # noqa: ARG002 - whatever the count
        """Never by itself: all edges of the unit would stretch."""
        return False

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: the squares of the first fabric, those of the second."""
        rounds = -(-wanted.count // 4)
        cut = to_trim(need_of_four(wanted.like.unit.width, settings.seam), KIND, settings)
        pieces = tuple(self.piece(wanted, letters[role], role, cut, rounds) for role in (0, 1))
        sew = _sewn_round(cut.shown, rounds, letters, last_name(wanted, settings), settings)
        steps = finished_by(wanted, settings, (sew,))
        recipe = self.recipe(wanted, settings, pieces, steps, gives=4, made=4 * rounds)
        return replace(recipe, bias_edges=4)


def need_of_four(finished: Fraction, seam: Fraction) -> float:
    """The side of the square from which four half-square triangles of this finished side are made
    at a time.

    Sewn all round and cut on both diagonals, a square of side c gives units that measure
    (c - 2s) / root 2 from raw edge to raw edge.

    >>> round(need_of_four(Fraction(4), Fraction(1, 4)), 4)
    6.864
    >>> need_of_four(Fraction(4), Fraction(0)) == 4 * math.sqrt(2)
    True
    """
    return math.sqrt(2) * (float(finished) + 2 * float(seam)) + 2 * float(seam)


def sewn_pair(
    side: Fraction,
    rounds: int,
    letters: tuple[str, str],
    name: str,
    settings: CuttingSettings,
) -> Step:
    """Two squares of this side become two sewn squares, `rounds` times over. In what is given the
    first fabric lies upper left, and corner 0 is its right angle."""
    o, d = Fraction(0), root2(settings.seam)
    square = rectangle(o, o, side, side)
    diagonal: Line = ((o, side), (side, o))
    near, far = ((o, side - d), (side - d, o)), ((d, side), (side, d))
    shown = opened(square, [square], near, cuts=[diagonal])
    return Step(
        "sew",
        takes=(
            Stock(letters[0], square, rounds),
            Stock(letters[1], square, rounds, "down"),
        ),
        gives=(Stock(name, shown, 2 * rounds),),
        drawn=(diagonal,),
        stitched=(near, far),
        cuts=(diagonal,),
        measure=measured(shown, settings.step),
    )


def _sewn_eight(
    half: Fraction, rounds: int, letters: Sequence[str], name: str, settings: CuttingSettings
) -> Step:
    """Two large squares of side 2 `half` become eight sewn squares. The one that is given comes
    from the upper right quarter; in it the first fabric lies upper left."""
    o, d = Fraction(0), root2(settings.seam)
    side = 2 * half
    square = rectangle(o, o, side, side)
    falling: Line = ((o, o), (side, side))
    rising: Line = ((o, side), (side, o))
    upright: Line = ((half, o), (half, side))
    level: Line = ((o, half), (side, half))
    near: Line = ((half, half - d), (side - d, o))
    shown = opened(square, [square], near, cuts=[rising, upright, level])
    return Step(
        "sew",
        takes=(
            Stock(letters[0], square, rounds),
            Stock(letters[1], square, rounds, "down"),
        ),
        gives=(Stock(name, shown, 8 * rounds),),
        drawn=(falling, rising),
        stitched=(
            ((d, o), (side, side - d)),
            ((o, d), (side - d, side)),
            ((o, side - d), (side - d, o)),
            ((d, side), (side, d)),
        ),
        cuts=(upright, level, falling, rising),
        measure=measured(shown, settings.step),
    )


def _sewn_round(
    side: Fraction, rounds: int, letters: Sequence[str], name: str, settings: CuttingSettings
) -> Step:
    """Two squares of this side, sewn all round, become four sewn squares.

    The squares stand on a corner, so that the units come out upright. The one that is given comes
    from the lower right; in it the first fabric lies upper left.
    """
    half = exact(float(side) / math.sqrt(2))
    d, o = root2(settings.seam), Fraction(0)
    top, right, bottom, left = (half, o), (2 * half, half), (half, 2 * half), (o, half)
    square = (top, right, bottom, left)
    upright, level = (top, bottom), (left, right)
    # One allowance inside each side, from raw edge to raw edge.
    stitched: tuple[Line, ...] = (
        ((half - d / 2, d / 2), (2 * half - d / 2, half + d / 2)),
        ((2 * half - d / 2, half - d / 2), (half - d / 2, 2 * half - d / 2)),
        ((half + d / 2, 2 * half - d / 2), (d / 2, half - d / 2)),
        ((d / 2, half + d / 2), (half + d / 2, d / 2)),
    )
    shown = opened(square, [square], stitched[1], cuts=[upright, level])
    return Step(
        "sew",
        takes=(
            Stock(letters[0], square, rounds),
            Stock(letters[1], square, rounds, "down"),
        ),
        gives=(Stock(name, shown, 4 * rounds),),
        stitched=stitched,
        cuts=(upright, level),
        measure=measured(shown, settings.step),
    )
