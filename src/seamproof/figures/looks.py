"""What lies on the table, as it looks: the steps of a recipe followed with coloured cloth.

This is for pictures only. It believes what the steps say; the proof does not.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import shapely
from shapely import affinity
from shapely.ops import split

from seamproof.cutting.model import Piece, Step, Stock
from seamproof.drawing.scene import Spot
from seamproof.figures.cloth import Coloured, spots

_SAME = 1e-4  # inches; corners kept to 2^-20 are far nearer


@dataclass(frozen=True, slots=True)
class Look:
    """One thing on the table as it looks from the front: its outline and its patches.

    A thing that lies face down is kept as it lies: mirrored.
    """

    what: str
    corners: tuple[Spot, ...]
    patches: tuple[Coloured, ...]
    count: int
    face: str = "up"


@dataclass(frozen=True, slots=True)
class Looking:
    """A step and how everything in it looks."""

    step: Step
    takes: tuple[Look, ...]
    gives: tuple[Look, ...]


def followed(steps: Iterable[Step], pieces: Iterable[Piece]) -> tuple[Looking, ...]:
    """Each step with the looks of what it takes and gives. Things named by a piece's letter are of
    that piece's fabric; all others look as the step that gave them made them."""
    fabrics = {piece.letter: piece.fabric for piece in pieces}
    known: dict[str, Look] = {}
    result = []
    for step in steps:
        takes = tuple(_taken(stock, known, fabrics) for stock in step.takes)
        gives = tuple(_given(stock, step, takes) for stock in step.gives)
        known.update((look.what, look) for look in gives)
        result.append(Looking(step, takes, gives))
    return tuple(result)


def _taken(stock: Stock, known: Mapping[str, Look], fabrics: Mapping[str, str]) -> Look:
    corners = spots(stock.corners)
    before = known.get(stock.what)
    if before is None:
        plain = (Coloured(fabrics[stock.what], corners),)
        return Look(stock.what, corners, plain, stock.count, stock.face)
    move = _motion(before.corners, corners, mirrored=before.face != stock.face)
    patches = tuple(
        Coloured(p.fabric, _points(affinity.affine_transform(shapely.Polygon(p.corners), move)))
        for p in before.patches
    )
    return Look(stock.what, corners, patches, stock.count, stock.face)


def _given(stock: Stock, step: Step, takes: Sequence[Look]) -> Look:
    corners = spots(stock.corners)
    within = shapely.Polygon(corners)
    sewn = step.verb == "sew"
    shown = _opened(within, step, takes) if sewn else list(takes[0].patches)
    patches = tuple(Coloured(p.fabric, part) for p in shown for part in _clipped(p.corners, within))
    return Look(stock.what, corners, patches or takes[0].patches, stock.count, stock.face)


def _opened(within: shapely.Polygon, step: Step, takes: Sequence[Look]) -> list[Coloured]:
    """The patches of what was sewn, opened: the first kind where it lay, each other one turned
    over the stitching that runs in it, or put where it lies if it was set in."""
    first, *others = takes
    if step.left_in:
        return _folded(step, first, others)
    cuts = [_long(spots(cut)) for cut in step.cuts]
    stitches = [run for line in step.stitched for run in _between(spots(line), cuts)]
    inside = _held_by(stitches, [_kept_area(first, cuts, [s]) for s in stitches], within)
    shown = _patches_in(first, _kept_area(first, cuts, inside))
    for stitch in inside:
        middle = stitch.interpolate(0.5, normalized=True)
        for other in others:
            if shapely.Polygon(other.corners).distance(middle) > _SAME:
                continue
            if other.face == "up":
                shown += other.patches
                continue
            shown += [
                Coloured(p.fabric, _points(_flipped(shapely.Polygon(p.corners), stitch)))
                for p in _patches_in(other, _kept_area(other, cuts, [stitch]))
            ]
    return shown


def _between(line: Sequence[Spot], cuts: Sequence[shapely.LineString]) -> list[shapely.LineString]:
    """The runs that cuts leave of a stitched line."""
    runs = [shapely.LineString(line)]
    for cut in cuts:
        runs = [part for run in runs for part in split(run, cut).geoms]
    return [run for run in runs if run.length > _SAME]


def _folded(step: Step, first: Look, others: Sequence[Look]) -> list[Coloured]:
    """The first kind whole, but for what the halves on the right of the stitching hide once they
    are folded over it."""
    lines = [shapely.LineString(spots(line)) for line in step.stitched]
    left: shapely.Geometry = shapely.Polygon(first.corners)
    folded: list[Coloured] = []
    for other in others:
        area = shapely.Polygon(other.corners)
        line = min(lines, key=lambda line: -line.intersection(area).length)
        half = _right_half(area, line)
        over = [
            Coloured(p.fabric, _points(_flipped(shapely.Polygon(p.corners), line)))
            for p in _patches_in(other, half)
        ]
        left = left.difference(shapely.union_all([shapely.Polygon(p.corners) for p in over]))
        folded += over
    shown = [p for area in _polygons(left) for p in _patches_in(first, area)]
    return shown + folded


def _right_half(area: shapely.Polygon, line: shapely.LineString) -> shapely.Polygon:
    """What of a convex thing lies right of a line through it, as seen."""
    (ax, ay), (bx, by) = line.coords

    def off(part: shapely.Polygon) -> float:
        return float((bx - ax) * (part.centroid.y - ay) - (by - ay) * (part.centroid.x - ax))

    return max(_split(area, _long(line.coords)), key=off)


def _held_by(
    stitches: Sequence[shapely.LineString],
    areas: Sequence[shapely.Polygon],
    within: shapely.Polygon,
) -> list[shapely.LineString]:
    """The stitching that holds an opened thing together: where what stays of the first kind lies
    in it best. Parts cut from one thing lie partly over each other once they are opened."""
    shares = [area.intersection(within).area / area.area for area in areas]
    best = max(shares, default=0.0)
    return [s for s, share in zip(stitches, shares, strict=True) if share > best - 0.01]


def _kept_area(
    look: Look, cuts: Sequence[shapely.LineString], stitches: Sequence[shapely.LineString]
) -> shapely.Polygon:
    """What is seen of a thing once its allowances are turned away: of the part it was cut into
    that the stitching runs in, the larger side of the stitching."""
    area = shapely.Polygon(look.corners)
    if not stitches:
        return area
    middle = stitches[0].interpolate(0.5, normalized=True)
    parts = [area]
    for cut in cuts:
        parts = [piece for part in parts for piece in _split(part, cut)]
    area = min(parts, key=lambda part: part.distance(middle))
    for stitch in stitches:
        area = max(_split(area, _long(stitch.coords)), key=lambda half: half.area)
    return area


def _patches_in(look: Look, area: shapely.Polygon) -> list[Coloured]:
    return [
        Coloured(patch.fabric, part)
        for patch in look.patches
        for part in _clipped(patch.corners, area)
    ]


def _split(piece: shapely.Polygon, line: shapely.LineString) -> list[shapely.Polygon]:
    return [part for part in split(piece, line).geoms if part.area > _SAME]


def _long(ends: Iterable[Spot]) -> shapely.LineString:
    """The straight line through two points, far past both."""
    (ax, ay), *_, (bx, by) = list(ends)
    dx, dy = bx - ax, by - ay
    return shapely.LineString([(ax - 99 * dx, ay - 99 * dy), (bx + 99 * dx, by + 99 * dy)])


def _flipped(piece: shapely.Polygon, stitch: shapely.LineString) -> shapely.Polygon:
    """Mirrored at the straight line through the stitching."""
    (ax, ay), *_, (bx, by) = stitch.coords
    length2 = (bx - ax) ** 2 + (by - ay) ** 2
    c = ((bx - ax) ** 2 - (by - ay) ** 2) / length2
    s = 2 * (bx - ax) * (by - ay) / length2
    return affinity.affine_transform(
        piece, [c, s, s, -c, ax - c * ax - s * ay, ay - s * ax + c * ay]
    )


def _clipped(corners: Sequence[Spot], within: shapely.Polygon) -> list[tuple[Spot, ...]]:
    common = shapely.Polygon(corners).intersection(within)
    return [_points(part) for part in _polygons(common) if part.area > _SAME]


def _polygons(found: shapely.Geometry) -> list[shapely.Polygon]:
    parts = getattr(found, "geoms", [found])
    return [p for p in parts if isinstance(p, shapely.Polygon) and not p.is_empty]


def _points(polygon: shapely.Polygon) -> tuple[Spot, ...]:
    """Corners without the last, which repeats the first, and without points on straight runs."""
    ring = [
        (round(x, 7), round(y, 7)) for x, y in polygon.simplify(_SAME / 10).exterior.coords[:-1]
    ]
    return tuple(ring)


def _motion(before: Sequence[Spot], now: Sequence[Spot], *, mirrored: bool) -> list[float]:
    """The rigid motion, as an affine matrix (a, b, d, e, x, y), that lays one outline on another:
    corner on corner in their order if that fits, else beginning at another corner."""
    count = len(before)
    if count == len(now):
        for shift in range(count):
            order = [(shift - i) % count if mirrored else (shift + i) % count for i in range(count)]
            move = _laid([before[i] for i in order], now, mirrored=mirrored)
            if all(
                math.dist(_apply(move, before[i]), q) < 0.01
                for i, q in zip(order, now, strict=True)
            ):
                return move
    # Not one outline: at least show it in its place.
    a, b = shapely.Polygon(before).centroid, shapely.Polygon(now).centroid
    return [1.0, 0.0, 0.0, 1.0, b.x - a.x, b.y - a.y]


def _laid(before: Sequence[Spot], now: Sequence[Spot], *, mirrored: bool) -> list[float]:
    (ax, ay), (bx, by) = before[0], before[1]
    (px, py), (qx, qy) = now[0], now[1]
    sign = -1.0 if mirrored else 1.0
    angle = math.atan2(qy - py, qx - px) - math.atan2(sign * (by - ay), bx - ax)
    c, s = math.cos(angle), math.sin(angle)
    a, b, d, e = c, -s * sign, s, c * sign
    return [a, b, d, e, px - a * ax - b * ay, py - d * ax - e * ay]


def _apply(move: Sequence[float], spot: Spot) -> Spot:
    a, b, d, e, x, y = move
    return (a * spot[0] + b * spot[1] + x, d * spot[0] + e * spot[1] + y)
