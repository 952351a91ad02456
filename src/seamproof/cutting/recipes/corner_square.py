"""Corner-square triangles: half a square, and in the corner of the other half a small square with a
triangle on either side of it.

Two rows of a square and a rectangle make a large rectangle that looks the same upside down. A plain
one of its size is laid on it, and both are sewn from corner to corner of a square at either end.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Recipe, Step, Stock
from seamproof.cutting.recipes.making import (
    Method,
    Wanted,
    as_loose,
    in_part_order,
    measured,
    part_name,
    root2,
    sewn_name,
)
from seamproof.cutting.table import exact, opened, rectangle, turned_over
from seamproof.length.rounding import on_ruler
from seamproof.plane.model import Line

KIND = "corner-square triangle"

HALF, SQUARE, TOP, LEFT = range(4)
"""The roles: the half lies lower right, the square in the upper left corner."""

_O = Fraction(0)


def need(finished: Fraction, seam: Fraction) -> tuple[float, float]:
    """Width and height of a rectangle that is sewn from corner to corner of a square of this
    finished side at either end, one allowance apart from the cut between: the square with its
    allowances, and twice s root 2 more lengthwise.

    >>> [round(n, 4) for n in need(Fraction(4), Fraction(1, 4))]
    [4.5, 5.2071]
    >>> need(Fraction(4), Fraction(0))
    (4.0, 4.0)
    """
    wide = float(finished) + 2 * float(seam)
    return wide, wide + 2 * math.sqrt(2) * float(seam)


@dataclass(frozen=True, slots=True)
class TwoAtATime(Method):
    """Two rows of a square and a rectangle, a plain rectangle laid on them: two units."""

    kind: str = KIND
    name: str = "two at a time"

    def fits(self, wanted: Wanted) -> bool:
        """If both small triangles are of one fabric, and a ruler shows the small square, which
        nothing trims."""
        side = wanted.like.unit.width / 2 + 2 * wanted.settings.seam
        alike = wanted.fabrics[TOP] == wanted.fabrics[LEFT]
        return alike and on_ruler(side, wanted.settings.step)

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: the large rectangles, the squares, the small rectangles."""
        rounds = -(-wanted.count // 2)
        side, seam = wanted.like.unit.width, settings.seam
        large, small = (
            (as_loose(wide, settings), as_loose(long, settings))
            for wide, long in (need(side, seam), need(side / 2, seam))
        )
        pieces = (
            self.piece(wanted, letters[0], HALF, large, rounds),
            self.piece(wanted, letters[1], SQUARE, small[0], 2 * rounds),
            self.piece(wanted, letters[2], TOP, small, 2 * rounds),
        )
        steps = _steps(wanted, settings, letters, rounds)
        return self.recipe(wanted, settings, pieces, steps, gives=2, made=2 * rounds)


def _steps(
    wanted: Wanted, settings: CuttingSettings, letters: Sequence[str], rounds: int
) -> tuple[Step, ...]:
    """The row, the two rows, the plain rectangle sewn on at both ends."""
    seam, side = settings.seam, wanted.like.unit.width
    small, wide = side / 2 + 2 * seam, side + 2 * seam
    long = exact(need(side, seam)[1])
    rest = long - side / 2  # the small rectangle, sewn to the square, makes up the length
    row_name, rows_name = (sewn_name(wanted.part, what) for what in ("row", "two rows"))

    def joined(first: Stock, second: Stock, line: Line, name: str) -> Step:
        shown = opened(first.corners, [second.corners], line)
        return Step(
            "sew",
            takes=(first, second),
            gives=(Stock(name, shown, first.count),),
            stitched=(line,),
            measure=measured(shown, settings.step),
        )

    upright: Line = ((small - seam, _O), (small - seam, small))
    lying = turned_over(rectangle(small - 2 * seam, _O, rest, small), upright)
    row = joined(
        Stock(letters[1], rectangle(_O, _O, small, small), 2 * rounds),
        Stock(letters[2], lying, 2 * rounds, "down"),
        upright,
        row_name,
    )
    level: Line = ((_O, small - seam), (long, small - seam))
    upper = row.gives[0].corners
    # The other row half a turn round, below, and turned over the seam.
    below = tuple((long - x, 2 * small - 2 * seam - y) for x, y in upper)
    rows = joined(
        Stock(row_name, upper, rounds),
        Stock(row_name, turned_over(below, level), rounds, "down"),
        level,
        rows_name,
    )
    d = root2(seam)
    near: Line = ((_O, wide), (wide, _O))
    far: Line = ((long - wide, wide), (long, _O))
    cut: Line = ((d, wide), (wide + d, _O))
    base = rows.gives[0].corners
    shown = opened(base, [base], near, cuts=[cut])
    to = rectangle(_O, _O, wide, wide)
    last = Step(
        "sew",
        takes=(
            Stock(rows_name, base, rounds),
            Stock(letters[0], base, rounds, "down"),
        ),
        gives=(Stock(part_name(wanted.part), in_part_order(to, wanted), 2 * rounds),),
        drawn=(near, far),
        stitched=(near, far),
        cuts=(cut,),
        measure=measured(shown, settings.step),
    )
    return row, rows, last
