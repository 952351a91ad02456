"""The seams above the units: parts sewn to each other until the block is whole."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Step, Stock
from seamproof.cutting.recipes.making import measured, part_name
from seamproof.cutting.table import along, chord, turned_over
from seamproof.piecing.leaves import put
from seamproof.piecing.model import Finish, Join, PiecingPlan
from seamproof.plane.model import Line, Placed, Point, Polygon
from seamproof.plane.offsets import offset
from seamproof.plane.predicates import same_point, side

Name = Callable[[int], str]
"""What the part of a number is called on the table: a cut piece's letter, or its part name."""


def joining_steps(
    plan: PiecingPlan, sewn: Mapping[int, int], name: Name, settings: CuttingSettings
) -> tuple[Step, ...]:
    """One step for each join and finish in `sewn` (part number and how many), in rounds.

    The left part lies face up; the right part lies on it, turned over the seam. A seam with
    corners set in shows the right part face up, as it will lie.
    """
    order = [number for turn in plan.rounds for number in turn if number in sewn]
    left_out = sorted(set(sewn) - set(order))
    return tuple(
        _step(plan, number, sewn[number], name, settings) for number in (*order, *left_out)
    )


def _step(
    plan: PiecingPlan, number: int, count: int, name: Name, settings: CuttingSettings
) -> Step:
    part = plan.parts[number]
    shown = offset(part.outline, settings.seam)
    gives = (Stock(part_name(number), shown, count),)
    measure = measured(shown, settings.step)
    if isinstance(part.made, Finish):
        lying = _lying(plan, part.made.of, settings.seam)
        return Step(
            "sew",
            takes=(Stock(name(part.made.of.part), lying, count),),
            gives=gives,
            stitched=_runs(part.made.seam, part.outline, (lying,)),
            measure=measure,
        )
    assert isinstance(part.made, Join)
    join = part.made
    left = _lying(plan, join.left, settings.seam)
    right = _lying(plan, join.right, settings.seam)
    first = Stock(name(join.left.part), left, count)
    if join.set_in:
        second, over = Stock(name(join.right.part), right, count), right
    else:
        over = turned_over(right, (join.seam[0], join.seam[-1]))
        second = Stock(name(join.right.part), over, count, "down")
    return Step(
        "sew",
        takes=(first, second),
        gives=gives,
        stitched=_runs(join.sewn, part.outline, (left, over)),
        measure=measure,
    )


def _runs(
    runs: tuple[Line, ...], outline: Polygon, things: tuple[Polygon, ...]
) -> tuple[Line, ...]:
    """The stitching of straight runs that follow each other.

    It runs out over the raw edge where the seam ends on the outside of what is sewn. It stops at
    the seam's own end where a corner is set in, where the rest of the seam is sewn later, and in a
    corner that turns in, since cloth goes on beyond it.
    """
    stitched = []
    for start, end in runs:
        shares = [span for thing in things if (span := chord(thing, (start, end))) is not None]
        first, last = start, end
        if shares and _outside(start, outline):
            first = along((start, end), min(Fraction(0), max(span[0] for span in shares)))
        if shares and _outside(end, outline):
            last = along((start, end), max(Fraction(1), min(span[1] for span in shares)))
        stitched.append((first, last))
    return tuple(stitched)


def _outside(point: Point, outline: Polygon) -> bool:
    """Whether a point lies on an outline, and not in a corner that turns in."""
    count = len(outline)
    for k, corner in enumerate(outline):
        if same_point(corner, point):
            return side(outline[k - 1], corner, outline[(k + 1) % count]) > 0
    return any(
        side(a, b, point) == 0 and _between(a, b, point)
        for a, b in zip(outline, (*outline[1:], outline[0]), strict=True)
    )


def _between(a: Point, b: Point, point: Point) -> bool:
    share = (point[0] - a[0]) * (b[0] - a[0]) + (point[1] - a[1]) * (b[1] - a[1])
    return 0 <= share <= (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2


def _lying(plan: PiecingPlan, where: Placed, seam: Fraction) -> Polygon:
    return put(offset(plan.parts[where.part].outline, seam), where.turn, where.at)
