"""What the maker fixed, brought to the seams and crossings of the block."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from seamproof.draft.checks import (
    NO_SUCH_CROSSING,
    NO_SUCH_SEAM,
    TOWARDS_NEITHER,
    at,
    place_name,
)
from seamproof.draft.faults import SHORTEST
from seamproof.draft.loops import Partition
from seamproof.draft.model import Fixing
from seamproof.findings import Finding
from seamproof.plane.model import Line, Point
from seamproof.plane.predicates import cross, distance

NEAR = SHORTEST / 2
"""How far a fixing may be typed from the seam or crossing it means, in inches. No two vertices are
nearer than twice this, so there is never a choice."""


def fixed(
    name: str, found: Partition, fixings: Sequence[Fixing]
) -> tuple[tuple[Fixing, ...], list[Finding]]:
    """The fixings with their lines and crossings moved onto vertices, and those that mean nothing.

    A line keeps its direction and grows to whole sides: no side is pressed by half. A fixing that
    means nothing is left out.
    """
    owners: dict[tuple[int, int], int] = {}
    for loop in found.loops:
        for a, b in zip(loop.corners, (*loop.corners[1:], loop.corners[0]), strict=True):
            key = (min(a, b), max(a, b))
            owners[key] = owners.get(key, 0) + 1
    seams = [side for side, count in owners.items() if count == 2]
    result: list[Fixing] = []
    findings: list[Finding] = []
    for fixing in fixings:
        mended: Fixing | Finding = fixing
        if fixing.line is not None:
            mended = _on_seam(name, found, seams, fixing, fixing.line)
        elif fixing.crossing is not None:
            mended = _on_crossing(name, found, seams, fixing, fixing.crossing)
        if isinstance(mended, Finding):
            findings.append(mended)
        else:
            result.append(mended)
    return tuple(result), findings


def _on_seam(
    name: str,
    found: Partition,
    seams: Sequence[tuple[int, int]],
    fixing: Fixing,
    line: Line,
) -> Fixing | Finding:
    start, end = line
    length = distance(start, end)
    if length <= NEAR:
        return _no_seam(name, fixing, line, start)
    reach = float(NEAR)
    ux, uy = float(end[0] - start[0]) / length, float(end[1] - start[1]) / length
    stretches = []
    for a, b in seams:
        ends = []
        for v in (a, b):
            px = float(found.vertices[v][0] - start[0])
            py = float(found.vertices[v][1] - start[1])
            if abs(ux * py - uy * px) > reach:
                break
            ends.append((ux * px + uy * py, v))
        else:
            low, high = sorted(ends)
            if min(high[0], length) - max(low[0], 0.0) > reach:
                stretches.append((low, high))
    stretches.sort()
    covered = 0.0
    for low, high in stretches:
        if low[0] > covered + reach:
            break
        covered = max(covered, high[0])
    if covered < length - reach:
        gap = (
            start[0] + Fraction(ux * covered).limit_denominator(64),
            start[1] + Fraction(uy * covered).limit_denominator(64),
        )
        return _no_seam(name, fixing, line, gap)
    first, last = stretches[0][0][1], max(high for _, high in stretches)[1]
    snapped_line = (found.vertices[first], found.vertices[last])
    if fixing.way == "towards" and (
        fixing.towards is None
        or abs(float(cross(*snapped_line, fixing.towards))) <= reach * distance(*snapped_line)
    ):
        point = fixing.towards or start
        return TOWARDS_NEITHER.found(
            f"the seam from {place_name(start)} to {place_name(end)} is pressed towards "
            f"{place_name(point)}, which lies on neither side of it",
            mend="name a point well inside the patch that the allowances shall lie under",
            where=at(fixing.where, name, point),
        )
    return replace(fixing, line=snapped_line)


def _no_seam(name: str, fixing: Fixing, line: Line, point: Point) -> Finding:
    return NO_SUCH_SEAM.found(
        f"there is no seam from {place_name(line[0])} to {place_name(line[1])}; "
        f"it fails at {place_name(point)}",
        mend="name two points on one straight seam inside the block",
        where=at(fixing.where, name, point),
    )


def _on_crossing(
    name: str,
    found: Partition,
    seams: Sequence[tuple[int, int]],
    fixing: Fixing,
    crossing: Point,
) -> Fixing | Finding:
    vertex = min(range(len(found.vertices)), key=lambda v: distance(found.vertices[v], crossing))
    meeting = sum(vertex in side for side in seams)
    if distance(found.vertices[vertex], crossing) > NEAR or vertex in found.outline or meeting < 3:
        return NO_SUCH_CROSSING.found(
            f"no seams meet at {place_name(crossing)}",
            mend="name a point inside the block where at least two seams meet",
            where=at(fixing.where, name, crossing),
        )
    return replace(fixing, crossing=found.vertices[vertex])
