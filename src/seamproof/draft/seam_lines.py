"""A block written as seam lines that divide a rectangle."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import shapely

from seamproof.draft.checks import (
    ENCLOSED,
    NO_FABRIC,
    POINT_ON_SEAM,
    POINT_OUTSIDE,
    SEAM_ENDS_NOWHERE,
    SEAM_OUTSIDE,
    TOO_MANY,
    TWO_FABRICS,
    at,
    place_name,
)
from seamproof.draft.faults import spot_in
from seamproof.draft.loops import Loop, Partition
from seamproof.draft.model import DrawnSeam, FabricAt, Seams
from seamproof.draft.partition import partition
from seamproof.findings import Finding, Where
from seamproof.plane.faces import clipped, crossing, faces
from seamproof.plane.model import Line, Point
from seamproof.plane.predicates import area
from seamproof.plane.snapping import READ_SNAP, as_array, snapped, to_box
from seamproof.plane.straightening import straightened

MOST_CROSSINGS = 20_000
"""Crossings of seam lines that a drawing may have; five times the patches a block may have."""


@dataclass(frozen=True)
class _Map:
    """The faces that the lines make, before they have a fabric."""

    vertices: tuple[Point, ...]
    faces: tuple[tuple[int, ...], ...]
    shift: tuple[float, ...]


def from_seams(name: str, finished: Point, drawn: Seams) -> tuple[Partition | None, list[Finding]]:
    """The partition that the seam lines were meant as, or what is wrong with them.

    A line runs where it is drawn and may stop at another; what hangs over the edge of the block is
    left out. Patches are in the order in which their fabrics are named.
    """
    seams, findings = _inside(name, finished, drawn)
    found, faults = _mapped(name, finished, drawn, seams)
    findings += faults
    if found is None:
        return None, findings
    named, faults = _fabrics(name, drawn, found)
    findings += faults
    if faults:
        return None, findings
    loops = [Loop(fabric.fabric, found.faces[face], fabric.where) for face, fabric in named.items()]
    result, faults = partition(name, found.vertices, loops, found.shift)
    return result, findings + faults


def _inside(
    name: str, finished: Point, drawn: Seams
) -> tuple[list[tuple[Line, Where]], list[Finding]]:
    """The seams cut off at the block's edge, and those that are not in it at all."""
    seams: list[tuple[Line, Where]] = []
    findings: list[Finding] = []
    for seam in drawn.seams:
        part = clipped((to_box(seam.line[0], finished), to_box(seam.line[1], finished)), finished)
        if part is None or part[0] == part[1] or _along_edge(part, finished):
            findings.append(_outside(name, seam))
        else:
            seams.append(((to_box(part[0], finished), to_box(part[1], finished)), seam.where))
    return seams, findings


def _along_edge(line: Line, size: Point) -> bool:
    return any(
        line[0][axis] == line[1][axis] == level for axis in (0, 1) for level in (0, size[axis])
    )


def _outside(name: str, seam: DrawnSeam) -> Finding:
    return SEAM_OUTSIDE.found(
        f"the seam from {place_name(seam.line[0])} to {place_name(seam.line[1])} divides nothing: "
        "it has no length, or lies outside the block or along its edge",
        mend="leave it out, or correct its ends",
        where=at(seam.where, name, seam.line[0]),
    )


def _mapped(
    name: str, finished: Point, drawn: Seams, seams: Sequence[tuple[Line, Where]]
) -> tuple[_Map | None, list[Finding]]:
    width, height = finished
    zero = Fraction(0)
    corners = [(zero, zero), (width, zero), (width, height), (zero, height)]
    lines: list[Line] = [*itertools.pairwise([*corners, corners[0]])]
    lines += [line for line, _ in seams]
    meetings = _crossings(lines)
    if len(meetings) > MOST_CROSSINGS:
        return None, [
            TOO_MANY.found(
                f"the seam lines cross more than {MOST_CROSSINGS} times",
                mend="draw fewer lines",
                where=at(drawn.where, name),
            )
        ]
    together = snapped(lines, closed=False, extra=meetings)
    sides = sorted(
        {
            (min(side), max(side))
            for string in together.strings
            for side in itertools.pairwise(string)
            if side[0] != side[1]
        }
    )
    findings = _loose_ends(name, together.vertices, together.typed[4:], sides, seams)
    if findings:
        return None, findings
    vertices = straightened(together.vertices, sides, size=finished)
    inside: list[tuple[int, ...]] = []
    outside: list[tuple[int, ...]] = []
    for loop in faces(vertices, sides):
        (inside if area([vertices[v] for v in loop]) > 0 else outside).append(loop)
    for loop in outside:
        if (zero, zero) not in [vertices[v] for v in loop]:
            point = vertices[loop[0]]
            findings.append(
                ENCLOSED.found(
                    f"the seams round {place_name(point)} are joined to no other seam, "
                    "so that one patch lies all round others",
                    mend="no seam can be sewn all round a patch: "
                    "draw one more seam from there outwards",
                    where=at(drawn.where, name, point),
                )
            )
    if findings:
        return None, findings
    return _Map(vertices, tuple(inside), together.shift), []


def _crossings(lines: Sequence[Line]) -> list[Point]:
    shapes = shapely.linestrings([as_array(line) for line in lines])
    tree = shapely.STRtree(shapes)
    first, second = tree.query(shapes, predicate="dwithin", distance=float(READ_SNAP))
    found: dict[Point, None] = {}
    for i, j in sorted(zip(first.tolist(), second.tolist(), strict=True)):
        if i < j:
            point = crossing(lines[i], lines[j])
            if point is not None:
                found[point] = None
            if len(found) > MOST_CROSSINGS:
                break
    return list(found)


def _loose_ends(
    name: str,
    vertices: Sequence[Point],
    typed: Sequence[Sequence[int]],
    sides: Sequence[tuple[int, int]],
    seams: Sequence[tuple[Line, Where]],
) -> list[Finding]:
    degree: dict[int, int] = {}
    for side in sides:
        for v in side:
            degree[v] = degree.get(v, 0) + 1
    return [
        SEAM_ENDS_NOWHERE.found(
            f"this seam ends at {place_name(vertices[v])}, in the middle of a patch",
            mend="let it run on to another seam or to the block's edge",
            where=at(where, name, vertices[v]),
        )
        for string, (_, where) in zip(typed, seams, strict=True)
        for v in dict.fromkeys((string[0], string[-1]))
        if degree.get(v, 0) == 1
    ]


def _fabrics(name: str, drawn: Seams, found: _Map) -> tuple[dict[int, FabricAt], list[Finding]]:
    """For each face the first that names its fabric, in the order of naming."""
    xy = as_array(found.vertices)
    shapes = [shapely.polygons(xy[list(face)]) for face in found.faces]
    tree = shapely.STRtree(shapes)
    named: dict[int, FabricAt] = {}
    findings: list[Finding] = []
    for fabric in drawn.fabrics:
        spot = shapely.points(float(fabric.at[0]), float(fabric.at[1]))
        near = sorted(tree.query(spot, predicate="dwithin", distance=float(READ_SNAP)).tolist())
        where = at(fabric.where, name, fabric.at)
        if not near:
            findings.append(
                POINT_OUTSIDE.found(
                    f"the point {place_name(fabric.at)} for fabric {fabric.fabric} "
                    "lies outside the block",
                    mend="name a point inside the patch",
                    where=where,
                )
            )
        elif shapes[near[0]].exterior.distance(spot) <= float(READ_SNAP):
            findings.append(
                POINT_ON_SEAM.found(
                    f"the point {place_name(fabric.at)} for fabric {fabric.fabric} "
                    "lies on a seam or on the block's edge",
                    mend="name a point well inside the patch",
                    where=where,
                )
            )
        elif named.setdefault(near[0], fabric).fabric != fabric.fabric:
            findings.append(
                TWO_FABRICS.found(
                    f"the patch at {place_name(fabric.at)} is given fabric {fabric.fabric} here "
                    f"and fabric {named[near[0]].fabric} at {place_name(named[near[0]].at)}",
                    mend="leave one of them out, or draw the seam that is missing between them",
                    where=where,
                )
            )
    for face, shape in enumerate(shapes):
        if face not in named:
            point = spot_in(shape)
            findings.append(
                NO_FABRIC.found(
                    f"the patch at {place_name(point)} has no fabric",
                    mend="name a fabric for a point inside it",
                    where=at(drawn.where, name, point),
                )
            )
    return named, findings
