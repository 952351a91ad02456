"""Rails, four-patches, nine-patches, other grids and rows of diamonds from strip sets.

A strip set is strips sewn side by side and sub-cut across. The columns of a unit, or its rows
turned upright, are slices of strip sets (`columns.py`). A rail is one slice. So is a row of
diamonds: there every strip begins farther along than the one before, and the cuts slant.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Piece, Recipe, Step, Stock
from seamproof.cutting.recipes.columns import ALIKE, Cell, Column, columns_of
from seamproof.cutting.recipes.making import (
    Cut,
    Method,
    Wanted,
    as_cut,
    in_part_order,
    measured,
    part_name,
    sewn_name,
)
from seamproof.cutting.recipes.shapes import RULER_ANGLES
from seamproof.cutting.table import exact, opened, rectangle, sewn_run, turned_over
from seamproof.length.rounding import SAME, Size, up
from seamproof.plane.model import Line, Polygon
from seamproof.plane.predicates import same_length

KINDS = ("rail", "four-patch", "nine-patch", "checkerboard", "diamond row")
"""The kinds of unit that are made of whole rectangles in rows and columns, or of diamonds."""

METHOD = "strip sets"

ENOUGH = 4
"""Strip sets are sewn for so many equal units and more; fewer are sewn from single patches. Four
slices are the first that save seams whatever the unit is (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class StripSets(Method):
    """Strips sewn side by side, cut across into slices, the slices sewn to one another."""

    kind: str
    name: str = METHOD

    def fits(self, wanted: Wanted) -> bool:
        """If every slice can be cut from a strip as long as its cloth is wide, and the ruler shows
        its slant."""
        return all(
            _StripSet(column, 1, 1).most_slices(wanted.settings) > 0
            and (not column.lean or _angle(column.lean) in RULER_ANGLES)
            for column in columns_of(wanted.like).columns
        )

    def suits(self, wanted: Wanted) -> bool:
        """For `ENOUGH` units and more."""
        return wanted.count >= ENOUGH

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: the strips of each set in turn, from its first strip on; those that are alike
        once."""
        columns = columns_of(wanted.like)
        sets: list[_StripSet] = []
        slices: list[tuple[_StripSet, bool]] = []
        for column in columns.columns:
            known = next((s for s in sets if s.column.alike(column)), None)
            if known is None:
                known = _StripSet(column, len(sets) + 1, columns.times(column) * wanted.count)
                sets.append(known)
            slices.append((known, not known.column.same(column)))
        pieces: list[Piece] = []
        steps: list[Step] = []
        for strips in sets:
            named = _added(strips.pieces(wanted, settings), pieces, letters)
            steps += strips.steps(wanted, settings, named)
        made = steps[-1].gives[0].count
        if len(slices) == 1:
            steps[-1] = _renamed(steps[-1], wanted)
        else:
            made = wanted.count
            steps += _sewn_slices(wanted, settings, slices, shift=columns.shift)
        each = made // steps[-1].takes[0].count
        recipe = self.recipe(wanted, settings, pieces, steps, gives=each, made=made)
        # Slanted cuts are on the bias, and they are two sides of the slice.
        return replace(recipe, bias_edges=2) if wanted.like.lean else recipe


@dataclass(frozen=True, slots=True)
class _StripSet:
    """The strip sets from which `slices` of one kind of column are cut; number `number` of its
    unit."""

    column: Column
    number: int
    slices: int

    def heights(self, settings: CuttingSettings) -> list[Cut]:
        """How wide each strip is cut."""
        return [as_cut(cell.height + 2 * settings.seam, settings) for cell in self.column.cells]

    def slice_cut(self, settings: CuttingSettings) -> Cut:
        """How wide a slice is cut."""
        return as_cut(self.column.width + 2 * settings.seam, settings)

    def counts(self, settings: CuttingSettings) -> tuple[int, int]:
        """How many strip sets, all of one length, and how many slices each gives: no more sets
        than are needed, and of those no longer ones than are needed."""
        sets = -(-self.slices // self.most_slices(settings))
        return sets, -(-self.slices // sets)

    def length(self, settings: CuttingSettings) -> Size:
        """How long the strips are: the slices, and what squaring up the ends takes."""
        _, each = self.counts(settings)
        need = float(each * self._apart(settings) + self._ends(settings))
        long = up(need, settings.step)
        return Size(long, float(long))

    def most_slices(self, settings: CuttingSettings) -> int:
        """How many slices a strip set gives that is as long as the narrowest of its cloths is
        wide."""
        room = _usable(self.column, settings) - self._ends(settings)
        return int((room + SAME) // self._apart(settings))

    def _apart(self, settings: CuttingSettings) -> Fraction:
        """What a slice takes of the length of the strips."""
        cut = self.slice_cut(settings)
        return exact(float(max(cut.shown, cut.size.ruler)) * self.column.slope)

    def _ends(self, settings: CuttingSettings) -> Fraction:
        """What squaring up takes of the length of the strips, or cutting their ends to the
        slant."""
        return settings.squaring + self._slant(self.heights(settings)[0].shown)

    def _slant(self, height: Fraction) -> Fraction:
        """How far sideways a cut runs across a strip."""
        return exact(abs(self.column.lean) * float(height))

    def pieces(self, wanted: Wanted, settings: CuttingSettings) -> list[Piece]:
        """The strips, without letters; those of one fabric and width are one kind."""
        sets, _ = self.counts(settings)
        length = self.length(settings)
        found: list[Piece] = []
        for cell, cut in self._kinds(settings):
            times = sum(_one_kind(cell, other) for other in self.column.cells)
            found.append(
                Piece(
                    letter="",
                    fabric=cell.fabric,
                    shape="strip",
                    width=cut.size,
                    height=length,
                    count=times * sets,
                    split="whole",
                    grain="cross",
                    rounding=cut.rounding,
                    part=cell.leaf,
                    unit=wanted.kind,
                    method=METHOD,
                )
            )
        return found

    def _kinds(self, settings: CuttingSettings) -> list[tuple[Cell, Cut]]:
        found: list[tuple[Cell, Cut]] = []
        for cell, cut in zip(self.column.cells, self.heights(settings), strict=True):
            if not any(_one_kind(cell, other) for other, _ in found):
                found.append((cell, cut))
        return found

    def name(self, wanted: Wanted, what: str) -> str:
        """What the set and its slices are called on the table."""
        return sewn_name(wanted.part, f"{what} {self.number}")

    def steps(
        self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]
    ) -> list[Step]:
        """The strips sewn from the top down, and the sub-cutting."""
        o, seam = Fraction(0), settings.seam
        sets, each = self.counts(settings)
        kinds = [cell for cell, _ in self._kinds(settings)]
        named = [
            letters[next(k for k, kind in enumerate(kinds) if _one_kind(kind, cell))]
            for cell in self.column.cells
        ]
        long, lean = self.length(settings).ruler, self.column.lean
        heights = [cut.shown for cut in self.heights(settings)]
        steps: list[Step] = []
        sewn = Stock(named[0], rectangle(o, o, long, heights[0]), sets)
        deep = heights[0]
        for place in range(1, len(named)):
            top = deep - 2 * seam
            strip = rectangle(exact(lean * float(top)), top, long, heights[place])
            line = sewn_run(sewn.corners, strip, ((o, deep - seam), (long, deep - seam)))
            over = turned_over(strip, line)
            deep = top + heights[place]
            shown = rectangle(o, o, long, deep)
            if lean:
                shown = opened(sewn.corners, [over], line, whole=True)
            last = place == len(named) - 1
            what = "strip set" if last else f"{place + 1} strips of set"
            gives = Stock(self.name(wanted, what), shown, sets)
            steps.append(
                Step(
                    "sew",
                    takes=(sewn, Stock(named[place], over, sets, "down")),
                    gives=(gives,),
                    stitched=(line,),
                    measure=measured(shown, settings.step),
                )
            )
            sewn = gives
        return [*steps, self._sub_cut(wanted, settings, sewn, each, deep)]

    def _sub_cut(
        self, wanted: Wanted, settings: CuttingSettings, sewn: Stock, each: int, deep: Fraction
    ) -> Step:
        o, lean = Fraction(0), self.column.lean
        wide = exact(float(self.slice_cut(settings).shown) * self.column.slope)
        long, start = self.length(settings).ruler, settings.squaring / 2
        across = exact(lean * float(deep))
        if lean < 0:
            start += self._slant(self.heights(settings)[0].shown)
        at = [start + k * wide for k in range(each + 1)]
        if not lean and same_length(long - at[-1], wide):
            at.append(long - start)  # what is left at the end is no slice: its edge is not squared
        shown = ((start, o), (at[1], o), (at[1] + across, deep), (start + across, deep))
        return Step(
            "cut",
            takes=(sewn,),
            gives=(Stock(self.name(wanted, "slice of set"), shown, each * sewn.count),),
            cuts=tuple(((x, o), (x + across, deep)) for x in at),
            measure=measured(shown, settings.step),
        )


def _added(more: Sequence[Piece], pieces: list[Piece], letters: Sequence[str]) -> list[str]:
    """Adds the strips of one more set to the pieces of a recipe; the letters they have there."""
    named = []
    for piece in more:
        place = next((k for k, other in enumerate(pieces) if _as_large(other, piece)), len(pieces))
        if place == len(pieces):
            pieces.append(replace(piece, letter=letters[place]))
        else:
            pieces[place] = replace(pieces[place], count=pieces[place].count + piece.count)
        named.append(letters[place])
    return named


def _as_large(one: Piece, other: Piece) -> bool:
    """Whether strips of two sets are cut alike, so that one letter names both."""
    return (
        one.fabric == other.fabric
        and abs(one.width.need - other.width.need) <= SAME
        and one.height == other.height
    )


def _one_kind(one: Cell, other: Cell) -> bool:
    return one.fabric == other.fabric and same_length(one.height, other.height)


def _angle(lean: float) -> int | None:
    """The angle between slanted cuts and the strips, in whole degrees; None if it is none."""
    degrees = math.degrees(math.atan2(1, abs(lean)))
    near = round(degrees)
    return near if abs(math.radians(degrees - near)) <= ALIKE else None


def _usable(column: Column, settings: CuttingSettings) -> Fraction:
    """The length of the longest strip set, on a mark of the ruler."""
    narrowest = min(settings.usable(cell.fabric) for cell in column.cells)
    return narrowest // settings.step * settings.step


def _renamed(cut: Step, wanted: Wanted) -> Step:
    """The sub-cutting of a rail: its slices are the units."""
    (given,) = cut.gives
    unit = Stock(part_name(wanted.part), in_part_order(given.corners, wanted), given.count)
    return Step(cut.verb, cut.takes, (unit,), cuts=cut.cuts, measure=cut.measure)


def _sewn_slices(
    wanted: Wanted,
    settings: CuttingSettings,
    slices: Sequence[tuple[_StripSet, bool]],
    *,
    shift: int,
) -> list[Step]:
    """The slices of a unit sewn to one another, from the left; those marked lie turned by half."""
    o, seam, count = Fraction(0), settings.seam, wanted.count
    deep = sum((cut.shown for cut in slices[0][0].heights(settings)), o)
    deep -= 2 * seam * (len(slices[0][0].column.cells) - 1)
    steps: list[Step] = []
    wide = slices[0][0].slice_cut(settings).shown
    sewn = _slice(wanted, slices[0], rectangle(o, o, wide, deep))
    for place, which in enumerate(slices[1:], start=2):
        own = which[0].slice_cut(settings).shown
        line: Line = ((wide - seam, o), (wide - seam, deep))
        laid = _slice(wanted, which, rectangle(wide - 2 * seam, o, own, deep))
        wide += own - 2 * seam
        shown = rectangle(o, o, wide, deep)
        last = place == len(slices)
        gives = (
            Stock(part_name(wanted.part), in_part_order(shown, wanted, shift), count)
            if last
            else Stock(sewn_name(wanted.part, f"{place} slices"), shown, count)
        )
        over = Stock(laid.what, turned_over(laid.corners, line), count, "down")
        steps.append(
            Step(
                "sew",
                takes=(sewn, over),
                gives=(gives,),
                stitched=(line,),
                measure=measured(shown, settings.step),
            )
        )
        sewn = gives
    return steps


def _slice(wanted: Wanted, which: tuple[_StripSet, bool], at: Polygon) -> Stock:
    """A slice where it lies; one that is turned by half begins at its lower right corner."""
    strips, turned = which
    corners = at[2:] + at[:2] if turned else at
    return Stock(strips.name(wanted, "slice of set"), corners, wanted.count)
