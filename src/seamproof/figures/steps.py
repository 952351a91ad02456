"""The joins above the units: two things laid side by side, with the seam between them."""

from __future__ import annotations

from collections.abc import Mapping

from seamproof.drawing.scene import Scene, Shape, Spot, Stroke, extent
from seamproof.figures.cloth import Coloured, Paints, edge, filled, seams, spots
from seamproof.figures.names import beside
from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan
from seamproof.plane.model import Placed, Point
from seamproof.plane.predicates import placed

GAP = 0.09
"""Distance of two parts that are about to be sewn, as a share of the longer side of the joined
part."""


def patches_of(plan: PiecingPlan, part: int) -> tuple[Coloured, ...]:
    """The patches of a part, finished, in its own frame."""
    return tuple(Coloured(fabric, spots(corners)) for fabric, corners in _leaves(plan, part))


def part_scene(plan: PiecingPlan, part: int, paints: Paints) -> Scene:
    """A sewn part from the front."""
    return Scene(tuple(_drawn(patches_of(plan, part), spots(plan.parts[part].outline), paints)))


def join_scene(plan: PiecingPlan, part: int, paints: Paints, names: Mapping[int, str]) -> Scene:
    """The two things of a join side by side, the edges that will be sewn facing each other.

    `names` says what parts are called, by number; the names stand beside or under their parts.

    Raises TypeError if the part is not joined of two.
    """
    join = plan.parts[part].made
    if not isinstance(join, Join):
        raise TypeError(f"part {part} is not a join")
    along = _direction(join.seam)
    out = (along[1], -along[0])  # to the left of the seam, as seen
    (left, top), (right, bottom) = extent([Stroke("raw edge", spots(plan.parts[part].outline))])
    half = GAP * max(right - left, bottom - top) / 2
    shapes: list[Shape] = []
    outlines = []
    for child, way in ((join.left, 1), (join.right, -1)):
        dx, dy = out[0] * half * way, out[1] * half * way
        moved = [
            Coloured(fabric, tuple((x + dx, y + dy) for x, y in spots(corners)))
            for fabric, corners in _placed_leaves(plan, child)
        ]
        lying = spots(placed(p, child.turn, child.at) for p in plan.parts[child.part].outline)
        outlines.append(tuple((x + dx, y + dy) for x, y in lying))
        shapes += _drawn(moved, outlines[-1], paints)
    seams_to_come = [Stroke("to come", spots(run)) for run in join.sewn]
    called = [names.get(child.part, "") for child in (join.left, join.right)]
    labels = beside(called, outlines, out, _side(plan))
    return Scene(
        (*shapes, *seams_to_come, *labels), "laid side by side, the edges to be sewn facing"
    )


def _side(plan: PiecingPlan) -> float:
    """The longer side of the whole, which decides the scale of all these pictures."""
    (left, top), (right, bottom) = extent([Stroke("raw edge", spots(plan.parts[-1].outline))])
    return max(right - left, bottom - top)


def finish_scene(plan: PiecingPlan, part: int, paints: Paints) -> Scene:
    """A part with the run of a partial seam that is sewn now.

    Raises TypeError if the part is not the finish of a partial seam.
    """
    finish = plan.parts[part].made
    if not isinstance(finish, Finish):
        raise TypeError(f"part {part} finishes no seam")
    runs = tuple(Stroke("stitching", spots(run)) for run in finish.seam)
    return Scene((*part_scene(plan, part, paints).shapes, *runs), "the rest of the seam stitched")


def _drawn(
    patches: tuple[Coloured, ...] | list[Coloured], outline: tuple[Spot, ...], paints: Paints
) -> list[Shape]:
    return [*filled(patches, paints), *seams(patches), edge(outline)]


def _direction(seam: tuple[Point, ...]) -> Spot:
    (ax, ay), (bx, by) = spots((seam[0], seam[-1]))
    length = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
    return ((bx - ax) / length, (by - ay) / length)


Leaves = list[tuple[str, tuple[Point, ...]]]


def _leaves(plan: PiecingPlan, part: int) -> Leaves:
    made = plan.parts[part].made
    if isinstance(made, Leaf):
        return [(made.fabric, made.corners)]
    if isinstance(made, Join):
        return _placed_leaves(plan, made.left) + _placed_leaves(plan, made.right)
    if isinstance(made, Finish):
        return _placed_leaves(plan, made.of)
    raise TypeError(f"a whole block ({made.block}) has no patches of its own")


def _placed_leaves(plan: PiecingPlan, child: Placed) -> Leaves:
    return [
        (fabric, tuple(placed(p, child.turn, child.at) for p in corners))
        for fabric, corners in _leaves(plan, child.part)
    ]
