"""The words of the setting.

A *setting* is what somebody wrote about how blocks become a top; a *top* is what was worked out. A
*cell* is the place of one block in the layout, as large as the largest block; *coping* frames a
smaller block up to it. *Sashes* lie between blocks, *cornerstones* where sashes cross. A *frame* is
four strips round something: two at the sides, then two above and below. *Finished* sizes are those
once every seam is sewn; *cut* sizes have a seam allowance on each side. All lengths are in inches,
x to the right, y downwards from the upper left corner of the top, seen from the front.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from seamproof.cutting.model import Grain
from seamproof.findings import Where
from seamproof.length.rounding import Rounding, Size
from seamproof.piecing.model import PiecingPlan, Whole
from seamproof.plane.model import Placed, Point
from seamproof.setting.habits import INCHES

Way = Literal["straight", "on point"]
"""How the blocks stand: side by side, or on one corner."""

Role = Literal[
    "plain block",
    "coping",
    "sash",
    "cornerstone",
    "setting triangle",
    "corner triangle",
    "end piece",
    "spacer",
    "border",
    "border unit",
    "corner square",
]
"""What a piece of the top is for. An end piece fills the end of a strip of sashing where an
on-point setting floats."""


# What somebody wrote ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class SetCell:
    """One place of the layout: a block by name, turned by `quarters` clockwise as seen; or, if
    `plain`, a plain piece of the fabric with the letter `name`."""

    name: str
    quarters: int = 0
    plain: bool = False
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip: its finished width and its fabric, None if none was named."""

    width: Fraction
    fabric: str | None
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class Coping:
    """The frames of one block, from the block outwards."""

    block: str
    frames: tuple[Strip, ...]
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class BorderAsked:
    """One border, `width` finished. Plain in `fabric`, or pieced of `units` in turn, each as long
    as `unit` along the border.

    `corners`: butted (side strips first, then above and below), mitred, or corner squares of the
    fabric `squares`. `lengthwise`: cut along the cloth, each strip in one piece; otherwise strips
    across the cloth, joined. `spacer` is the fabric of the plain strip that makes a pieced border
    fit.
    """

    width: Fraction
    fabric: str | None
    corners: Literal["butted", "mitred", "squares"] = "butted"
    squares: str | None = None
    lengthwise: bool = False
    units: tuple[SetCell, ...] = ()
    unit: Fraction | None = None
    spacer: str | None = None
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class BindingAsked:
    """The binding: strips cut `width` wide across the cloth, or one continuous bias strip."""

    fabric: str | None = None
    width: Fraction = INCHES.binding
    way: Literal["cross-grain", "bias"] = "cross-grain"
    extra: Fraction = INCHES.extra
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class BackingAsked:
    """The backing: `width` of cloth that can be used (None: that of its fabric, or the usual)."""

    fabric: str | None = None
    width: Fraction | None = None
    margin: Fraction = INCHES.margin
    seam: Fraction = INCHES.backing_seam
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class Measured:
    """What a sewn block really measures, raw edge to raw edge, before it is set."""

    block: str
    width: Fraction
    height: Fraction
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class LabelAsked:
    """The label on the back, finished."""

    width: Fraction
    height: Fraction
    fabric: str | None
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class Setting:
    """Everything that was written about the top.

    `rows` is the layout. On point, rows of C and of C - 1 blocks take turns, beginning and ending
    with C. `cell` None: as large as the largest block. `trim` is what the outermost coping is cut
    wider, to be trimmed when the block is framed. `outer`: sashing goes round the outside,
    too (on point it always does). `triangles` is the fabric of setting and corner triangles,
    `floating` how far the blocks stand off the outer edge.
    """

    rows: tuple[tuple[SetCell, ...], ...]
    way: Way = "straight"
    cell: Point | None = None
    coping: tuple[Coping, ...] = ()
    trim: Fraction = Fraction(0)
    sashing: Strip | None = None
    cornerstones: str | None = None
    outer: bool = True
    triangles: str | None = None
    floating: Fraction = Fraction(0)
    borders: tuple[BorderAsked, ...] = ()
    binding: BindingAsked = BindingAsked()
    backing: BackingAsked = BackingAsked()
    batting: Fraction = INCHES.margin
    sleeve: Strip | None = None
    label: LabelAsked | None = None
    measured: tuple[Measured, ...] = ()
    price: Fraction = INCHES.price
    where: Where = Where()


@dataclass(frozen=True, slots=True)
class Available:
    """A block that can be set: its finished size, how many are made, and what it shows.

    `fabrics` pairs each of its fabrics with its finished square inches. `file` names its file.
    """

    name: str
    width: Fraction
    height: Fraction
    copies: int = 1
    upright: bool = False
    fabrics: tuple[tuple[str, Fraction], ...] = ()
    file: str | None = None


# What was worked out ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class TopPiece:
    """`count` equal pieces that the top or its finishing needs, as cut from cloth.

    Rectangles, `width` the shorter side. `split`: squares that are cut once or twice corner to
    corner, so `count` squares give two or four times as many triangles. `may_join`: the piece may
    be sewn together from shorter ones. `parts` are the leaves of the plan that it becomes.
    """

    name: str
    fabric: str
    width: Size
    height: Size
    count: int
    grain: Grain
    rounding: Rounding
    split: Literal["whole", "once", "twice"] = "whole"
    may_join: bool = False
    parts: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Frame:
    """Four strips round something: `beside` is how wide the two at the sides are, `above` those
    above and below. `inner` is the finished size of what is framed, `outer` that of the whole."""

    fabric: str
    beside: Fraction
    above: Fraction
    inner: Point
    outer: Point


@dataclass(frozen=True, slots=True)
class Coped:
    """One kind of block with the frames that bring it to the cell, from the block outwards."""

    block: str
    count: int
    frames: tuple[Frame, ...]


@dataclass(frozen=True, slots=True)
class BorderMade:
    """One border that was worked out. `inner` and `outer` are finished sizes without and with it.

    `sides` and `ends` are the cut lengths of the strips at the sides and of those above and below.
    A pieced border has `along` = units in a side and in an end; a spacer is a frame of its own
    before it.
    """

    kind: Literal["butted", "mitred", "squares", "pieced"]
    fabrics: tuple[str, ...]
    width: Fraction
    inner: Point
    outer: Point
    sides: Size
    ends: Size
    lengthwise: bool = False
    along: tuple[int, int] | None = None
    spacer: Frame | None = None


@dataclass(frozen=True, slots=True)
class Panels:
    """One way to make the backing: `count` lengths of cloth of `length` each, sewn side by side.
    `yardage` is all of it, `buy` the same rounded up to the step in which shops cut."""

    count: int
    length: Fraction
    width: Fraction
    yardage: Fraction
    buy: Fraction


@dataclass(frozen=True, slots=True)
class Backing:
    """The backing and both ways of making it: seams `across` (they lie level, as longarm quilters
    like it) or `lengthwise` (they stand upright)."""

    fabric: str | None
    width: Fraction
    height: Fraction
    usable: Fraction
    margin: Fraction
    seam: Fraction
    across: Panels
    lengthwise: Panels


@dataclass(frozen=True, slots=True)
class Batting:
    """The batting, and the smallest package that holds it; None if none does."""

    width: Fraction
    height: Fraction
    package: str | None = None


@dataclass(frozen=True, slots=True)
class Binding:
    """The binding, `width` cut. `round` is the way round the quilt, `length` with the extra.

    Cross-grain: `strips` across the cloth, each join costs the strip's width; `makes` is what they
    give. Bias: one square, `square` each side; `by_area` is its area between the seams over the
    width, `makes` the whole turns that really come out of it, `strips` counts the turns. `buy` is
    the length of cloth in inches.
    """

    fabric: str | None
    way: Literal["cross-grain", "bias"]
    width: Fraction
    round: Fraction
    length: Fraction
    strips: int
    makes: float
    buy: Fraction
    square: Fraction | None = None
    by_area: float | None = None


@dataclass(frozen=True, slots=True)
class Advice:
    """What to do about one measured block. `off` is measured less planned, width and height."""

    block: str
    planned: Point
    measured: Point
    off: Point
    what: Literal["fits", "ease in", "press again", "trim", "frame"]


@dataclass(frozen=True, slots=True)
class Resashing:
    """Another way out for blocks that came out small: trim every bare block to `cell`, and cut the
    sashes wider so that the top keeps its size. All finished."""

    cell: Point
    beside: Fraction
    above: Fraction


@dataclass(frozen=True, slots=True)
class SetBlock:
    """One block where it lies in the top: `turn` is a share of a full turn clockwise as seen, `at`
    where its own upper left corner comes to lie, `scale` what a measured block departs from its
    drawing."""

    name: str
    turn: Fraction
    at: Point
    scale: Point = (Fraction(1), Fraction(1))


@dataclass(frozen=True, slots=True)
class Top:
    """The whole top. `plan` is its piecing plan; the leaves are blocks (`Whole`) and strips.
    `lying` is how the plan's whole lies in the top: turned only if it is a single block that was.

    `blocks` says where every block lies, `pieces` all that is cut besides the blocks, `leaves` the
    cut-out of every strip where it lies (role, fabric, corners), `fabrics` the finished square
    inches by fabric, the blocks' included; `roles` pair the parts of the plan that are strips with
    what they are for.
    """

    width: Fraction
    height: Fraction
    way: Way
    columns: int
    rows: int
    cell: Point
    plan: PiecingPlan
    lying: Placed
    blocks: tuple[SetBlock, ...]
    leaves: tuple[tuple[Role, str, tuple[Point, ...]], ...]
    pieces: tuple[TopPiece, ...]
    fabrics: tuple[tuple[str, Fraction], ...]
    coped: tuple[Coped, ...]
    borders: tuple[BorderMade, ...]
    backing: Backing
    batting: Batting
    binding: Binding
    sashing: Fraction = Fraction(0)
    floating: Fraction = Fraction(0)
    sleeve: Size | None = None
    advice: tuple[Advice, ...] = ()
    resashing: Resashing | None = None
    roles: tuple[tuple[int, Role], ...] = ()

    @property
    def placed(self) -> tuple[tuple[str, Placed], ...]:
        """Every block with its place, as the plan has it."""
        number = {
            part.made.block: i
            for i, part in enumerate(self.plan.parts)
            if isinstance(part.made, Whole)
        }
        return tuple((b.name, Placed(number[b.name], b.turn, b.at)) for b in self.blocks)
