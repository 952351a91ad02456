"""Where a drawing fails to be a block.

Two faults are looked for in every drawing (slivers, patches that cross themselves). The rest is
asked only when the sides of the patches do not add up: then the geometry has to say where.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import numpy as np
import shapely

from seamproof.draft.checks import (
    CROSSES_ITSELF,
    ENCLOSED,
    GAP,
    IN_PIECES,
    OVERLAP,
    PINCHED,
    SLIVER,
    at,
    place_name,
    shown,
)
from seamproof.draft.loops import Loop
from seamproof.findings import Finding, Where
from seamproof.plane.model import Point
from seamproof.plane.predicates import distance
from seamproof.plane.snapping import READ_SNAP, as_array

SHORTEST = Fraction(1, 8)
"""The shortest finished side, in inches, that a patch may have: less than half a seam allowance
and shorter than a stitch or two (common practice, no source)."""

NARROWEST = SHORTEST / 4
"""A patch whose area is less than this times its diagonal has no width to speak of."""

CREVICE = 8
"""A gap at the block's edge is not meant if it is at least this many times as long as wide; an
angle in the outline of more than about fourteen degrees never looks so."""

GRID_PER_SNAP = 1024
"""Patches are merged on a grid this much finer than reading, so that rounding opens no gaps."""

SURE = 20
"""A side must be at least this many times as long as reading moved its ends, else its direction
is a guess (about three degrees)."""


def slivers(
    name: str, vertices: Sequence[Point], loops: Sequence[Loop], shift: Sequence[float] = ()
) -> list[Finding]:
    """Sides and patches too small to sew, or too small for how exactly they were typed. `shift`
    says how far reading moved each vertex."""
    sides: dict[tuple[int, int], Loop] = {}
    for loop in loops:
        for a, b in loop.darts():
            sides.setdefault((min(a, b), max(a, b)), loop)
    findings = []
    for (a, b), loop in sides.items():
        length = distance(vertices[a], vertices[b])
        moved = max(shift[a], shift[b]) if shift else 0.0
        if length < float(SHORTEST) or length < SURE * moved:
            findings.append(_short_side(name, loop, vertices[a], vertices[b]))
    return findings or [
        _thin(name, loop, [vertices[v] for v in loop.corners])
        for loop, thin in zip(loops, _narrow(vertices, loops), strict=True)
        if thin
    ]


def _short_side(name: str, loop: Loop, a: Point, b: Point) -> Finding:
    length, point = distance(a, b), _between(a, b)
    long_enough = length >= float(SHORTEST)
    return SLIVER.found(
        f"a side of only {shown(length)} in at {place_name(point)}",
        mend="if its two ends are meant to be one point, type them alike; "
        f"a side must be at least {shown(SHORTEST)} in long"
        + (" and its ends typed more exactly" if long_enough else ""),
        where=at(loop.where, name, point),
    )


def _narrow(vertices: Sequence[Point], loops: Sequence[Loop]) -> list[bool]:
    """Whether a patch is narrower than `NARROWEST`, judged by its area and longest reach."""
    shapes = _shapes(vertices, loops)
    low_x, low_y, high_x, high_y = shapely.bounds(shapes).T
    reach = np.hypot(high_x - low_x, high_y - low_y)
    narrow: list[bool] = (shapely.area(shapes) < float(NARROWEST) * reach).tolist()
    return narrow


def _thin(name: str, loop: Loop, points: Sequence[Point]) -> Finding:
    point = _between(points[0], points[len(points) // 2])
    return SLIVER.found(
        f"a patch of fabric {loop.fabric} hardly wider than a thread at {place_name(point)}",
        mend="move its points apart, or leave the patch out",
        where=at(loop.where, name, point),
    )


def _shapes(vertices: Sequence[Point], loops: Sequence[Loop]) -> np.ndarray:
    xy = as_array(vertices)
    return np.array([shapely.polygons(xy[list(loop.corners)]) for loop in loops], dtype=object)


def _between(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def unsimple(name: str, vertices: Sequence[Point], loops: Sequence[Loop]) -> list[Finding]:
    """Patches whose outline crosses or touches itself, or runs all round something."""
    shapes = _shapes(vertices, loops)
    findings = []
    for loop, shape, valid in zip(loops, shapes, shapely.is_valid(shapes), strict=True):
        again = [v for i, v in enumerate(loop.corners) if v in loop.corners[:i]]
        if valid and not again:
            continue
        if again and _goes_round(shape):
            findings.append(_enclosing(name, loop, vertices[again[0]]))
            continue
        point = (
            vertices[again[0]]
            if again
            else _named_point(shapely.is_valid_reason(shape), vertices[loop.corners[0]])
        )
        findings.append(
            CROSSES_ITSELF.found(
                f"the patch of fabric {loop.fabric} crosses or touches itself "
                f"at {place_name(point)}",
                mend="list its corners once round, in order; "
                "two parts that meet at a point are two patches",
                where=at(loop.where, name, point),
            )
        )
    return findings


def _goes_round(shape: shapely.Geometry) -> bool:
    """Whether a loop that meets itself has something else inside."""
    parts = shapely.get_parts(shapely.make_valid(shape))
    return any(len(part.interiors) for part in parts if part.geom_type == "Polygon")


def _enclosing(name: str, loop: Loop, point: Point) -> Finding:
    return ENCLOSED.found(
        f"the patch of fabric {loop.fabric} lies all round what is inside it, "
        f"at {place_name(point)}",
        mend="no seam can be sewn all round a patch: "
        "draw one more seam from the inner patch outwards",
        where=at(loop.where, name, point),
    )


def _named_point(reason: str, otherwise: Point) -> Point:
    """The point in shapely's "Self-intersection[1 2]"."""
    inside = reason.partition("[")[2].rstrip("]").split()
    if len(inside) < 2:
        return otherwise
    return (_rough(float(inside[0])), _rough(float(inside[1])))


def _rough(value: float) -> Fraction:
    """A place good enough to point at."""
    return Fraction(value).limit_denominator(1000)


def spot_in(shape: shapely.Geometry) -> Point:
    """A point inside a shape, good enough to point at."""
    spot = shapely.point_on_surface(shape)
    return (_rough(spot.x), _rough(spot.y))


def diagnosis(name: str, vertices: Sequence[Point], loops: Sequence[Loop]) -> list[Finding]:
    """What the geometry says about a drawing whose sides do not add up; never empty."""
    shapes = _shapes(vertices, loops)
    findings = _overlaps(name, loops, shapes)
    if findings:
        return findings
    whole = shapely.union_all(shapes, grid_size=float(READ_SNAP) / GRID_PER_SNAP)
    pieces = [p for p in shapely.get_parts(whole) if p.area > 0]
    for piece in pieces:
        for hole in piece.interiors:
            gap = shapely.Polygon(hole)
            point = spot_in(gap)
            findings.append(
                GAP.found(
                    f"no patch covers the place at {place_name(point)}, "
                    f"{shown(gap.area)} square inches",
                    mend="draw the missing patch, or bring the points round the gap together",
                    where=at(_nearest(loops, shapes, gap), name, point),
                )
            )
    findings += crevices(name, vertices, loops, whole)
    if not findings:
        findings += _pinches(name, vertices, loops)
    if len(pieces) > 1 and not findings:
        findings += [_apart(name, loops, shapes, piece) for piece in pieces[1:]]
    return findings or [
        GAP.found(
            f"the sides of the patches near {place_name(vertices[loops[0].corners[0]])} "
            "do not meet",
            mend="type the points that neighbouring patches share alike",
            where=at(loops[0].where, name, vertices[loops[0].corners[0]]),
        )
    ]


def crevices(
    name: str, vertices: Sequence[Point], loops: Sequence[Loop], whole: shapely.Geometry
) -> list[Finding]:
    """Gaps too narrow to be meant, open to the block's edge: what is filled when `whole`, the area
    of the block, is grown by half a shortest side and shrunk again.
    """
    reach = float(SHORTEST) / 2
    grown = shapely.buffer(whole, reach, join_style="mitre")
    filled = shapely.difference(shapely.buffer(grown, -reach, join_style="mitre"), whole)
    findings = []
    for part in shapely.get_parts(filled):
        length = 2 * shapely.minimum_bounding_radius(part)
        if length < CREVICE * reach or part.area < length * float(READ_SNAP) / 4:
            continue
        point = spot_in(part)
        findings.append(
            GAP.found(
                f"a narrow gap runs in from the block's edge at {place_name(point)}",
                mend="bring the points on both sides of it together",
                where=at(_nearest(loops, _shapes(vertices, loops), part), name, point),
            )
        )
    return findings


def _apart(
    name: str, loops: Sequence[Loop], shapes: np.ndarray, piece: shapely.Geometry
) -> Finding:
    point = spot_in(piece)
    return IN_PIECES.found(
        f"the patches round {place_name(point)} are not joined to the rest",
        mend="bring the points of neighbouring patches together, or draw what lies between",
        where=at(_nearest(loops, shapes, piece), name, point),
    )


def _nearest(loops: Sequence[Loop], shapes: np.ndarray, to: shapely.Geometry) -> Where:
    return loops[int(np.argmin(shapely.distance(shapes, to)))].where


def _overlaps(name: str, loops: Sequence[Loop], shapes: np.ndarray) -> list[Finding]:
    tree = shapely.STRtree(shapes)
    first, second = tree.query(shapes, predicate="intersects")
    findings = []
    for i, j in sorted(zip(first.tolist(), second.tolist(), strict=True)):
        if i >= j:
            continue
        common = shapely.intersection(shapes[i], shapes[j])
        thin = float(READ_SNAP) * min(shapes[i].length, shapes[j].length) / SURE
        if common.area <= thin:
            continue
        point = spot_in(common)
        outer, inner = (i, j) if shapes[i].area > shapes[j].area else (j, i)
        if common.area >= shapes[inner].area - thin and not shapes[outer].equals(shapes[inner]):
            findings.append(
                ENCLOSED.found(
                    f"the patch of fabric {loops[inner].fabric} at {place_name(point)} lies "
                    f"on top of the patch of fabric {loops[outer].fabric}",
                    mend="patches lie side by side: "
                    "draw the outer one as pieces round the inner one",
                    where=at(loops[inner].where, name, point),
                )
            )
        else:
            findings.append(
                OVERLAP.found(
                    f"the patches of fabric {loops[i].fabric} and {loops[j].fabric} lie over "
                    f"each other at {place_name(point)}, {shown(common.area)} square inches",
                    mend="move the points of one of them so that they share a side",
                    where=at(loops[j].where, name, point),
                )
            )
    return findings


def _pinches(name: str, vertices: Sequence[Point], loops: Sequence[Loop]) -> list[Finding]:
    """Vertices at which the block's edge passes twice."""
    darts = {dart: loop for loop in loops for dart in loop.darts()}
    leaving: dict[int, list[Loop]] = {}
    for (a, b), loop in darts.items():
        if (b, a) not in darts:
            leaving.setdefault(a, []).append(loop)
    return [
        PINCHED.found(
            f"patches touch only at the point {place_name(vertices[v])}",
            mend="give them a side in common; nothing holds a block together at a point",
            where=at(there[0].where, name, vertices[v]),
        )
        for v, there in sorted(leaving.items())
        if len(there) > 1
    ]
