"""The words of the cutting list.

A *recipe* is how one kind of unit is made by one *method*: its *pieces* (what is cut) and *steps*
(what is done). *Stock* is what lies on the table at a moment. A step says how the stock lies, what
is drawn, stitched and cut, and what results; the proof runs the steps with its own geometry, and
the sheet draws them. See `docs/explanation/ledger.md`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from seamproof.length.exact import CM
from seamproof.length.rounding import INCH_STEP, METRIC_STEP, Rounding, Size
from seamproof.plane.model import Line, Point

Hand = Literal["either", "left", "right", "pair"]
"""Which of two mirror twins a unit is; "either" if it is its own twin, "pair" if a method makes
one of each."""

Grain = Literal["length", "cross", "either", "bias"]

Shape = Literal[
    "square",
    "rectangle",
    "strip",
    "triangle",
    "diamond",
    "parallelogram",
    "trapezoid",
    "hexagon",
    "wedge",
    "kite",
    "template",
]


@dataclass(frozen=True, slots=True)
class Stock:
    """`count` alike things on the table. `what` names them: a piece's letter, or what a step gave.

    `corners` is the outline of one, raw edge to raw edge, in inches, clockwise as seen from above,
    **as it lies on the table in this step**. `face` says which side is up. Corner 0 of sewn stock
    is the same corner of it in every step, and the others follow clockwise as seen; face down the
    list therefore runs the other way round the thing: its corner i is corner -i of the thing.
    """

    what: str
    corners: tuple[Point, ...]
    count: int
    face: Literal["up", "down"] = "up"


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do, `count` times over, with one geometry.

    All lines and corners share the frame of the table as the stock in `takes` is laid out.

    - ``cut``: takes one kind of stock, lying face up; it is cut along `cuts`; gives the pieces.
    - ``sew``: takes two kinds, the first face up, the second laid on it face down (two alike pieces
      laid on one thing at once are two entries, each at its place). It is stitched
      along `stitched` and then, if `cuts` is not empty, cut apart along `cuts`. Each part that has
      stitching in it is opened: what lies on the smaller side of the stitching is the allowance.
      What `gives` shows is the part opened, face up, dog ears trimmed, and the second kind turned
      over the stitching; the first kind stays where it lay.
    - ``trim``: takes one kind, face up as it lies under the ruler; cut down to the corners of
      `gives`; `cuts` are the lines.

    With `left_in` a sewn step cuts nothing: the first kind stays whole and flat, and the half of
    each other one that lies right of its stitched line, walking along it, is folded over the line.

    `drawn` are lines marked on the wrong side of the upper stock. `measure` is (width, height) of
    the bounding box of what `gives` shows, raw edge to raw edge: what the maker should measure.
    """

    verb: Literal["cut", "sew", "trim"]
    takes: tuple[Stock, ...]
    gives: tuple[Stock, ...]
    drawn: tuple[Line, ...] = ()
    stitched: tuple[Line, ...] = ()
    cuts: tuple[Line, ...] = ()
    measure: tuple[Size, Size] | None = None
    left_in: bool = False


@dataclass(frozen=True, slots=True)
class Piece:
    """A kind of cut piece. `letter` is the fabric's letter and a small one, such as ``Aa``.

    `shape`, `width`, `height` and `count` are those of what is cut from cloth, before it is `split`
    on one or both diagonals: 12 squares, split once, are 24 triangles. `width` is the shorter side.
    A strip is `width` wide and as long as `height` says, across the cloth; it is sewn to others and
    sub-cut with them, so it becomes several patches.
    For what is cut from a strip (triangle, diamond, parallelogram, trapezoid, hexagon, wedge, kite)
    `width` is the strip's and `height` how far apart the slanted cuts are, measured at right angles
    to the cut; for triangles and trapezoids it is the longest side, for a wedge (an isosceles
    triangle or trapezoid of any slant) its wide end, for a kite its length; `angle` is that of the
    cut, in degrees from the strip's edge. For a template they are the bounding box. `corners` is
    the outline of what is neither square nor rectangle. `unit` and `method` say what it is for,
    `trim` is the (width, height) to which the unit is trimmed, None if it is not. `part` is the
    number of the leaf that the piece becomes.
    """

    letter: str
    fabric: str
    shape: Shape
    width: Size
    height: Size
    count: int
    split: Literal["whole", "once", "twice"]
    grain: Grain
    rounding: Rounding
    part: int
    unit: str
    method: str
    hand: Hand = "either"
    trim: tuple[Fraction, Fraction] | None = None
    corners: tuple[Point, ...] = ()
    angle: int | None = None


@dataclass(frozen=True, slots=True)
class Bonus:
    """`count` half-square triangles that can be sewn of what is cut off the pieces lettered `base`
    and `corner`, by a second seam two allowances outside the first and a cut between the two.
    `size.need` is what each measures, raw edge to raw edge, `size.ruler` what it is trimmed to."""

    base: str
    corner: str
    count: int
    size: Size


@dataclass(frozen=True, slots=True)
class Twin:
    """The mirror twins that a recipe makes along with its unit: `made` of them, `spare` left over.
    `unit` is the number of their part, None if the block does not use them; `what` is what they are
    called on the table."""

    unit: int | None
    what: str
    made: int
    spare: int


@dataclass(frozen=True, slots=True)
class Recipe:
    """How all copies of one unit are made. `unit` is the number of the part it makes.

    `pieces` and the counts in `steps` are for all copies together. `gives` is how many one round
    of the method makes, `made` how many are made in all, `spare` how many are left over. `sheets`
    are the finished unit's cut pieces as they lie in it after trimming, for the layer model: in
    the frame of the part, patch by patch in sewing order (those of a join's left side first).
    Patches that no unit holds have a recipe of their own, without steps.
    `waste` is the share of the cut cloth that is trimmed off. `bias_edges` counts outer edges of
    the unit that are on the bias. `bonus` are units that can be sewn of the waste. `twin` are those
    of the other hand, if the method makes one of each.
    """

    unit: int
    kind: str
    method: str
    gives: int
    made: int
    spare: int
    pieces: tuple[Piece, ...]
    steps: tuple[Step, ...]
    hand: Hand = "either"
    sheets: tuple[tuple[Point, ...], ...] = ()
    trim: tuple[Fraction, Fraction] | None = None
    waste: float = 0.0
    bias_edges: int = 0
    bonus: tuple[Bonus, ...] = ()
    twin: Twin | None = None


@dataclass(frozen=True, slots=True)
class CuttingList:
    """All that is cut for `copies` of a block, and all that is done.

    `steps` holds the recipes' steps first and then the joins above the units, in rounds: one
    running account that sheet, proof and rehearsal all walk. The last step gives the block.
    """

    copies: int
    pieces: tuple[Piece, ...]
    recipes: tuple[Recipe, ...]
    steps: tuple[Step, ...]


USABLE_WIDTH = Fraction(40)
"""What can be used of cloth sold 42 to 44 in wide, selvages and a shrunken inch taken off (common
practice, no source)."""

SQUARING = Fraction(1)
"""Half an inch at either end of a strip set, which never comes out even (common practice, no
source)."""


@dataclass(frozen=True, slots=True)
class CuttingSettings:
    """What the project decides about cutting. Lengths in inches.

    `oversize` is added to the size that geometry asks for, taken up to the ruler, for units that
    are trimmed: an everyday maker can trim 11 of 100 half-square triangles cut F + 7/8, and 97 cut
    F + 1 (`docs/explanation/oversize.md`). With `sizes` "exact" nothing is added and nothing
    trimmed.

    `usable_width` is how long strips are, `usable_widths` by the letter of a fabric that differs.
    `squaring` is what a strip set is longer than its slices, for squaring up both of its ends.
    """

    seam: Fraction = Fraction(1, 4)
    step: Fraction = INCH_STEP
    sizes: Literal["trimmed", "exact"] = "trimmed"
    oversize: Mapping[str, Fraction] = field(
        default_factory=lambda: {
            "half-square triangle": Fraction(1, 8),
            "half-rectangle triangle": Fraction(1, 8),
            "hourglass": Fraction(1, 4),
            "flying geese": Fraction(1, 4),
            "split quarter square": Fraction(1, 4),
            "square-in-a-square": Fraction(1, 2),
            "economy patch": Fraction(1, 2),
        }
    )
    methods: Mapping[str, str] = field(default_factory=dict)
    usable_width: Fraction = USABLE_WIDTH
    usable_widths: Mapping[str, Fraction] = field(default_factory=dict)
    squaring: Fraction = SQUARING

    def usable(self, fabric: str) -> Fraction:
        """How long a strip across this fabric is."""
        return self.usable_widths.get(fabric, self.usable_width)

    @classmethod
    def metric(cls) -> CuttingSettings:
        """0.75 cm seams on a ruler with marks every 0.25 cm."""
        return cls(
            seam=CM * 3 / 4,
            step=METRIC_STEP,
            usable_width=CM * 100,
            squaring=CM * 5 / 2,
            oversize={
                "half-square triangle": METRIC_STEP,
                "half-rectangle triangle": METRIC_STEP,
                "hourglass": METRIC_STEP * 2,
                "flying geese": METRIC_STEP * 2,
                "split quarter square": METRIC_STEP * 2,
                "square-in-a-square": METRIC_STEP * 5,
                "economy patch": METRIC_STEP * 5,
            },
        )
