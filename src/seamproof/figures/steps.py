"""The joins above the units: two things laid side by side, with the seam between them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from seamproof.drawing.scene import (
    Cross,
    Dimension,
    Dot,
    Numeral,
    Scene,
    Shape,
    Spot,
    Stroke,
    extent,
)
from seamproof.figures.cloth import Coloured, Paints, edge, filled, seams, spots
from seamproof.figures.names import beside
from seamproof.figures.press_signs import meeting_signs, own_signs
from seamproof.figures.runs import Run, dots_of, stop_length, stops_of
from seamproof.length.notation import Measure, with_unit
from seamproof.piecing.leaves import put
from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan
from seamproof.plane.model import Line, Placed, Point
from seamproof.plane.offsets import offset
from seamproof.plane.predicates import placed
from seamproof.pressing.model import Press

GAP = 0.09
"""Distance of two parts that are about to be sewn, as a share of the longer side of the joined
part."""


_ASIDE = "laid side by side, the edges to be sewn facing"


def patches_of(plan: PiecingPlan, part: int) -> tuple[Coloured, ...]:
    """The patches of a part, finished, in its own frame."""
    return tuple(Coloured(fabric, spots(corners)) for fabric, corners in _leaves(plan, part))


def part_scene(plan: PiecingPlan, part: int, paints: Paints) -> Scene:
    """A sewn part from the front."""
    return Scene(tuple(_drawn(patches_of(plan, part), spots(plan.parts[part].outline), paints)))


def join_scene(
    plan: PiecingPlan,
    part: int,
    paints: Paints,
    names: Mapping[int, str],
    presses: Sequence[Press] | None = None,
) -> Scene:
    """The two things of a join side by side, the edges that will be sewn facing each other.

    `names` says what parts are called, by number; the names stand beside or under their parts.
    With `presses` the seam bears the sign of how it will be pressed, and so do the seams that end
    on it, which were pressed before.

    Raises TypeError if the part is not joined of two.
    """
    return Scene(tuple(_apart(plan, part, paints, names, (), Fraction(0), presses)), _ASIDE)


def marked_scene(
    plan: PiecingPlan,
    part: int,
    paints: Paints,
    names: Mapping[int, str],
    runs: Sequence[Run],
    seam: Fraction,
    measure: Measure,
    presses: Sequence[Press] | None = None,
) -> Scene:
    """The same with the seam allowance round both things, and on both what is marked before
    sewing: a dot where a run begins, turns or ends inside an edge, a cross where it stops for now.
    A measure at the edge tells where a level or upright run stops.

    Raises TypeError if the part is not joined of two.
    """
    shapes = _apart(plan, part, paints, names, runs, seam, presses)
    around = [spot for s in shapes if isinstance(s, Stroke) for spot in s.points]
    shapes += [_stop_measure(run, around, measure) for run in runs if run.ends == "stop"]
    return Scene(tuple(shapes), _ASIDE)


def sewn_scene(
    plan: PiecingPlan,
    part: int,
    paints: Paints,
    runs: Sequence[Run],
    seam: Fraction,
    presses: Sequence[Press] | None = None,
) -> Scene:
    """A part from the front with the runs that are sewn now, numbered in their order if they are
    several, with their dots and crosses. With `presses` a run that needs no number bears its press
    sign; several bear theirs where their parts lie side by side."""
    outline = plan.parts[part].outline
    rim = spots(offset(outline, seam))
    shapes: list[Shape] = [edge(rim, kind="unfinished")]
    shapes += _drawn(patches_of(plan, part), spots(outline), paints)
    shapes += [Stroke("stitching", spots(run.line)) for run in runs]
    shapes += _signs(runs)
    if len(runs) > 1:
        shapes += [
            Numeral(*_ends(run), str(i), right=_outer(run, rim))
            for i, run in enumerate(runs, start=1)
        ]
    elif presses is not None:
        shapes += own_signs(plan, part, presses)
    return Scene(tuple(shapes), "sewn: the runs of this seam, from the front")


def _apart(
    plan: PiecingPlan,
    part: int,
    paints: Paints,
    names: Mapping[int, str],
    runs: Sequence[Run],
    seam: Fraction,
    presses: Sequence[Press] | None,
) -> list[Shape]:
    join = plan.parts[part].made
    if not isinstance(join, Join):
        raise TypeError(f"part {part} is not a join")
    along = _direction(join.seam)
    out = (along[1], -along[0])  # to the left of the seam, as seen
    (left, top), (right, bottom) = extent([Stroke("raw edge", spots(plan.parts[part].outline))])
    half = GAP * max(right - left, bottom - top) / 2 + float(seam)
    shapes: list[Shape] = []
    signs: list[Shape] = []
    outlines = []
    for child, way in ((join.left, 1), (join.right, -1)):
        dx, dy = out[0] * half * way, out[1] * half * way

        def moved(some: Sequence[Spot], dx: float = dx, dy: float = dy) -> tuple[Spot, ...]:
            return tuple((x + dx, y + dy) for x, y in some)

        patches = [Coloured(f, moved(spots(corners))) for f, corners in _placed_leaves(plan, child)]
        lying = put(plan.parts[child.part].outline, child.turn, child.at)
        rim = moved(spots(offset(lying, seam)))
        if seam:
            shapes.append(edge(rim, kind="unfinished"))
        outlines.append(rim)
        shapes += _drawn(patches, moved(spots(lying)), paints)
        signs += [_moved(sign, dx, dy) for sign in _signs(runs)]
        before = [
            replace(sign, needed=False)  # one that finds no room stands in the picture before
            for sign in meeting_signs(plan, child, presses or (), [_both(r) for r in join.sewn])
        ]
        signs += [_moved(sign, dx, dy) for sign in before]
    seams_to_come = [Stroke("to come", spots(run)) for run in join.sewn]
    called = [names.get(child.part, "") for child in (join.left, join.right)]
    labels = beside(called, outlines, out, _side(plan))
    now = own_signs(plan, part, presses or ())
    return [*shapes, *signs, *seams_to_come, *now, *labels]


def _signs(runs: Sequence[Run]) -> list[Shape]:
    dots = [Dot(at) for at in spots(dots_of(runs))]
    return [*dots, *(Cross(at) for at in spots(stops_of(runs)))]


def _moved(sign: Shape, dx: float, dy: float) -> Shape:
    return Scene((sign,)).moved(dx, dy).shapes[0]


def _ends(run: Run) -> tuple[Spot, Spot]:
    return _both(run.line)


def _both(line: Line) -> tuple[Spot, Spot]:
    start, end = spots(line)
    return start, end


def _outer(run: Run, rim: Sequence[Spot]) -> bool:
    """Whether there is more cloth to the right of a run than to its left: there its number has
    most room."""
    (ax, ay), (bx, by) = _ends(run)
    across = [(bx - ax) * (y - ay) - (by - ay) * (x - ax) for x, y in rim]
    return max(across) > -min(across)


def _stop_measure(run: Run, rim: Sequence[Spot], measure: Measure) -> Shape:
    """The way to the stop, along the nearer edge of the cloth; a slanted one is told in words."""
    (left, top), (right, bottom) = extent([Stroke("raw edge", tuple(rim))])
    (ax, ay), (bx, by) = spots(run.measured)
    text = with_unit(stop_length(run, measure), measure)
    x0, x1, y0, y1 = min(ax, bx), max(ax, bx), min(ay, by), max(ay, by)
    if y1 - y0 < x1 - x0:
        if bottom - y1 < y0 - top:
            return Dimension((x1, bottom), (x0, bottom), text)
        return Dimension((x0, top), (x1, top), text)
    if x0 - left < right - x1:
        return Dimension((left, y1), (left, y0), text)
    return Dimension((right, y0), (right, y1), text)


def _side(plan: PiecingPlan) -> float:
    """The longer side of the whole, which decides the scale of all these pictures."""
    (left, top), (right, bottom) = extent([Stroke("raw edge", spots(plan.parts[-1].outline))])
    return max(right - left, bottom - top)


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
