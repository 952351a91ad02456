"""Cloth that is stitched down across and folded over, its backs left in.

The first thing stays whole and flat. Of each other one the half on the right of its stitching is
folded over the line; the half on the left stays beneath.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from seamproof.findings import Finding
from seamproof.plane.model import Line
from seamproof.proof.checks import ALLOWANCE, STITCHING, faulty, long
from seamproof.proof.cloth_geometry import (
    HAIR,
    Polygon,
    Ray,
    area,
    chord,
    common,
    nothing,
    point,
    right_of,
    without,
)
from seamproof.proof.runs import End
from seamproof.proof.sewing import Opened
from seamproof.proof.stock import Layer, Sheet

_TIP = 2**0.5
"""Dog ears lie within so many allowances of the end of stitching that meets a raw edge at 45
degrees, as that of a corner folded over does."""


def folded(
    layers: Sequence[Layer], stitched: Sequence[Line], seam: float, told: str
) -> Opened | Finding:
    """The whole with its corners folded over, front sheets first.

    `seam` is the least width of cloth that must lie beyond the stitching in both layers.
    """
    base, *tops = layers
    lines = [(Ray.through(point(a), point(b)), abs(point(b) - point(a))) for a, b in stitched]
    front: list[Sheet] = []
    ends: list[tuple[End, ...]] = []
    for top in tops:
        held = [line for line in lines if _runs_through(top, *line)]
        if len(held) != 1 or not _runs_through(base, *held[0]):
            return faulty(STITCHING, f"{told}: each piece is stitched down along one line")
        line, length = held[0]
        for layer in (base, top):
            if not _wide_enough(layer, line, length, seam):
                return faulty(
                    ALLOWANCE,
                    f"{told}: the cloth beyond the stitching is not {long(seam)} everywhere",
                )
        ends += [(End(p, seam * _TIP),) for p in (line.at(0.0), line.at(length))]
        front = [
            *(_folded_over(sheet, line) for sheet in top.sheets),
            *(_half(sheet, line.back()) for sheet in top.sheets),
            *front,
        ]
    shown: list[Sheet] = []
    for sheet in (*front, *base.sheets):
        left = list(sheet.faces)
        for above in (face for other in shown for face in other.faces):
            left = [part for face in left for part in without(face, above)]
        faces = tuple(face for face in left if not nothing(face))
        shown.append(replace(sheet, faces=faces, under=(), tucked=()))
    return Opened(tuple(sheet for sheet in shown if sheet.faces), tuple(ends), base.body)


def _runs_through(layer: Layer, line: Ray, length: float) -> bool:
    """Whether a stitched line has a length in a layer that is more than a crossing of its edge."""
    runs = [run for face in layer.body if (run := chord(face, line))]
    return any(min(end, length) - max(start, 0.0) > length / 2 for start, end in runs)


def _wide_enough(layer: Layer, line: Ray, length: float, seam: float) -> bool:
    """Whether cloth reaches a seam allowance beyond the stitching, but for the tips at its ends."""
    a, b = line.at(seam), line.at(length - seam)
    across = -1j * line.ahead * seam
    strip: Polygon = (a + across, b + across, b, a)
    there = sum(area(common(face, strip)) for face in layer.body if not nothing(face))
    return there >= area(strip) - HAIR * (length + seam)


def _half(sheet: Sheet, line: Ray) -> Sheet:
    faces = (right_of(face, line) for face in sheet.faces)
    kept = tuple(face for face in faces if not nothing(face))
    return replace(sheet, faces=kept, under=(), tucked=())


def _folded_over(sheet: Sheet, line: Ray) -> Sheet:
    half = _half(sheet, line)
    turned = (tuple(line.turned_over(p) for p in reversed(face)) for face in half.faces)
    return replace(half, faces=tuple(turned))
