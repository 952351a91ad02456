"""Stitch and flip: small squares laid on the corners of a square or rectangle, stitched from corner
to corner and folded over.

Flying geese, snowballs and a square in a square are made so, and any square or rectangle with one
to four corners cut off at 45 degrees. The whole is cut as large as the unit with its allowances,
each small square as large as its corner with the same: so all sizes are on the ruler if the unit's
own are, and nothing is trimmed afterwards.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cutting.model import Bonus, CuttingSettings, Hand, Piece, Recipe, Step, Stock
from seamproof.cutting.recipes.making import (
    Method,
    Wanted,
    as_cut,
    in_part_order,
    measured,
    part_name,
    root2,
    sewn_name,
    unfinished,
    waste_of,
)
from seamproof.cutting.table import rectangle
from seamproof.length.rounding import Size
from seamproof.piecing.leaves import put
from seamproof.plane.model import Line, Point, Polygon
from seamproof.plane.predicates import box, same_length, same_point, side

SNOWBALL = "snowball"

TRIMMED = "stitch-and-flip"
LEFT_IN = "stitch-and-flip, backs left in"

BASE = 0
"""The role of the whole in each of these patterns: goose or centre."""

_LAID_FIRST = (0, 2, 1, 3)
"""Corners go on in this order, counted clockwise from the upper left one: opposite ones first
(common practice, no source)."""


@dataclass(frozen=True, slots=True)
class StitchAndFlip(Method):
    """A square on each corner, stitched on its diagonal, folded over the corner.

    Behind it two more corners lie: that of the whole and the back half of the square. They are cut
    off a seam allowance from the stitching, or `left_in`, which keeps the corner true and makes it
    three layers thick.
    """

    kind: str
    name: str = TRIMMED

    @property
    def left_in(self) -> bool:
        """Whether the backs are kept."""
        return self.name == LEFT_IN

    def suits(self, wanted: Wanted) -> bool:
        """If the unit lies upright in the block, so that its own sides are on the ruler where the
        block's are, and the backs are not to be left in."""
        return not self.left_in and (4 * wanted.like.turn).denominator == 1

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: the whole; the squares, one kind for each fabric and size."""
        count, edge = wanted.count, unfinished(wanted, settings.seam)
        hand = _hand(wanted)
        width, height = (as_cut(span + 2 * settings.seam, settings) for span in _spans(wanted))
        pieces = [self.piece(wanted, letters[0], BASE, (width, height), count, hand=hand)]
        kinds: dict[tuple[str, int], int] = {}
        corners: list[_Corner] = []
        for role in range(1, len(wanted.like.patches)):
            at, leg = _corner(wanted, role)
            cut = as_cut(leg + 2 * settings.seam, settings)
            kind = kinds.setdefault((wanted.fabrics[role], _alike(leg)), 1 + len(kinds))
            if kind == len(pieces):
                pieces.append(self.piece(wanted, letters[kind], role, cut, 0, hand=hand))
            pieces[kind] = replace(pieces[kind], count=pieces[kind].count + count)
            corners.append(_Corner(letters[kind], role, _laid(edge, at, cut.shown), at))
        steps = self._steps(wanted, settings, letters[0], corners)
        recipe = self.recipe(wanted, settings, pieces, steps, hand=hand)
        if not self.left_in:
            return replace(recipe, bonus=_bonus(settings, pieces))
        sheets = self._sheets(wanted, settings, corners)
        return replace(recipe, sheets=sheets, waste=waste_of(pieces, sheets, count))

    def _steps(
        self, wanted: Wanted, settings: CuttingSettings, base: str, corners: Sequence[_Corner]
    ) -> tuple[Step, ...]:
        """One step for each set of squares that do not lie in each other's way."""
        edge, count = unfinished(wanted, settings.seam), wanted.count
        sets = _sets(corners)
        steps = []
        # A cut piece lies as it likes; what is sewn keeps its order of corners.
        lying, name = edge, base
        for number, some in enumerate(sets, start=1):
            last = number == len(sets)
            done = "corner on" if number == 1 else f"corners {number} on"
            shown = in_part_order(edge, wanted) if last else edge
            gives = part_name(wanted.part) if last else sewn_name(wanted.part, done)
            steps.append(
                Step(
                    "sew",
                    takes=(
                        Stock(name, lying, count),
                        *(Stock(corner.letter, corner.square, count, "down") for corner in some),
                    ),
                    gives=(Stock(gives, shown, count),),
                    drawn=tuple(corner.stitched for corner in some),
                    stitched=tuple(corner.stitched for corner in some),
                    cuts=() if self.left_in else tuple(c.cut(settings.seam) for c in some),
                    measure=measured(edge, settings.step),
                    left_in=self.left_in,
                )
            )
            lying, name = shown, gives
        return tuple(steps)

    def _sheets(
        self, wanted: Wanted, settings: CuttingSettings, corners: Sequence[_Corner]
    ) -> tuple[Polygon, ...]:
        """Left in, the whole lies under its corners, and each square reaches back over its
        stitching."""
        edge = unfinished(wanted, settings.seam)
        squares = {BASE: edge, **{corner.role: corner.square for corner in corners}}
        order = sorted(squares, key=lambda role: wanted.like.order[role])
        return tuple(put(squares[role], wanted.like.turn, wanted.like.at) for role in order)


@dataclass(frozen=True, slots=True)
class _Corner:
    """A square where it is laid: its letter, its role, its corners clockwise from the raw corner
    on, and which corner of the unit that is."""

    letter: str
    role: int
    square: Polygon
    at: int

    @property
    def stitched(self) -> Line:
        """The diagonal that does not meet the raw corner; the unit's middle is on its right."""
        return (self.square[3], self.square[1])

    def cut(self, seam: Fraction) -> Line:
        """A seam allowance nearer to the raw corner."""
        corner, d = self.square[0], root2(seam)
        ends = []
        for end in self.stitched:
            length = abs(end[0] - corner[0]) + abs(end[1] - corner[1])
            share = (length - d) / length
            ends.append(
                (
                    corner[0] + share * (end[0] - corner[0]),
                    corner[1] + share * (end[1] - corner[1]),
                )
            )
        return (ends[0], ends[1])

    def in_the_way_of(self, other: _Corner) -> bool:
        """Whether the other's stitching runs through this square."""
        low, high = box(self.square)
        inside = ((low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1]))
        sides = {side(*other.stitched, p) for p in inside}
        if not {1, -1} <= sides:
            return False
        a, b = box(other.stitched)
        return all(low[k] < b[k] and a[k] < high[k] for k in (0, 1))


def _sets(corners: Sequence[_Corner]) -> list[list[_Corner]]:
    """Corners that can be laid on and stitched at once, the first sets as large as possible."""
    sets: list[list[_Corner]] = []
    for corner in sorted(corners, key=lambda corner: _LAID_FIRST.index(corner.at)):
        room = next(
            (
                some
                for some in sets
                if not any(
                    other.in_the_way_of(corner) or corner.in_the_way_of(other) for other in some
                )
            ),
            None,
        )
        if room is None:
            sets.append([corner])
        else:
            room.append(corner)
    return sets


def _spans(wanted: Wanted) -> tuple[Fraction, Fraction]:
    unit = wanted.like.unit
    return unit.width, unit.height


def _corner(wanted: Wanted, role: int) -> tuple[int, Fraction]:
    """Which corner of the unit a patch fills, counted clockwise from the upper left one, and how
    long its legs are."""
    triangle = wanted.like.patches[role].corners
    unit = wanted.like.unit
    for at, corner in enumerate(rectangle(Fraction(0), Fraction(0), unit.width, unit.height)):
        others = [p for p in triangle if not same_point(p, corner)]
        if len(others) == 2 and _upright(corner, others[0]) and _upright(corner, others[1]):
            legs = [abs(p[0] - corner[0]) + abs(p[1] - corner[1]) for p in others]
            return at, min(legs)
    raise AssertionError("the pattern promises corners cut off at 45 degrees")


def _upright(a: Point, b: Point) -> bool:
    return same_point(a, (b[0], a[1])) or same_point(a, (a[0], b[1]))


def _laid(edge: Polygon, at: int, length: Fraction) -> Polygon:
    """A square with its sides along those of the unit's corner, clockwise from that corner on."""
    corner, after, before = edge[at], edge[(at + 1) % 4], edge[at - 1]
    along, back = _towards(corner, after, length), _towards(corner, before, length)
    far = (along[0] + back[0] - corner[0], along[1] + back[1] - corner[1])
    return (corner, along, far, back)


def _towards(a: Point, b: Point, length: Fraction) -> Point:
    """The point so far from one on a level or upright line to another."""
    step = [(q > p) - (q < p) for p, q in zip(a, b, strict=True)]
    return (a[0] + step[0] * length, a[1] + step[1] * length)


def _hand(wanted: Wanted) -> Hand:
    """Which of two mirror twins the unit is: by what its corners are, read clockwise and the other
    way round, from the first in the alphabet on."""
    unit = wanted.like.unit
    round_it: list[tuple[str, int]] = [("", 0)] * 4
    for role in range(1, len(wanted.like.patches)):
        at, leg = _corner(wanted, role)
        round_it[at] = (wanted.fabrics[role], _alike(leg))
    # A rectangle is read from the left end of a long side on, however it lies.
    square = same_length(unit.width, unit.height)
    turns = range(4) if square else (0, 2) if unit.width > unit.height else (1, 3)
    mine = min([*round_it[k:], *round_it[:k]] for k in turns)
    # Mirrored at the upright line through its middle.
    twin = [round_it[1], round_it[0], round_it[3], round_it[2]]
    other = min([*twin[k:], *twin[:k]] for k in turns)
    return "either" if mine == other else "left" if mine < other else "right"


def _alike(leg: Fraction) -> int:
    """The same for legs that agree to a thousandth of an inch: one square is cut for them."""
    return round(leg * 1000)


# What is cut off can be sewn too ------------------------------------------------------------------

LEAST_BONUS = Fraction(1)
"""A bonus unit smaller than this, finished, is not worth a second seam (common practice, no
source)."""

BONUS_MARKS = 4
"""Bonus units are trimmed down to finish on every fourth mark of the ruler: half inches, whole
centimetres (common practice, no source)."""


def bonus_size(square: Fraction, settings: CuttingSettings) -> Size | None:
    """What the half-square triangle measures that comes of a second seam, two allowances outside
    the first, when the corner of a square of this size is cut off between the two; `ruler` is what
    it can be trimmed to. None if that is not worth it.

    From raw corner to second seam it measures the square less twice the allowance times root 2.

    >>> bonus_size(Fraction(4), CuttingSettings()).ruler, bonus_size(Fraction(2), CuttingSettings())
    (Fraction(3, 1), None)
    """
    need = float(square) - 2 * math.sqrt(2) * float(settings.seam)
    mark = BONUS_MARKS * settings.step
    finished = math.floor((Fraction(need) - 2 * settings.seam) / mark) * mark
    return None if finished < LEAST_BONUS else Size(finished + 2 * settings.seam, need)


def _bonus(settings: CuttingSettings, pieces: Sequence[Piece]) -> tuple[Bonus, ...]:
    base, *squares = pieces
    found = ((piece, bonus_size(piece.width.ruler, settings)) for piece in squares)
    return tuple(
        Bonus(base.letter, piece.letter, piece.count, size)
        for piece, size in found
        if size is not None and piece.fabric != base.fabric
    )
