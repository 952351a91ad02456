"""Lines that err a little, and where they meet.

Everything is reckoned to first order in the errors. A line is known by how far it lies off its
nominal place at two points of it; so whatever happens to it later is a weighted sum of what it was,
and the weights depend on the drawing alone, not on the maker.

The plane is that of the part, as complex numbers: x to the right, y downwards. The *normal* of a
line that runs from `start` to `end` points to its left as seen. Outlines run clockwise as seen, so
the normal of an outline edge points outwards. A *row* holds the weights of one length.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from seamproof.plane.model import Placed, Point

Array = NDArray[np.float64]

Drawn = NDArray[np.float32] | NDArray[np.float64]
"""What was drawn by lot: seven places are enough."""

NEAR = 1e-4
"""Two points nearer than this, in inches, are the same: a hundred times the rounding of a
coordinate, a thousandth of the shortest edge that is drawn."""

FLAT = 0.05
"""Two lines whose directions differ by less than this (3 degrees) are not taken to cross."""


@dataclass(frozen=True, slots=True)
class Line:
    """A nominal line of finished work: an edge of a part (`raw`: the cloth goes on one allowance
    further), or a seam that ends at its outline. A raw edge is `trimmed` if it was cut by the ruler
    after its part was sewn.

    `length` is in inches; `along` is its direction and `normal` that to its left as seen, both one
    inch long. They are asked for so often that they are kept.

    >>> edge = Line(0j, 3 + 0j, raw=True)
    >>> edge.length, edge.along, edge.normal
    (3.0, (1+0j), -1j)
    """

    start: complex
    end: complex
    raw: bool
    trimmed: bool = field(default=False, compare=False)
    length: float = field(init=False, repr=False, compare=False)
    along: complex = field(init=False, repr=False, compare=False)
    normal: complex = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        length = abs(self.end - self.start)
        along = (self.end - self.start) / length
        object.__setattr__(self, "length", length)
        object.__setattr__(self, "along", along)
        object.__setattr__(self, "normal", -1j * along)

    def place(self, point: complex) -> float:
        """How far along it a point lies, from its start."""
        along, start = self.along, self.start
        return along.real * (point.real - start.real) + along.imag * (point.imag - start.imag)

    def has(self, point: complex) -> bool:
        """Whether a point lies on it, ends included."""
        reach = self.place(point)
        off = abs(dot(self.normal, point - self.start))
        return off < NEAR and -NEAR < reach < self.length + NEAR

    def ends_at(self, point: complex) -> bool:
        """Whether one of its ends is this point."""
        return same(self.start, point) or same(self.end, point)

    def away_from(self, point: complex) -> complex:
        """Its direction as seen from the one of its ends that is `point`."""
        return self.along if same(self.start, point) else -self.along

    def turned(self) -> Line:
        """The same line from its other end."""
        return Line(self.end, self.start, self.raw, self.trimmed)

    def moved(self, put: Putting) -> Line:
        """The same line of a part that is placed."""
        line: Line = object.__new__(Line)  # its length is known: this is done for thousands
        turn, shift, keep = put.turn, put.shift, object.__setattr__
        keep(line, "start", self.start * turn + shift)
        keep(line, "end", self.end * turn + shift)
        keep(line, "raw", self.raw)
        keep(line, "trimmed", self.trimmed)
        keep(line, "length", self.length)
        keep(line, "along", self.along * turn)
        keep(line, "normal", self.normal * turn)
        return line


@dataclass(frozen=True, slots=True)
class Putting:
    """How a part is turned and moved to its place in another."""

    turn: complex
    shift: complex

    def __call__(self, point: complex) -> complex:
        """Where a point of the part comes to lie."""
        return point * self.turn + self.shift

    def after(self, inner: Putting) -> Putting:
        """First `inner`, then this.

        >>> quarter = Putting(1j, 0j)
        >>> quarter.after(Putting(1 + 0j, 1 + 0j))(0j)
        1j
        """
        return Putting(self.turn * inner.turn, self(inner.shift))


def putting(placed: Placed) -> Putting:
    """The same from the piecing plan: turned clockwise as seen, then moved.

    >>> from fractions import Fraction as F
    >>> putting(Placed(0, F(1, 4), (F(3), F(0))))(1 + 0j)
    (3+1j)
    """
    quarters = placed.turn * 4
    exact = quarters.denominator == 1
    turn = 1j ** int(quarters) if exact else complex(np.exp(2j * np.pi * float(placed.turn)))
    return Putting(turn, spot(placed.at))


def spot(point: Point) -> complex:
    """A point of the drawing as one number."""
    return complex(float(point[0]), float(point[1]))


def dot(one: complex, other: complex) -> float:
    """The inner product of two directions."""
    return one.real * other.real + one.imag * other.imag


def same(one: complex, other: complex) -> bool:
    """Whether two points are one."""
    return abs(one - other) < NEAR


def at(line: Line, start: Array, end: Array, place: float) -> Array:
    """The row of how far a line lies off at a place along it, from the rows at its two ends; the
    place may lie beyond them."""
    share = place / line.length
    return (1 - share) * start + share * end


def slide(line: Line, across: Array, other: Line, offset: Array) -> Array:
    """The row of how far the point in which two lines meet moves along `line`, if `line` is off by
    `across` there, and `other` by `offset`.

    >>> edge, end = Line(0j, 3 + 0j, raw=True), Line(3 + 0j, 3 + 3j, raw=True)
    >>> one, two = np.array([0.02]), np.array([0.01])
    >>> float(slide(edge, one, end, two)[0])
    0.01
    """
    return along(line.along, line.normal, across, other, offset)


def along(direction: complex, normal: complex, across: Array, other: Line, offset: Array) -> Array:
    """The same for any direction and the normal that `across` is measured along."""
    return (offset - dot(other.normal, normal) * across) / dot(other.normal, direction)


def meet(one: Line, first: Array, other: Line, second: Array) -> tuple[Array, Array]:
    """The rows of how far, in x and in y, the point moves in which two lines meet."""
    inverse = np.linalg.inv(
        np.array(
            [[one.normal.real, one.normal.imag], [other.normal.real, other.normal.imag]],
        )
    )
    return (
        inverse[0, 0] * first + inverse[0, 1] * second,
        inverse[1, 0] * first + inverse[1, 1] * second,
    )


def toward(direction: complex, one: Line, first: Array, other: Line, second: Array) -> Array:
    """The row of how far the point in which two lines meet moves in a direction."""
    x, y = meet(one, first, other, second)
    row: Array = direction.real * x + direction.imag * y
    return row


def crosses(one: Line, other: Line) -> bool:
    """Whether two lines differ enough in direction to meet in a point."""
    return abs(dot(one.normal, other.along)) > FLAT


def fitted(places: Sequence[float], weights: Sequence[float], wanted: Sequence[float]) -> Array:
    """Weights that give the least-squares straight line through values at `places`, evaluated at
    the places that are `wanted`: shape (wanted, places).

    >>> fitted([0, 2], [1, 1], [1]).tolist()
    [[0.5, 0.5]]
    """
    heavy, where = np.asarray(weights, float), np.asarray(places, float)
    total = heavy.sum()
    middle = heavy @ where / total
    away = where - middle
    lean = heavy * away / (heavy @ away**2)
    fit: Array = heavy / total + (np.asarray(wanted, float) - middle)[:, None] * lean
    return fit


def next_to(line: Line, point: complex, others: Iterable[Line]) -> Line | None:
    """Which of the other lines that end at `point`, an end of the outline edge `line`, bounds the
    patch of that edge there: the first one met when turning from the edge into the patch. None if
    no line ends there."""
    inwards = 1j if same(line.start, point) else -1j
    base = line.away_from(point)
    best: tuple[float, Line] | None = None
    for other in others:
        if other is line or not other.ends_at(point):
            continue
        seen = other.away_from(point) / base
        angle = cmath.phase(seen if inwards == 1j else seen.conjugate()) % math.tau
        if angle > FLAT and (best is None or angle < best[0]):
            best = (angle, other)
    return None if best is None else best[1]


def reach(line: Line, point: complex, other: Line | None, allowance: float) -> float:
    """Where along the outline edge `line` its cloth ends near `point`, if `other` bounds it there:
    at a raw edge one allowance further out, at a seam on the seam's line."""
    place = line.place(point)
    if other is None or not crosses(line, other):
        return place
    off = allowance if other.raw else 0.0
    return place + (off - dot(other.normal, line.normal) * allowance) / dot(
        other.normal, line.along
    )
