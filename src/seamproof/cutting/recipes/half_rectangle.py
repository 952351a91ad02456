"""Half-rectangle triangles, in both hands.

The seam of the finished unit runs from corner to corner, so in the unfinished unit it runs through
the points one allowance inside two corners, and not into these corners themselves. Laid right sides
together, edge on long edge, the two triangles are each other's mirror image end for end: the sharp
tip of each sticks out beyond the other.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Recipe, Step, Stock
from seamproof.cutting.recipes.making import (
    Method,
    Wanted,
    finished_by,
    last_name,
    measured,
    to_trim,
)
from seamproof.cutting.recipes.shapes import hand_of
from seamproof.cutting.table import exact, opened, rectangle, sewn_run
from seamproof.plane.model import Line, Point, Polygon
from seamproof.plane.predicates import area

KIND = "half-rectangle triangle"

OFF_GRAIN = math.radians(3)
"""An edge that leaves the thread by less than this is still called straight: it is what cloth that
was pulled straight by hand may be off (common practice, no source)."""


def need(width: Fraction, height: Fraction, seam: Fraction) -> tuple[float, float]:
    """Width and height of the rectangle of which half is one of the triangles.

    A right triangle with one allowance all round is the finished one enlarged about the middle of
    its inscribed circle, whose radius r grows by the allowance: both legs grow by (r + s) / r.

    >>> [round(n, 4) for n in need(Fraction(4), Fraction(2), Fraction(1, 4))]
    [5.309, 2.6545]
    >>> need(Fraction(4), Fraction(2), Fraction(0))
    (4.0, 2.0)
    """
    w, h, s = float(width), float(height), float(seam)
    r = (w + h - math.hypot(w, h)) / 2
    return w * (r + s) / r, h * (r + s) / r


def need_of_two(width: Fraction, height: Fraction, seam: Fraction) -> tuple[float, float]:
    """Width and height of the rectangles from which two units are made at a time.

    Laid diagonal on diagonal, the triangles lie end on end, and in the unit they must be shifted
    along the seam by what one tip sticks out beyond the other; the diagonal must be longer by that.

    >>> [round(n, 4) for n in need_of_two(Fraction(4), Fraction(2), Fraction(1, 4))]
    [5.8944, 2.9472]
    >>> need_of_two(Fraction(4), Fraction(2), Fraction(0))
    (4.0, 2.0)
    """
    wide, high = need(width, height, seam)
    long = math.hypot(wide, high)
    more = (long + abs(shift(width, height, seam))) / long
    return wide * more, high * more


def shift(width: Fraction, height: Fraction, seam: Fraction) -> float:
    """How far the tip of the lower triangle's short leg sticks out beyond the corner of the upper
    triangle that lies there, along the seam; negative if that corner sticks out.

    An angle's corner moves out along the seam by s times the cotangent of half the angle.

    >>> round(shift(Fraction(4), Fraction(2), Fraction(1, 4)), 4)
    -0.6545
    """
    w, h, s = float(width), float(height), float(seam)
    long = math.hypot(w, h)
    return s * ((long + h) / w - (long + w) / h)


@dataclass(frozen=True, slots=True)
class FromTriangles(Method):
    """Two triangles, each half a rectangle, sewn along their long sides."""

    kind: str = KIND
    name: str = "from triangles"

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: rectangles of the fabric at the top, then of the other, each cut once on the
        diagonal of the unit's hand."""
        return _recipe(self, wanted, settings, letters, at_once=1)


@dataclass(frozen=True, slots=True)
class TwoAtATime(Method):
    """Two rectangles laid diagonal on diagonal, sewn on both sides of it and cut apart on it: two
    units of one hand."""

    kind: str = KIND
    name: str = "two at a time"

    def suits(self, wanted: Wanted) -> bool:  # noqa: ARG002 - whatever the count
        """Never by itself: it takes more cloth, and the rectangles lie crosswise."""
        return False

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: rectangles of the fabric at the top, then of the other."""
        return _recipe(self, wanted, settings, letters, at_once=2)


def _recipe(
    method: Method,
    wanted: Wanted,
    settings: CuttingSettings,
    letters: Sequence[str],
    *,
    at_once: int,
) -> Recipe:
    unit = wanted.like.unit
    asked = (need if at_once == 1 else need_of_two)(unit.width, unit.height, settings.seam)
    wide, high = (to_trim(side, KIND, settings) for side in asked)
    rounds = -(-wanted.count // 2)
    crosswise = at_once == 2
    if crosswise:
        # Cut as exactly as may be, what lies end on end has tips that are too long for the unit.
        settings = replace(settings, sizes="trimmed")
    hand = hand_of(wanted.like.patches[0].corners)
    pieces = tuple(
        method.piece(
            wanted, letters[role], role, (wide, high), rounds, split=3 - at_once, hand=hand
        )
        for role in (0, 1)
    )
    laid = _Laid.of(wanted, wide.shown, high.shown, settings.seam, crosswise=crosswise)
    count = wanted.count if at_once == 1 else rounds
    name = last_name(wanted, settings)
    sew = laid.sewn(letters, count, name, settings, crosswise=crosswise)
    sewn = sew.gives[0]
    to = rectangle(
        Fraction(0), Fraction(0), unit.width + 2 * settings.seam, unit.height + 2 * settings.seam
    )
    if settings.sizes == "exact":
        steps = finished_by(wanted, settings, (sew,), laid.out(to))
    else:
        # The maker turns the unit until its seam lies right, so it is shown turned.
        lying = Stock(sewn.what, laid.straight(sewn.corners), sewn.count)
        trimming = finished_by(wanted, settings, (Step("sew", (), (lying,)),), to)[-1]
        steps = (sew, trimming)
    made = count * at_once
    recipe = method.recipe(wanted, settings, pieces, steps, gives=at_once, made=made, hand=hand)
    return replace(recipe, bias_edges=4 if abs(laid.askew) > OFF_GRAIN else 0)


@dataclass(frozen=True, slots=True)
class _Laid:
    """How the cloth lies on the table: the rectangle of the lower piece has its upper left corner
    at (0, 0), is `wide` and `high`, and its seam rises from the lower left to the upper right;
    `mirrored` says that all is to be seen in a mirror, from left to right.

    The cut edge runs from the lower piece's upper right corner, `ahead` is its direction.
    `start` is where along it the raw triangle of the finished patch begins, `reach` how long the
    cut edge is. The cut edge leans from the seam of the upright unit by `askew`, in radians.
    """

    wide: float
    high: float
    unit: tuple[float, float]
    seam: float
    start: float
    mirrored: bool

    @classmethod
    def of(
        cls, wanted: Wanted, wide: Fraction, high: Fraction, seam: Fraction, *, crosswise: bool
    ) -> _Laid:
        """The triangle of the patch lies within the cut one as far from its limits as can be; with
        rectangles laid `crosswise` there is only one way."""
        unit = wanted.like.unit
        w, h = float(unit.width), float(unit.height)
        cut_w, cut_h = float(wide), float(high)
        raw_w, raw_h = need(unit.width, unit.height, seam)
        spare = math.hypot(cut_w, cut_h) - math.hypot(raw_w, raw_h)
        deep = raw_w * raw_h / math.hypot(raw_w, raw_h)
        low = max(0.0, deep * (cut_w / cut_h - w / h))
        most = spare + min(0.0, deep * (h / w - cut_h / cut_w))
        start = (low + most) / 2
        if crosswise:
            start = (spare + shift(unit.width, unit.height, seam)) / 2
        right = next(name for name, _ in unit.roles) == "upper right"
        return cls(cut_w, cut_h, (w, h), float(seam), start, right)

    @property
    def reach(self) -> float:
        """How long the cut edge is."""
        return math.hypot(self.wide, self.high)

    @property
    def askew(self) -> float:
        """By how much, in radians, the unit is turned on the table, clockwise as seen."""
        w, h = self.unit
        return math.atan2(h, w) - math.atan2(self.high, self.wide)

    def at(self, along: float, inside: float) -> tuple[float, float]:
        """A point on the table by its place along the cut edge and its distance from it, towards
        the lower piece's right angle."""
        ux, uy = -self.wide / self.reach, self.high / self.reach
        return self.wide + along * ux - inside * uy, along * uy + inside * ux

    def seen(self, corners: Sequence[tuple[float, float]]) -> Polygon:
        """Corners as they are kept: in a mirror if need be, clockwise as seen."""
        points: list[Point] = [
            (exact(self.wide - x if self.mirrored else x), exact(y)) for x, y in corners
        ]
        return tuple(points if area(points) > 0 else [points[0], *points[:0:-1]])

    def line(self, start: tuple[float, float], end: tuple[float, float]) -> Line:
        """A line as it is kept."""
        (ax, ay), (bx, by) = ((self.wide - x if self.mirrored else x, y) for x, y in (start, end))
        return (exact(ax), exact(ay)), (exact(bx), exact(by))

    def sewn(
        self,
        letters: Sequence[str],
        count: int,
        name: str,
        settings: CuttingSettings,
        *,
        crosswise: bool,
    ) -> Step:
        """The seam: of two triangles, or of two rectangles that are cut apart afterwards."""
        long, deep = self.reach, self.wide * self.high / self.reach
        foot = self.wide * self.wide / long
        corner = (0.0, 0.0)
        ends = (self.wide, 0.0), (0.0, self.high)
        if crosswise:
            lower = self.seen([corner, ends[0], (self.wide, self.high), ends[1]])
            over = self.at(long - foot, deep), self.at(foot, -deep)
            upper = self.seen([over[0], ends[0], over[1], ends[1]])
            cuts: tuple[Line, ...] = (self.line(ends[1], ends[0]),)
        else:
            lower = self.seen([corner, *ends])
            # The upper triangle lies end for end: its short tip where the long one is beneath.
            far = 2 * self.start + self._raw() - self._shift()
            upper = self.seen(
                [self.at(far - foot, deep), self.at(far, 0.0), self.at(far - long, 0.0)]
            )
            cuts = ()
        near = self.line(self.at(long, self.seam), self.at(0.0, self.seam))
        far_side = self.line(self.at(long, -self.seam), self.at(0.0, -self.seam))
        stitched = tuple(
            sewn_run(lower, upper, line) for line in ((near, far_side) if crosswise else (near,))
        )
        shown = opened(lower, [upper], stitched[0], cuts=cuts)
        return Step(
            "sew",
            takes=(Stock(letters[0], lower, count), Stock(letters[1], upper, count, "down")),
            gives=(Stock(name, shown, count * (2 if crosswise else 1)),),
            drawn=cuts,
            stitched=stitched,
            cuts=cuts,
            measure=measured(shown, settings.step),
        )

    def _raw(self) -> float:
        w, h = (Fraction(side) for side in self.unit)
        return math.hypot(*need(w, h, Fraction(self.seam)))

    def _shift(self) -> float:
        w, h = (Fraction(side) for side in self.unit)
        return shift(w, h, Fraction(self.seam))

    def _origin(self) -> tuple[float, float]:
        """Where on the table the upper left raw corner of the unit lies."""
        w, h = self.unit
        half = (math.hypot(w, h) + w) / h  # cotangent of half the angle at the upper right
        x, y = self.at(self.start + self.seam * half, self.seam)
        c, s = math.cos(self.askew), math.sin(self.askew)
        # From the finished upper right corner: a width and an allowance back, an allowance up.
        dx, dy = -w - self.seam, -self.seam
        return x + c * dx - s * dy, y + s * dx + c * dy

    def straight(self, corners: Polygon) -> Polygon:
        """A thing from the table, turned so that the unit in it lies upright with its upper left
        raw corner at (0, 0)."""
        ox, oy = self._origin()
        c, s = math.cos(self.askew), math.sin(self.askew)
        width = self.unit[0] + 2 * self.seam
        found = []
        for x, y in corners:
            px, py = float(self.wide - x if self.mirrored else x) - ox, float(y) - oy
            qx, qy = c * px + s * py, -s * px + c * py
            found.append((exact(width - qx if self.mirrored else qx), exact(qy)))
        return tuple(found)

    def out(self, corners: Polygon) -> Polygon:
        """The other way: a thing in the frame of the upright unit, where it lies on the table."""
        ox, oy = self._origin()
        c, s = math.cos(self.askew), math.sin(self.askew)
        width = self.unit[0] + 2 * self.seam
        found = []
        for x, y in corners:
            qx, qy = float(width - x if self.mirrored else x), float(y)
            px, py = c * qx - s * qy + ox, s * qx + c * qy + oy
            found.append((exact(self.wide - px if self.mirrored else px), exact(py)))
        return tuple(found)
