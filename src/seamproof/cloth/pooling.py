"""What is cut from each cloth: equal pieces of all blocks together, as the lay asks for them.

A *source* is whatever asks for pieces: the copies of a block, and later the sashing, the borders
and the binding of a top. Pieces that are cut alike are one *kind*, whatever they are for, and
whether they are parted on the diagonal afterwards or not.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from seamproof.cloth.model import Demand, Row
from seamproof.cutting.lettering import small
from seamproof.cutting.model import Piece
from seamproof.length.exact import kept
from seamproof.length.rounding import SAME, up
from seamproof.plane.model import Polygon
from seamproof.plane.predicates import distance

Outline = Literal["box", "strip", "slanted", "alternating", "template"]
"""How pieces lie beside each other: as rectangles; as strips that are sewn to others before they
are cut across; in rows with slanted cuts, all one way (diamonds) or every other one upside down
(triangles, trapezoids, wedges); inside a rectangle, round a template."""

_OUTLINES: Mapping[str, Outline] = {
    "square": "box",
    "rectangle": "box",
    "kite": "box",
    "strip": "strip",
    "diamond": "slanted",
    "parallelogram": "slanted",
    "hexagon": "slanted",
    "triangle": "alternating",
    "trapezoid": "alternating",
    "wedge": "alternating",
    "template": "template",
}


@dataclass(frozen=True, slots=True)
class Source:
    """Pieces that something asks for, under its `name`: "Slack Water", "Sashing".

    They may be of any fabrics. A piece with grain "length" lies with its longer side along the
    selvage, one with "cross" across the cloth. What comes `first` is cut before all else, out of
    the full length of the cloth.
    """

    name: str
    pieces: tuple[Piece, ...]
    first: bool = False


@dataclass(frozen=True, slots=True)
class Joined:
    """A strip `width` wide and `length` long in all that may be joined from strips across the
    cloth: binding, a long sash. Each strip loses `join` to its join."""

    name: str
    fabric: str
    width: Fraction
    length: Fraction
    join: Fraction

    def strips(self, usable: Fraction) -> int:
        """How many strips across a cloth of this usable width make it; 0 if none is long enough
        to be joined.

        >>> binding = Joined("Binding", "d", Fraction(5, 2), Fraction(220), Fraction(2))
        >>> binding.strips(Fraction(40)), binding.strips(Fraction(2))
        (6, 0)
        """
        each = usable - self.join
        if each <= 0:
            return 0
        return math.ceil(self.length / each) if self.length > usable else 1

    def lengths(self, usable: Fraction, step: Fraction) -> tuple[tuple[Fraction, int], ...]:
        """How long the strips are cut, and how many of each length: whole strips, and where half
        a strip or less does for the last, one so long, up to the next mark of the ruler.

        >>> sleeve = Joined("Sleeve", "c", Fraction(17, 2), Fraction(55), Fraction(1, 2))
        >>> [(str(length), count) for length, count in sleeve.lengths(Fraction(40), Fraction(1))]
        [('40', 1), ('16', 1)]
        """
        count = self.strips(usable)
        if self.length <= usable:
            return ((self.length, count),)
        last = up(self.length - (count - 1) * (usable - self.join) + self.join, step)
        if count > 1 and last <= usable / 2:
            return ((usable, count - 1), (last, 1))
        return ((usable, count),)


@dataclass(frozen=True, slots=True)
class Use:
    """What some pieces of a kind are for: `count` of them, lettered `letter` in the cutting table
    of `source`, parted afterwards as `split` says, for `unit`."""

    source: str
    letter: str
    count: int
    split: Literal["whole", "once", "twice"]
    unit: str


@dataclass(frozen=True, slots=True)
class Kind:
    """Pieces that are cut alike. `mark` is what they carry in the diagram, without the fabric's
    letter. `shape` is their trade name, `sides` the two sizes of the cutting table, `corners` the
    outline of what is not a rectangle, `angle` that of slanted cuts. What comes `first` is cut
    before all else."""

    mark: str
    shape: str
    outline: Outline
    sides: tuple[Fraction, Fraction]
    demand: Demand
    uses: tuple[Use, ...]
    corners: Polygon = ()
    angle: int | None = None
    first: bool = False

    @property
    def count(self) -> int:
        """How many."""
        return self.demand.count


@dataclass(frozen=True, slots=True)
class Pool:
    """All that is cut from one fabric: what comes first, then the largest first."""

    fabric: str
    kinds: tuple[Kind, ...]

    @property
    def demands(self) -> tuple[Demand, ...]:
        """The same as the lay asks for it."""
        return tuple(kind.demand for kind in self.kinds)

    @property
    def first(self) -> frozenset[str]:
        """Names of what is cut before all else."""
        return frozenset(kind.demand.name for kind in self.kinds if kind.first)

    def named(self, name: str) -> Kind:
        """The kind whose demand has this name. Raises KeyError if there is none."""
        for kind in self.kinds:
            if kind.demand.name == name:
                return kind
        raise KeyError(name)


def pooled(
    sources: Sequence[Source],
    *,
    joined: Iterable[Joined] = (),
    usable: Mapping[str, Fraction] | None = None,
    directional: Collection[str] = (),
    kits: int = 1,
    step: Fraction = Fraction(1, 8),
) -> tuple[Pool, ...]:
    """What is cut from each fabric for `kits` times everything, fabrics in the order of letters.

    Pieces of `directional` fabrics are not turned; if their grain says nothing they lie with the
    longer side across the cloth (see :func:`~seamproof.cloth.standing.stood`). Others may be turned
    by a quarter unless their grain says otherwise. `usable` is the
    width of the fabrics from which strips are `joined`. `step` is what templates are given room by.

    If one source asks, its letters are the marks; else kinds are lettered anew, largest first.

    >>> pooled([])
    ()
    """
    found: dict[str, dict[_Key, list[tuple[Piece, Source]]]] = {}
    for source in sources:
        for piece in source.pieces:
            key = (source.first, *_key(piece))
            found.setdefault(piece.fabric, {}).setdefault(key, []).append((piece, source))
    strips: dict[str, list[Joined]] = {}
    for strip in joined:
        strips.setdefault(strip.fabric, []).append(strip)
    alone = len(sources) == 1 and not strips
    pools = []
    for fabric in sorted({*found, *strips}, key=lambda letter: (len(letter), letter)):
        turn = fabric not in directional
        kinds = [_kind(some, turn, kits, step) for some in found.get(fabric, {}).values()]
        for strip in strips.get(fabric, ()):
            kinds += _joined(strip, (usable or {})[fabric], kits, step)
        kinds.sort(
            key=lambda kind: (
                *(not kind.first, -kind.sides[0] * kind.sides[1]),
                *(-kind.sides[1], kind.shape),
            )
        )
        pools.append(Pool(fabric, _marked(kinds, fabric, alone)))
    return tuple(pools)


_Key = tuple[object, ...]


def _key(piece: Piece) -> _Key:
    """Equal for pieces that are cut alike."""
    outline = _OUTLINES[piece.shape]
    shape = outline if outline in ("box", "strip") else piece.shape
    drawn: object = ()
    if outline in ("slanted", "alternating"):
        row = _row(piece)
        drawn = (round(row.offset / _ALIKE), round(row.pitch / _ALIKE))
    elif outline == "template":
        drawn = (piece.letter, piece.part, piece.corners)
    return (shape, piece.width.ruler, piece.height.ruler, piece.grain, piece.angle, drawn)


_ALIKE = Fraction(1, 1000)
"""Inches: cuts that lie so near to each other are one cut."""


def _kind(some: Sequence[tuple[Piece, Source]], turn: bool, kits: int, step: Fraction) -> Kind:
    first = some[0][0]
    outline = _OUTLINES[first.shape]
    short, long = first.width.ruler, first.height.ruler
    row = None
    may_turn = turn and first.grain in ("either", "bias")
    match outline:
        case "slanted" | "alternating":
            row = _row(first)
            across, along, may_turn = Fraction(0), short, False
        case "template":
            short, long = up(first.width.need, step), up(first.height.need, step)
            across, along = (short, long) if first.grain == "length" else (long, short)
        case _:
            across, along = (short, long) if first.grain == "length" else (long, short)
            may_turn = may_turn and outline == "box" and short != long
    uses: dict[tuple[str, str, str, str], int] = {}
    for piece, source in some:
        use = (source.name, piece.letter, piece.split, piece.unit)
        uses[use] = uses.get(use, 0) + piece.count * kits
    return Kind(
        mark="",
        shape=first.shape,
        outline=outline,
        sides=(short, long),
        demand=Demand("", across, along, sum(uses.values()), may_turn, row),
        uses=tuple(
            Use(source, letter, count, _split(split), unit)
            for (source, letter, split, unit), count in uses.items()
        ),
        corners=first.corners,
        angle=first.angle,
        first=some[0][1].first,
    )


def _split(split: str) -> Literal["whole", "once", "twice"]:
    return "once" if split == "once" else "twice" if split == "twice" else "whole"


def _joined(strip: Joined, usable: Fraction, kits: int, step: Fraction) -> list[Kind]:
    return [
        Kind(
            mark="",
            shape="strip",
            outline="strip",
            sides=(strip.width, across),
            demand=Demand("", across, strip.width, count * kits),
            uses=(Use(strip.name, "", count * kits, "whole", strip.name),),
        )
        for across, count in strip.lengths(usable, step)
    ]


def _marked(kinds: Sequence[Kind], fabric: str, alone: bool) -> tuple[Kind, ...]:
    """With their marks: the letters they have in the only table that asks for them, or letters of
    their own. Of pieces of one letter that stand and that lie each has a number behind it."""
    marks = [small(rank) for rank in range(len(kinds))]
    if alone:
        marks = [
            " ".join(sorted({use.letter[len(fabric) :] for use in kind.uses}, key=_by_length))
            for kind in kinds
        ]
        marks = [
            f"{mark}{marks[: n + 1].count(mark)}" if marks.count(mark) > 1 else mark
            for n, mark in enumerate(marks)
        ]
    return tuple(
        replace(kind, mark=mark, demand=replace(kind.demand, name=named(fabric, mark)))
        for kind, mark in zip(kinds, marks, strict=True)
    )


def named(fabric: str, mark: str) -> str:
    """What a piece is called outside its own fabric's diagram.

    >>> named("a", "b"), named("backing", "b")
    ('Ab', 'Backing b')
    """
    return fabric.upper() + mark if len(fabric) <= 2 else f"{fabric.capitalize()} {mark}"


def _by_length(mark: str) -> tuple[int, str]:
    return len(mark), mark


def _row(piece: Piece) -> Row:
    """How slanted pieces lie in a strip: see :class:`~seamproof.cloth.model.Row`."""
    strip, other = piece.width.ruler, piece.height.ruler
    if _OUTLINES[piece.shape] == "slanted":
        slope = math.radians(piece.angle or 60)
        pitch = kept(float(other) / math.sin(slope))
        return Row(_even(float(strip) / math.tan(slope)), pitch, math.degrees(slope))
    long, short = _parallel(piece.corners)
    narrow = kept(max(0.0, float(other) - (long - short)))
    lost = (other - narrow) / 2
    slope = piece.angle or math.degrees(math.atan2(float(strip), float(lost)))
    return Row(lost, (other + narrow) / 2, float(slope))


def _even(value: float) -> Fraction:
    """A computed length, on the drafting grid if it is a hair off it: the tangent of 45 degrees is
    1 to the last digit but one."""
    near = Fraction(value).limit_denominator(1024)
    return near if abs(float(near) - value) <= float(SAME) / 1024 else kept(value)


def _parallel(corners: Polygon) -> tuple[float, float]:
    """The longer and the shorter of two parallel sides; of a triangle the side on which it stands
    between two equal ones, and 0."""
    count = len(corners)
    lengths = [float(distance(corners[k], corners[(k + 1) % count])) for k in range(count)]
    if count == 3:
        base = min(range(3), key=lambda k: (abs(lengths[k - 1] - lengths[k - 2]), -lengths[k]))
        return lengths[base], 0.0
    k = min((0, 1), key=lambda k: abs(_turn(corners, k)))
    return max(lengths[k], lengths[k + 2]), min(lengths[k], lengths[k + 2])


def _turn(corners: Polygon, k: int) -> float:
    """Sine of the angle between side k of four and the one opposite."""
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = (corners[(k + i) % 4] for i in range(4))
    one, other = (bx - ax, by - ay), (dx - cx, dy - cy)
    cross = float(one[0] * other[1] - one[1] * other[0])
    return cross / (math.hypot(*map(float, one)) * math.hypot(*map(float, other)))
