"""The words of the draft.

A *drawing* is what somebody wrote: cells, seam lines or polygons, with the place of each in the
file. A *block* is what was understood: patches that share the vertices of one table and cover the
outline exactly once. A *fixing* is something the maker decided about a seam or a crossing.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from seamproof.findings import Where
from seamproof.plane.model import Line, Point


@dataclass(frozen=True, slots=True)
class Fabric:
    """A cloth of the project. `letter` is as written in the files (lower case; printed as a
    capital), `colour` is ``#RRGGBB``, `usable_width` inches between the selvages."""

    letter: str
    name: str
    colour: str
    value: Literal["light", "light-medium", "medium-light", "medium", "medium-dark", "dark"]
    role: str = ""
    usable_width: Fraction = Fraction(40)
    directional: bool = False


# What somebody wrote ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Written:
    """A piece of text as it stands in the file, and its place."""

    text: str
    where: Where


@dataclass(frozen=True, slots=True)
class Cells:
    """A block written as rows of cells.

    `columns` and `rows` are widths and heights in proportion to each other; None means all equal.
    `units` are named sub-blocks, each itself written in cells; a cell names one by its capital.
    """

    cells: tuple[tuple[Written, ...], ...]
    columns: tuple[Fraction, ...] | None = None
    rows: tuple[Fraction, ...] | None = None
    units: tuple[tuple[str, Cells], ...] = ()
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class DrawnPatch:
    """A polygon as typed, in inches of the finished block; either sense of rotation."""

    fabric: str
    points: tuple[Point, ...]
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class Polygons:
    """A block written as polygons."""

    patches: tuple[DrawnPatch, ...]
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class DrawnSeam:
    """A seam line as typed, in inches of the finished block."""

    line: Line
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class FabricAt:
    """The fabric of whichever patch this point lies in."""

    fabric: str
    at: Point
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class Seams:
    """A block written as seam lines that divide a rectangle, with a fabric named for a point in
    each patch."""

    seams: tuple[DrawnSeam, ...]
    fabrics: tuple[FabricAt, ...]
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class Fixing:
    """Something the maker decided.

    `line` is a run of seam, or `crossing` a point where seams meet, in inches of the finished
    block. `towards` is a point on the side where the allowances shall lie; `clockwise` is the way
    a spun crossing turns as seen **from the back**. `way` "last" asks that the seam be sewn last.
    """

    line: Line | None
    crossing: Point | None
    way: Literal["open", "towards", "spin", "last"]
    towards: Point | None = None
    clockwise: bool | None = None
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class Drawing:
    """Everything one block file says, before it is understood.

    `finished` is (width, height) of the outline's bounding box in inches. `methods` are pairs of
    unit kind and method as written. `order` holds "rows" if the maker wants units sewn first, then
    rows of them, then the rows to the block.
    """

    name: str
    finished: Point
    drawn: Cells | Polygons | Seams
    upright: bool = False
    copies: int = 1
    fixings: tuple[Fixing, ...] = ()
    methods: tuple[tuple[str, Written], ...] = ()
    order: tuple[Literal["rows"], ...] = ()
    where: Where = Where()


# What was understood ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Patch:
    """One piece of the finished drawing.

    `corners` are vertex numbers of the block, clockwise as seen, and name **every** vertex on the
    patch's boundary, also those at which it runs straight on because a neighbour ends there. So
    two patches that share a seam share its end points, by number. `bulges` is tan(arc / 4) per
    side for curved seams; () means all straight.
    """

    fabric: str
    corners: tuple[int, ...]
    bulges: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Block:
    """A drawing that was understood: a partition of `outline` into `patches`.

    `vertices` are in inches of the finished block, the upper left corner of the bounding box at
    (0, 0). `outline` lists, clockwise as seen, every vertex on the block's edge.
    """

    name: str
    width: Fraction
    height: Fraction
    vertices: tuple[Point, ...]
    patches: tuple[Patch, ...]
    outline: tuple[int, ...]
    fixings: tuple[Fixing, ...] = ()
    upright: bool = False
    order: tuple[Literal["rows"], ...] = ()

    def corners_of(self, patch: Patch) -> tuple[Point, ...]:
        """The points of a patch, clockwise as seen, those of straight runs included."""
        return tuple(self.vertices[v] for v in patch.corners)
