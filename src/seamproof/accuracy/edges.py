"""The block's own edges: how wide, how high and how square it is, and the points along them.

A side is the best straight line through the ends of its raw pieces; a corner is where two sides
meet. Everything is a weighted sum of the rows of the block's lines.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

import numpy as np

from seamproof.accuracy.folding import fold_share
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
    toward,
)
from seamproof.accuracy.meeting import Meeting
from seamproof.accuracy.model import Source
from seamproof.accuracy.sewing import COMMON, FOLD, OPEN, SEAM, Mark
from seamproof.pressing.model import Way

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


def edges(
    lines: Sequence[Line],
    outline: Sequence[complex],
    allowance: float,
    beyond: Way = "left",
    *,
    looked: bool = True,
) -> Edges:
    """The weights of a block's own edges. `outline` are its true corners, clockwise as seen;
    `beyond` is how the seams to its neighbours are pressed; there are no marks unless they are
    `looked` at.

    >>> square = [0j, 3 + 0j, 3 + 3j, 3j]
    >>> sides = [Line(a, b, True) for a, b in pairwise([*square, 0j])]
    >>> made = edges(sides, square, 0.25)
    >>> made.weights.shape, made.corners, made.weights[WIDTH].tolist()
    ((7, 8), 4, [0.0, 0.0, 0.5, 0.5, 0.0, 0.0, 0.5, 0.5])
    """
    unit = np.eye(2 * len(lines))
    meeting = Meeting(lines, (), list(pairwise([*outline, outline[0]])))

    def off(number: int, place: float) -> Array:
        return at(lines[number], unit[2 * number], unit[2 * number + 1], place)

    sides = meeting.runs
    held = [_side(meeting, i, off, allowance) for i in range(len(sides))]
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
        for point in meeting.stops(number) if looked else ():
            edge = at(side, *row, side.place(point))
            for (i, one), (j, other) in pairwise(meeting.arriving(number, point, False)):
                if not crosses(one, other):
                    continue
                offs = (off(i, one.place(point)), off(j, other.place(point)))
                marks.append(Mark("point", point))
                rows.append(edge + toward(-side.normal, one, offs[0], other, offs[1]))
                share = side.place(point) / side.length
                seams.append(_next_seam(number, len(sides), share, beyond))
    return Edges(np.stack(rows), np.stack(seams), PER_SIDE * len(sides), len(sides), tuple(marks))


def _next_seam(number: int, sides: int, share: float, way: Way) -> Array:
    """How much further inside the line of stitching to the neighbour lies, at a share of a side."""
    row = np.zeros(COMMON + len(PER_SIDE) * sides)
    row[SEAM], row[FOLD] = -1.0, -fold_share(way, False)
    row[OPEN] = -fold_share("open", False)
    first = COMMON + len(PER_SIDE) * number
    row[first] = -1.0
    row[first + 1] = 1.0 - 2.0 * share
    return row


def _side(
    meeting: Meeting, number: int, off: Callable[[int, float], Array], allowance: float
) -> tuple[Array, Array]:
    """The rows of how far one side lies off at its two ends."""
    side = meeting.runs[number]
    places, weights, rows = [], [], []
    for i, line in meeting.edges(number, False):
        for point in (line.start, line.end):
            border = next_to(line, point, (other for _, other in meeting.ending(point, False)))
            place = reach(line, point, border, allowance)
            places.append(side.place(line.start + line.along * place))
            weights.append(line.length)
            rows.append(off(i, place))
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
