"""The words of the piecing plan.

A *part* is one distinct thing on the way to a block: a patch, or two placed parts joined. Equal
parts (up to turning; same fabrics, same fixings; never mirrored) exist once. A *session* is one
distinct join or finish: one thing to do at the machine, however many copies. A *unit* is a part
that the trade has a name for. *Rounds* are what can be chain pieced together.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from seamproof.plane.model import Line, Placed, Point


@dataclass(frozen=True, slots=True)
class Leaf:
    """One patch. `corners` are its true corners in the part's own frame, clockwise as seen."""

    fabric: str
    corners: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Whole:
    """A finished block inside a top."""

    block: str


@dataclass(frozen=True, slots=True)
class Join:
    """Two placed parts sewn together along `seam`, a polyline in the frame of the joined part.

    `left` lies left of the seam as seen when walking along it. `sewn` are the straight runs that
    are sewn now; for a partial seam they are less than the seam and a `Finish` sews the rest.
    `set_in` are the points of the seam at which it turns.
    """

    left: Placed
    right: Placed
    seam: tuple[Point, ...]
    sewn: tuple[Line, ...]
    set_in: tuple[Point, ...] = ()

    @property
    def partial(self) -> bool:
        """Whether a piece of this seam is left for a `Finish`."""
        first, last = self.sewn[0][0], self.sewn[-1][1]
        return (first, last) != (self.seam[0], self.seam[-1]) or any(
            a[1] != b[0] for a, b in zip(self.sewn, self.sewn[1:], strict=False)
        )


@dataclass(frozen=True, slots=True)
class Finish:
    """The second go of a partial seam: `seam` are the straight runs sewn now, in this frame."""

    of: Placed
    seam: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """One distinct part in its own frame: its bounding box starts at (0, 0), and it lies as at its
    first place in the block.

    `outline` are its true corners, finished, clockwise as seen. `uses` counts its copies in one
    block.
    """

    made: Leaf | Whole | Join | Finish
    outline: tuple[Point, ...]
    uses: int


UnitKind = Literal[
    "square",
    "rectangle",
    "half-square triangle",
    "hourglass",
    "flying geese",
    "split quarter square",
    "half-rectangle triangle",
    "corner-square triangle",
    "square-in-a-square",
    "economy patch",
    "snowball",
    "four-patch",
    "nine-patch",
    "checkerboard",
    "rail",
    "diamond row",
    "log cabin",
    "pieced unit",
]
"""Trade names of units, by geometry. "pieced unit" is a cell of the block's grid without one."""


@dataclass(frozen=True, slots=True)
class Unit:
    """A part the trade has a name for, or a cell of the block's grid.

    `width` and `height` are finished, of its bounding box in its own frame. `roles` pair a role of
    the kind (for a half-square triangle "first" and "second"; for flying geese "goose", "left
    sky", "right sky") with a fabric letter.
    """

    part: int
    kind: UnitKind
    width: Fraction
    height: Fraction
    roles: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class ExtraSeam:
    """One more seam that would remove set-in points: `line` in inches of the finished block."""

    line: Line
    removes: int


@dataclass(frozen=True, slots=True)
class PiecingPlan:
    """How a block goes together.

    `parts` are in sewing order: what a part is made of comes before it; the last is the whole
    block, or, when part of the drawing cannot be sewn with straight seams, `cores` lists the
    regions that are left (each a tuple of patch numbers) and the plan holds what can be sewn.
    `rows` is the grid of units: part numbers row by row, as the block's straight seams from edge
    to edge divide it (-1 for a cell that is no part of the plan). `rounds` are part numbers by
    round at the machine. `patches` counts the patches of the drawing. `sessions_bound` is a lower
    bound on the sessions of any plan with as few set-in points and partial seams;
    `sessions_in_rows` what the best order "units, then rows, then the block" takes, None if the
    block has no such rows or was not searched.
    """

    parts: tuple[Part, ...]
    units: tuple[Unit, ...]
    rows: tuple[tuple[int, ...], ...]
    rounds: tuple[tuple[int, ...], ...]
    patches: int
    sessions_bound: int
    partial_bound: int = 0
    offers: tuple[ExtraSeam, ...] = ()
    cores: tuple[tuple[int, ...], ...] = ()
    set_in_points: int = 0
    sessions_in_rows: int | None = None

    @property
    def whole(self) -> int:
        """Number of the part that is the whole block."""
        return len(self.parts) - 1

    @property
    def sessions(self) -> int:
        """Distinct joins and finishes: things to do at the machine."""
        return sum(isinstance(part.made, Join | Finish) for part in self.parts)
