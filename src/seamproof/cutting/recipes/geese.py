"""Flying geese: a large triangle between two small ones, twice as long as high."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Hand, Recipe, Step, Stock
from seamproof.cutting.recipes import half_square, hourglass
from seamproof.cutting.recipes.making import (
    Cut,
    Method,
    Wanted,
    finished_by,
    last_name,
    measured,
    root2,
    sewn_name,
    to_trim,
    unfinished,
)
from seamproof.cutting.table import (
    along,
    beside,
    chord,
    face_down,
    mirrored,
    opened,
    rectangle,
    sewn_run,
)
from seamproof.length.rounding import Size
from seamproof.plane.model import Line, Polygon

KIND = "flying geese"

GOOSE, LEFT, RIGHT = 0, 1, 2
"""The roles of the pattern, in its order."""

FEW_SPARES = 2
"""Geese are made four at a time unless more than this many would be left over (common practice, no
source)."""


def needs(width: Fraction, height: Fraction, seam: Fraction) -> tuple[float, float]:
    """The sides of the large and the small squares from which geese of this finished size are made.

    The goose is a right triangle with its long side outside, L + s (2 + 2 root 2); each sky is one
    with its legs outside, H + s (2 + root 2).

    >>> [round(side, 4) for side in needs(Fraction(4), Fraction(2), Fraction(1, 4))]
    [5.2071, 2.8536]
    >>> needs(Fraction(4), Fraction(2), Fraction(0))
    (4.0, 2.0)
    """
    return hourglass.need(width, seam), half_square.need(height, seam)


def _sizes(wanted: Wanted, settings: CuttingSettings) -> tuple[Cut, Cut]:
    """The large and the small square.

    The goose must not be trimmed on its sides, so each extra on the large square moves the point
    down by half of it, and the small ones must be larger by at least as much.
    """
    unit = wanted.like.unit
    large, small = (
        to_trim(need, KIND, settings) for need in needs(unit.width, unit.height, settings.seam)
    )
    while settings.sizes != "exact" and 2 * small.size.surplus < large.size.surplus:
        size = Size(small.size.ruler + settings.step, small.size.need)
        small = Cut(size, size.ruler, small.rounding)
    return large, small


@dataclass(frozen=True, slots=True)
class FourAtATime(Method):
    """Two small squares on opposite corners of a large one, sewn on both sides of the diagonal, cut
    apart; one more small square on the remaining corner of each half, sewn and cut likewise. Both
    skies are of one fabric."""

    kind: str = KIND
    name: str = "four at a time"

    def fits(self, wanted: Wanted) -> bool:
        """If both skies are of one fabric."""
        return wanted.fabrics[LEFT] == wanted.fabrics[RIGHT]

    def suits(self, wanted: Wanted) -> bool:
        """From four on, if few are left over."""
        return wanted.count >= 4 and -wanted.count % 4 <= FEW_SPARES

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: the large squares, the small ones."""
        rounds = -(-wanted.count // 4)
        large, small = _sizes(wanted, settings)
        pieces = (
            self.piece(wanted, letters[0], GOOSE, large, rounds),
            self.piece(wanted, letters[1], LEFT, small, 4 * rounds),
        )
        a, b, d, o = large.shown, small.shown, root2(settings.seam), Fraction(0)
        ground = rectangle(o, o, a, a)
        at_start, at_end = rectangle(o, o, b, b), rectangle(a - b, a - b, b, b)
        diagonal: Line = ((o, o), (a, a))
        above, below = ((d, o), (a, a - d)), ((o, d), (a - d, a))
        half = opened(ground, [at_start, at_end], below, cuts=[diagonal])
        half_name = sewn_name(wanted.part, "half")
        first = Step(
            "sew",
            takes=(
                Stock(letters[0], ground, rounds),
                Stock(letters[1], at_start, rounds, "down"),
                Stock(letters[1], at_end, rounds, "down"),
            ),
            gives=(Stock(half_name, half, 2 * rounds),),
            drawn=(diagonal,),
            stitched=(above, below),
            cuts=(diagonal,),
            measure=measured(half, settings.step),
        )
        # The half lies with the right angle of the large triangle at the lower left.
        at_corner = rectangle(o, a - b, b, b)
        between: Line = ((o, a), (b, a - b))
        one = sewn_run(half, at_corner, ((o, a - d), (a - d, o)))
        two = sewn_run(half, at_corner, ((d, a), (a, d)))
        shown = opened(half, [at_corner], two, cuts=[between])
        second = Step(
            "sew",
            takes=(
                Stock(half_name, half, 2 * rounds),
                Stock(letters[1], at_corner, 2 * rounds, "down"),
            ),
            gives=(Stock(last_name(wanted, settings), shown, 4 * rounds),),
            drawn=(between,),
            stitched=(one, two),
            cuts=(between,),
            measure=measured(shown, settings.step),
        )
        unit, s = wanted.like.unit, settings.seam
        point = (a / 2, a / 2 + d)
        to = rectangle(
            point[0] - unit.width / 2 - s,
            point[1] - s,
            unit.width + 2 * s,
            unit.height + 2 * s,
        )
        steps = finished_by(wanted, settings, (first, second), to)
        return self.recipe(wanted, settings, pieces, steps, gives=4, made=4 * rounds)


@dataclass(frozen=True, slots=True)
class FromTriangles(Method):
    """A quarter of a large square and two halves of small ones."""

    kind: str = KIND
    name: str = "from triangles"

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: large squares cut twice; small ones cut once, one kind for each fabric."""
        count = wanted.count
        large, small = _sizes(wanted, settings)
        skies = dict.fromkeys((wanted.fabrics[LEFT], wanted.fabrics[RIGHT]))
        hand: Hand = "either"
        if len(skies) == 2:
            hand = "left" if wanted.fabrics[LEFT] < wanted.fabrics[RIGHT] else "right"
        pieces = [
            self.piece(
                wanted,
                letters[0],
                GOOSE,
                large,
                -(-count // 4),
                split=4,
                hand=hand,
            )
        ]
        for k, fabric in enumerate(skies, start=1):
            role = LEFT if fabric == wanted.fabrics[LEFT] else RIGHT
            both = 2 if len(skies) == 1 else 1
            pieces.append(
                self.piece(
                    wanted,
                    letters[k],
                    role,
                    small,
                    -(-count * both // 2),
                    split=2,
                    hand=hand,
                )
            )
        left, right = letters[1], letters[len(skies)]
        steps = self._steps(wanted, settings, large.shown, small, (letters[0], left, right))
        every = finished_by(wanted, settings, steps, unfinished(wanted, settings.seam))
        return self.recipe(wanted, settings, pieces, every, hand=hand)

    def _steps(
        self,
        wanted: Wanted,
        settings: CuttingSettings,
        long: Fraction,
        small: Cut,
        letters: tuple[str, str, str],
    ) -> tuple[Step, ...]:
        """The right sky first, then the left one, in the frame of the pattern."""
        d = root2(settings.seam)
        w, count, leg = wanted.like.unit.width, wanted.count, small.shown
        # The goose's point lies where two allowances meet; what it is too large lies at its foot.
        goose: Polygon = (
            (w / 2, -d),
            (w / 2 + long / 2, long / 2 - d),
            (w / 2 - long / 2, long / 2 - d),
        )
        # A sky's long side lies one allowance beyond the seam, its foot level with the goose's.
        foot = goose[1][1]
        x, y = foot + w / 2, foot - leg + d
        right_sky: Polygon = ((x, y), (x, y + leg), (x - leg, y))
        left_sky: Polygon = ((w - x, y), (w - x + leg, y), (w - x, y + leg))
        right_seam: Line = ((w / 2, Fraction(0)), (w, w / 2))
        left_seam: Line = ((w / 2, Fraction(0)), (Fraction(0), w / 2))
        other_edge: Line = ((w / 2, -d), (w / 2 - long / 2, long / 2 - d))
        steps: list[Step] = []
        lying, name = goose, letters[0]
        for sky, letter, seam, last in (
            (right_sky, letters[2], right_seam, False),
            (left_sky, letters[1], left_seam, True),
        ):
            over = face_down(tuple(mirrored(p, seam) for p in sky))
            trims = settings.sizes != "exact" and not last
            shown = opened(lying, [over], seam, ears=[other_edge] if trims else ())
            if not last and not trims:
                shown = beside(shown, other_edge, -1)  # the tip is a dog ear
            gives = last_name(wanted, settings) if last else sewn_name(wanted.part, "right sky on")
            steps.append(
                Step(
                    "sew",
                    takes=(Stock(name, lying, count), Stock(letter, over, count, "down")),
                    gives=(Stock(gives, shown, count),),
                    stitched=(sewn_run(lying, over, seam),),
                    measure=measured(shown, settings.step),
                )
            )
            lying, name = shown, gives
            if trims:
                # The tip of the larger sky sticks out beyond the goose's other edge.
                lying = beside(shown, other_edge, -1)
                name = sewn_name(wanted.part, "tip trimmed")
                steps.append(
                    Step(
                        "trim",
                        takes=(Stock(gives, shown, count),),
                        gives=(Stock(name, lying, count),),
                        cuts=(_through(shown, other_edge),),
                        measure=measured(lying, settings.step),
                    )
                )
        return tuple(steps)


def _through(shape: Polygon, line: Line) -> Line:
    """An endless line, as far as it runs through a shape."""
    span = chord(shape, line)
    assert span is not None  # the line is one of the shape's own edges
    return along(line, span[0]), along(line, span[1])
