"""What meets along a seam: the raw edges that are held together, and the seams that end on it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from seamproof.accuracy.lines import FLAT, NEAR, Array, Line, crosses, dot, same

UPRIGHT = 0.9
"""A seam that meets another at more than 64 degrees is what one matches by; where all are more
slanted, it is the point they make."""

Numbered = tuple[int, Line]


class Meeting:
    """Two parts laid together along `runs`, straight one by one.

    `left` and `right` are their lines in the frame of the joined part; none on the right if it is
    the second go of a partial seam, whose both sides belong to one part. Lines go by their number
    among `lines`.
    """

    def __init__(
        self, left: Sequence[Line], right: Sequence[Line], runs: Sequence[tuple[complex, complex]]
    ) -> None:
        self.left, self.right = left, right
        self.lines = (*left, *right)
        self.runs = [Line(a, b, raw=False) for a, b in runs]
        self.starts = np.array([line.start for line in self.lines])
        self.ends = np.array([line.end for line in self.lines])
        self.tips = np.stack([self.starts, self.ends])
        self.seams = np.array([not line.raw for line in self.lines])
        # All this is asked for again and again while one table of weights is made.
        self._ending: dict[tuple[complex, bool], list[Numbered]] = {}
        self._held: dict[tuple[int, bool], list[Numbered]] = {}
        self._inside: dict[int, list[complex]] = {}
        self._met: dict[tuple[int, complex, bool], list[Numbered]] = {}

    @property
    def straight(self) -> bool:
        """Whether all runs lie on one line, so that the seam can slip along it."""
        first = self.runs[0]
        return all(not crosses(first, run) for run in self.runs)

    @property
    def middle(self) -> complex:
        """The middle of the ends of all runs."""
        ends = [point for run in self.runs for point in (run.start, run.end)]
        return sum(ends, 0j) / len(ends)

    def beside(self, number: int, left: bool) -> bool:
        """Whether a line belongs to the part on one side."""
        return not self.right or (number < len(self.left)) == left

    def ending(self, point: complex, left: bool) -> list[Numbered]:
        """The lines of one side that end at a point."""
        key = (point, left)
        if key not in self._ending:
            near = np.abs(self.tips - point).min(axis=0) < NEAR
            numbers = [i for i in np.flatnonzero(near).tolist() if self.beside(i, left)]
            self._ending[key] = [(i, self.lines[i]) for i in numbers]
        return self._ending[key]

    def edges(self, number: int, left: bool) -> list[Numbered]:
        """The raw edges of one side that lie along a run."""
        if (number, left) not in self._held:
            self._held[number, left] = self._edges(number, left)
        return self._held[number, left]

    def _edges(self, number: int, left: bool) -> list[Numbered]:
        run = self.runs[number]
        wanted = -run.along if left else run.along
        return [
            (i, self.lines[i])
            for i in self.on(run)
            if self.beside(i, left)
            and self.lines[i].raw
            and abs(self.lines[i].along - wanted) < FLAT
            and overlap(run, self.lines[i]) is not None
        ]

    def on(self, run: Line) -> list[int]:
        """The lines both of whose ends lie on a run or in its continuation."""
        off = np.abs(_dot(run.normal, self.starts - run.start)) < NEAR
        off &= np.abs(_dot(run.normal, self.ends - run.start)) < NEAR
        numbers: list[int] = np.flatnonzero(off).tolist()
        return numbers

    def sewn(self) -> frozenset[int]:
        """The raw edges of which at least a part is sewn."""
        return frozenset(
            i
            for number in range(len(self.runs))
            for left in (True, False)
            for i, _ in self.edges(number, left)
        )

    def stops(self, number: int) -> list[complex]:
        """The points inside a run at which seams of either side end, from its start."""
        if number not in self._inside:
            self._inside[number] = self._stops(number)
        return self._inside[number]

    def _stops(self, number: int) -> list[complex]:
        run = self.runs[number]
        all_ends = np.concatenate([self.starts[self.seams], self.ends[self.seams]])
        away = all_ends - run.start
        inside = np.abs(_dot(run.normal, away)) < NEAR
        inside &= np.abs(_dot(run.along, away) - run.length / 2) < run.length / 2 - NEAR
        points: list[complex] = []
        for point in map(complex, all_ends[inside]):
            if not any(same(point, other) for other in points):
                points.append(point)
        return sorted(points, key=run.place)

    def arriving(self, number: int, point: complex, left: bool) -> list[Numbered]:
        """The seams of one side that end at a point of a run, in the order of their directions."""
        key = (number, point, left)
        if key not in self._met:
            self._met[key] = self._arriving(number, point, left)
        return self._met[key]

    def _arriving(self, number: int, point: complex, left: bool) -> list[Numbered]:
        run = self.runs[number]
        found = [
            (i, line) for i, line in self.ending(point, left) if not line.raw and crosses(line, run)
        ]
        if not self.right:  # both sides belong to one part: tell them apart by where they lie
            sign = 1 if left else -1
            found = [one for one in found if sign * dot(run.normal, one[1].away_from(point)) > 0]
        return sorted(found, key=lambda one: dot(run.along, one[1].away_from(point)))

    def crossings(self) -> list[tuple[int, complex]]:
        """The points inside the runs at which seams of both sides end, with the run's number."""
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
            max(abs(dot(n, line.along)) for _, line in self.arriving(number, point, left))
            >= UPRIGHT
            for left in (True, False)
        )


def overlap(run: Line, line: Line) -> tuple[float, float] | None:
    """From where to where along the run a line on it reaches; None if they do not overlap.

    >>> overlap(Line(0j, 4 + 0j, raw=False), Line(5 + 0j, 3 + 0j, raw=True))
    (3.0, 4.0)
    >>> overlap(Line(0j, 4 + 0j, raw=False), Line(4 + 0j, 5 + 0j, raw=True)) is None
    True
    """
    low, high = sorted((run.place(line.start), run.place(line.end)))
    low, high = max(low, 0.0), min(high, run.length)
    return (low, high) if high - low > NEAR else None


def _dot(direction: complex, away: NDArray[np.complex128]) -> Array:
    inner: Array = direction.real * away.real + direction.imag * away.imag
    return inner
