"""Units of whole rectangles seen as columns, each of which a slice of a strip set can be.

A unit that is sewn row by row is turned by a quarter for that.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.length.exact import kept
from seamproof.piecing.units import Likeness
from seamproof.plane.model import Point
from seamproof.plane.predicates import box, same_length

ALIKE = 1e-5
"""Two columns lean alike if one leaves the other by no more than a hair in 100 inches."""

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
    """A column of a unit from the top down, and its width, finished. For every inch down its sides
    run `lean` inches to the right, or to the left if that is negative."""

    cells: tuple[Cell, ...]
    width: Fraction
    lean: float = 0.0

    @property
    def slope(self) -> float:
        """What an inch across is along a level line."""
        return math.hypot(1, self.lean)

    def same(self, other: Column) -> bool:
        """Whether two columns show the same fabrics in the same sizes."""
        return (
            len(self.cells) == len(other.cells)
            and same_length(self.width, other.width)
            and math.isclose(self.lean, other.lean, abs_tol=ALIKE)
            and all(
                one.fabric == two.fabric and same_length(one.height, two.height)
                for one, two in zip(self.cells, other.cells, strict=True)
            )
        )

    def alike(self, other: Column) -> bool:
        """Whether they are slices of one strip set: the same, perhaps turned by half."""
        return self.same(other) or self.same(replace(other, cells=other.cells[::-1]))


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
    kinds of strip sets; if both take as many, those that the plan sews first. A row of diamonds is
    one column."""
    if like.lean:
        return Columns((_of_diamonds(like),), 0)
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


def _of_diamonds(like: Likeness) -> Column:
    height = kept(like.unit.height / len(like.patches))
    cells = tuple(Cell(leaf.fabric, leaf.part, height) for leaf in like.patches)
    lean = float(like.lean / like.unit.height)
    level = like.unit.width - abs(like.lean)
    return Column(cells, kept(float(level) / math.hypot(1, lean)), lean)


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
