"""One seam: what it does to everything that later seams, crossings and points depend on.

Both sides are held by their raw edges, so each side's edges are replaced by one straight line, the
best through the ends of its pieces; the needle runs one allowance inside it. Then the right side is
moved, as one stiff thing, until its stitched line falls on that of the left, and along the seam
until what is to be matched matches. All that is a weighted sum of what the two sides bring, so a
seam is a table of weights, :class:`Sewing`, made once and good for every maker.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from seamproof.accuracy.folding import clearance, fold_share
from seamproof.accuracy.lines import (
    FLAT,
    NEAR,
    Array,
    Line,
    along,
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
from seamproof.pressing.model import Way

Matching = Literal["nest", "centre", "start"]
"""How two sides are laid together along a seam: by the upright seams that nest on it, where there
are any, and else by both raw ends; always by both raw ends; by the raw end where it starts."""

COMMON = 4
PLAN, FOLD, SEAM, CUT = range(COMMON)
"""What all makers, or all seams of one maker, share, as the first columns of every table: what is
cut larger or smaller on purpose (in inches, weight 1), the radius of a fold, a maker's own bias of
the seam, the mean error of a cut width."""

UPRIGHT = 0.9
"""A seam that meets another at more than 64 degrees is what one matches by; where all are more
slanted, it is the point they make."""

Run = tuple[complex, complex]

PER_RUN: tuple[Source, ...] = ("seam scatter", "drift", "edges not flush", "marking")


@dataclass(frozen=True, slots=True)
class Mark:
    """A place to look at when a seam is sewn: a crossing, or the point of a patch at the seam."""

    kind: Literal["crossing", "point"]
    at: complex


@dataclass(frozen=True, slots=True)
class Sewing:
    """The weights of one seam, over the rows of the left part, those of the right part, the common
    columns, and one row for each of `errors`.

    The result has two rows for each of `lines` (how far it lies off at its start and its end). The
    first of them are `carried`: the same row as before, plus what the motion of the right part
    (`motion`: x, y and turn) does at the end of its `arms`. Then come those that are new: `new`,
    and after them one for each of `marks`.
    """

    lines: tuple[Line, ...]
    marks: tuple[Mark, ...]
    carried: NDArray[np.intp]
    arms: Array
    motion: Array
    new: Array
    errors: tuple[Source, ...]

    def of(self, values: Array) -> tuple[Array, Array]:
        """The rows of the lines and of the marks, of what went in: shape (rows, any number)."""
        carried = values[self.carried] + self.arms @ (self.motion @ values)
        new = self.new @ values
        cut = 2 * len(self.lines) - len(carried)
        return np.concatenate([carried, new[:cut]]), new[cut:]


def sew(
    left: tuple[Line, ...],
    right: tuple[Line, ...],
    runs: Sequence[Run],
    ways: Sequence[Way],
    *,
    allowance: float,
    matching: Matching = "nest",
    marked: bool = False,
) -> Sewing:
    """The weights of the seam that is sewn along `runs`, straight one by one, each pressed as
    `ways` says; `marked` if it is sewn beside a drawn line.

    `left` and `right` are the lines of the two parts in the frame of the joined one. If there are
    none on the right it is the second go of a partial seam: both sides belong to the left part, and
    nothing moves."""
    return _Seam(left, right, runs, ways, allowance, matching, marked).sewn()


class _Seam:
    """The making of one table of weights."""

    def __init__(
        self,
        left: tuple[Line, ...],
        right: tuple[Line, ...],
        runs: Sequence[Run],
        ways: Sequence[Way],
        allowance: float,
        matching: Matching,
        marked: bool,
    ) -> None:
        self.runs = [Line(a, b, raw=False) for a, b in runs]
        self.ways, self.allowance = ways, allowance
        self.matching, self.marked = matching, marked
        self.left, self.right = left, right
        self.lines = (*left, *right)
        self.errors: tuple[Source, ...] = (*PER_RUN * len(runs), "pins")
        self.inputs = 2 * len(self.lines)
        self.width = self.inputs + COMMON + len(self.errors)

    # Rows --------------------------------------------------------------------------------------

    def unit(self, column: int, weight: float = 1.0) -> Array:
        row = np.zeros(self.width)
        row[column] = weight
        return row

    def common(self, column: int, weight: float = 1.0) -> Array:
        return self.unit(self.inputs + column, weight)

    def error(self, number: int, weight: float = 1.0) -> Array:
        return self.unit(self.inputs + COMMON + number, weight)

    def off(self, line: Line, place: float) -> Array:
        number = next(i for i, other in enumerate(self.lines) if other is line)
        return at(line, self.unit(2 * number), self.unit(2 * number + 1), place)

    # The two sides -----------------------------------------------------------------------------

    def edges(self, run: Line, left: bool) -> list[Line]:
        """The raw edges of one side that lie along a run."""
        lines = self.lines if not self.right else self.left if left else self.right
        wanted = -run.along if left else run.along
        return [
            line
            for line in lines
            if line.raw
            and abs(line.along - wanted) < FLAT
            and abs(dot(run.normal, line.start - run.start)) < NEAR
            and abs(dot(run.normal, line.end - run.start)) < NEAR
            and _overlap(run, line) is not None
        ]

    def neighbours(self, left: bool) -> tuple[Line, ...]:
        return self.lines if not self.right else self.left if left else self.right

    def stitched(self, number: int, left: bool) -> tuple[Array, Array]:
        """The rows of how far the stitched line of one side lies off, outwards of that side, at the
        start and the end of a run."""
        run = self.runs[number]
        places, weights, rows = [], [], []
        for edge in self.edges(run, left):
            low, high = _overlap(run, edge) or (0.0, 0.0)
            for point in (edge.start, edge.end):
                inside = -NEAR < run.place(point) < run.length + NEAR
                if inside:
                    border = next_to(edge, point, self.neighbours(left))
                    place = reach(edge, point, border, self.allowance)
                else:
                    cut = run.start if run.place(point) < 0 else run.end
                    place = edge.place(cut)
                places.append(run.place(edge.start + edge.along * place))
                weights.append(high - low)
                rows.append(self.off(edge, place))
        if rows:
            held = fitted(places, weights, [0.0, run.length]) @ np.stack(rows)
        else:  # an edge that nothing holds: as drawn
            held = np.zeros((2, self.width))
        taken = self.common(SEAM) + self.error(len(PER_RUN) * number)
        taken = taken + self.common(FOLD, fold_share(self.ways[number], left))
        taken = taken + self.error(len(PER_RUN) * number + 2, 0.5 if left else -0.5)
        if self.marked:  # by a drawn line, which gives one side what it takes from the other
            taken = taken + self.error(len(PER_RUN) * number + 3, 1.0 if left else -1.0)
        drift = self.error(len(PER_RUN) * number + 1)
        return held[0] - taken + drift, held[1] - taken - drift

    # Laying together -----------------------------------------------------------------------------

    def sewn(self) -> Sewing:
        lefts = [self.stitched(i, True) for i in range(len(self.runs))]
        rights = [self.stitched(i, False) for i in range(len(self.runs))]
        motion = self.motion(lefts, rights) if self.right else np.zeros((3, self.width))
        seams = []
        for run, left, right in zip(self.runs, lefts, rights, strict=True):
            if self.straight and self.right:
                seams.append((-left[0], -left[1]))
                continue
            # Corners and second goes ease into each other: the seam lies half-way.
            start = right[0] + self.moved_off(run, run.start, motion)
            end = right[1] + self.moved_off(run, run.end, motion)
            seams.append(((start - left[0]) / 2, (end - left[1]) / 2))
        carried: list[tuple[Line, int]] = []
        new = [(run, *rows) for run, rows in zip(self.runs, seams, strict=True)]
        for number, line in enumerate(self.lines):
            if self.untouched(line):
                carried.append((line, number))
                continue
            start, end = self.unit(2 * number), self.unit(2 * number + 1)
            if number >= len(self.left):
                start = start + self.moved_off(line, line.start, motion)
                end = end + self.moved_off(line, line.end, motion)
            new += self.left_of(line, start, end)
        raw = [line for line in (*(c[0] for c in carried), *(n[0] for n in new)) if line.raw]
        ends = [point for line in raw for point in (line.start, line.end)]

        def stays(line: Line) -> bool:
            return line.raw or any(line.ends_at(point) for point in ends)

        carried = [item for item in carried if stays(item[0])]
        new = [item for item in new if stays(item[0])]
        marks = self.marks(lefts, rights, motion)
        rows = [row for _, start, end in new for row in (start, end)] + [row for _, row in marks]
        return Sewing(
            (*(line for line, _ in carried), *(line for line, *_ in new)),
            tuple(mark for mark, _ in marks),
            np.array([2 * n + k for _, n in carried for k in (0, 1)], dtype=np.intp),
            np.array(
                [
                    self.arm(line, point) if number >= len(self.left) else [0.0, 0.0, 0.0]
                    for line, number in carried
                    for point in (line.start, line.end)
                ]
            ).reshape(-1, 3),
            motion,
            np.stack(rows) if rows else np.zeros((0, self.width)),
            self.errors,
        )

    def untouched(self, line: Line) -> bool:
        """Whether a line goes on as it is: a seam, or an edge of which nothing is sewn."""
        return not line.raw or not any(
            line is edge
            for run in self.runs
            for left in (True, False)
            for edge in self.edges(run, left)
        )

    def arm(self, line: Line, point: complex) -> list[float]:
        """How far a point is carried along the normal of its line, for each motion by 1."""
        n = line.normal
        return [n.real, n.imag, dot(n, 1j * (point - self.middle))]

    @property
    def straight(self) -> bool:
        """Whether all runs lie on one line, so that the seam can slip along it."""
        first = self.runs[0]
        return all(not crosses(first, run) for run in self.runs)

    @property
    def middle(self) -> complex:
        ends = [point for run in self.runs for point in (run.start, run.end)]
        return sum(ends, 0j) / len(ends)

    def moved_off(self, line: Line, point: complex, motion: Array) -> Array:
        """The row of how far the moving side carries a point, along the normal of `line`."""
        row: Array = np.array(self.arm(line, point)) @ motion
        return row

    def motion(self, lefts: list[tuple[Array, Array]], rights: list[tuple[Array, Array]]) -> Array:
        """The rows of how the right side moves: in x, in y, and its turn in radians."""
        weights, gaps = [], []
        for run, left, right in zip(self.runs, lefts, rights, strict=True):
            for point, l, r in zip((run.start, run.end), left, right, strict=True):
                weights.append(self.arm(run, point))
                gaps.append(-l - r)
        if self.straight:
            t = self.runs[0].along
            weights.append([t.real, t.imag, 0.0])
            gaps.append(self.slip(lefts, rights))
        motion: Array = np.linalg.pinv(np.array(weights)) @ np.stack(gaps)
        return motion

    def slip(self, lefts: list[tuple[Array, Array]], rights: list[tuple[Array, Array]]) -> Array:
        """The row of how far the right side is moved along a straight seam."""
        pairs = [
            self.crossed(number, point, True, lefts) - self.crossed(number, point, False, rights)
            for number, point in self.crossings()
            if self.nests(number, point)
        ]
        if pairs and self.matching == "nest":
            mean: Array = np.mean(pairs, axis=0)
            return mean + self.error(len(self.errors) - 1)
        ends = [difference for last in (False, True) if (difference := self.ends(last)) is not None]
        if self.matching == "start":
            ends = ends[:1]
        slip: Array = np.mean(ends, axis=0) if ends else np.zeros(self.width)
        return slip

    def ends(self, last: bool) -> Array | None:
        """The row of how far the raw end of the left side lies beyond that of the right, along the
        seam, at its start or its end; None if not both end there. The slanted tips of triangles are
        laid by eye, as they should lie, and tell nothing."""
        run = self.runs[-1] if last else self.runs[0]
        point = run.end if last else run.start
        slides = []
        for left in (True, False):
            edge = next((e for e in self.edges(run, left) if e.ends_at(point)), None)
            raw = [line for line in self.neighbours(left) if line.raw]
            border = None if edge is None else next_to(edge, point, raw)
            if edge is None or border is None or abs(dot(border.along, run.along)) > FLAT:
                return None
            across = self.off(edge, reach(edge, point, border, self.allowance))
            offset = self.off(border, reach(border, point, edge, self.allowance))
            slides.append(along(run.along, edge.normal, across, border, offset))
        difference: Array = slides[0] - slides[1]
        return difference

    # What shows --------------------------------------------------------------------------------

    def arriving(self, number: int, point: complex, left: bool) -> list[Line]:
        """The seams of one side that end at a point of a run, in the order of their directions."""
        run = self.runs[number]
        lines = [
            line
            for line in self.neighbours(left)
            if not line.raw and line.ends_at(point) and crosses(line, run)
        ]
        if not self.right:  # both sides belong to one part: tell them apart by where they lie
            sign = 1 if left else -1
            lines = [line for line in lines if sign * dot(run.normal, line.away_from(point)) > 0]
        return sorted(lines, key=lambda line: dot(run.along, line.away_from(point)))

    def crossings(self) -> list[tuple[int, complex]]:
        """The points inside the runs at which seams of both sides end."""
        return [
            (number, point)
            for number in range(len(self.runs))
            for point in self.stops(number)
            if all(self.arriving(number, point, left) for left in (True, False))
        ]

    def nests(self, number: int, point: complex) -> bool:
        """Whether upright seams of both sides lock against each other there."""
        n = self.runs[number].normal
        return all(
            max(abs(dot(n, line.along)) for line in self.arriving(number, point, left)) >= UPRIGHT
            for left in (True, False)
        )

    def stops(self, number: int) -> list[complex]:
        """The points inside a run at which seams of either side end, from its start."""
        run = self.runs[number]
        points: list[complex] = []
        for line in self.lines:
            if line.raw:
                continue
            for point in (line.start, line.end):
                inside = NEAR < run.place(point) < run.length - NEAR and run.has(point)
                if inside and not any(same(point, other) for other in points):
                    points.append(point)
        return sorted(points, key=run.place)

    def crossed(
        self, number: int, point: complex, left: bool, stitched: list[tuple[Array, Array]]
    ) -> Array:
        """The row of how far along a run the seam of one side meets it, before anything moves; if
        only slanted seams end there, of the point in which the outer two meet."""
        run = self.runs[number]
        lines = self.arriving(number, point, left)
        upright = max(lines, key=lambda line: abs(dot(run.normal, line.along)))
        if len(lines) > 1 and abs(dot(run.normal, upright.along)) < UPRIGHT:
            one, other = lines[0], lines[-1]
            x, y = meet(
                one, self.off(one, one.place(point)), other, self.off(other, other.place(point))
            )
            meeting: Array = run.along.real * x + run.along.imag * y
            return meeting
        sign = -1 if left else 1
        across = sign * at(run, *stitched[number], run.place(point))
        return along(
            run.along, run.normal, across, upright, self.off(upright, upright.place(point))
        )

    def marks(
        self,
        lefts: list[tuple[Array, Array]],
        rights: list[tuple[Array, Array]],
        motion: Array,
    ) -> list[tuple[Mark, Array]]:
        """The rows of how far crossings miss along the seam, and how far points lie clear of it:
        less than nothing is cut off."""
        found: list[tuple[Mark, Array]] = []
        for number, point in self.crossings():
            t, turned = self.runs[number].along, 1j * (point - self.middle)
            carried = t.real * motion[0] + t.imag * motion[1] + dot(t, turned) * motion[2]
            one = self.crossed(number, point, True, lefts)
            other = self.crossed(number, point, False, rights)
            found.append((Mark("crossing", point), one - other - carried))
        for number, run in enumerate(self.runs):
            for point in self.stops(number):
                for left, stitched in ((True, lefts), (False, rights)):
                    lines = self.arriving(number, point, left)
                    edge = at(run, *stitched[number], run.place(point))
                    found += [
                        (Mark("point", point), clearance(run, left, pair, self.off, point, edge))
                        for pair in pairwise(lines)
                        if crosses(*pair)
                    ]
        return found

    def left_of(self, line: Line, start: Array, end: Array) -> list[tuple[Line, Array, Array]]:
        """What is left of an edge when the runs are sewn: what lies outside them."""
        spans = [
            (line.place(run.start), line.place(run.end))
            for run in self.runs
            if any(line is edge for left in (True, False) for edge in self.edges(run, left))
        ]
        left, begin = [], 0.0
        for low, high in [*sorted((min(s), max(s)) for s in spans), (line.length, line.length)]:
            if low - begin > NEAR:
                part = Line(line.start + line.along * begin, line.start + line.along * low, True)
                left.append((part, at(line, start, end, begin), at(line, start, end, low)))
            begin = max(begin, high)
        return left


def _overlap(run: Line, line: Line) -> tuple[float, float] | None:
    """From where to where along the run a line on it reaches; None if they do not overlap."""
    low, high = sorted((run.place(line.start), run.place(line.end)))
    low, high = max(low, 0.0), min(high, run.length)
    return (low, high) if high - low > NEAR else None
