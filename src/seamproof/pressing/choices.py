"""What there is to choose: one press per straight run of stitching, in every copy alike.

Both goes of one partial line are one choice: nobody can press one half of a line to the left that
was pressed to the right.
"""

from __future__ import annotations

from dataclasses import dataclass

from seamproof.piecing.finishing import begun
from seamproof.piecing.leaves import parts_in
from seamproof.piecing.model import Finish, Join, PiecingPlan
from seamproof.plane.model import Line
from seamproof.plane.predicates import placed, same_point, side
from seamproof.pressing.tables import LEFT, RIGHT


@dataclass(frozen=True, slots=True)
class Run:
    """One straight run of stitching: run `run` of part `part`, in the frame of the part.

    `choice` is the number of what decides it. `against` tells that it is stitched the other way
    along than the first run of that choice: its left is the choice's right.
    """

    part: int
    run: int
    line: Line
    choice: int
    against: bool = False


def runs(plan: PiecingPlan) -> tuple[Run, ...]:
    """Every run of every join and finish, in sewing order; choices are numbered as they come up."""
    found: list[Run] = []
    first: dict[int, int] = {}
    count = 0
    for number, part in enumerate(plan.parts):
        match part.made:
            case Join(sewn=lines):
                pass
            case Finish(seam=lines):
                pass
            case _:
                continue
        first[number] = len(found)
        for k, line in enumerate(lines):
            earlier = _begun(plan, number, line, found, first) if found else None
            if earlier is None:
                found.append(Run(number, k, line, count))
                count += 1
            else:
                run, turned_round = earlier
                found.append(Run(number, k, line, run.choice, run.against != turned_round))
    return tuple(found)


def _begun(
    plan: PiecingPlan, number: int, line: Line, found: list[Run], first: dict[int, int]
) -> tuple[Run, bool] | None:
    """The run that this one goes on from, and whether it was stitched the other way along."""
    made = plan.parts[number].made
    if not isinstance(made, Finish):
        return None
    join = begun(plan, number)
    if join is None:
        return None
    for here in parts_in(plan, made.of):
        if here.part != join:
            continue
        k = first[join]
        while k < len(found) and found[k].part == join:
            a, b = (placed(p, here.turn, here.at) for p in found[k].line)
            straight_on = side(*line, a) == 0 and side(*line, b) == 0
            if straight_on and any(same_point(p, q) for p in (a, b) for q in line):
                along = (b[0] - a[0]) * (line[1][0] - line[0][0])
                along += (b[1] - a[1]) * (line[1][1] - line[0][1])
                return found[k], along < 0
            k += 1
    return None


def seen_along(way: int, against: bool) -> int:
    """A way of a choice, told by somebody who walks along a run; `against` as in :class:`Run`.

    >>> seen_along(LEFT, True), seen_along(0, True), seen_along(RIGHT, False)
    (2, 0, 2)
    """
    return {LEFT: RIGHT, RIGHT: LEFT}.get(way, way) if against else way
