"""A seam that was left open half-way, sewn to its end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from seamproof.findings import Finding
from seamproof.plane.model import Line
from seamproof.proof.checks import ALLOWANCE, STITCHING, faulty, long
from seamproof.proof.cloth_geometry import HAIR, Polygon, Ray, area, common, nothing, point, without
from seamproof.proof.cloth_geometry import right_of as clipped
from seamproof.proof.runs import End, Run, Stitching, ends_well, runs_through
from seamproof.proof.sewing import Opened, all_faces
from seamproof.proof.sewing import uncovered as uncovered_by
from seamproof.proof.stock import Layer, Sheet

_FAR = 4
"""Strips are drawn longer than their seam by so many allowances, and cut to their limits."""


def finished(layer: Layer, stitched: Sequence[Line], seam: float, told: str) -> Opened | Finding:
    """A thing whose open seam is sewn along the rest of its line: cloth of either side that lay
    flat over the line becomes allowance, and what it hid comes in sight."""
    lines = [
        Stitching(Ray.through(point(a), point(b)), abs(point(b) - point(a)), point(a))
        for a, b in stitched
    ]
    inner = [x for x in lines if not _meets_another(x, lines)]
    if not all(ends_well(layer, layer, line, seam) for line in inner):
        return faulty(STITCHING, f"{told}: the stitching ends beyond the cloth or in its edge")
    sheets = list(layer.sheets)
    ends: list[tuple[End, ...]] = []
    for run in runs_through(layer, lines, seam):
        ends += [(end,) for end in run.ends]
        done = _sewn(sheets, run, seam)
        if done is None:
            return faulty(
                ALLOWANCE, f"{told}: the cloth beyond the stitching is not {long(seam)} everywhere"
            )
        sheets = done
    return Opened(tuple(sheets), tuple(ends), layer.body)


def _meets_another(line: Stitching, lines: Sequence[Stitching]) -> bool:
    """Whether a line goes on in another one round a corner."""
    ends = (line.line.start, line.line.at(line.length))
    return any(
        abs(p - q) <= HAIR
        for other in lines
        if other is not line
        for p in ends
        for q in (other.line.start, other.line.at(other.length))
    )


def _sewn(sheets: Sequence[Sheet], run: Run, seam: float) -> list[Sheet] | None:
    """The sheets once one run is sewn; None if an allowance is not whole."""
    strips = [_strip(run, side, 0, seam) for side in (run.line, run.line.back())]
    deeper = [_strip(run, side, seam + HAIR, seam * 1.5) for side in (run.line, run.line.back())]
    sure = [_sure(run, side, seam) for side in (run.line, run.line.back())]
    found, folded = list(sheets), [0.0, 0.0]
    touched: list[tuple[int, int]] = []
    for number, sheet in enumerate(sheets):
        cloth = (*sheet.faces, *sheet.under, *sheet.tucked)
        if not any(_in(cloth, strip) > HAIR * seam for strip in strips):
            continue
        # A sheet goes on on its own side of the seam, and ends with its allowance on the other.
        own = 0 if _in(cloth, deeper[0]) >= _in(cloth, deeper[1]) else 1
        touched.append((number, own))
        folded[own] += _in(cloth, sure[1 - own])
        away = [part for face in sheet.faces for part in without(face, strips[1 - own])]
        found[number] = replace(sheet, faces=tuple(away))
    wanted = area(sure[0]) if sure[0] else 0.0
    if any(there < wanted - HAIR * (wanted / seam + seam) for there in folded):
        return None
    shown = all_faces(found)
    for number, own in touched:
        sheet = found[number]
        comes = [part for face in sheet.under if not nothing(part := common(face, strips[own]))]
        rest = uncovered_by(replace(sheet, faces=tuple(comes)), shown)
        found[number] = replace(sheet, faces=sheet.faces + rest.faces)
        shown += rest.faces
    return found


def _in(cloth: Sequence[Polygon], strip: Polygon) -> float:
    return sum(area(common(face, strip)) for face in cloth) if strip else 0.0


def _strip(run: Run, side: Ray, near: float, far: float) -> Polygon:
    """The cloth between two distances on the right of one side of a run, as far as its limits."""
    low, high = (side.along(limit.start) for limit in run.limits[:2])
    reach = _FAR * far
    shape = _box(side, min(low, high) - reach, max(low, high) + reach, near, far)
    for limit in run.limits[:2]:
        shape = clipped(shape, limit)
    return shape


def _sure(run: Run, side: Ray, seam: float) -> Polygon:
    low, high = sorted(side.along(run.line.at(end)) for end in run.sure)
    return _box(side, low, high, 0.0, seam) if run.sure[1] > run.sure[0] else ()


def _box(side: Ray, low: float, high: float, near: float, far: float) -> Polygon:
    across = side.ahead * 1j
    a, b = side.at(low), side.at(high)
    return (a + across * near, b + across * near, b + across * far, a + across * far)
