"""A square in a square, and the economy patch that is one twice over: triangles sewn to the sides
of a square, opposite ones first, so that a larger square on its point comes of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Hand, Recipe, Step, Stock
from seamproof.cutting.recipes import half_square
from seamproof.cutting.recipes.making import (
    Method,
    Wanted,
    as_cut,
    centred,
    in_part_order,
    measured,
    part_name,
    sewn_name,
    to_trim,
)
from seamproof.cutting.table import ROOT2, beside, exact, opened, rectangle, sewn_run
from seamproof.length.exact import kept
from seamproof.plane.model import Line, Polygon
from seamproof.plane.predicates import box

SQUARE_IN_SQUARE = "square-in-a-square"
ECONOMY = "economy patch"

CENTRE = 0
"""The role of the inner square in both patterns."""

_ROUNDS = {
    SQUARE_IN_SQUARE: ((2, 3, 4, 1),),
    ECONOMY: ((1, 2, 3, 4), (6, 7, 8, 5)),
}
"""The roles of the triangles, round by round, clockwise from the top as a round is sewn: with the
square within lying upright. Before the last round that square was on its point, so it lies an
eighth of a turn back from how it lies in the unit."""

_UPPER_LEFT = 3
"""Which point of the last round is the unit's upper left corner, counted clockwise from the one
that the triangle at the top makes."""


@dataclass(frozen=True, slots=True)
class FromTriangles(Method):
    """A centre square and halves of squares: one round of four triangles for a square in a square,
    two for an economy patch. Each round is trimmed to a seam allowance beyond the points of the
    square within, for which the triangles are cut large."""

    kind: str
    name: str = "from triangles"

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: the centre; then, round by round, squares to be cut once, one kind for each
        fabric."""
        rounds = _ROUNDS[self.kind]
        hand = _hand(wanted.fabrics, rounds)
        whole = wanted.like.unit.width
        inner = [shrunk(whole, len(rounds) - number) for number in range(len(rounds) + 1)]
        centre = as_cut(inner[0] + 2 * settings.seam, settings)
        pieces = [self.piece(wanted, letters[0], CENTRE, centre, wanted.count, hand=hand)]
        steps: list[Step] = []
        name, side = letters[0], centre.shown
        for number, roles in enumerate(rounds, start=1):
            leg = shrunk(inner[number], 2)
            cut = to_trim(half_square.need(leg, settings.seam), self.kind, settings)
            fabrics = [wanted.fabrics[role] for role in roles]
            kinds = {
                fabric: letters[len(pieces) + k] for k, fabric in enumerate(dict.fromkeys(fabrics))
            }
            for fabric, letter in kinds.items():
                squares = -(-wanted.count * fabrics.count(fabric) // 2)
                role = roles[fabrics.index(fabric)]
                pieces.append(self.piece(wanted, letter, role, cut, squares, split=2, hand=hand))
            one = _Round(
                wanted=wanted,
                settings=settings,
                number=number,
                last=number == len(rounds),
                name=name,
                side=side,
                letters=tuple(kinds[fabric] for fabric in fabrics),
                leg=cut.shown,
                to=inner[number] + 2 * settings.seam,
            )
            steps += one.steps()
            name, side = one.gives, one.to
        return self.recipe(wanted, settings, pieces, steps, hand=hand)


def shrunk(side: Fraction, times: int) -> Fraction:
    """The side of the square that stands on its point within a square, so many times over.

    >>> shrunk(Fraction(7), 2), shrunk(Fraction(7), 0), float(shrunk(Fraction(10), 1))
    (Fraction(7, 2), Fraction(7, 1), 7.071067810058594)
    """
    halves = side / 2 ** (times // 2)
    return halves if times % 2 == 0 else kept(float(halves) / ROOT2)


@dataclass(frozen=True, slots=True)
class _Round:
    """Four triangles with legs `leg`, lettered clockwise from the top, round a square of `side`,
    raw edge to raw edge; and what it is trimmed to. The square lies upright for the first pair of
    triangles, and what comes of it lies upright for the second."""

    wanted: Wanted
    settings: CuttingSettings
    number: int
    last: bool
    name: str
    side: Fraction
    letters: tuple[str, ...]
    leg: Fraction
    to: Fraction

    @property
    def gives(self) -> str:
        """What the round's result is called on the table."""
        return part_name(self.wanted.part) if self.last else self._called("done")

    def _called(self, what: str) -> str:
        return sewn_name(self.wanted.part, f"round {self.number} {what}")

    def steps(self) -> list[Step]:
        """The first pair, its tips, the second pair, and trimming; with exact sizes only the
        pairs, since then the tips are dog ears."""
        c, o, s = self.side, Fraction(0), self.settings.seam
        half = exact(float(self.leg) / ROOT2)
        low, mid, high = c / 2 - half, c / 2, c / 2 + half
        top, right, bottom, left = (
            _Laid(self.letters[0], ((low, o), (high, o), (mid, half)), ((low, s), (high, s))),
            _Laid(
                self.letters[1],
                ((c, low), (c, high), (c - half, mid)),
                ((c - s, low), (c - s, high)),
            ),
            _Laid(
                self.letters[2],
                ((high, c), (low, c), (mid, c - half)),
                ((high, c - s), (low, c - s)),
            ),
            _Laid(self.letters[3], ((o, high), (o, low), (half, mid)), ((s, high), (s, low))),
        )
        square = Stock(self.name, rectangle(o, o, c, c), self.wanted.count)
        if self.settings.sizes == "exact":
            first = self._pair(square, (right, left), "sides on", tips=True)
            to = self._ordered(self._upright(self.to))
            done = Stock(self.gives, to, square.count)
            return [*first, *self._pair(first[-1].gives[0], (top, bottom), "sewn", done=done)]
        first = self._pair(square, (right, left), "sides on", tips=True)
        tips = self._tips(first[-1].gives[0])
        large = exact(float(c) / ROOT2 + float(self.leg) - 2 * ROOT2 * float(s))
        done = Stock(self._called("sewn"), self._upright(large), square.count)
        second = self._pair(tips.gives[0], (top, bottom), "sewn", done=done)
        return [*first, tips, *second, self._trimming(done)]

    def _pair(
        self,
        ground: Stock,
        pair: tuple[_Laid, _Laid],
        called: str,
        *,
        tips: bool = False,
        done: Stock | None = None,
    ) -> list[Step]:
        """Two opposite triangles: both at once, or, if the tip of one would be caught in the seam
        of the other, one after the other. `tips` of the first pair stick out beyond the sides that
        have no triangle yet. What is `done` at the end of the second is shown upright, so all of
        that pair is turned an eighth back."""
        caught = pair[0].depth + self.settings.seam >= self.side
        ears = [(b, a) for a, b in self._edges()] if tips else []
        turn = _as_it_is if done is None else _turned_back
        steps = []
        for number, some in enumerate([[laid] for laid in pair] if caught else [pair], start=1):
            shown = ground.corners
            for laid in some:
                shown = opened(shown, [laid.triangle], laid.seam, ears=ears)
            if tips and self.settings.sizes == "exact":
                shown = self._without_tips(shown)
            last = number == (2 if caught else 1)
            gives = Stock(
                self._called(called if last else f"first of {called}"), shown, ground.count
            )
            told = done if last and done is not None else replace(gives, corners=turn(shown))
            steps.append(
                Step(
                    "sew",
                    takes=(
                        replace(ground, corners=turn(ground.corners)),
                        *(Stock(x.letter, turn(x.triangle), ground.count, "down") for x in some),
                    ),
                    gives=(told,),
                    stitched=tuple(
                        _line(turn(sewn_run(ground.corners, x.triangle, x.seam))) for x in some
                    ),
                    measure=measured(told.corners, self.settings.step),
                )
            )
            ground = gives
        return steps

    def _edges(self) -> tuple[Line, Line]:
        """The sides of the square that have no triangle yet, each with the square on its right."""
        c, o = self.side, Fraction(0)
        return ((o, o), (c, o)), ((c, c), (o, c))

    def _without_tips(self, shape: Polygon) -> Polygon:
        for edge in self._edges():
            shape = beside(shape, edge, 1)
        return shape

    def _tips(self, sewn: Stock) -> Step:
        (left, _), (right, _) = box(sewn.corners)
        shown = self._without_tips(sewn.corners)
        return Step(
            "trim",
            takes=(sewn,),
            gives=(Stock(self._called("tips trimmed"), shown, sewn.count),),
            cuts=tuple(((left, a[1]), (right, a[1])) for a, _ in self._edges()),
            measure=measured(shown, self.settings.step),
        )

    def _upright(self, side: Fraction) -> Polygon:
        """A square of this side round the middle of the one within, once that is turned back; its
        corners from that on which the triangle at the top makes."""
        middle = _turned_back(((self.side / 2, self.side / 2),))[0]
        return rectangle(middle[0] - side / 2, middle[1] - side / 2, side, side)

    def _ordered(self, square: Polygon) -> Polygon:
        return in_part_order(square, self.wanted, _UPPER_LEFT) if self.last else square

    def _trimming(self, sewn: Stock) -> Step:
        (x0, y0), (x1, y1) = box(sewn.corners)
        to = centred(sewn.corners, self.to, self.to)
        (left, top), (right, bottom) = box(to)
        return Step(
            "trim",
            takes=(sewn,),
            gives=(Stock(self.gives, self._ordered(to), sewn.count),),
            cuts=(
                ((left, y0), (left, y1)),
                ((x0, top), (x1, top)),
                ((right, y0), (right, y1)),
                ((x0, bottom), (x1, bottom)),
            ),
            measure=measured(to, self.settings.step),
        )


@dataclass(frozen=True, slots=True)
class _Laid:
    """A triangle where it is laid face down on a side, clockwise as seen from the ends of that side
    on, and the line of its seam."""

    letter: str
    triangle: Polygon
    seam: Line

    @property
    def depth(self) -> Fraction:
        """How far its tip reaches over the square."""
        (a, _, tip) = self.triangle
        return abs(tip[1] - a[1]) if self.seam[0][1] == self.seam[1][1] else abs(tip[0] - a[0])


def _as_it_is(corners: Polygon) -> Polygon:
    return corners


def _turned_back(corners: Polygon) -> Polygon:
    """Turned an eighth anticlockwise as seen."""
    return tuple((exact(float(x + y) / ROOT2), exact(float(y - x) / ROOT2)) for x, y in corners)


def _line(ends: Polygon) -> Line:
    a, b = ends
    return (a, b)


def _hand(fabrics: Sequence[str], rounds: Sequence[Sequence[int]]) -> Hand:
    """Which of two mirror twins the unit is, by its fabrics read round by round, clockwise and the
    other way round, from the first in the alphabet on."""
    rings = [[fabrics[role] for role in roles] for roles in rounds]
    # Mirrored at the upright line, an inner ring (top, right, bottom, left) reads backwards from
    # its own top; the last one, which lies an eighth of a turn back, from its left side.
    twins = [[ring[-k % 4] for k in range(4)] for ring in rings[:-1]]
    twins.append([rings[-1][(3 - k) % 4] for k in range(4)])
    mine = min([[*r[k:], *r[:k]] for r in rings] for k in range(4))
    other = min([[*r[k:], *r[:k]] for r in twins] for k in range(4))
    return "either" if mine == other else "left" if mine < other else "right"
