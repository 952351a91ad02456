"""What lies across a block: how many seams, pieces and trimmed units a ruler passes over.

A block that comes out too small is short by what each seam across it takes up too much. Where the
rows differ, every line counts by how much of the block it stands for. A seam at a slant counts by
how far it moves its pieces across: its normal's share in that direction. Seams inside a unit that
is trimmed afterwards do not count, for its trimming makes up for them.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from typing import Literal

from seamproof.cutting.model import CuttingList
from seamproof.piecing.leaves import in_its_frame, parts_in
from seamproof.piecing.model import Finish, Join, PiecingPlan
from seamproof.plane.model import Placed, Point
from seamproof.plane.predicates import placed

Way = Literal["width", "height"]

_LEVEL = 1e-5
"""Corners nearer to one height than this, in inches, lie at one height."""


@dataclass(frozen=True, slots=True)
class Across:
    """What a ruler passes over, on average over the block: `seams` that count, `pieces` that are
    sewn as cut, `trimmed` units; `fewest` and `most` seams over any one place."""

    seams: float
    fewest: float
    most: float
    pieces: float
    trimmed: float


def trimmed_parts(cutting: CuttingList) -> frozenset[int]:
    """The numbers of the parts that are trimmed to size once they are sewn."""
    found = set()
    for recipe in cutting.recipes:
        if recipe.trim is not None:
            found.add(recipe.unit)
            if recipe.twin is not None and recipe.twin.unit is not None:
                found.add(recipe.twin.unit)
    return frozenset(found)


def across(
    plan: PiecingPlan, way: Way, *, part: int | None = None, trimmed: Collection[int] = ()
) -> Across:
    """What lies across a part of the plan, the whole block if none is named."""
    root = _root(plan, part)
    seams = list(seam_runs(plan, root, trimmed))
    pieces: list[list[float]] = []
    units: list[list[float]] = []
    for here in _closed(plan, root, trimmed):
        outline = [placed(p, here.turn, here.at) for p in plan.parts[here.part].outline]
        (units if here.part in trimmed else pieces).append(_flat(outline, way))
    runs = [(_flat(run, way), _slant(run, way)) for run in seams]
    lines = list(_lines([*pieces, *units]))
    total = sum(share for _, share in lines) or 1.0
    counts = [sum(weight for ends, weight in runs if _crosses(ends, level)) for level, _ in lines]
    return Across(
        seams=sum(c * share for c, (_, share) in zip(counts, lines, strict=True)) / total,
        fewest=min(counts, default=0.0),
        most=max(counts, default=0.0),
        pieces=_mean_hit(pieces, lines) / total,
        trimmed=_mean_hit(units, lines) / total,
    )


def units_across(
    plan: PiecingPlan, way: Way, parts: Collection[int], *, trimmed: Collection[int] = ()
) -> float:
    """How many of some parts lie across the block, on average. `trimmed` as for `across`."""
    root = _root(plan, None)
    found: list[list[float]] = []
    everything: list[list[float]] = []
    for here in _closed(plan, root, {*trimmed, *parts}):
        outline = _flat([placed(p, here.turn, here.at) for p in plan.parts[here.part].outline], way)
        everything.append(outline)
        if here.part in parts:
            found.append(outline)
    lines = list(_lines(everything))
    return _mean_hit(found, lines) / (sum(share for _, share in lines) or 1.0)


def points_at_edge(plan: PiecingPlan) -> int:
    """How many slanting seams of the block end on its outside between two corners: the points that
    trimming would cut into."""
    outline = plan.parts[plan.whole].outline
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    found = set()
    for a, b in seam_runs(plan, _root(plan, None), ()):
        if abs(a[0] - b[0]) <= _LEVEL or abs(a[1] - b[1]) <= _LEVEL:
            continue
        for x, y in (a, b):
            on_side = x in (min(xs), max(xs))
            on_end = y in (min(ys), max(ys))
            if on_side != on_end:
                found.add((x, y))
    return len(found)


def seam_runs(
    plan: PiecingPlan, root: Placed, trimmed: Collection[int]
) -> Iterator[tuple[Point, Point]]:
    """The straight runs of all seams, where they lie in the block; none inside of `trimmed`."""
    for here in parts_in(plan, root, closed=trimmed):
        made = plan.parts[here.part].made
        if here.part not in trimmed and isinstance(made, Join):
            yield from itertools.pairwise(placed(p, here.turn, here.at) for p in made.seam)


def _closed(plan: PiecingPlan, root: Placed, trimmed: Collection[int]) -> Iterator[Placed]:
    """The patches, and the trimmed units as wholes."""
    for here in parts_in(plan, root, closed=trimmed):
        if here.part in trimmed or not isinstance(plan.parts[here.part].made, Join | Finish):
            yield here


def _root(plan: PiecingPlan, part: int | None) -> Placed:
    return in_its_frame(plan.whole if part is None else part)


def _flat(points: Collection[Point], way: Way) -> list[float]:
    """Of a polygon or a run the coordinate that a line across does not change along."""
    axis = 1 if way == "width" else 0
    return [float(point[axis]) for point in points]


def _slant(run: tuple[Point, Point], way: Way) -> float:
    (ax, ay), (bx, by) = run
    dx, dy = float(bx - ax), float(by - ay)
    return abs(dy if way == "width" else dx) / math.hypot(dx, dy)


def _lines(outlines: Collection[list[float]]) -> Iterator[tuple[float, float]]:
    """Lines between all heights at which a corner lies, each with how much it stands for."""
    levels = sorted(level for outline in outlines for level in outline)
    for low, high in itertools.pairwise(levels):
        if high - low > _LEVEL:
            yield (low + high) / 2, high - low


def _crosses(flat: list[float], level: float) -> bool:
    return min(flat) < level < max(flat)


def _mean_hit(outlines: list[list[float]], lines: list[tuple[float, float]]) -> float:
    return sum(share * sum(_crosses(one, level) for one in outlines) for level, share in lines)
