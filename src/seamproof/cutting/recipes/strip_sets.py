"""Rails, four-patches, nine-patches and other grids from strip sets.

A strip set is strips sewn side by side and sub-cut across. Seen in a frame in which they stand
upright, the columns of a unit are slices of strip sets; a unit that is sewn row by row is turned by
a quarter for that. A rail is one slice.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Piece, Recipe, Step, Stock
from seamproof.cutting.recipes.making import (
    Cut,
    Wanted,
    as_cut,
    in_part_order,
    measured,
    part_name,
    sewn_name,
    sheets_of,
    waste_of,
)
from seamproof.cutting.table import rectangle, turned_over
from seamproof.length.rounding import SAME, Size, up
from seamproof.piecing.units import Likeness
from seamproof.plane.model import Line, Point, Polygon
from seamproof.plane.predicates import box, same_length

KINDS = ("rail", "four-patch", "nine-patch", "checkerboard")
"""The kinds of unit that are made of whole rectangles in rows and columns."""

METHOD = "strip sets"

ENOUGH = 4
"""Strip sets are sewn for so many equal units and more; fewer are sewn from single patches. Four
slices are the first that save seams whatever the unit is (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class StripSets:
    """Strips sewn side by side, cut across into slices, the slices sewn to one another."""

    kind: str
    name: str = METHOD

    def fits(self, wanted: Wanted) -> bool:
        """If every slice can be cut from a strip as long as its cloth is wide."""
        settings = wanted.settings
        return all(
            _most_slices(column, as_cut(column.width + 2 * settings.seam, settings), settings) > 0
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
            own = strips.pieces(wanted, settings, letters[len(pieces) :])
            pieces += own
            steps += strips.steps(wanted, settings, [piece.letter for piece in own])
        made = steps[-1].gives[0].count
        if len(slices) == 1:
            steps[-1] = _renamed(steps[-1], wanted)
        else:
            made = wanted.count
            steps += _sewn_slices(wanted, settings, slices, shift=columns.shift)
        sheets = sheets_of(wanted, settings.seam)
        return Recipe(
            unit=wanted.part,
            kind=self.kind,
            method=self.name,
            gives=made // steps[-1].takes[0].count,
            made=made,
            spare=made - wanted.count,
            pieces=tuple(pieces),
            steps=tuple(steps),
            sheets=sheets,
            waste=waste_of(pieces, sheets, made),
        )


# The unit in columns ------------------------------------------------------------------------------

Box = tuple[Point, Point]
"""Upper left and lower right corner of a patch."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One patch of a column: its fabric, its leaf, its height, finished."""

    fabric: str
    leaf: int
    height: Fraction


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a unit from the top down, and its width, finished."""

    cells: tuple[Cell, ...]
    width: Fraction

    def same(self, other: Column) -> bool:
        """Whether two columns show the same fabrics in the same sizes."""
        return (
            len(self.cells) == len(other.cells)
            and same_length(self.width, other.width)
            and all(
                one.fabric == two.fabric and same_length(one.height, two.height)
                for one, two in zip(self.cells, other.cells, strict=True)
            )
        )

    def alike(self, other: Column) -> bool:
        """Whether they are slices of one strip set: the same, perhaps turned by half."""
        return self.same(other) or self.same(Column(other.cells[::-1], other.width))


@dataclass(frozen=True, slots=True)
class Columns:
    """The columns of a unit from the left. `shift` says at which corner of this frame, clockwise
    from the upper left one, the pattern's upper left corner lies."""

    columns: tuple[Column, ...]
    shift: int

    def times(self, column: Column) -> int:
        """How many columns are slices of the same strip set as this one."""
        return sum(column.alike(other) for other in self.columns)


def columns_of(like: Likeness) -> Columns:
    """The columns of a unit, or its rows turned to the left by a quarter: whichever take fewer
    kinds of strip sets; if both take as many, those that the plan sews first."""
    boxes = [box(patch.corners) for patch in like.patches]
    ways = []
    for axis, shift in ((1, 3), (0, 0)):
        lines = _lines(boxes, axis)
        if len(lines) == len(boxes):
            continue  # lines of one patch each are no strip sets
        line_of = {role: k for k, line in enumerate(lines) for role in line}
        sewn = sorted(line_of, key=lambda role: like.order[role])
        changes = sum(line_of[a] != line_of[b] for a, b in itertools.pairwise(sewn))
        columns = tuple(_column(like, boxes, line, axis) for line in lines)
        sets = sum(
            not any(one.alike(other) for other in columns[:k]) for k, one in enumerate(columns)
        )
        ways.append((sets, changes >= len(lines), Columns(columns, shift)))
    return min(ways, key=lambda way: way[:2])[2]


def _lines(boxes: Sequence[Box], axis: int) -> list[list[int]]:
    """The roles of the patches that begin at the same place along an axis, in order."""
    lines: list[list[int]] = []
    for role in sorted(range(len(boxes)), key=lambda role: boxes[role][0][axis]):
        if lines and same_length(boxes[lines[-1][0]][0][axis], boxes[role][0][axis]):
            lines[-1].append(role)
        else:
            lines.append([role])
    return lines


def _column(
    like: Likeness,
    boxes: Sequence[Box],
    roles: Sequence[int],
    axis: int,
) -> Column:
    along = 1 - axis
    # A row that is turned to the left shows its last patch at the top.
    ordered = sorted(roles, key=lambda role: boxes[role][0][along], reverse=axis == 1)
    cells = tuple(
        Cell(
            like.patches[role].fabric,
            like.patches[role].part,
            boxes[role][1][along] - boxes[role][0][along],
        )
        for role in ordered
    )
    low, high = boxes[roles[0]]
    return Column(cells, high[axis] - low[axis])


# Strip sets ---------------------------------------------------------------------------------------


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
        most = _most_slices(self.column, self.slice_cut(settings), settings)
        sets = -(-self.slices // most)
        return sets, -(-self.slices // sets)

    def length(self, settings: CuttingSettings) -> Size:
        """How long the strips are: the slices, and what squaring up the ends takes."""
        _, each = self.counts(settings)
        cut = self.slice_cut(settings)
        need = each * max(cut.shown, cut.size.ruler) + settings.squaring
        long = up(need, settings.step)
        return Size(long, float(long))

    def pieces(
        self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]
    ) -> list[Piece]:
        """The strips; those of one fabric and width are one kind."""
        sets, _ = self.counts(settings)
        length = self.length(settings)
        found: list[Piece] = []
        for kind, (cell, cut) in enumerate(self._kinds(settings)):
            times = sum(_one_kind(cell, other) for other in self.column.cells)
            found.append(
                Piece(
                    letter=letters[kind],
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
        long = self.length(settings).ruler
        heights = [cut.shown for cut in self.heights(settings)]
        steps: list[Step] = []
        sewn = Stock(named[0], rectangle(o, o, long, heights[0]), sets)
        deep = heights[0]
        for place in range(1, len(named)):
            line: Line = ((o, deep - seam), (long, deep - seam))
            strip = rectangle(o, deep - 2 * seam, long, heights[place])
            deep += heights[place] - 2 * seam
            shown = rectangle(o, o, long, deep)
            last = place == len(named) - 1
            what = "strip set" if last else f"{place + 1} strips of set"
            gives = Stock(self.name(wanted, what), shown, sets)
            steps.append(
                Step(
                    "sew",
                    takes=(sewn, Stock(named[place], turned_over(strip, line), sets, "down")),
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
        o, wide = Fraction(0), self.slice_cut(settings).shown
        long, start = self.length(settings).ruler, settings.squaring / 2
        at = [start + k * wide for k in range(each + 1)]
        if same_length(long - at[-1], wide):
            at.append(long - start)  # what is left at the end is no slice: its edge is not squared
        shown = rectangle(start, o, wide, deep)
        return Step(
            "cut",
            takes=(sewn,),
            gives=(Stock(self.name(wanted, "slice of set"), shown, each * sewn.count),),
            cuts=tuple(((x, o), (x, deep)) for x in at),
            measure=measured(shown, settings.step),
        )


def _one_kind(one: Cell, other: Cell) -> bool:
    return one.fabric == other.fabric and same_length(one.height, other.height)


def _most_slices(column: Column, cut: Cut, settings: CuttingSettings) -> int:
    """How many slices a strip set gives that is as long as the narrowest of its cloths is wide."""
    usable = _usable(column, settings)
    return int((usable - settings.squaring + SAME) // max(cut.shown, cut.size.ruler))


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
