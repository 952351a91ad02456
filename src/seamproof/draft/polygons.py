"""A block written as polygons."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from seamproof.draft.checks import FEW_CORNERS, NO_PATCHES, SIZE_MISMATCH, at, place_name, shown
from seamproof.draft.loops import Loop, Partition
from seamproof.draft.model import DrawnPatch, Polygons
from seamproof.draft.partition import partition
from seamproof.findings import Finding, Where
from seamproof.plane.model import Point
from seamproof.plane.predicates import box
from seamproof.plane.snapping import READ_SNAP, as_array, snapped, to_box
from seamproof.plane.straightening import straightened


def from_polygons(
    name: str, finished: Point, drawn: Polygons
) -> tuple[Partition | None, list[Finding]]:
    """The partition that the polygons were meant as, or what is wrong with them."""
    if not drawn.patches:
        return None, [
            NO_PATCHES.found(
                "the block has no patches",
                mend="write at least one patch",
                where=at(drawn.where, name),
            )
        ]
    findings = [
        FEW_CORNERS.found(
            f"this patch of fabric {patch.fabric} has only {len(set(patch.points))} "
            "different points",
            mend="a patch needs at least three corners",
            where=at(patch.where, name, patch.points[0] if patch.points else None),
        )
        for patch in drawn.patches
        if len(set(patch.points)) < 3
    ]
    if findings:
        return None, findings
    mismatch = _size(name, finished, drawn)
    if mismatch is not None:
        return None, [mismatch]
    strings = [[to_box(p, finished) for p in patch.points] for patch in drawn.patches]
    together = snapped(strings)
    for patch, typed in zip(drawn.patches, together.typed, strict=True):
        if len(set(typed)) < 3:
            findings.append(_collapsed(name, patch))
    if findings:
        return None, findings
    sides = [
        side
        for s in together.strings
        for side in zip(s, (*s[1:], s[0]), strict=True)
        if side[0] != side[1]
    ]
    vertices = straightened(together.vertices, sides, size=finished)
    xy = as_array(vertices)
    loops = [
        Loop(patch.fabric, _clockwise(xy, string), patch.where)
        for patch, string in zip(drawn.patches, together.strings, strict=True)
    ]
    return partition(name, vertices, loops, together.shift)


def _collapsed(name: str, patch: DrawnPatch) -> Finding:
    return FEW_CORNERS.found(
        f"the points of this patch of fabric {patch.fabric} lie closer together than "
        f"{shown(READ_SNAP)} in",
        mend="a patch needs three corners that lie apart",
        where=at(patch.where, name, patch.points[0]),
    )


def _clockwise(xy: np.ndarray, loop: Sequence[int]) -> tuple[int, ...]:
    x, y = xy[list(loop)].T
    if float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) < 0:
        return tuple(reversed(loop))
    return tuple(loop)


def _size(name: str, finished: Point, drawn: Polygons) -> Finding | None:
    """What is wrong if the bounding box of the patches is not the finished size."""
    low, high = box([p for patch in drawn.patches for p in patch.points])
    if all(
        abs(low[axis]) <= READ_SNAP and abs(high[axis] - finished[axis]) <= READ_SNAP
        for axis in (0, 1)
    ):
        return None
    where = _farthest(drawn, low, high, finished)
    return SIZE_MISMATCH.found(
        f"the patches reach from {place_name(low)} to {place_name(high)}, "
        f"{shown(high[0] - low[0])} x {shown(high[1] - low[1])} in, but the finished size is "
        f"{shown(finished[0])} x {shown(finished[1])} in",
        mend="make the patches start at (0, 0) and fill the finished size, "
        "or change the finished size",
        where=at(where[0], name, where[1]),
    )


def _farthest(drawn: Polygons, low: Point, high: Point, finished: Point) -> tuple[Where, Point]:
    """The first patch and point at the side of the bounding box that is most out of place."""
    out = {
        (0, low[0]): abs(low[0]),
        (1, low[1]): abs(low[1]),
        (0, high[0]): abs(high[0] - finished[0]),
        (1, high[1]): abs(high[1] - finished[1]),
    }
    axis, value = max(out, key=lambda key: out[key])
    return next(
        (patch.where, p) for patch in drawn.patches for p in patch.points if p[axis] == value
    )
