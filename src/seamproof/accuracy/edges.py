"""The block's own edges: how wide, how high and how square it is, and the points along them.

A side is the best straight line through the ends of its raw pieces; a corner is where two sides
meet. Everything is a weighted sum of the rows of the block's lines.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

import numpy as np

from seamproof.accuracy.folding import clearance
from seamproof.accuracy.lines import (
    NEAR,
    Array,
    Line,
    at,
    crosses,
    dot,
    fitted,
    meet,
    next_to,
    reach,
    same,
)
from seamproof.accuracy.model import Source
from seamproof.accuracy.sewing import COMMON, FOLD, SEAM, Mark

PER_SIDE: tuple[Source, ...] = ("seam scatter", "drift")

WIDTH, HEIGHT, DIAGONALS = range(3)
"""The first rows of `Edges.weights`; the angles of the corners follow, in radians."""


@dataclass(frozen=True, slots=True)
class Edges:
    """Weights over the two rows of each of the block's lines: how much wider and higher it is than
    planned, how much longer its one diagonal is than the other, by how much each of its `corners`
    is too wide; then a row for each of `marks`, the points along its edges.

    Those points are cut off, or not, by the seam that joins the block to its neighbour, which the
    same maker sews, and whose allowances lie on the neighbour: `beyond` are the weights of those
    seams, one for each side, over the common columns and over their `errors`.
    """

    weights: Array
    beyond: Array
    errors: tuple[Source, ...]
    corners: int
    marks: tuple[Mark, ...]


def edges(lines: Sequence[Line], outline: Sequence[complex], allowance: float) -> Edges:
    """The weights of a block's own edges. `outline` are its true corners, clockwise as seen.

    >>> square = [0j, 3 + 0j, 3 + 3j, 3j]
    >>> sides = [Line(a, b, True) for a, b in pairwise([*square, 0j])]
    >>> made = edges(sides, square, 0.25)
    >>> made.weights.shape, made.corners, made.weights[WIDTH].tolist()
    ((7, 8), 4, [0.0, 0.0, 0.5, 0.5, 0.0, 0.0, 0.5, 0.5])
    """
    unit = np.eye(2 * len(lines))

    def off(line: Line, place: float) -> Array:
        number = next(i for i, other in enumerate(lines) if other is line)
        return at(line, unit[2 * number], unit[2 * number + 1], place)

    sides = [Line(a, b, True) for a, b in pairwise([*outline, outline[0]])]
    held = [_side(side, lines, off, allowance) for side in sides]
    corners = []
    for i, corner in enumerate(outline):
        before, after = sides[i - 1], sides[i]
        raw = corner + allowance * _outwards(before, after)
        corners.append(
            meet(
                before,
                at(before, *held[i - 1], before.place(raw)),
                after,
                at(after, *held[i], after.place(raw)),
            )
        )
    slopes = [(end - start) / side.length for side, (start, end) in zip(sides, held, strict=True)]
    rows = [
        _extent(sides, held, outline, corners, 1 + 0j),
        _extent(sides, held, outline, corners, 1j),
        _diagonals(outline, corners, 2 * len(lines)),
        *(slopes[i] - slopes[i - 1] for i in range(len(sides))),
    ]
    marks = []
    seams: list[Array] = [np.zeros(COMMON + len(PER_SIDE) * len(sides)) for _ in rows]
    for number, (side, row) in enumerate(zip(sides, held, strict=True)):
        for point in _stops(side, lines):
            there = [line for line in lines if not line.raw and line.ends_at(point)]
            there.sort(key=lambda line: dot(side.along, line.away_from(point)))
            edge = at(side, *row, side.place(point))
            for pair in pairwise(there):
                if crosses(*pair):
                    marks.append(Mark("point", point))
                    rows.append(clearance(side, False, pair, off, point, edge))
                    seams.append(_next_seam(number, len(sides), side.place(point) / side.length))
    return Edges(np.stack(rows), np.stack(seams), PER_SIDE * len(sides), len(sides), tuple(marks))


def _next_seam(number: int, sides: int, share: float) -> Array:
    """How much further inside the line of stitching to the neighbour lies, at a share of a side."""
    row = np.zeros(COMMON + len(PER_SIDE) * sides)
    row[SEAM] = row[FOLD] = -1.0
    first = COMMON + len(PER_SIDE) * number
    row[first] = -1.0
    row[first + 1] = 1.0 - 2.0 * share
    return row


def _side(
    side: Line, lines: Sequence[Line], off: Callable[[Line, float], Array], allowance: float
) -> tuple[Array, Array]:
    """The rows of how far one side lies off at its two ends."""
    places, weights, rows = [], [], []
    for line in lines:
        if not line.raw or not (side.has(line.start) and side.has(line.end)):
            continue
        for point in (line.start, line.end):
            place = reach(line, point, next_to(line, point, lines), allowance)
            places.append(side.place(line.start + line.along * place))
            weights.append(line.length)
            rows.append(off(line, place))
    fit = fitted(places, weights, [0.0, side.length]) @ np.stack(rows)
    return fit[0], fit[1]


def _outwards(before: Line, after: Line) -> complex:
    """Where the raw corner lies, as seen from the finished one, for an allowance of 1."""
    turn = 1 + dot(before.normal, after.normal)
    return (before.normal + after.normal) / turn


def _extent(
    sides: Sequence[Line],
    held: Sequence[tuple[Array, Array]],
    outline: Sequence[complex],
    corners: Sequence[tuple[Array, Array]],
    along: complex,
) -> Array:
    """The row of how much larger the block is in one direction: between the middles of two sides
    across it if there are such, else between its outermost corners."""
    total = np.zeros(len(held[0][0]))
    for sign in (1, -1):
        across = [i for i, side in enumerate(sides) if same(side.normal, sign * along)]
        if across:
            total = total + np.mean([(held[i][0] + held[i][1]) / 2 for i in across], axis=0)
            continue
        places = [sign * dot(along, corner) for corner in outline]
        far = [i for i, place in enumerate(places) if place > max(places) - NEAR]
        moved = [sign * (along.real * corners[i][0] + along.imag * corners[i][1]) for i in far]
        total = total + np.mean(moved, axis=0)
    return total


def _diagonals(
    outline: Sequence[complex], corners: Sequence[tuple[Array, Array]], width: int
) -> Array:
    """The row of how much the first of two equal longest diagonals is longer than the other; all 0
    if the outline has no two such."""
    pairs = sorted(
        combinations(range(len(outline)), 2),
        key=lambda pair: -abs(outline[pair[1]] - outline[pair[0]]),
    )
    lengths = [abs(outline[j] - outline[i]) for i, j in pairs]
    if len(pairs) < 2 or lengths[0] - lengths[1] > NEAR:
        return np.zeros(width)
    grown = []
    for i, j in pairs[:2]:
        along = (outline[j] - outline[i]) / abs(outline[j] - outline[i])
        x, y = corners[j][0] - corners[i][0], corners[j][1] - corners[i][1]
        grown.append(along.real * x + along.imag * y)
    difference: Array = grown[0] - grown[1]
    return difference


def _stops(side: Line, lines: Sequence[Line]) -> list[complex]:
    """The points inside a side at which seams end."""
    points: list[complex] = []
    for line in lines:
        if line.raw:
            continue
        for point in (line.start, line.end):
            inside = side.has(point) and NEAR < side.place(point) < side.length - NEAR
            if inside and not any(same(point, other) for other in points):
                points.append(point)
    return points
