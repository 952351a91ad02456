"""Where the runs of a seam begin and end: at an edge, at a dot, or where the seam is left open."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from seamproof.cutting.model import Step
from seamproof.length.notation import Measure
from seamproof.length.rounding import INCH_STEP, METRIC_STEP, nearest
from seamproof.piecing.leaves import all_leaves, put, within
from seamproof.piecing.model import Finish, Join, PiecingPlan
from seamproof.plane.model import Line, Placed, Point, Polygon
from seamproof.plane.predicates import distance, placed, same_point, side

End = Literal["edge", "dot", "stop"]
"""What stitching runs to: over the raw *edge*; to a *dot* where a corner is set in, or where cloth
goes on beyond the seam; to a *stop*, beyond which the seam is sewn later or was sewn before."""


@dataclass(frozen=True, slots=True)
class Run:
    """One straight run of stitching, in the frame of the sewn part; `line` reaches over the raw
    edges. `measured` is the way that tells where to stop: from the raw edge at which the run began,
    or from the `last_crossing` on it if there is one."""

    line: Line
    begins: End
    ends: End
    measured: Line
    last_crossing: bool = False

    @property
    def dots(self) -> tuple[Point, ...]:
        """Where dots are marked for it."""
        ends = zip(self.line, (self.begins, self.ends), strict=True)
        return tuple(point for point, end in ends if end == "dot")

    @property
    def stops(self) -> tuple[Point, ...]:
        """Where it stops before the seam is at an end, or goes on where that was."""
        ends = zip(self.line, (self.begins, self.ends), strict=True)
        return tuple(point for point, end in ends if end == "stop")


def runs_of(plan: PiecingPlan, part: int, step: Step) -> tuple[Run, ...]:
    """The runs in which `part` is sewn by `step`, in the order in which they are sewn: towards the
    place where the seam is left open, and on from there when it is finished.

    Raises TypeError if the part is not sewn.
    """
    made = plan.parts[part].made
    if isinstance(made, Join):
        sewn = made.sewn
        corners = (*made.seam, *made.set_in)
        runs = tuple(
            _run(line, stitched, corners, _crossings(plan, made, line))
            for line, stitched in zip(sewn, step.stitched, strict=True)
        )
        return _turned_round(runs) if runs[0].begins == "stop" != runs[-1].ends else runs
    if isinstance(made, Finish):
        # A seam is left open between two crossings, so that no patch has a corner there.
        corners = tuple(p for leaf in all_leaves(plan, part) for p in leaf.corners)
        runs = tuple(
            _run(line, stitched, corners, ())
            for line, stitched in zip(made.seam, step.stitched, strict=True)
        )
        return _turned_round(runs) if runs[-1].ends == "stop" != runs[0].begins else runs
    raise TypeError(f"part {part} is not sewn")


def stop_length(run: Run, measure: Measure) -> Fraction:
    """How far a run goes before it stops, to the nearest mark of the ruler: where exactly a seam is
    left open does not matter.

    >>> way = ((Fraction(0), Fraction(0)), (Fraction(3), Fraction(1, 100)))
    >>> stop_length(Run(way, "edge", "stop", way), "in")
    Fraction(3, 1)
    """
    step = INCH_STEP if measure == "in" else METRIC_STEP
    return nearest(distance(*run.measured), step)


def dots_of(runs: Sequence[Run]) -> tuple[Point, ...]:
    """The dots that are marked before a seam is sewn, each once."""
    return _once(point for run in runs for point in run.dots)


def stops_of(runs: Sequence[Run]) -> tuple[Point, ...]:
    """The stops of a seam, each once."""
    return _once(point for run in runs for point in run.stops)


def turns_of(runs: Sequence[Run]) -> int:
    """At how many dots one run ends and the next begins."""
    return sum(
        a.ends == "dot" and same_point(a.line[1], b.line[0]) for a, b in itertools.pairwise(runs)
    )


def open_behind(plan: PiecingPlan, part: int, runs: Sequence[Run]) -> bool:
    """Whether a seam that runs straight begins or ends where an earlier one was left open."""
    made = plan.parts[part].made
    if not isinstance(made, Join) or made.set_in or made.partial:
        return False
    dots = dots_of(runs)
    return any(same_point(dot, end) for dot in dots for end in _open_ends(plan, part))


def clipped(plan: PiecingPlan, part: int, runs: Sequence[Run]) -> bool:
    """Whether a corner is set into a corner of one single patch, which must be clipped to turn."""
    made = plan.parts[part].made
    if not isinstance(made, Join):
        return False
    leaves = all_leaves(plan, part)
    return any(_turns_in(leaf.corners, dot) for dot in dots_of(runs) for leaf in leaves)


def _run(
    line: Line,
    stitched: Line,
    corners: tuple[Point, ...],
    crossings: tuple[Point, ...],
) -> Run:
    begins, ends = (_end(point, over, corners) for point, over in zip(line, stitched, strict=True))
    measured = stitched if ends == "stop" else (stitched[1], stitched[0])
    before = [p for p in crossings if distance(measured[0], p) < distance(*measured)]
    if before and "stop" in (begins, ends):
        last = min(before, key=lambda p: distance(p, measured[1]))
        return Run(stitched, begins, ends, (last, measured[1]), last_crossing=True)
    return Run(stitched, begins, ends, measured)


def _turned_round(runs: tuple[Run, ...]) -> tuple[Run, ...]:
    return tuple(
        Run((run.line[1], run.line[0]), run.ends, run.begins, run.measured, run.last_crossing)
        for run in reversed(runs)
    )


def _end(point: Point, over: Point, corners: tuple[Point, ...]) -> End:
    if not same_point(point, over):
        return "edge"
    return "dot" if any(same_point(point, corner) for corner in corners) else "stop"


def _crossings(plan: PiecingPlan, join: Join, line: Line) -> tuple[Point, ...]:
    """Corners of patches that lie inside a run: there seams meet it."""
    found = [
        p
        for child in (join.left, join.right)
        for leaf in all_leaves(plan, child.part)
        for p in put(leaf.corners, child.turn, child.at)
        if side(*line, p) == 0 and not any(same_point(p, end) for end in line)
    ]
    length = distance(*line)
    return _once(p for p in found if distance(line[0], p) + distance(p, line[1]) < length + 0.01)


def _open_ends(plan: PiecingPlan, part: int) -> list[Point]:
    """The ends of seams inside a part that are still open, in its frame."""
    found: list[Point] = []
    todo = [Placed(part, Fraction(0), (Fraction(0), Fraction(0)))]
    while todo:
        here = todo.pop()
        made = plan.parts[here.part].made
        if isinstance(made, Join):
            if made.partial:
                ends = (made.seam[0], made.seam[-1])
                sewn = (made.sewn[0][0], made.sewn[-1][1])
                found += [
                    placed(end, here.turn, here.at)
                    for end, reached in zip(ends, sewn, strict=True)
                    if not same_point(end, reached)
                ]
            todo += [within(made.left, here), within(made.right, here)]
        # What lies within a finish is closed.
    return found


def _turns_in(corners: Polygon, point: Point) -> bool:
    """Whether a patch has a corner there that turns inwards."""
    count = len(corners)
    return any(
        same_point(corner, point) and side(corners[k - 1], corner, corners[(k + 1) % count]) < 0
        for k, corner in enumerate(corners)
    )


def _once(points: Iterable[Point]) -> tuple[Point, ...]:
    found: list[Point] = []
    for point in points:
        if not any(same_point(point, other) for other in found):
            found.append(point)
    return tuple(found)
