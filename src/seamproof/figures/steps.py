"""The joins above the units: two things laid side by side, with the seam between them."""

from __future__ import annotations

from collections.abc import Mapping

from seamproof.drawing.scene import Label, Scene, Shape, Spot, Stroke, extent
from seamproof.figures.cloth import Coloured, Paints, edge, filled, seams, spots
from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan
from seamproof.plane.model import Placed, Point
from seamproof.plane.predicates import placed

GAP = 0.09
"""Distance of two parts that are about to be sewn, as a share of the longer side of the joined
part."""

LABEL_CLEAR = 4.0
"""Points between a part and its name."""

_UPRIGHT = 0.9
"""Seams nearer than this (as a cosine) to upright or level count as such for the place of names."""


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
    labels: list[Shape] = []
    for child, way in ((join.left, 1), (join.right, -1)):
        dx, dy = out[0] * half * way, out[1] * half * way
        moved = [
            Coloured(fabric, tuple((x + dx, y + dy) for x, y in spots(corners)))
            for fabric, corners in _placed_leaves(plan, child)
        ]
        outline = tuple(
            (x + dx, y + dy)
            for x, y in spots(
                placed(p, child.turn, child.at) for p in plan.parts[child.part].outline
            )
        )
        shapes += _drawn(moved, outline, paints)
        labels += _name(names.get(child.part, ""), outline, out, way)
    seam = Stroke("to come", spots(join.seam))
    says = "laid side by side, the edges to be sewn facing each other"
    return Scene((*shapes, seam, *labels), says)


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


def _name(name: str, outline: tuple[Spot, ...], out: Spot, way: int) -> list[Shape]:
    """The name of a part clear of it: under parts that lie side by side, to the right of parts
    that lie one above the other, above and below where the seam is slanted."""
    if not name:
        return []
    (left, top), (right, bottom) = extent([Stroke("raw edge", outline)])
    middle = (left + right) / 2
    if abs(out[0]) > _UPRIGHT:
        return [Label((middle, bottom), name, below=LABEL_CLEAR)]
    if abs(out[1]) > _UPRIGHT:
        return [Label((right, (top + bottom) / 2), name, "start", aside=LABEL_CLEAR, below=-4.0)]
    below = out[1] * way > 0
    return [
        Label((middle, bottom), name, below=LABEL_CLEAR)
        if below
        else Label((middle, top), name, below=-LABEL_CLEAR - 9.0)
    ]


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
