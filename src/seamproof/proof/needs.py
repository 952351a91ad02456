"""How large every piece must be cut, derived anew from the finished patch.

A patch with one seam allowance round it must come out of what is cut. From that follow the sizes,
by how many patches one cut piece gives:

- *one*: the rectangle round the patch, and two allowances more each way. That is a rectangle
  itself, the square of which a folded corner is half, and the whole that such corners are sewn to.
  A template, or a shape cut from a strip, is the patch with its allowances;
- *two* (a square or rectangle cut on one diagonal, before or after sewing): the legs of the
  right-angled triangle with its allowances; more for rectangles that are laid crosswise whole;
- *four* (a square cut on both diagonals): its hypotenuse;
- *eight* (a square cut on both diagonals and half-way across): both legs in a row.

So a half-square triangle square of finished size F needs F + s(2 + √2) and an hourglass square
F + s(2 + 2√2), for any seam allowance s.
"""

from __future__ import annotations

import math
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Piece
from seamproof.findings import Finding
from seamproof.length.rounding import SAME, nearest, up
from seamproof.plane.model import Point
from seamproof.proof.checks import NEED, RULER, by, faulty, long
from seamproof.proof.cloth_geometry import (
    HAIR,
    Polygon,
    Ray,
    axis,
    box,
    cross,
    edges,
    motion,
    polygon,
    pushed_out,
    straightened,
)
from seamproof.proof.stock import strip_edge

RIGHT = 1e-6
"""Cosine of an angle that is still a right one: a millionth, no thread on any block."""


_IN_HALVES = 8
"""A square that gives so many is cut half-way across, besides on its diagonals."""


def need_fault(piece: Piece, patch: tuple[Point, ...], gives: int, seam: float) -> Finding | None:
    """Whether the needed sizes of a piece are what its finished patch asks for.

    `gives` is how many patches one cut piece gave in the account.
    """
    said = (piece.width.need, piece.height.need)
    ways = _ways(piece, straightened(polygon(patch)), gives, seam)
    if not ways:
        return faulty(
            NEED,
            f"{piece.letter}: no patch of this shape comes {gives} at a time from a {piece.shape}",
        )
    if any(_near(said, way) or _near(said, way[::-1]) for way in ways):
        return None
    best = min(ways, key=lambda way: abs(sum(way) - sum(said)))
    return faulty(
        NEED, f"{piece.letter} needs {by(*best)} for its patch, and {by(*said)} is stated"
    )


def _near(said: tuple[float, float], true: tuple[float, float]) -> bool:
    return all(abs(a - b) <= SAME for a, b in zip(said, true, strict=True))


def _ways(piece: Piece, patch: Polygon, gives: int, seam: float) -> list[tuple[float, float]]:
    """The least sizes from which so many patches with their allowances can be cut."""
    grown = pushed_out(patch, seam)
    if piece.shape not in ("square", "rectangle"):
        return [_outline_size(piece)] if gives == 1 and _is_outline(piece, grown) else []
    if gives == 1:
        return [(width + 2 * seam, height + 2 * seam) for width, height in _spans(patch)]
    legs = right_legs(grown)
    if gives == 2 and legs is not None:
        if piece.shape == "rectangle" and piece.split == "whole":
            return [_crosswise(*legs, seam), _end_to_end(legs[0], seam)]
        return [legs]
    if gives == _IN_HALVES and legs is not None and abs(legs[0] - legs[1]) <= SAME:
        return [(2 * legs[0], 2 * legs[0])]
    if gives == 4 and legs is not None and abs(legs[0] - legs[1]) <= SAME:
        return [(abs(complex(*legs)), abs(complex(*legs)))]
    return []


def _crosswise(one: float, other: float, seam: float) -> tuple[float, float]:
    """Two rectangles laid diagonal on diagonal, sewn and cut apart: the triangles lie end on end,
    and are shifted along the seam when they are trimmed, until the angles of the finished patches
    meet. Each angle's bisector runs from the raw corner to the finished one."""
    long = math.hypot(one, other)
    tips = [seam / math.tan(math.atan2(a, b) / 2) for a, b in ((one, other), (other, one))]
    larger = 1 + abs(tips[0] - tips[1]) / long
    return one * larger, other * larger


def _end_to_end(leg: float, seam: float) -> tuple[float, float]:
    """Two equal triangles, one at either end of a rectangle, with an allowance each at the cut
    between them that runs at 45 degrees. Beside the cut each is as wide as the rectangle."""
    aside = seam * math.sqrt(2)
    return leg - aside, leg + aside


def _spans(patch: Polygon) -> list[tuple[float, float]]:
    """Width and height of the rectangle round a patch that lies with a side level, or aslant at 45
    degrees. So lies the cloth of a patch whose own sides are cut, or have corners folded over."""
    found = []
    for side in edges(patch):
        for ahead in (side.ahead, side.ahead * (1 + 1j) / abs(1 + 1j)):
            level = Ray(side.start, ahead)
            along, off = [level.along(p) for p in patch], [level.off(p) for p in patch]
            found.append((max(along) - min(along), max(off) - min(off)))
    return found


def right_legs(shape: Polygon) -> tuple[float, float] | None:
    """The legs of a right-angled triangle; None for anything else.

    >>> right_legs((0j, 4, 3j)), right_legs((0, 4, 1 + 3j)), right_legs((0, 1, 1 + 1j, 1j))
    ((3.0, 4.0), None, None)
    """
    if len(shape) != 3:
        return None
    for i, p in enumerate(shape):
        a, b = shape[i - 1] - p, shape[(i + 1) % 3] - p
        if abs((a * b.conjugate()).real) <= RIGHT * abs(a) * abs(b):
            return abs(a), abs(b)
    return None


def _is_outline(piece: Piece, grown: Polygon) -> bool:
    """Whether the outline of a piece is the patch with its allowances, turned perhaps."""
    outline = straightened(polygon(piece.corners))
    return any(
        motion(outline, grown[first:] + grown[:first], over=False) is not None
        for first in range(len(grown))
    )


def _outline_size(piece: Piece) -> tuple[float, float]:
    """Width and height of what is cut by its outline, as the piece's shape measures them."""
    outline = straightened(polygon(piece.corners))
    x0, y0, x1, y1 = box(outline)
    if piece.shape == "template":
        return x1 - x0, y1 - y0
    if piece.shape in ("wedge", "kite"):
        middle = axis(outline)
        if middle is None:
            return 0.0, 0.0
        along, off = [middle.along(p) for p in outline], [middle.off(p) for p in outline]
        long, wide = max(along) - min(along), max(off) - min(off)
        return (long, wide) if piece.shape == "wedge" else (wide, long)
    edge = strip_edge(outline)
    strip = max(edge.off(p) for p in outline)
    if piece.shape in ("triangle", "trapezoid"):
        along = [edge.along(p) for p in outline if abs(edge.off(p)) <= HAIR]
        return strip, max(along) - min(along)
    slanted = next(e for e in edges(outline) if abs(cross(e.ahead, edge.ahead)) > RIGHT)
    return strip, max(slanted.off(p) for p in outline)


def angle_fault(piece: Piece) -> Finding | None:
    """Whether the stated angle of a slanted cut is that of the piece's outline, in whole degrees
    from the strip's edge."""
    said = piece.angle
    if said is None:
        return None
    outline = straightened(polygon(piece.corners))
    edge = strip_edge(outline) if outline else None
    slants = {
        round(math.degrees(math.asin(min(abs(cross(e.ahead, edge.ahead)), 1.0))))
        for e in edges(outline)
        if edge is not None
    }
    if said in slants - {0, 90}:
        return None
    return faulty(NEED, f"{piece.letter} has no side that slants by {said} degrees")


def ruler_fault(piece: Piece, gives: int, settings: CuttingSettings) -> Finding | None:
    """Whether the sizes a maker cuts are what the rounding rule makes of the needed ones.

    On the ruler: equal, and on a mark. Trimmed afterwards: up to the next mark, and the oversize of
    its unit's kind. Sewn as cut: the nearest mark; a square or rectangle that is divided on its
    diagonals (`gives` more than one patch) up to the next one. A template is cut round its outline,
    so its width and height only say how large it is: the nearest marks.
    """
    trimmed = settings.sizes == "trimmed"
    more = settings.oversize.get(piece.unit, Fraction(0)) if trimmed else Fraction(0)
    for size in (piece.width, piece.height):
        # Half-way between two marks either of them is the nearest.
        marks = {nearest(size.need + by, settings.step) for by in (float(SAME), -float(SAME))}
        parts = 2 if gives == _IN_HALVES else 1  # cut half-way across, so each half is on a mark
        if piece.rounding == "trimmed":
            marks = {parts * (up(size.need / parts, settings.step) + more)}
        elif gives > 1:
            marks = {parts * up(size.need / parts, settings.step)}
        off = abs(size.ruler - size.need) > SAME and piece.shape != "template"
        if size.ruler not in marks or (piece.rounding == "on the ruler" and off):
            return faulty(
                RULER,
                f"{piece.letter} is cut {long(size.ruler)}; what is needed, {long(size.need)}, "
                f"taken to the ruler as “{piece.rounding}” is {long(max(marks))}",
            )
    return None
