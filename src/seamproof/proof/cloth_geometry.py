"""Cloth on a table: the proof's own geometry, shared with no other stage.

A point is a complex number, x + yj inches, **y downwards**; a polygon a tuple of points, clockwise
as seen (so that its area is positive). Cloth is kept as convex faces that do not overlap. All of it
is floating point; whoever compares says to what width (`HAIR`). Lengths that a maker reads are
added up in fractions elsewhere.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from seamproof.length.rounding import SAME
from seamproof.plane.model import Point

HAIR = 8 * float(SAME)
"""A strip of cloth narrower than this is nothing: an eight-thousandth of an inch, a fiftieth of a
thread. Eight times `SAME`, because faces are carried through one motion after another and each of
them rests on corners that were kept to a multiple of 2**-20 in."""

NO_WAY = 1e-9
"""Two points nearer than this are one, and have no direction from one to the other: far below
`SAME`, far above the noise of floating point on any block."""

Polygon = tuple[complex, ...]


def point(p: Point) -> complex:
    """A point given in fractions."""
    return complex(float(p[0]), float(p[1]))


def polygon(points: Iterable[Point]) -> Polygon:
    """A polygon given in fractions."""
    return tuple(point(p) for p in points)


def cross(a: complex, b: complex) -> float:
    """The area between two directions: positive if b points to the right of a as seen."""
    return a.real * b.imag - a.imag * b.real


def area(shape: Polygon) -> float:
    """Area in square inches, positive for a polygon that runs clockwise as seen.

    >>> area((0, 2, 2 + 1j, 1j)), area(())
    (2.0, 0.0)
    """
    if not shape:
        return 0.0
    total, before = 0.0, shape[-1]
    for p in shape:
        total += before.real * p.imag - before.imag * p.real
        before = p
    return total / 2


def box(points: Iterable[complex]) -> tuple[float, float, float, float]:
    """Left, top, right, bottom."""
    some = list(points)
    xs, ys = [p.real for p in some], [p.imag for p in some]
    return min(xs), min(ys), max(xs), max(ys)


def apart(a: tuple[float, float, float, float], b: tuple[float, float, float, float]) -> bool:
    """Whether two boxes have no area in common."""
    return a[0] >= b[2] or b[0] >= a[2] or a[1] >= b[3] or b[1] >= a[3]


def nothing(shape: Polygon, width: float = HAIR) -> bool:
    """Whether a convex polygon is empty or nowhere wider than `width`.

    >>> nothing((0, 4, 4 + 0.00001j)), nothing((0, 4, 4 + 1j)), nothing((0, 1))
    (True, False, True)
    """
    if len(shape) < 3:
        return True
    longest = max(abs(shape[i] - shape[i - 1]) for i in range(len(shape)))
    return longest <= width or 2 * area(shape) <= width * longest


# Half planes --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Ray:
    """A straight line with a direction of length 1. Distances `off` it are positive on the right
    as seen when walking along it."""

    start: complex
    ahead: complex

    @classmethod
    def through(cls, a: complex, b: complex) -> Ray:
        """The line from a towards b. The points must differ."""
        return cls(a, (b - a) / abs(b - a))

    def off(self, p: complex) -> float:
        """How far right of the line p lies.

        >>> Ray.through(0, 4).off(3 + 2j)
        2.0
        """
        return cross(self.ahead, p - self.start)

    def along(self, p: complex) -> float:
        """How far along the line p lies, from its start."""
        d = p - self.start
        return self.ahead.real * d.real + self.ahead.imag * d.imag

    def at(self, distance: float) -> complex:
        """The point so far along."""
        return self.start + self.ahead * distance

    def back(self) -> Ray:
        """The same line walked the other way."""
        return Ray(self.start, -self.ahead)

    def moved(self, right: float) -> Ray:
        """The parallel line so far to the right."""
        return Ray(self.start + self.ahead * 1j * right, self.ahead)

    def turned_over(self, p: complex) -> complex:
        """Where p comes to lie when the cloth is turned over this line."""
        return self.start + self.ahead * self.ahead * (p - self.start).conjugate()


def right_of(shape: Polygon, line: Ray) -> Polygon:
    """The part of a convex polygon on the right of a line; () if there is none.

    >>> right_of((0, 4, 4 + 4j, 4j), Ray.through(1j, 4 + 1j))
    (1j, (4+1j), (4+4j), 4j)
    """
    ux, uy, start = line.ahead.real, line.ahead.imag, line.start
    level = ux * start.imag - uy * start.real
    offs = [ux * p.imag - uy * p.real - level for p in shape]
    if not offs or max(offs) <= 0:
        return ()
    if min(offs) >= 0:
        return shape
    cut: list[complex] = []
    for i, (p, d) in enumerate(zip(shape, offs, strict=True)):
        before, db = shape[i - 1], offs[i - 1]
        if (d > 0 > db) or (d < 0 < db):
            cut.append(before + (p - before) * (db / (db - d)))
        if d >= 0:
            cut.append(p)
    return tuple(cut) if len(cut) > 2 else ()


def edges(shape: Polygon) -> list[Ray]:
    """The sides of a polygon as lines; what lies inside a convex one is right of all of them."""
    return [
        Ray.through(shape[i - 1], b) for i, b in enumerate(shape) if abs(b - shape[i - 1]) > NO_WAY
    ]


def common(a: Polygon, b: Polygon) -> Polygon:
    """What two convex polygons have in common; () if nothing.

    >>> common((0, 4, 4 + 4j, 4j), (2 + 2j, 6 + 2j, 6 + 6j, 2 + 6j))
    ((2+2j), (4+2j), (4+4j), (2+4j))
    """
    for edge in edges(b):
        a = right_of(a, edge)
        if not a:
            return ()
    return a


def without(shape: Polygon, hole: Polygon) -> list[Polygon]:
    """What is left of a convex polygon where another convex one is taken away, in convex faces.

    >>> [area(p) for p in without((0, 4, 4 + 4j, 4j), (1 + 1j, 3 + 1j, 3 + 3j, 1 + 3j))]
    [4.0, 3.0, 3.0, 2.0]
    >>> without((0, 1, 1j), (5, 6, 5 + 1j))
    [(0, 1, 1j)]
    """
    if apart(box(shape), box(hole)):
        return [shape]
    left: list[Polygon] = []
    rest = shape
    for edge in edges(hole):
        outside = right_of(rest, edge.back())
        if not nothing(outside):
            left.append(outside)
        rest = right_of(rest, edge)
        if nothing(rest):
            return [shape]  # nothing is taken away; the faces found so far are only slices of it
    return left


def chord(shape: Polygon, line: Ray, *, touching: bool = False) -> tuple[float, float] | None:
    """From where to where a line runs inside a convex polygon, in inches along the line; None if it
    misses it, or runs along its edge and that is not counted (`touching`).

    >>> chord((0, 4, 4 + 4j, 4j), Ray.through(-1 + 1j, 1j))
    (1.0, 5.0)
    >>> chord((0, 4, 4j), Ray.through(9j, 1 + 9j)) is None
    True
    """
    low, high = -math.inf, math.inf
    for edge in edges(shape):
        slope, off = cross(edge.ahead, line.ahead), edge.off(line.start)
        if abs(slope) < NO_WAY:
            if off < -HAIR or (off <= HAIR and not touching):
                return None
        elif slope > 0:
            low = max(low, -off / slope)
        else:
            high = min(high, -off / slope)
    return (low, high) if high - low > HAIR else None


# Any simple polygon -------------------------------------------------------------------------------


def straightened(shape: Polygon) -> Polygon:
    """The polygon without the points at which its edge runs straight on.

    >>> straightened((0, 1, 2, 2 + 2j, 2j))
    (0, 2, (2+2j), 2j)
    """
    count = len(shape)
    return tuple(
        p
        for i, p in enumerate(shape)
        if abs(cross(shape[(i + 1) % count] - shape[i - 1], p - shape[i - 1]))
        > HAIR * max(abs(shape[(i + 1) % count] - shape[i - 1]), HAIR)
    )


def hull(points: Iterable[complex]) -> Polygon:
    """The least convex polygon round some points, without those on its sides.

    >>> hull((0, 1, 2, 2 + 2j, 1 + 1j, 2j))
    (0, 2, (2+2j), 2j)
    >>> hull(())
    ()
    """
    own: list[complex] = []
    for p in points:
        if all(abs(p - q) > HAIR for q in own):
            own.append(p)
    own.sort(key=lambda p: (p.real, p.imag))
    rims: list[complex] = []
    for way in (own, own[::-1]):
        rim: list[complex] = []
        for p in way:
            while len(rim) > 1 and cross(rim[-1] - rim[-2], p - rim[-1]) <= 0:
                rim.pop()
            rim.append(p)
        rims += rim[:-1]
    return straightened(tuple(rims))


def pushed_out(shape: Polygon, by: float) -> Polygon:
    """The polygon with every side moved outwards by so much, corner i from corner i.

    >>> pushed_out((0, 4, 4 + 2j, 2j), 0.5)
    ((-0.5-0.5j), (4.5-0.5j), (4.5+2.5j), (-0.5+2.5j))
    """
    count = len(shape)
    sides = [Ray.through(shape[i], shape[(i + 1) % count]).moved(-by) for i in range(count)]
    return tuple(_meeting(sides[i - 1], sides[i]) for i in range(count))


def _meeting(a: Ray, b: Ray) -> complex:
    return a.at(cross(b.start - a.start, b.ahead) / cross(a.ahead, b.ahead))


def convex_faces(shape: Polygon) -> list[Polygon]:
    """A simple polygon as convex faces: itself if it is convex, else triangles.

    >>> [area(face) for face in convex_faces((0, 4, 4 + 4j, 4j))]
    [16.0]
    >>> sum(area(face) for face in convex_faces((0, 4, 4 + 1j, 1 + 1j, 1 + 4j, 4j)))
    7.0
    """
    left = list(straightened(shape))
    faces: list[Polygon] = []
    while len(left) > 3 and not _is_convex(left):
        ear = next((i for i in range(len(left)) if _is_ear(left, i)), None)
        if ear is None:
            break
        faces.append((left[ear - 1], left[ear], left[(ear + 1) % len(left)]))
        del left[ear]
    faces.append(tuple(left))
    return faces


def _is_convex(shape: Sequence[complex]) -> bool:
    count = len(shape)
    return all(
        cross(shape[i] - shape[i - 1], shape[(i + 1) % count] - shape[i]) >= 0 for i in range(count)
    )


def _is_ear(shape: Sequence[complex], i: int) -> bool:
    a, b, c = shape[i - 1], shape[i], shape[(i + 1) % len(shape)]
    if cross(b - a, c - b) <= 0:
        return False
    sides = edges((a, b, c))
    others = (p for p in shape if p not in (a, b, c))
    return not any(all(side.off(p) >= 0 for side in sides) for p in others)


def inside(shape: Polygon, p: complex) -> bool:
    """Whether p lies in a simple polygon; on its edge either answer may come.

    >>> inside((0, 4, 4 + 1j, 1 + 1j, 1 + 4j, 4j), 2 + 3j), inside((0, 4, 4j), 1 + 1j)
    (False, True)
    """
    found = False
    for i, b in enumerate(shape):
        a = shape[i - 1]
        if (a.imag > p.imag) != (b.imag > p.imag):
            x = a.real + (p.imag - a.imag) / (b.imag - a.imag) * (b.real - a.real)
            found ^= p.real < x
    return found


def axis(shape: Polygon) -> Ray | None:
    """The line that halves a shape into mirror twins, with a direction; None if there is none. Of
    several the longest way through the shape.

    >>> axis((0, 4, 4 + 4j, 4j)).ahead == Ray.through(0, 4 + 4j).ahead
    True
    >>> axis((0, 4, 1 + 1j)) is None
    True
    """
    count = len(shape)
    marks = [p for i, b in enumerate(shape) for p in (b, (b + shape[(i + 1) % count]) / 2)]
    found = [
        (abs(q - p), line)
        for p, q in zip(marks, marks[count:], strict=False)
        for line in [Ray.through(p, q)]
        if all(min(abs(line.turned_over(a) - b) for b in shape) <= HAIR for a in shape)
    ]
    return max(found, key=lambda one: one[0], default=(0.0, None))[1]


# Motions ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Motion:
    """Cloth moved on the table without stretching it; `over` if it is turned face down, or back."""

    turn: complex
    shift: complex
    over: bool = False

    def __call__(self, p: complex) -> complex:
        """Where a point of the cloth comes to lie."""
        return self.turn * (p.conjugate() if self.over else p) + self.shift

    def shape(self, shape: Polygon) -> Polygon:
        """A polygon moved; it still runs clockwise as seen."""
        moved = [self(p) for p in shape]
        return tuple(reversed(moved)) if self.over else tuple(moved)

    def after(self, first: Motion) -> Motion:
        """This motion, done after another one."""
        turn = self.turn * (first.turn.conjugate() if self.over else first.turn)
        return Motion(turn, self(first.shift), self.over != first.over)


def fold(line: Ray) -> Motion:
    """Cloth turned over a line, like a page.

    >>> fold(Ray.through(2, 2 + 4j))(1 + 3j)
    (3+3j)
    """
    turn = line.ahead * line.ahead
    return Motion(turn, line.start - turn * line.start.conjugate(), over=True)


def motion(source: Sequence[complex], target: Sequence[complex], *, over: bool) -> Motion | None:
    """The motion that brings point i of `source` onto point i of `target`, to within `SAME`; None
    if there is none.

    >>> motion((0, 2, 2 + 1j), (5, 5 + 2j, 4 + 2j), over=False)(1)
    (5+1j)
    >>> motion((0, 2, 2 + 1j), (0, 2, 2 - 1j), over=False) is None
    True
    """
    if len(source) != len(target):
        return None
    if over:
        source = [p.conjugate() for p in source]
    middle = sum(source) / len(source)
    to = sum(target) / len(target)
    pull = sum((q - to) * (p - middle).conjugate() for p, q in zip(source, target, strict=True))
    if abs(pull) == 0:
        return None
    turn = _exact_quarter(pull / abs(pull))
    found = Motion(turn, to - turn * middle, over)
    worst = max(abs(turn * p + found.shift - q) for p, q in zip(source, target, strict=True))
    return found if worst <= 2 * float(SAME) else None


def _exact_quarter(turn: complex) -> complex:
    """Quarter turns free of the last digit's noise, so that what lies on the grid stays there."""
    for quarter in (1 + 0j, 1j, -1 + 0j, -1j):
        if abs(turn - quarter) < NO_WAY:
            return quarter
    return turn
