"""The seams above the units: parts sewn to each other until the block is whole."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Step, Stock
from seamproof.cutting.recipes.making import measured, part_name
from seamproof.cutting.table import along, chord, sewn_run, turned_over
from seamproof.piecing.leaves import put
from seamproof.piecing.model import Finish, Join, PiecingPlan
from seamproof.plane.model import Line, Placed, Polygon
from seamproof.plane.offsets import offset

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
            stitched=part.made.seam,
            measure=measure,
        )
    assert isinstance(part.made, Join)
    join = part.made
    left = _lying(plan, join.left, settings.seam)
    right = _lying(plan, join.right, settings.seam)
    first = Stock(name(join.left.part), left, count)
    if join.set_in:
        return Step(
            "sew",
            takes=(first, Stock(name(join.right.part), right, count)),
            gives=gives,
            stitched=_to_the_edges(join.sewn, join, left, right),
            measure=measure,
        )
    over = turned_over(right, (join.seam[0], join.seam[-1]))
    if join.partial:
        stitched = join.sewn
    else:
        stitched = (sewn_run(left, over, (join.seam[0], join.seam[-1])),)
    return Step(
        "sew",
        takes=(first, Stock(name(join.right.part), over, count, "down")),
        gives=gives,
        stitched=stitched,
        measure=measure,
    )


def _to_the_edges(
    runs: tuple[Line, ...], join: Join, left: Polygon, right: Polygon
) -> tuple[Line, ...]:
    """Straight runs of a set-in seam: they meet at the corners, and begin and end at a raw edge
    where the seam itself ends there."""
    stitched = list(runs)
    if runs[0][0] == join.seam[0]:
        stitched[0] = (_edge(runs[0], left, right, last=False), runs[0][1])
    if runs[-1][1] == join.seam[-1]:
        stitched[-1] = (stitched[-1][0], _edge(runs[-1], left, right, last=True))
    return tuple(stitched)


def _edge(run: Line, left: Polygon, right: Polygon, *, last: bool) -> tuple[Fraction, Fraction]:
    shares = [found for corners in (left, right) if (found := chord(corners, run)) is not None]
    if last:
        return along(run, max(Fraction(1), min(share[1] for share in shares)))
    return along(run, min(Fraction(0), max(share[0] for share in shares)))


def _lying(plan: PiecingPlan, where: Placed, seam: Fraction) -> Polygon:
    return put(offset(plan.parts[where.part].outline, seam), where.turn, where.at)
