"""Whether what was sewn is the block that was drawn, patch by patch."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import islice

from seamproof.draft.model import Block
from seamproof.findings import Finding
from seamproof.plane.model import Point
from seamproof.proof.checks import NOT_THE_BLOCK, by, faulty
from seamproof.proof.cloth_geometry import (
    Motion,
    Polygon,
    apart,
    area,
    box,
    common,
    convex_faces,
    motion,
    polygon,
    pushed_out,
    straightened,
)
from seamproof.proof.stock import Sheet, Thing, extent, tip

MOST_TOLD = 6
"""Patches named one by one; a block that lies wrong altogether has too many to read."""


def compare(block: Block, sewn: Thing, seam: float) -> tuple[Finding, ...]:
    """What is wrong with the front of a sewn block, compared with the drawing.

    It must have the drawing's outline with one seam allowance outside it, and show each patch as
    one piece of its fabric. A block may have been sewn lying turned.
    """
    drawn = straightened(polygon(block.vertices[v] for v in block.outline))
    rim = pushed_out(drawn, seam)
    outline = sewn.outline
    moves = [
        move
        for first in range(len(rim))
        if (move := motion(outline, rim[first:] + rim[:first], over=False)) is not None
    ]
    if not moves:
        width, height = extent(sewn.corners)
        return (
            faulty(
                NOT_THE_BLOCK,
                f"what is sewn last is {by(width, height)} from raw edge to raw edge, not a block, "
                f"{by(float(block.width) + 2 * seam, float(block.height) + 2 * seam)}",
            ),
        )
    # A drawing that looks the same turned can lie in more than one way; the best one counts.
    best: tuple[Finding, ...] | None = None
    for move in moves:
        found = tuple(islice(_faults(block, sewn.sheets, move, seam), MOST_TOLD))
        if best is None or len(found) < len(best):
            best = found
        if not best:
            break
    return best or ()


def _faults(block: Block, sheets: Sequence[Sheet], move: Motion, seam: float) -> Iterator[Finding]:
    moved = [sheet.moved(move) for sheet in sheets]
    places = _Places(moved)
    used: set[int] = set()
    for patch in block.patches:
        corners = block.corners_of(patch)
        shape = straightened(polygon(corners))
        faces, whole = convex_faces(shape), area(shape)
        here = box(shape)
        there = {
            n: _overlap(faces, moved[n].faces)
            for n in places.near(here)
            if not apart(here, places.boxes[n])
        }
        most = max(there, key=lambda n: there[n], default=-1)
        if most < 0 or there[most] <= tip(seam):
            yield _fault(corners, "has no cloth")
            continue
        right = sum(there[n] for n in there if moved[n].fabric == patch.fabric)
        if moved[most].fabric != patch.fabric:
            shown, drawn = moved[most].fabric.upper(), patch.fabric.upper()
            yield _fault(corners, f"shows {shown}, and {drawn} is drawn")
        elif min(right, there[most]) < whole - tip(seam):
            yield _fault(corners, "is not one whole piece of cloth as drawn")
        elif most in used:
            yield _fault(corners, "and another patch are one piece of cloth")
        used.add(most)


def _fault(corners: Sequence[Point], what: str) -> Finding:
    middle = (
        sum((x for x, _ in corners), start=Fraction(0)) / len(corners),
        sum((y for _, y in corners), start=Fraction(0)) / len(corners),
    )
    return faulty(NOT_THE_BLOCK, f"as it is sewn, the patch here {what}", at=middle)


def _overlap(faces: Sequence[Polygon], others: Sequence[Polygon]) -> float:
    return sum(area(common(face, other)) for face in faces for other in others)


class _Places:
    """Where sheets lie, by squares of a coarse grid."""

    def __init__(self, sheets: Sequence[Sheet]) -> None:
        self.boxes = [box(p for face in sheet.faces for p in face) for sheet in sheets]
        widths = sorted(max(b[2] - b[0], b[3] - b[1]) for b in self.boxes)
        self.square = widths[len(widths) // 2] if widths else 1.0
        self.sheets: defaultdict[tuple[int, int], list[int]] = defaultdict(list)
        for number, b in enumerate(self.boxes):
            for cell in self._cells(b):
                self.sheets[cell].append(number)

    def _cells(self, b: tuple[float, float, float, float]) -> Iterator[tuple[int, int]]:
        x0, y0, x1, y1 = (math.floor(v / self.square) for v in b)
        return ((x, y) for x in range(x0, x1 + 1) for y in range(y0, y1 + 1))

    def near(self, b: tuple[float, float, float, float]) -> list[int]:
        """Numbers of the sheets that may have cloth in a box, in order."""
        return sorted({number for cell in self._cells(b) for number in self.sheets[cell]})
