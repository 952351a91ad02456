"""What kind of shape a patch is, and so how a ruler can cut it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from seamproof.length.exact import kept
from seamproof.length.rounding import SAME
from seamproof.plane.model import Point, Polygon
from seamproof.plane.predicates import distance, same_length, side

RULER_ANGLES = (30, 45, 60)
"""The slanted lines of a quilting ruler, in degrees (common practice, no source)."""

Look = Literal[
    "square",
    "rectangle",
    "right triangle, equal legs",
    "right triangle",
    "triangle by strip",
    "diamond",
    "parallelogram",
    "trapezoid",
    "hexagon",
    "wedge",
    "kite",
    "other",
]


@dataclass(frozen=True, slots=True)
class Seen:
    """A patch as a ruler sees it. `base` is the number of the side that lies on the strip's edge
    (for right triangles: of the leg that follows the right angle, going clockwise; for kites: the
    number of the corner from which they are measured lengthwise); `angle` that of the slanted cut,
    in degrees from it."""

    look: Look
    base: int = 0
    angle: int | None = None


def seen(corners: Polygon) -> Seen:
    """How a patch of straight sides, clockwise as seen, can be cut.

    >>> o, w, h = Fraction(0), Fraction(4), Fraction(2)
    >>> seen(((o, o), (w, o), (w, h), (o, h))).look, seen(((o, o), (w, o), (o, w))).look
    ('rectangle', 'right triangle, equal legs')
    >>> seen(((o, o), (w, o), (w + h, h), (h, h)))
    Seen(look='parallelogram', base=0, angle=45)
    >>> seen(((o, o), (w, o), (w - h, h), (o, h))).look, seen(((o, o), (w, o), (w + 1, h))).look
    ('trapezoid', 'other')
    >>> seen(((o, w), (h, o), (w, w))), seen(((h, o), (w, h), (h, w + 1), (o, h)))
    (Seen(look='wedge', base=2, angle=None), Seen(look='kite', base=0, angle=None))
    """
    look = _triangle(corners) if len(corners) == 3 else Seen("other")
    if len(corners) == 4:
        look = _four_sides(corners)
    if len(corners) == 6 and all(_angle(corners, k) == 120 for k in range(6)):
        sides = [distance(corners[k - 1], corners[k]) for k in range(6)]
        if all(same_length(sides[0], one) for one in sides):
            return Seen("hexagon", 0, 60)
    return look if look.look != "other" else _even(corners)


def _even(corners: Polygon) -> Seen:
    """A wedge or a kite: shapes that an axis halves and that are cut between marks on a strip."""
    count = len(corners)
    if count not in (3, 4) or any(
        side(corners[k - 1], corners[k], corners[(k + 1) % count]) <= 0 for k in range(count)
    ):
        return Seen("other")
    lengths = [distance(corners[k], corners[(k + 1) % count]) for k in range(count)]
    if count == 3:
        # The base lies between two equal sides.
        bases = [k for k in range(3) if same_length(lengths[k - 1], lengths[k - 2])]
        return Seen("wedge", bases[0]) if bases else Seen("other")
    for k in range(4):
        wide = _parallel(corners, k % 2) and lengths[k] > lengths[k - 2]
        if wide and same_length(lengths[k - 1], lengths[k - 3]):
            return Seen("wedge", k)
    kites = [
        k
        for k in range(4)
        if same_length(lengths[k - 1], lengths[k]) and same_length(lengths[k - 2], lengths[k - 3])
    ]
    if not kites:
        return Seen("other")
    return Seen("kite", max(kites, key=lambda k: (distance(corners[k], corners[k - 2]), -k)))


def _triangle(corners: Polygon) -> Seen:
    for k in range(3):
        if _angle(corners, k) == 90:
            legs = distance(corners[k - 1], corners[k]), distance(corners[k], corners[k - 2])
            return Seen("right triangle, equal legs" if same_length(*legs) else "right triangle", k)
    if all(_angle(corners, k) == 60 for k in range(3)):
        return Seen("triangle by strip", 0, 60)
    return Seen("other")


def _four_sides(corners: Polygon) -> Seen:
    angles = [_angle(corners, k) for k in range(4)]
    lengths = [distance(corners[k], corners[(k + 1) % 4]) for k in range(4)]
    if angles == [90, 90, 90, 90]:
        return Seen("square" if same_length(lengths[0], lengths[1]) else "rectangle")
    level = [k for k in (0, 1) if _parallel(corners, k)]
    if len(level) == 2:
        base = max(level, key=lambda k: (lengths[k] - lengths[1 - k] > SAME, -k))
        slant = min(_slope(angles[base]), 90)
        if slant not in RULER_ANGLES:
            return Seen("other")
        look: Look = "diamond" if same_length(lengths[0], lengths[1]) else "parallelogram"
        return Seen(look, base, slant)
    if len(level) == 1:
        base = level[0] if lengths[level[0]] >= lengths[level[0] + 2] else level[0] + 2
        slants = {_slope(angles[base]), _slope(angles[(base + 1) % 4])} - {90}
        if len(slants) == 1 and (slant := slants.pop()) in RULER_ANGLES:
            return Seen("trapezoid", base, slant)
    return Seen("other")


def _slope(angle: int) -> int:
    """The sharper of the two angles that a cut makes with the strip's edge."""
    return min(angle, 180 - angle) if angle > 0 else 0


def _parallel(corners: Polygon, k: int) -> bool:
    a, b, c, d = (corners[(k + i) % 4] for i in range(4))
    return side(a, b, (a[0] + c[0] - d[0], a[1] + c[1] - d[1])) == 0


def _angle(corners: Polygon, k: int) -> int:
    """The inner angle at corner k in whole degrees; 0 if it is none, or a corner that turns in."""
    before, here, after = corners[k - 1], corners[k], corners[(k + 1) % len(corners)]
    ax, ay = float(before[0] - here[0]), float(before[1] - here[1])
    bx, by = float(after[0] - here[0]), float(after[1] - here[1])
    angle = math.degrees(math.atan2(ax * by - ay * bx, ax * bx + ay * by)) % 360
    angle = 360 - angle
    near = round(angle)
    reach = max(math.hypot(ax, ay), math.hypot(bx, by))
    # Both ends of the sides are known to SAME.
    fine = abs(math.radians(angle - near)) * reach <= 4 * float(SAME)
    return near if fine and near < 180 else 0


def hand_of(corners: Polygon) -> Literal["either", "left", "right"]:
    """Which of two mirror twins a patch is; "either" if it is its own twin.

    >>> o, w, h = Fraction(0), Fraction(4), Fraction(2)
    >>> hand_of(((o, o), (w, o), (o, h))), hand_of(((o, o), (w, o), (w, h)))
    ('right', 'left')
    >>> hand_of(((o, o), (w, o), (o, w)))
    'either'
    """
    mine = _signature(corners)
    twin = _signature([(-x, y) for x, y in reversed(corners)])
    return "either" if mine == twin else "left" if mine < twin else "right"


def signature(corners: Polygon) -> tuple[tuple[int, int], ...]:
    """The same for all patches that one turned template cuts: lengths of sides and bends, from the
    first of the least on, in units of a thousandth of an inch and of a radian."""
    return _signature(corners)


def _signature(corners: Sequence[Point]) -> tuple[tuple[int, int], ...]:
    marks = []
    count = len(corners)
    for k in range(count):
        a, b, c = corners[k - 1], corners[k], corners[(k + 1) % count]
        ux, uy = float(b[0] - a[0]), float(b[1] - a[1])
        vx, vy = float(c[0] - b[0]), float(c[1] - b[1])
        bend = math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)
        marks.append((round(math.hypot(vx, vy) * 1000), round(bend * 1000)))
    return min(tuple(marks[k:] + marks[:k]) for k in range(count))


def strip_of(corners: Polygon, base: int) -> Fraction:
    """How wide a strip must be for a shape whose side number `base` lies on the strip's edge: the
    distance of the farthest corner from that side."""
    a, b = corners[base], corners[(base + 1) % len(corners)]
    length = distance(a, b)
    deep = max(abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) for p in corners)
    level = a[0] == b[0] or a[1] == b[1]
    return deep / kept(length) if level else kept(float(deep) / length)
