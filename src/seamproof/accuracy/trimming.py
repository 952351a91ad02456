"""Squaring up: where the ruler is laid, what can be cut off, and what the unit is like afterwards.

The ruler is laid by the unit's own seams. If one point of it has more seams than any other (the
apex of a goose), that point goes where it belongs and the seams lean alike to either side; if there
is only one seam, it goes on its line and the unit can still slide along it; else all ends of seams
together go as near to their places as they can.

*Slack* is how much there is to cut off at the edge that has least; for a unit that can slide, how
far it may slide with something left to cut off on all sides. Below nothing it cannot be squared up.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from seamproof.accuracy.lines import (
    FLAT,
    NEAR,
    Array,
    Drawn,
    Line,
    at,
    crosses,
    dot,
    meet,
    next_to,
    reach,
    same,
)
from seamproof.accuracy.model import Source
from seamproof.accuracy.parts import Made
from seamproof.accuracy.sewing import COMMON

TRIMMED_EDGE = 0.5**0.5
"""Weight of the error of one trimmed edge, in that of the width between two."""

EACH_SIDE: tuple[Source, ...] = ("trimming", "tilt")


@dataclass(frozen=True, slots=True)
class Overhang:
    """What there is to cut off one unit: `table` has a row for each end of each raw piece, over the
    columns of the unit before it is trimmed and two more for the ruler; `errors` name them.

    `slides` says for each row how fast that overhang grows while the unit slides along its only
    seam, all 0 if it cannot slide.
    """

    table: Array
    slides: Array
    errors: tuple[Source, ...]

    @property
    def can_slide(self) -> bool:
        """Whether the unit has one seam only."""
        return bool(np.any(np.abs(self.slides) > FLAT))

    @property
    def per_oversize(self) -> float:
        """How much slack an oversize of 1 adds: half of it lies at either edge."""
        return 1.0 if self.can_slide else 0.5

    def slack(self, values: Drawn) -> Drawn:
        """The slack of units whose overhangs are `values`, shape (rows, units).

        >>> table, errors = np.zeros((4, 4)), ()
        >>> stuck = Overhang(table, np.zeros(4), errors)
        >>> stuck.slack(np.array([[0.1], [0.2], [-0.1], [0.3]])).tolist()
        [-0.1]
        >>> free = Overhang(table, np.array([0.7, 0.7, -0.7, -0.7]), errors)
        >>> free.slack(np.array([[0.1], [0.2], [-0.05], [0.3]])).round(3).tolist()
        [0.05]
        """
        if not self.can_slide:
            least: Drawn = values.min(axis=0)
            return least
        up, down = self.slides > FLAT, self.slides < -FLAT
        room = [
            (values[side] / np.abs(self.slides[side])[:, None]).min(axis=0) for side in (up, down)
        ]
        scale = float(np.abs(self.slides[up | down]).mean())
        total: Drawn = (room[0] + room[1]) * scale
        return total


def trimmed(made: Made, outline: Sequence[complex], allowance: float) -> tuple[Made, Overhang]:
    """The unit squared up to its outline, and what there was to cut off before."""
    rows = made.table
    width = rows.shape[1]
    table = np.column_stack([rows, np.zeros((len(rows), 2))])
    seams = [(i, line) for i, line in enumerate(made.lines) if not line.raw]
    motion, middle, free = _laid(seams, table, width)

    def placed(line: Line, number: int) -> tuple[Array, Array]:
        ends = []
        for row, point in ((2 * number, line.start), (2 * number + 1, line.end)):
            n = line.normal
            turn = dot(n, 1j * (point - middle))
            ends.append(table[row] + n.real * motion[0] + n.imag * motion[1] + turn * motion[2])
        return ends[0], ends[1]

    sides = [Line(a, b, True) for a, b in zip(outline, [*outline[1:], outline[0]], strict=True)]
    overhangs, slides = [], []
    edges: list[Line] = []
    for number, line in enumerate(made.lines):
        if not line.raw:
            continue
        edges.append(line)
        start, end = placed(line, number)
        side = next(side for side in sides if side.has(line.start) and side.has(line.end))
        for point in (line.start, line.end):
            place = line.place(point)
            if free is not None:  # under a ruler that slides, as far as the trimmed edge reaches
                border = next_to(line, point, made.lines)
                place = reach(line, point, border, allowance)
            overhangs.append(at(line, start, end, place))
            slides.append(0.0 if free is None else dot(side.normal, free))
    overhang = Overhang(np.stack(overhangs), np.array(slides), (*made.errors, "ruler", "ruler"))
    kept = [(line, *placed(line, i)) for i, line in seams]
    return _squared(made, kept, edges, sides, width), overhang


def _laid(
    seams: Sequence[tuple[int, Line]], table: Array, width: int
) -> tuple[Array, complex, complex | None]:
    """The rows of how the unit is moved under the ruler (x, y, turn), about which point, and the
    direction in which it is still free to slide, if there is one."""
    off = {i: (table[2 * i], table[2 * i + 1]) for i, _ in seams}
    ruler = np.zeros((2, table.shape[1]))
    ruler[0, width] = ruler[1, width + 1] = 1.0
    if len(seams) == 1:
        number, line = seams[0]
        start, end = off[number]
        n = line.normal
        across = (start + end) / 2 - ruler[0]
        turn = -(end - start) / line.length
        return (
            np.stack([-n.real * across, -n.imag * across, _turned(line, turn)]),
            (line.start + line.end) / 2,
            line.along,
        )
    anchor = _anchor([line for _, line in seams])
    if anchor is not None:
        there = [(i, line) for i, line in seams if line.ends_at(anchor)]
        (i, one), (j, other) = there[0], there[-1]
        x, y = meet(
            one, at(one, *off[i], one.place(anchor)), other, at(other, *off[j], other.place(anchor))
        )
        leans = [_turned(line, (off[k][1] - off[k][0]) / line.length) for k, line in there]
        turn = -np.mean(leans, axis=0)
        return np.stack([ruler[0] - x, ruler[1] - y, turn]), anchor, None
    points = [point for _, line in seams for point in (line.start, line.end)]
    middle = sum(points, 0j) / len(points)
    weights, wanted = [], []
    for number, line in seams:
        n = line.normal
        for row, point in zip(off[number], (line.start, line.end), strict=True):
            weights.append([n.real, n.imag, dot(n, 1j * (point - middle))])
            wanted.append(-row)
    motion = np.linalg.pinv(np.array(weights)) @ np.stack(wanted)
    motion[0] += ruler[0]
    motion[1] += ruler[1]
    return motion, middle, None


def _turned(line: Line, slope: Array) -> Array:
    """The turn, clockwise as seen, that makes a line lean by `slope` along its normal: the normal
    lies to the left, so a turn to the right takes its end the other way."""
    return slope * dot(line.normal, 1j * line.along)


def _anchor(lines: Sequence[Line]) -> complex | None:
    """The one point at which most seams end; None if there are several such points."""
    counted: list[tuple[complex, int]] = []
    for line in lines:
        for point in (line.start, line.end):
            if not any(same(point, other) for other, _ in counted):
                counted.append((point, sum(other.ends_at(point) for other in lines)))
    most = max(count for _, count in counted)
    best = [point for point, count in counted if count == most]
    if len(best) != 1:
        return None
    there = [line for line in lines if line.ends_at(best[0])]
    return best[0] if crosses(there[0], there[-1]) else None


def _squared(
    made: Made,
    seams: Sequence[tuple[Line, Array, Array]],
    edges: Sequence[Line],
    sides: Sequence[Line],
    width: int,
) -> Made:
    """The unit with its seams where they are and its raw edges cut anew, one error and one tilt for
    each side. What no longer matters is left out of its errors."""
    old = width + 2
    table = np.zeros((2 * (len(seams) + len(edges)), old + 2 * len(sides)))
    for i, (_, start, end) in enumerate(seams):
        table[2 * i, :old], table[2 * i + 1, :old] = start, end
    for i, edge in enumerate(edges, len(seams)):
        number, side = next(
            (n, side) for n, side in enumerate(sides) if side.has(edge.start) and side.has(edge.end)
        )
        for row, point in ((2 * i, edge.start), (2 * i + 1, edge.end)):
            table[row, old + 2 * number] = TRIMMED_EDGE
            table[row, old + 2 * number + 1] = 2 * side.place(point) / side.length - 1
    errors = (*made.errors, "ruler", "ruler", *(EACH_SIDE * len(sides)))
    marked = np.column_stack([made.marked, np.zeros((len(made.marks), 2 + 2 * len(sides)))])
    used = np.abs(table[:, COMMON:]).max(axis=0, initial=0.0) > NEAR**2
    used |= np.abs(marked[:, COMMON:]).max(axis=0, initial=0.0) > NEAR**2
    keep = np.concatenate([np.ones(COMMON, bool), used])
    lines = (*(line for line, *_ in seams), *(replace(edge, trimmed=True) for edge in edges))
    return Made(
        lines,
        table[:, keep],
        tuple(error for error, use in zip(errors, used, strict=True) if use),
        made.marks,
        marked[:, keep],
    )
