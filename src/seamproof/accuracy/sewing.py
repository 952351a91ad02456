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

from seamproof.accuracy.folding import fold_share
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
    next_to,
    reach,
    toward,
)
from seamproof.accuracy.meeting import UPRIGHT, Meeting, Numbered, overlap
from seamproof.accuracy.model import Source
from seamproof.pressing.model import Way

Matching = Literal["nest", "centre", "start"]
"""How two sides are laid together along a seam: by the upright seams that nest on it, where there
are any, and else by both raw ends; always by both raw ends; by the raw end where it starts."""

COMMON = 5
PLAN, FOLD, OPEN, SEAM, CUT = range(COMMON)
"""What all makers, or all seams of one maker, share, as the first columns of every table: what is
cut larger or smaller on purpose (in inches, weight 1), the radius of a fold as the seams are
pressed, and what it would be if all were pressed open, a maker's own bias of the seam, the mean
error of a cut width."""

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


@dataclass(frozen=True, slots=True)
class Worked:
    """What one seam does to the lines that it meets, in a frame in which it starts at 0 and runs to
    the right: which of them are carried, the lines that are new, `motion` about `middle`, and the
    marks; rows are over the lines that meet it, the common columns and `errors`."""

    carried: tuple[int, ...]
    new: tuple[tuple[Line, Array, Array], ...]
    motion: Array
    middle: complex
    marks: tuple[tuple[Mark, Array], ...]
    errors: tuple[Source, ...]


def worked(
    left: tuple[Line, ...],
    right: tuple[Line, ...],
    runs: Sequence[Run],
    ways: Sequence[Way],
    *,
    allowance: float,
    matching: Matching,
    marked: bool,
    looked: bool,
    tips: bool = False,
) -> Worked:
    """What the seam along `runs` does to the lines that it meets; asked as
    :func:`seamproof.accuracy.alike.sew` is."""
    return _Seam(left, right, runs, ways, allowance, matching, marked, tips).worked(looked)


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
        tips: bool,
    ) -> None:
        self.meeting = Meeting(left, right, runs)
        self.runs, self.lines = self.meeting.runs, self.meeting.lines
        self.middle, self.straight = self.meeting.middle, self.meeting.straight
        self.ways, self.allowance = ways, allowance
        self.matching, self.marked, self.tips = matching, marked, tips
        self.first_right = len(left)
        self._drifted: dict[int, tuple[float, float]] = {}
        self._raw_ends: dict[tuple[int, complex, bool], tuple[Numbered, Numbered] | None] = {}
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

    def off(self, number: int, place: float) -> Array:
        share = place / self.lines[number].length
        row = self.unit(2 * number, 1 - share)
        row[2 * number + 1] = share
        return row

    # The two sides -----------------------------------------------------------------------------

    def stitched(self, number: int, left: bool) -> tuple[Array, Array]:
        """The rows of how far the stitched line of one side lies off, outwards of that side, at the
        start and the end of a run."""
        run = self.runs[number]
        places, weights, ends = [], [], []
        for i, edge in self.meeting.edges(number, left):
            low, high = overlap(run, edge) or (0.0, 0.0)
            for point in (edge.start, edge.end):
                along_run = run.place(point)
                if -NEAR < along_run < run.length + NEAR:
                    ending = self.meeting.ending(point, left)
                    border = next_to(edge, point, (line for _, line in ending))
                    place = reach(edge, point, border, self.allowance)
                else:
                    place = edge.place(run.start if along_run < 0 else run.end)
                places.append(run.place(edge.start + edge.along * place))
                weights.append(high - low)
                ends.append((i, place / edge.length))
        held = np.zeros((2, self.width))  # an edge that nothing holds stays as drawn
        if ends:
            fit = fitted(places, weights, [0.0, run.length])
            for (i, share), column in zip(ends, fit.T, strict=True):
                held[:, 2 * i] += (1 - share) * column
                held[:, 2 * i + 1] += share * column
        taken = np.zeros(self.width)
        shared, own = self.inputs, self.inputs + COMMON + len(PER_RUN) * number
        taken[[shared + SEAM, own]] = 1.0
        taken[shared + FOLD] = fold_share(self.ways[number], left)
        taken[shared + OPEN] = fold_share("open", left)
        if self.marked:  # by a drawn line, which gives one side what it takes from the other
            taken[own + 3] = 1.0 if left else -1.0
        else:  # pieces sewn beside a line are cut apart afterwards, so their edges are one cut
            taken[own + 2] = 0.5 if left else -0.5
        held -= taken
        held[:, own + 1] = self.drifted(number)
        return held[0], held[1]

    def drifted(self, number: int) -> tuple[float, float]:
        """How far inside its place the needle runs at the two ends of a run, for a drift of 1: it
        is counted from raw edge to raw edge where these stand upright on the seam."""
        if number in self._drifted:
            return self._drifted[number]
        run = self.runs[number]
        start, end = (
            self.allowance
            if not self.tips and all(self.raw_end(number, point, left) for left in (True, False))
            else 0
            for point in (run.start, run.end)
        )
        sewn = run.length + start + end
        self._drifted[number] = 1 - 2 * start / sewn, 2 * end / sewn - 1
        return self._drifted[number]

    def raw_end(self, number: int, point: complex, left: bool) -> tuple[Numbered, Numbered] | None:
        """The edge of one side that ends where a run does, and the line its cloth ends on there;
        None if no raw edge stands upright on the seam at that point. A corner cut by the ruler is
        where two raw edges meet. If a seam runs into a corner that was not, the edge's own patch
        ends on that seam, and the other raw edge belongs to its neighbour. The slanted tips of
        single triangles are laid by eye, as they should lie, and tell nothing, unless `tips`."""
        key = (number, point, left)
        if key not in self._raw_ends:
            self._raw_ends[key] = self._raw_end(number, point, left)
        return self._raw_ends[key]

    def _raw_end(self, number: int, point: complex, left: bool) -> tuple[Numbered, Numbered] | None:
        edges = self.meeting.edges(number, left)
        held = next(((i, edge) for i, edge in edges if edge.ends_at(point)), None)
        if held is None:
            return None
        ending = {line: j for j, line in self.meeting.ending(point, left)}
        border = next_to(held[1], point, (line for line in ending if line.raw))
        slanted = border is not None and abs(dot(border.along, self.runs[number].along)) > FLAT
        if border is None or (slanted and not self.tips):
            return None
        if not held[1].trimmed:
            nearest = next_to(held[1], point, ending)
            border = nearest if nearest is not None and crosses(nearest, held[1]) else border
        return held, (ending[border], border)

    # Laying together -----------------------------------------------------------------------------

    def worked(self, looked: bool) -> Worked:
        lefts = [self.stitched(i, True) for i in range(len(self.runs))]
        rights = [self.stitched(i, False) for i in range(len(self.runs))]
        moves = len(self.lines) > self.first_right
        motion = self.motion(lefts, rights) if moves else np.zeros((3, self.width))
        new: list[tuple[Line, Array, Array]] = []
        for run, left, right in zip(self.runs, lefts, rights, strict=True):
            if self.straight and moves:
                new.append((run, -left[0], -left[1]))
                continue
            # Corners and second goes ease into each other: the seam lies half-way.
            start = right[0] + self.moved_off(run, run.start, motion)
            end = right[1] + self.moved_off(run, run.end, motion)
            new.append((run, (start - left[0]) / 2, (end - left[1]) / 2))
        sewn = self.meeting.sewn()
        for number in sorted(sewn):
            line = self.lines[number]
            start, end = self.unit(2 * number), self.unit(2 * number + 1)
            if number >= self.first_right:
                start = start + self.moved_off(line, line.start, motion)
                end = end + self.moved_off(line, line.end, motion)
            new += self.left_of(number, start, end)
        return Worked(
            tuple(number for number in range(len(self.lines)) if number not in sewn),
            tuple(new),
            motion,
            self.middle,
            tuple(self.marks(lefts, rights, motion)) if looked else (),
            self.errors,
        )

    def arm(self, line: Line, point: complex) -> list[float]:
        """How far a point is carried along the normal of its line, for each motion by 1."""
        n = line.normal
        return [n.real, n.imag, dot(n, 1j * (point - self.middle))]

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
        held, wanted = np.array(weights), np.stack(gaps)
        motion: Array = (
            np.linalg.solve(held, wanted) if len(held) == 3 else np.linalg.pinv(held) @ wanted
        )
        return motion

    def slip(self, lefts: list[tuple[Array, Array]], rights: list[tuple[Array, Array]]) -> Array:
        """The row of how far the right side is moved along a straight seam."""
        pairs = [
            self.crossed(number, point, True, lefts) - self.crossed(number, point, False, rights)
            for number, point in self.meeting.crossings()
            if self.meeting.nests(number, point)
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
        seam, at its start or its end; None if not both end there."""
        number = len(self.runs) - 1 if last else 0
        run = self.runs[number]
        point = run.end if last else run.start
        slides = []
        for left in (True, False):
            found = self.raw_end(number, point, left)
            if found is None:
                return None
            (i, edge), (j, border) = found
            place = reach(edge, point, border, self.allowance)
            tip = edge.start + edge.along * place + edge.normal * self.allowance
            across, offset = self.off(i, place), self.off(j, border.place(tip))
            slides.append(along(run.along, edge.normal, across, border, offset))
        difference: Array = slides[0] - slides[1]
        return difference

    # What shows --------------------------------------------------------------------------------

    def crossed(
        self, number: int, point: complex, left: bool, stitched: list[tuple[Array, Array]]
    ) -> Array:
        """The row of how far along a run the seam of one side meets it, before anything moves; if
        only slanted seams end there, of the point in which the outer two meet."""
        run = self.runs[number]
        lines = self.meeting.arriving(number, point, left)
        i, upright = max(lines, key=lambda one: abs(dot(run.normal, one[1].along)))
        if len(lines) > 1 and abs(dot(run.normal, upright.along)) < UPRIGHT:
            return self.tip(run.along, point, lines[0], lines[-1])
        sign = -1 if left else 1
        across = sign * at(run, *stitched[number], run.place(point))
        return along(run.along, run.normal, across, upright, self.off(i, upright.place(point)))

    def tip(self, direction: complex, point: complex, first: Numbered, second: Numbered) -> Array:
        """The row of how far the point in which two seams meet moves in a direction."""
        offs = [self.off(number, line.place(point)) for number, line in (first, second)]
        return toward(direction, first[1], offs[0], second[1], offs[1])

    def marks(
        self,
        lefts: list[tuple[Array, Array]],
        rights: list[tuple[Array, Array]],
        motion: Array,
    ) -> list[tuple[Mark, Array]]:
        """The rows of how far crossings miss along the seam, and how far points lie clear of it:
        less than nothing is cut off."""
        found: list[tuple[Mark, Array]] = []
        for number, point in self.meeting.crossings():
            t, turned = self.runs[number].along, 1j * (point - self.middle)
            carried = t.real * motion[0] + t.imag * motion[1] + dot(t, turned) * motion[2]
            one = self.crossed(number, point, True, lefts)
            other = self.crossed(number, point, False, rights)
            found.append((Mark("crossing", point), one - other - carried))
        for number, run in enumerate(self.runs):
            for point in self.meeting.stops(number):
                for left, stitched in ((True, lefts), (False, rights)):
                    edge = at(run, *stitched[number], run.place(point))
                    inwards = run.normal if left else -run.normal
                    found += [
                        (Mark("point", point), edge + self.tip(inwards, point, one, other))
                        for one, other in pairwise(self.meeting.arriving(number, point, left))
                        if crosses(one[1], other[1])
                    ]
        return found

    def left_of(self, number: int, start: Array, end: Array) -> list[tuple[Line, Array, Array]]:
        """What is left of an edge when the runs are sewn: what lies outside them."""
        line = self.lines[number]
        spans = [
            (line.place(run.start), line.place(run.end))
            for i, run in enumerate(self.runs)
            if any((number, line) in self.meeting.edges(i, left) for left in (True, False))
        ]
        left, begin = [], 0.0
        for low, high in [*sorted((min(s), max(s)) for s in spans), (line.length, line.length)]:
            if low - begin > NEAR:
                ends = (line.start + line.along * begin, line.start + line.along * low)
                part = Line(*ends, True, line.trimmed)
                left.append((part, at(line, start, end, begin), at(line, start, end, low)))
            begin = max(begin, high)
        return left
