"""What a picture shows, before any scale: cloth, lines by kind, measures and letters.

Coordinates are inches of **cloth** as floats, x to the right, y downwards. What must not grow with
the scale (line weights, letters, hatches, how far a cut runs past the cloth) is left to
:mod:`~seamproof.drawing.placing`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

Spot = tuple[float, float]
"""A place in a picture: x to the right, y downwards, inches of cloth."""

LineKind = Literal[
    "outline",
    "seam",
    "stitching",
    "to come",
    "raw edge",
    "unfinished",
    "marked",
    "cut",
    "cross-cut",
    "selvage",
    "leftover",
    "stitch",
    "broken stitch",
    "enlarged",
    "finished",
]
"""What a line is made of. Dashed is always stitching, solid an edge of cloth or a rule, madder a
cut. A cross-cut parts pieces that lie on one strip: ink, since many lie close together. A single
stitch stands for one maker, and is broken and madder if her block is off. On a layer map a frame
shows what is enlarged, and white is the finished edge."""

Anchor = Literal["start", "middle", "end"]
"""Which part of a text stands at its place."""


@dataclass(frozen=True, slots=True)
class Paint:
    """A fabric as pictures show it: its printed capital `letter`, which also picks the hatch, and
    its `colour` as ``#RRGGBB``."""

    letter: str
    colour: str


@dataclass(frozen=True, slots=True)
class Cloth:
    """A piece of cloth: filled and hatched, without an edge. The wrong side is paler and has no
    hatch.

    `slip` is how far it is drawn slipped out from under what lies on it, to the right and down, in
    points: cloth of one size would hide the piece beneath. `veiled` is cloth that is left over.
    """

    corners: tuple[Spot, ...]
    paint: Paint
    side: Literal["right", "wrong"] = "right"
    slip: float = 0.0
    veiled: bool = False


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line of one kind through `points`; `closed` joins the last to the first. `slip` as for
    the cloth whose edge it is."""

    kind: LineKind
    points: tuple[Spot, ...]
    closed: bool = False
    slip: float = 0.0


@dataclass(frozen=True, slots=True)
class Dimension:
    """A measured distance. The line and its label lie **left** of the way from `start` to `end` as
    seen, clear of the cloth and `out` points more; `text` is set as a size, fractions built."""

    start: Spot
    end: Spot
    text: str
    out: float = 0.0


@dataclass(frozen=True, slots=True)
class Letter:
    """A letter on a white disc. `room` is the radius, in inches of cloth, of the largest circle
    round `at` that stays in the patch; a letter that finds no room is left out, or, if it is
    `needed`, set on as small a disc as it can be read on."""

    at: Spot
    text: str
    room: float
    needed: bool = False


@dataclass(frozen=True, slots=True)
class Label:
    """A few words at a place; `text` may hold sizes. `below` and `aside` push it down and to the
    right by so many points."""

    at: Spot
    text: str
    anchor: Anchor = "middle"
    below: float = 0.0
    aside: float = 0.0


@dataclass(frozen=True, slots=True)
class Grain:
    """The direction of the threads: a long, thin, open-headed double arrow, along `turn` (share of
    a full turn, clockwise from pointing right)."""

    at: Spot
    turn: float = 0.0


@dataclass(frozen=True, slots=True)
class Arrow:
    """What becomes of what: a short arrow between two pictures, pointing right. Drawn as a shape,
    since the printed fonts hold none."""

    at: Spot


@dataclass(frozen=True, slots=True)
class Dot:
    """A dot marked on the cloth, where stitching begins, turns or ends inside an edge."""

    at: Spot


@dataclass(frozen=True, slots=True)
class Cross:
    """A cross on a seam: here stitching stops for now, and goes on later."""

    at: Spot


@dataclass(frozen=True, slots=True)
class Numeral:
    """The number of a run of stitching, beside the middle of it: left of the way from `start` to
    `end` as seen, or right of it with `right`."""

    start: Spot
    end: Spot
    text: str
    right: bool = False


@dataclass(frozen=True, slots=True)
class Tone:
    """A place filled with one colour: its outer ring, then its holes, the other way round."""

    rings: tuple[tuple[Spot, ...], ...]
    colour: str


@dataclass(frozen=True, slots=True)
class Count:
    """A number on a tone, in `colour`, left out if a circle of radius `room`, in inches of cloth,
    does not hold it."""

    at: Spot
    text: str
    room: float
    colour: str


@dataclass(frozen=True, slots=True)
class PressSign:
    """Which way the allowances of a stretch of seam are pressed: a small arrow across the middle of
    it, to the `left` or `right` of the way from `start` to `end` as seen, or one to either side. A
    stretch too short for it bears none, unless it is `needed`."""

    start: Spot
    end: Spot
    way: Literal["open", "left", "right"]
    needed: bool = False


@dataclass(frozen=True, slots=True)
class SpinSign:
    """A crossing whose allowances lie round it like the vanes of a wheel: a curved arrow,
    `clockwise` as seen in this picture."""

    at: Spot
    clockwise: bool


Shape = (
    Cloth
    | Stroke
    | Dimension
    | Letter
    | Label
    | Grain
    | Arrow
    | Dot
    | Cross
    | Numeral
    | Tone
    | Count
    | PressSign
    | SpinSign
)


@dataclass(frozen=True, slots=True)
class Scene:
    """A picture: `shapes` from the back to the front, and what it shows, in words."""

    shapes: tuple[Shape, ...]
    says: str = ""

    def moved(self, dx: float, dy: float) -> Scene:
        """The same picture somewhere else.

        >>> Scene((Stroke("seam", ((0, 0), (1, 0))),)).moved(2, 3).shapes[0].points
        ((2, 3), (3, 3))
        """
        return Scene(tuple(_moved(shape, dx, dy) for shape in self.shapes), self.says)

    def mirrored(self) -> Scene:
        """The same picture with left and right changed over; words stay readable.

        >>> Scene((Stroke("seam", ((0, 0), (1, 0))),)).mirrored().shapes[0].points
        ((0, 0), (-1, 0))
        """
        return Scene(tuple(map(_mirrored, self.shapes)), self.says)

    def __add__(self, other: Scene) -> Scene:
        says = "; ".join(words for words in (self.says, other.says) if words)
        return Scene(self.shapes + other.shapes, says)


def extent(shapes: Iterable[Shape]) -> tuple[Spot, Spot]:
    """Upper left and lower right corner of everything that lies at a place of the cloth; nothing
    of what is measured in points.

    >>> extent([Stroke("seam", ((0, 1), (4, 3))), Letter((9, 9), "A", 1)])
    ((0, 1), (9, 9))
    >>> extent([])
    ((0.0, 0.0), (0.0, 0.0))
    """
    spots = [spot for shape in shapes for spot in _spots(shape)]
    if not spots:
        return (0.0, 0.0), (0.0, 0.0)
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return (min(xs), min(ys)), (max(xs), max(ys))


def _spots(shape: Shape) -> tuple[Spot, ...]:
    if isinstance(shape, Cloth):
        return shape.corners
    if isinstance(shape, Stroke):
        return shape.points
    if isinstance(shape, Dimension | Numeral | PressSign):
        return (shape.start, shape.end)
    if isinstance(shape, Tone):
        return shape.rings[0]
    return (shape.at,)


def _moved(shape: Shape, dx: float, dy: float) -> Shape:
    def to(spot: Spot) -> Spot:
        return (spot[0] + dx, spot[1] + dy)

    if isinstance(shape, Cloth):
        return Cloth(
            tuple(map(to, shape.corners)), shape.paint, shape.side, shape.slip, shape.veiled
        )
    if isinstance(shape, Stroke):
        return Stroke(shape.kind, tuple(map(to, shape.points)), shape.closed, shape.slip)
    if isinstance(shape, Dimension):
        return Dimension(to(shape.start), to(shape.end), shape.text, shape.out)
    if isinstance(shape, Letter):
        return Letter(to(shape.at), shape.text, shape.room, shape.needed)
    if isinstance(shape, Label):
        return Label(to(shape.at), shape.text, shape.anchor, shape.below, shape.aside)
    if isinstance(shape, Grain):
        return Grain(to(shape.at), shape.turn)
    if isinstance(shape, Numeral):
        return Numeral(to(shape.start), to(shape.end), shape.text, shape.right)
    if isinstance(shape, Tone):
        return Tone(tuple(tuple(map(to, ring)) for ring in shape.rings), shape.colour)
    if isinstance(shape, Count):
        return Count(to(shape.at), shape.text, shape.room, shape.colour)
    if isinstance(shape, PressSign):
        return PressSign(to(shape.start), to(shape.end), shape.way, shape.needed)
    if isinstance(shape, SpinSign):
        return SpinSign(to(shape.at), shape.clockwise)
    return type(shape)(to(shape.at))


_ENDS: dict[Anchor, Anchor] = {"start": "end", "middle": "middle", "end": "start"}
_SIDES: dict[Literal["open", "left", "right"], Literal["open", "left", "right"]] = {
    "open": "open",
    "left": "right",
    "right": "left",
}


def _mirrored(shape: Shape) -> Shape:
    def to(spot: Spot) -> Spot:
        return (-spot[0], spot[1])

    if isinstance(shape, Cloth | Stroke | Tone):
        if isinstance(shape, Cloth):
            return replace(shape, corners=tuple(map(to, shape.corners)))
        if isinstance(shape, Stroke):
            return replace(shape, points=tuple(map(to, shape.points)))
        return Tone(tuple(tuple(map(to, ring)) for ring in shape.rings), shape.colour)
    if isinstance(shape, Dimension):
        return replace(shape, start=to(shape.end), end=to(shape.start))
    if isinstance(shape, Numeral):
        return replace(shape, start=to(shape.end), end=to(shape.start))
    if isinstance(shape, PressSign):
        return PressSign(to(shape.start), to(shape.end), _SIDES[shape.way], shape.needed)
    if isinstance(shape, SpinSign):
        return SpinSign(to(shape.at), not shape.clockwise)
    if isinstance(shape, Label):
        return replace(shape, at=to(shape.at), anchor=_ENDS[shape.anchor], aside=-shape.aside)
    if isinstance(shape, Grain):
        return Grain(to(shape.at), -shape.turn)
    return replace(shape, at=to(shape.at))
