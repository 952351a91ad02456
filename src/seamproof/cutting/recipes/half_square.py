"""Half-square triangles."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Piece, Recipe, Step, Stock
from seamproof.cutting.recipes.making import (
    Wanted,
    centred,
    finished_by,
    last_name,
    measured,
    root2,
    sheets_of,
    square_piece,
    to_trim,
    trim_size,
    waste_of,
)
from seamproof.cutting.table import opened, rectangle
from seamproof.plane.model import Line

KIND = "half-square triangle"


def need(finished: Fraction, seam: Fraction) -> float:
    """The side of the square from which a half-square triangle of this finished side is made.

    A right triangle with one allowance all round has legs F + s (2 + root 2).

    >>> round(need(Fraction(4), Fraction(1, 4)), 4), need(Fraction(4), Fraction(0))
    (4.8536, 4.0)
    """
    return float(finished) + float(seam) * (2 + math.sqrt(2))


@dataclass(frozen=True, slots=True)
class TwoAtATime:
    """Two squares, sewn on both sides of a drawn diagonal and cut apart on it: two units."""

    kind: str = KIND
    name: str = "two at a time"

    def fits(self, wanted: Wanted) -> bool:  # noqa: ARG002 - every such unit can be made so
        """Always."""
        return True

    def suits(self, wanted: Wanted) -> bool:  # noqa: ARG002 - likewise
        """Always: one spare at most."""
        return True

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: the squares of the first fabric, those of the second."""
        rounds = -(-wanted.count // 2)
        cut = to_trim(need(wanted.like.unit.width, settings.seam), KIND, settings)
        pieces = tuple(
            square_piece(wanted, letters[role], role, cut, rounds, self.name, settings)
            for role in (0, 1)
        )
        name = last_name(wanted, settings)
        sew = sewn_pair(cut.shown, rounds, (letters[0], letters[1]), name, settings)
        return _recipe(self.name, wanted, settings, pieces, sew, gives=2, made=2 * rounds)


@dataclass(frozen=True, slots=True)
class FromTriangles:
    """Two triangles, each half a square."""

    kind: str = KIND
    name: str = "from triangles"

    def fits(self, wanted: Wanted) -> bool:  # noqa: ARG002 - every such unit can be made so
        """Always."""
        return True

    def suits(self, wanted: Wanted) -> bool:  # noqa: ARG002 - two at a time comes first
        """Never by itself: the bias edge would be handled before it is sewn."""
        return False

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: squares of the first fabric, squares of the second, each cut once."""
        count = wanted.count
        cut = to_trim(need(wanted.like.unit.width, settings.seam), KIND, settings)
        pieces = tuple(
            square_piece(
                wanted, letters[role], role, cut, -(-count // 2), self.name, settings, split=2
            )
            for role in (0, 1)
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
        return _recipe(self.name, wanted, settings, pieces, sew, gives=1, made=count)


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


def _recipe(
    method: str,
    wanted: Wanted,
    settings: CuttingSettings,
    pieces: tuple[Piece, ...],
    sew: Step,
    *,
    gives: int,
    made: int,
) -> Recipe:
    unit = wanted.like.unit
    side = unit.width + 2 * settings.seam
    to = centred(sew.gives[0].corners, side, side)
    steps = finished_by(wanted, settings, (sew,), to)
    sheets = sheets_of(wanted, settings.seam)
    return Recipe(
        unit=wanted.part,
        kind=KIND,
        method=method,
        gives=gives,
        made=made,
        spare=made - wanted.count,
        pieces=pieces,
        steps=steps,
        sheets=sheets,
        trim=trim_size(wanted, settings),
        waste=waste_of(pieces, sheets, made),
    )
