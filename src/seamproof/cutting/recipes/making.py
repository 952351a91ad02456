"""What every recipe is made with: what is wanted, the sizes to cut, and common steps."""

from __future__ import annotations

import math
import re
from abc import ABC, abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Hand, Piece, Recipe, Step, Stock
from seamproof.cutting.table import exact, rectangle, within
from seamproof.length.exact import kept
from seamproof.length.rounding import SAME, Rounding, Size, nearest, on_ruler, up
from seamproof.piecing.leaves import put
from seamproof.piecing.units import Likeness
from seamproof.plane.model import Line, Point, Polygon
from seamproof.plane.offsets import offset
from seamproof.plane.predicates import area, box


@dataclass(frozen=True, slots=True)
class Wanted:
    """`count` copies of a unit, and of its mirror `twin` if both hands are to be made at once.
    `settings` are those it will be made with."""

    like: Likeness
    count: int
    settings: CuttingSettings = field(default_factory=CuttingSettings)
    twin: Wanted | None = None

    @property
    def part(self) -> int:
        """Number of the part that is wanted."""
        return self.like.unit.part

    @property
    def kind(self) -> str:
        """Trade name of the unit."""
        return self.like.unit.kind

    @property
    def fabrics(self) -> tuple[str, ...]:
        """The fabric of each role, in the order of the pattern."""
        return tuple(fabric for _, fabric in self.like.unit.roles)

    def leaf(self, role: int) -> int:
        """The part number of the patch in a role."""
        return self.like.patches[role].part


@dataclass(frozen=True, slots=True)
class Method(ABC):
    """One way to make one kind of unit: `kind` in the words of `UnitKind`, `name` what the trade
    calls the way, such as "two at a time"."""

    kind: str
    name: str

    def fits(self, wanted: Wanted) -> bool:  # noqa: ARG002 - for those methods that do ask
        """Whether such a unit can be made this way at all; always, unless the method says when."""
        return True

    def suits(self, wanted: Wanted) -> bool:  # noqa: ARG002 - for those methods that do ask
        """Whether this way is chosen by itself for so many, if no earlier one is; always, unless
        the method says when."""
        return True

    @abstractmethod
    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """The recipe. `letters` are the names of its pieces, in its own order; there may be more
        than it needs."""

    def piece(
        self,
        wanted: Wanted,
        letter: str,
        role: int,
        cuts: Cut | tuple[Cut, Cut],
        count: int,
        *,
        split: int = 1,
        hand: Hand = "either",
    ) -> Piece:
        """Squares, or rectangles of two sizes, for one role: whole, or divided into 2 or 4
        triangles."""
        both = (cuts, cuts) if isinstance(cuts, Cut) else cuts
        short, long = sorted(both, key=lambda cut: cut.size.ruler)
        return Piece(
            letter=letter,
            fabric=wanted.fabrics[role],
            shape="square" if short.size.ruler == long.size.ruler else "rectangle",
            width=short.size,
            height=long.size,
            count=count,
            split="whole" if split == 1 else "once" if split == 2 else "twice",
            grain="either",
            rounding=long.rounding if short.rounding == "on the ruler" else short.rounding,
            part=wanted.leaf(role),
            unit=self.kind,
            method=self.name,
            hand=hand,
        )

    def recipe(
        self,
        wanted: Wanted,
        settings: CuttingSettings,
        pieces: Sequence[Piece],
        steps: Sequence[Step],
        *,
        gives: int = 1,
        made: int | None = None,
        hand: Hand = "either",
    ) -> Recipe:
        """The recipe of these pieces and steps; as many units as are wanted, unless another number
        is `made`. If the last step is trimming, all pieces say so."""
        made = wanted.count if made is None else made
        trim = trim_size(wanted, settings) if steps[-1].verb == "trim" else None
        sheets = sheets_of(wanted, settings.seam)
        return Recipe(
            unit=wanted.part,
            kind=self.kind,
            method=self.name,
            gives=gives,
            made=made,
            spare=made - wanted.count,
            pieces=tuple(replace(piece, trim=trim) for piece in pieces),
            steps=tuple(steps),
            hand=hand,
            sheets=sheets,
            trim=trim,
            waste=waste_of(pieces, sheets, made),
        )


MOST_PIECES = 200
"""No recipe has more kinds of pieces than this; a log cabin that has more is sewn as it is
drawn."""


def plain(text: str) -> str:
    """A method's name without what people write differently.

    >>> plain("Stitch and  flip"), plain("two-at-a-time")
    ('stitch and flip', 'two at a time')
    """
    return re.sub(r"[\s_,-]+", " ", text).strip().lower()


def oversize(kind: str, settings: CuttingSettings) -> Fraction:
    """What is added to a ruler size so that there is something to trim."""
    return Fraction(0) if settings.sizes == "exact" else settings.oversize.get(kind, Fraction(0))


@dataclass(frozen=True, slots=True)
class Cut:
    """A size to cut, and the size at which the piece is shown on the table."""

    size: Size
    shown: Fraction
    rounding: Rounding


def to_trim(need: float, kind: str, settings: CuttingSettings) -> Cut:
    """The size of a square whose unit is trimmed: up to the ruler, plus the oversize.

    With "exact" sizes nothing is trimmed: the piece is sewn as it is cut, up to the ruler, and
    shown at the size that geometry asks for.
    """
    if settings.sizes == "exact":
        return as_loose(need, settings)
    size = Size(up(need, settings.step) + oversize(kind, settings), need)
    return Cut(size, size.ruler, "trimmed")


def as_loose(need: float, settings: CuttingSettings) -> Cut:
    """The size of a square that is divided on its diagonal and sewn as it is cut: up to the ruler,
    which leaves less than a mark to spare."""
    ruler = up(need, settings.step)
    if abs(float(ruler) - need) <= SAME:
        return Cut(Size(ruler, need), ruler, "on the ruler")
    return Cut(Size(ruler, need), exact(need), "as cut")


def as_cut(need: Fraction, settings: CuttingSettings) -> Cut:
    """The size of a piece that is sewn as it is cut: the nearest mark."""
    rounding: Rounding = "on the ruler" if on_ruler(need, settings.step) else "as cut"
    ruler = nearest(need, settings.step)
    shown = ruler if rounding == "on the ruler" else need
    return Cut(Size(ruler, float(need)), shown, rounding)


def measured(corners: Sequence[Point], step: Fraction) -> tuple[Size, Size]:
    """Width and height of the upright box round a shape, each with the mark nearest to it."""
    low, high = box(corners)
    width, height = high[0] - low[0], high[1] - low[1]
    return _reading(width, step), _reading(height, step)


def _reading(length: Fraction, step: Fraction) -> Size:
    return Size(nearest(length, step), float(length))


def root2(seam: Fraction) -> Fraction:
    """How far along a straight side a seam at 45 degrees moves if it moves by its allowance."""
    return exact(float(seam) * math.sqrt(2))


def unfinished(wanted: Wanted, seam: Fraction) -> Polygon:
    """The unit from raw edge to raw edge in the pattern's frame, clockwise from the upper left."""
    return offset(wanted.like.outline, seam)


def in_part_order(corners: Polygon, wanted: Wanted, shift: int = 0) -> Polygon:
    """Four corners, clockwise from the pattern's upper left one, in the order of the part's
    outline. `shift` is the index of the pattern's upper left corner, if it is not the first."""
    first = wanted.like.first
    return tuple(corners[(k - first + shift) % 4] for k in range(4))


def part_name(number: int) -> str:
    """What finished parts are called on the table."""
    return f"part {number}"


def sewn_name(number: int, what: str) -> str:
    """What a half-made unit is called on the table."""
    return f"part {number}, {what}"


def last_name(wanted: Wanted, settings: CuttingSettings) -> str:
    """What the last seam of a unit gives: the finished part, or something still to be trimmed."""
    if settings.sizes == "exact":
        return part_name(wanted.part)
    return sewn_name(wanted.part, "sewn")


def finished_by(
    wanted: Wanted,
    settings: CuttingSettings,
    sewing: tuple[Step, ...],
    to: Polygon | None = None,
    shift: int = 0,
) -> tuple[Step, ...]:
    """The steps of a unit to the end: trimmed to the corners `to` of the last sewn thing, clockwise
    from the pattern's upper left one (`shift` says which that is), or to its middle; with exact
    sizes it is as large as that when it is sewn."""
    *before, last = sewing
    sewn = last.gives[0]
    to = to or centred(sewn.corners, *trim_size(wanted, settings))
    if settings.sizes != "exact":
        return (*sewing, _trimming(wanted, sewn, to, settings, shift))
    done = Stock(sewn.what, in_part_order(to, wanted, shift), sewn.count)
    return (*before, replace(last, gives=(done,), measure=measured(to, settings.step)))


def _trimming(
    wanted: Wanted,
    sewn: Stock,
    to: Polygon,
    settings: CuttingSettings,
    shift: int,
) -> Step:
    """Cutting a sewn unit down to four corners that lie on it, clockwise from the pattern's upper
    left one (or from the one before by `shift`)."""
    low, high = box(sewn.corners)
    (left, top), (right, bottom) = box(to)
    lines: list[Line] = []
    if left - low[0] > SAME:
        lines.append(((left, low[1]), (left, high[1])))
    if top - low[1] > SAME:
        lines.append(((low[0], top), (high[0], top)))
    if high[0] - right > SAME:
        lines.append(((right, low[1]), (right, high[1])))
    if high[1] - bottom > SAME:
        lines.append(((low[0], bottom), (high[0], bottom)))
    return Step(
        "trim",
        takes=(sewn,),
        gives=(Stock(part_name(wanted.part), in_part_order(to, wanted, shift), sewn.count),),
        cuts=tuple(lines),
        measure=measured(to, settings.step),
    )


def centred(size: Polygon, width: Fraction, height: Fraction) -> Polygon:
    """A rectangle in the middle of an upright one, clockwise from the upper left corner."""
    (left, top), (right, bottom) = box(size)
    return rectangle(
        kept((left + right - width) / 2), kept((top + bottom - height) / 2), width, height
    )


def trim_size(wanted: Wanted, settings: CuttingSettings) -> tuple[Fraction, Fraction]:
    """Width and height of the unit from raw edge to raw edge."""
    unit = wanted.like.unit
    return unit.width + 2 * settings.seam, unit.height + 2 * settings.seam


def sheets_of(wanted: Wanted, seam: Fraction) -> tuple[Polygon, ...]:
    """The cut pieces as they lie in the finished unit, in the frame of its part, in sewing order:
    each patch with its allowance, as far as the trimmed unit reaches."""
    edge = unfinished(wanted, seam)
    lying = [within(offset(leaf.corners, seam), edge) for leaf in wanted.like.patches]
    return tuple(
        put(lying[role], wanted.like.turn, wanted.like.at) for role in _roles_in_order(wanted.like)
    )


def _roles_in_order(like: Likeness) -> list[int]:
    """For each patch in sewing order its place among the roles."""
    return sorted(range(len(like.order)), key=lambda role: like.order[role])


def waste_of(pieces: Sequence[Piece], sheets: Sequence[Polygon], made: int) -> float:
    """The share of the cut cloth that is not in the trimmed units."""
    cloth = sum(piece.count * piece.width.ruler * piece.height.ruler for piece in pieces)
    used = made * sum((area(sheet) for sheet in sheets), Fraction(0))
    return float(1 - used / cloth) if cloth else 0.0
