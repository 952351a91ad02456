"""Hourglasses: four quarters of a square, meeting in the middle."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Hand, Piece, Recipe, Step, Stock
from seamproof.cutting.recipes.half_square import sewn_pair
from seamproof.cutting.recipes.making import (
    Method,
    Wanted,
    finished_by,
    last_name,
    measured,
    root2,
    sewn_name,
    to_trim,
)
from seamproof.cutting.table import face_down, opened
from seamproof.plane.model import Line, Polygon

KIND = "hourglass"


def need(finished: Fraction, seam: Fraction) -> float:
    """The side of the square from which hourglasses of this finished side are made.

    A right triangle with its long side F outside and one allowance all round has a long side of
    F + s (2 + 2 root 2).

    >>> round(need(Fraction(4), Fraction(1, 4)), 4), need(Fraction(4), Fraction(0))
    (5.2071, 4.0)
    """
    return float(finished) + float(seam) * (2 + 2 * math.sqrt(2))


@dataclass(frozen=True, slots=True)
class _Laid:
    """How an hourglass is made of two half-square triangles laid crosswise.

    The unit, turned by `shift` quarters anticlockwise, shows `shared` at the top and the bottom,
    `right` at the right and `left` at the left. All are numbers of roles.
    """

    shift: int
    shared: int
    right: int
    left: int


def _laid(fabrics: Sequence[str]) -> _Laid | None:
    """None if no two fabrics that face each other are alike."""
    for shift in (0, 1):
        top, right, bottom, left = ((k + shift) % 4 for k in range(4))
        if fabrics[top] == fabrics[bottom]:
            return _Laid(shift, top, right, left)
    return None


def _at_once(wanted: Wanted, laid: _Laid) -> int:
    """Two squares give two units; where the other two fabrics differ, four squares give four."""
    return 2 if wanted.fabrics[laid.right] == wanted.fabrics[laid.left] else 4


FEW_SPARES = 2
"""Hourglasses are made two at a time unless more than this many would be left over (common
practice, no source)."""


@dataclass(frozen=True, slots=True)
class TwoAtATime(Method):
    """Half-square triangles, untrimmed, laid crosswise on each other, sewn and cut apart like them:
    two units. At least two fabrics that face each other must be alike."""

    kind: str = KIND
    name: str = "two at a time"

    def fits(self, wanted: Wanted) -> bool:
        """If two fabrics that face each other are alike; else one of each hand would result."""
        return _laid(wanted.fabrics) is not None

    def suits(self, wanted: Wanted) -> bool:
        """If few are left over."""
        laid = _laid(wanted.fabrics)
        return laid is not None and -wanted.count % _at_once(wanted, laid) <= FEW_SPARES

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: the squares of the fabric that is there twice, then those of the other fabric or
        fabrics."""
        laid = _laid(wanted.fabrics)
        assert laid is not None  # fits() was asked
        at_once = _at_once(wanted, laid)
        rounds = -(-wanted.count // at_once)
        pairs = rounds * at_once // 2
        cut = to_trim(need(wanted.like.unit.width, settings.seam), KIND, settings)

        def squares(k: int, role: int, count: int) -> Piece:
            return self.piece(wanted, letters[k], role, cut, count)

        if at_once == 2:
            # One kind of half-square triangle, half of them laid on the other half.
            pieces: tuple[Piece, ...] = (
                squares(0, laid.shared, pairs),
                squares(1, laid.right, pairs),
            )
            one = two = sewn_name(wanted.part, "half-square triangle")
            first = sewn_pair(cut.shown, pairs, (letters[0], letters[1]), one, settings)
            steps: tuple[Step, ...] = (first,)
        else:
            pieces = (
                squares(0, laid.shared, 2 * rounds),
                squares(1, laid.right, rounds),
                squares(2, laid.left, rounds),
            )
            one, two = (
                sewn_name(wanted.part, f"half-square triangle {which}")
                for which in ("right", "left")
            )
            first = sewn_pair(cut.shown, rounds, (letters[0], letters[1]), one, settings)
            steps = (first, sewn_pair(cut.shown, rounds, (letters[0], letters[2]), two, settings))
        square = first.gives[0].corners
        cross = _crosswise(square, one, two, pairs, last_name(wanted, settings), settings)
        every = finished_by(wanted, settings, (*steps, cross), shift=-laid.shift)
        return self.recipe(wanted, settings, pieces, every, gives=at_once, made=2 * pairs)


@dataclass(frozen=True, slots=True)
class FromTriangles(Method):
    """Four triangles, each a quarter of a square: two halves, then the whole."""

    kind: str = KIND
    name: str = "from triangles"

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: for each fabric, squares cut twice."""
        count, fabrics = wanted.count, wanted.fabrics
        cut = to_trim(need(wanted.like.unit.width, settings.seam), KIND, settings)
        own = list(dict.fromkeys(fabrics))
        hand = hand_of(fabrics)
        pieces = tuple(
            self.piece(
                wanted,
                letters[k],
                fabrics.index(fabric),
                cut,
                -(-count * fabrics.count(fabric) // 4),
                split=4,
                hand=hand,
            )
            for k, fabric in enumerate(own)
        )
        top, right, bottom, left = (letters[own.index(fabric)] for fabric in fabrics)
        if (top, right) == (bottom, left):
            upper = lower = sewn_name(wanted.part, "half")
            steps = [sewn_half(cut.shown, (top, right), 2 * count, upper, settings)]
        else:
            upper, lower = (sewn_name(wanted.part, f"{which} half") for which in ("upper", "lower"))
            steps = [
                sewn_half(cut.shown, (top, right), count, upper, settings),
                sewn_half(cut.shown, (bottom, left), count, lower, settings),
            ]
        half = steps[0].gives[0].corners
        a, b, c = half
        stitched = beside_diagonal(b[0], root2(settings.seam))[0]
        shown = opened(half, [half], stitched)
        whole = Step(
            "sew",
            takes=(
                Stock(upper, half, count),
                # Half a turn, then turned over the seam: right angle on right angle.
                Stock(lower, face_down((c, b, a)), count, "down"),
            ),
            gives=(Stock(last_name(wanted, settings), shown, count),),
            stitched=(stitched,),
            measure=measured(shown, settings.step),
        )
        every = finished_by(wanted, settings, (*steps, whole))
        return self.recipe(wanted, settings, pieces, every, hand=hand)


def hand_of(fabrics: Sequence[str]) -> Hand:
    """The hand of an hourglass with these fabrics, clockwise; a turn does not change it.

    >>> hand_of("abab"), hand_of("abac"), hand_of("abcd"), hand_of("dcba"), hand_of("bcda")
    ('either', 'either', 'left', 'right', 'left')
    """
    mine = min(tuple(fabrics[k:]) + tuple(fabrics[:k]) for k in range(4))
    other = fabrics[::-1]
    twin = min(tuple(other[k:]) + tuple(other[:k]) for k in range(4))
    return "either" if mine == twin else "left" if mine < twin else "right"


def beside_diagonal(side: Fraction, d: Fraction) -> tuple[Line, Line]:
    """The two lines one allowance beside the diagonal from the upper left corner of a square: the
    one above it, the one below."""
    o = Fraction(0)
    return ((d, o), (side, side - d)), ((o, d), (side - d, side))


def _crosswise(
    square: Polygon, one: str, two: str, pairs: int, name: str, settings: CuttingSettings
) -> Step:
    """Two half-square triangles, the seams on each other, unlike fabrics face to face; sewn on both
    sides of the diagonal that crosses the seams, and cut apart on it."""
    a, b, c, e = square
    above, below = beside_diagonal(b[0], root2(settings.seam))
    diagonal = (a, c)
    shown = opened(square, [square], above, cuts=[diagonal])
    return Step(
        "sew",
        takes=(
            Stock(one, square, pairs),
            Stock(two, (c, e, a, b), pairs, "down"),
        ),
        gives=(Stock(name, shown, 2 * pairs),),
        drawn=(diagonal,),
        stitched=(above, below),
        cuts=(diagonal,),
        measure=measured(shown, settings.step),
    )


def sewn_half(
    side: Fraction,
    letters: tuple[str, str],
    count: int,
    name: str,
    settings: CuttingSettings,
) -> Step:
    """Two quarters of a square, the first at the top and the second at its right: half a square,
    right angle at the upper right, long side from corner 0 to corner 2."""
    o, d = Fraction(0), root2(settings.seam)
    quarter = ((o, o), (side, o), (side / 2, side / 2))
    leg = side - d
    stitched = ((leg, o), (leg / 2, leg / 2))
    shown = opened(quarter, [quarter], stitched)
    return Step(
        "sew",
        takes=(Stock(letters[0], quarter, count), Stock(letters[1], quarter, count, "down")),
        gives=(Stock(name, shown, count),),
        stitched=(stitched,),
        measure=measured(shown, settings.step),
    )
