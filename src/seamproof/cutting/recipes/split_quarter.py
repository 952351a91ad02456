"""Split quarter squares: one half of a square, and two quarters of it in two fabrics.

With two fabrics in the quarters there are two hands. Half-square triangles laid on squares make one
of each hand at a time; triangles make whichever is wanted.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Hand, Recipe, Step, Stock, Twin
from seamproof.cutting.recipes import half_square, hourglass
from seamproof.cutting.recipes.making import (
    Cut,
    Method,
    Wanted,
    finished_by,
    last_name,
    measured,
    part_name,
    root2,
    sewn_name,
    to_trim,
    waste_of,
)
from seamproof.cutting.table import opened, rectangle, sewn_run
from seamproof.length.exact import kept
from seamproof.plane.model import Line, Point, Polygon
from seamproof.plane.predicates import same_length

KIND = "split quarter square"

HALF, TOP, LEFT = range(3)
"""The roles: the half lies lower right, the quarters at the top and at the left."""


def hand_of(fabrics: Sequence[str]) -> Hand:
    """The hand of a unit with these fabrics, by role.

    >>> hand_of("aab"), hand_of("aba"), hand_of("abb")
    ('left', 'right', 'either')
    """
    if fabrics[TOP] == fabrics[LEFT]:
        return "either"
    return "left" if fabrics[TOP] < fabrics[LEFT] else "right"


def twins(one: Wanted, other: Wanted) -> bool:
    """Whether two units are each other's mirror twins."""
    half, top, left = one.fabrics
    size, its = one.like.unit.width, other.like.unit.width
    return other.fabrics == (half, left, top) and same_length(size, its) and top != left


@dataclass(frozen=True, slots=True)
class FromTriangles(Method):
    """A half of a square, and two quarters that are sewn to a half first."""

    kind: str = KIND
    name: str = "from triangles"

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: squares of the half's fabric, cut once; squares of each quarter's, cut twice."""
        count, hand = wanted.count, hand_of(wanted.fabrics)
        large, small = _cuts(wanted, settings)
        top, left = wanted.fabrics[TOP], wanted.fabrics[LEFT]
        own = [TOP] if top == left else [TOP, LEFT]
        quarters = -(-count * 2 // 4) if top == left else -(-count // 4)
        pieces = (
            self.piece(
                wanted,
                letters[0],
                HALF,
                large,
                -(-count // 2),
                split=2,
                hand=hand,
            ),
            *(
                self.piece(
                    wanted,
                    letters[k],
                    role,
                    small,
                    quarters,
                    split=4,
                    hand=hand,
                )
                for k, role in enumerate(own, start=1)
            ),
        )
        # A quarter turn clockwise from the pattern: its left quarter is at the top, its right angle
        # at the upper right.
        upper = letters[1], letters[len(own)]
        first = hourglass.sewn_half(
            small.shown, (upper[1], upper[0]), count, sewn_name(wanted.part, "half"), settings
        )
        second, end = _halves_joined(
            first.gives[0],
            letters[0],
            large.shown,
            last_name(wanted, settings),
            _side(wanted, settings),
            settings,
        )
        steps = finished_by(wanted, settings, (first, second), end, 1)
        return self.recipe(wanted, settings, pieces, steps, hand=hand)


@dataclass(frozen=True, slots=True)
class TwoAtATime(Method):
    """Half-square triangles of the quarters' fabrics, laid on squares, sewn on both sides of the
    diagonal that crosses the seam and cut apart on it: one unit of each hand."""

    kind: str = KIND
    name: str = "two at a time"

    def suits(self, wanted: Wanted) -> bool:
        """If both units are wanted: they are alike and no more than one is left over, or the block
        has as many of either hand."""
        if wanted.twin is not None:
            return wanted.twin.count == wanted.count
        return hand_of(wanted.fabrics) == "either" and -wanted.count % 4 <= 1

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: squares for the halves, then those of the top quarter's fabric, of the left's."""
        twin = wanted.twin
        alike = hand_of(wanted.fabrics) == "either"
        needed = -(-wanted.count // 2) if alike else max(wanted.count, twin.count if twin else 0)
        # Half-square triangles come in twos.
        rounds = -(-needed // 2)
        pairs = 2 * rounds
        large, small = _cuts(wanted, settings)
        own = [TOP] if alike else [TOP, LEFT]
        hand: Hand = "either" if alike else "pair"
        pieces = (
            self.piece(wanted, letters[0], HALF, large, pairs, hand=hand),
            *(
                self.piece(
                    wanted,
                    letters[k],
                    role,
                    small,
                    pairs if alike else rounds,
                    hand=hand,
                )
                for k, role in enumerate(own, start=1)
            ),
        )
        pair = letters[1], letters[len(own)]
        name = sewn_name(wanted.part, "half-square triangle")
        first = half_square.sewn_pair(small.shown, rounds, pair, name, settings)
        other = last_name(wanted, settings) if alike else _name_of_twin(wanted, settings)
        cross, ends = _crosswise(
            first.gives[0],
            Stock(letters[0], rectangle(_O, _O, large.shown, large.shown), pairs),
            (last_name(wanted, settings), other),
            _side(wanted, settings),
            settings,
        )
        steps = _finished(wanted, cross, ends, settings)
        made = 2 * pairs if alike else pairs
        every = (first, *steps)
        gives = 2 if alike else _BOTH_HANDS
        recipe = self.recipe(wanted, settings, pieces, every, gives=gives, made=made, hand=hand)
        if alike:
            return recipe
        waste = waste_of(pieces, recipe.sheets, 2 * pairs)
        return replace(recipe, twin=_twin(wanted, pairs), waste=waste)


_O = Fraction(0)

_BOTH_HANDS = 4
"""Two squares for quarters and two for halves make two units of each hand."""


def _cuts(wanted: Wanted, settings: CuttingSettings) -> tuple[Cut, Cut]:
    """The squares for the halves, and those for the quarters."""
    side = wanted.like.unit.width
    return (
        to_trim(half_square.need(side, settings.seam), KIND, settings),
        to_trim(hourglass.need(side, settings.seam), KIND, settings),
    )


def _side(wanted: Wanted, settings: CuttingSettings) -> Fraction:
    """The unit from raw edge to raw edge."""
    return wanted.like.unit.width + 2 * settings.seam


def _round(centre: Point, side: Fraction) -> Polygon:
    """A square round a point."""
    return rectangle(kept(centre[0] - side / 2), kept(centre[1] - side / 2), side, side)


def _name_of_twin(wanted: Wanted, settings: CuttingSettings) -> str:
    """What the last seam gives of the other hand."""
    if wanted.twin is not None:
        return last_name(wanted.twin, settings)
    other = _other_hand(wanted)
    return other if settings.sizes == "exact" else f"{other}, sewn"


def _other_hand(wanted: Wanted) -> str:
    return sewn_name(wanted.part, "other hand")


def _twin(wanted: Wanted, made: int) -> Twin:
    if wanted.twin is None:
        return Twin(None, _other_hand(wanted), made, made)
    part = wanted.twin.part
    return Twin(part, part_name(part), made, made - wanted.twin.count)


def _halves_joined(
    upper: Stock, letter: str, leg: Fraction, name: str, side: Fraction, settings: CuttingSettings
) -> tuple[Step, Polygon]:
    """Two sewn quarters, the right angle at the upper right, and the half that is sewn to their
    long side; and the unit in what results."""
    long = upper.corners[2][0]
    if same_length(long, leg):
        leg = long
    d, middle, reach = root2(settings.seam), long / 2, leg / 2
    half = (
        (middle - reach, middle - reach),
        (middle + reach, middle - reach),
        (middle + reach, middle + reach),
    )
    line = hourglass.beside_diagonal(long, d)[0]
    stitched = sewn_run(upper.corners, half, line)
    shown = opened(upper.corners, [half], stitched, whole=leg != long)
    step = Step(
        "sew",
        takes=(upper, Stock(letter, half, upper.count, "down")),
        gives=(Stock(name, shown, upper.count),),
        stitched=(stitched,),
        measure=measured(shown, settings.step),
    )
    return step, _round((middle + d / 2, middle - d / 2), side)


def _crosswise(
    pair: Stock,
    square: Stock,
    names: tuple[str, str],
    side: Fraction,
    settings: CuttingSettings,
) -> tuple[Step, tuple[Polygon, Polygon]]:
    """Half-square triangles laid in the middle of squares, sewn on both sides of the diagonal that
    crosses their seam and cut apart on it; and the two units in what results, the one with the half
    at the lower right first."""
    large, small = square.corners[2][0], pair.corners[2][0]
    if same_length(large, small):
        small = large
    low, high = (large - small) / 2, (large + small) / 2
    # Face down, its first fabric is at the upper right.
    lying = ((high, low), (high, high), (low, high), (low, low))
    first, last = min(low, _O), max(high, large)
    diagonal: Line = ((first, last), (last, first))
    d, middle = root2(settings.seam), large / 2
    beside: tuple[Line, Line] = ((_O, large - d), (large - d, _O)), ((d, large), (large, d))
    near, far = (sewn_run(square.corners, lying, line) for line in beside)
    shown = [
        opened(square.corners, [lying], line, cuts=[diagonal], whole=large != small)
        for line in (far, near)
    ]
    if names[0] == names[1]:
        gives: tuple[Stock, ...] = (Stock(names[0], shown[0], 2 * square.count),)
    else:
        gives = tuple(
            Stock(name, corners, square.count) for name, corners in zip(names, shown, strict=True)
        )
    step = Step(
        "sew",
        takes=(square, Stock(pair.what, lying, square.count, "down")),
        gives=gives,
        drawn=(diagonal,),
        stitched=(near, far),
        cuts=(diagonal,),
        measure=measured(shown[0], settings.step),
    )
    ends = [_round((middle + by, middle + by), side) for by in (d / 2, -d / 2)]
    return step, (ends[0], ends[1])


def _finished(
    wanted: Wanted, cross: Step, ends: tuple[Polygon, Polygon], settings: CuttingSettings
) -> tuple[Step, ...]:
    """The last seam and the trimming, of the twins too."""

    def last(want: Wanted, stock: Stock, to: Polygon, shift: int) -> Step:
        return finished_by(want, settings, (replace(cross, gives=(stock,)),), to, shift)[-1]

    main = last(wanted, cross.gives[0], ends[0], 0)
    others = []
    for stock in cross.gives[1:]:
        # The twin comes out half a turn round.
        step = last(wanted.twin or wanted, stock, ends[1], 2)
        if wanted.twin is None:
            step = replace(step, gives=(replace(step.gives[0], what=_other_hand(wanted)),))
        others.append(step)
    if settings.sizes != "exact":
        return (cross, *others, main)
    return (replace(main, gives=(*main.gives, *(step.gives[0] for step in others))),)
