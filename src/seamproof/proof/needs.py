"""How large every piece must be cut, derived anew from the finished patch.

A patch with one seam allowance round it must come out of what is cut. From that follow the sizes,
by how many patches one cut piece gives:

- *one*: the piece is the patch with its allowances, or, where a square is stitched across its
  diagonal and folded over, the square of which that triangle is half; or, where corners of it are
  covered so, the square or rectangle without those corners;
- *two* (a square or rectangle cut on one diagonal, before or after sewing): the legs of the
  right-angled triangle with its allowances;
- *four* (a square cut on both diagonals): its hypotenuse.

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
    Polygon,
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


def need_fault(piece: Piece, patch: tuple[Point, ...], gives: int, seam: float) -> Finding | None:
    """Whether the needed sizes of a piece are what its finished patch asks for.

    `gives` is how many patches one cut piece gave in the account.
    """
    grown = pushed_out(straightened(polygon(patch)), seam)
    said = (piece.width.need, piece.height.need)
    ways = _ways(piece, grown, gives, seam)
    if gives == 1 and piece.shape in ("square", "rectangle"):
        ways += _with_corners(straightened(polygon(patch)), seam)
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


def _ways(piece: Piece, grown: Polygon, gives: int, seam: float) -> list[tuple[float, float]]:
    """The least sizes from which so many patches with their allowances can be cut."""
    legs = right_legs(grown)
    if piece.shape not in ("square", "rectangle"):
        return [_outline_size(piece)] if gives == 1 and _is_outline(piece, grown) else []
    if gives == 1:
        if len(grown) == 4 and _is_rectangle(grown):
            return [(abs(grown[1] - grown[0]), abs(grown[2] - grown[1]))]
        if legs is not None and abs(legs[0] - legs[1]) <= SAME:
            # Stitched from corner to corner: the stitching is the patch's long side.
            side = abs(legs[0]) - seam * 2**0.5
            return [(side, side)]
    if gives == 2 and legs is not None:
        return [legs]
    if gives == 4 and legs is not None and abs(legs[0] - legs[1]) <= SAME:
        return [(abs(complex(*legs)), abs(complex(*legs)))]
    return []


def _with_corners(patch: Polygon, seam: float) -> list[tuple[float, float]]:
    """The squares and rectangles, with their allowances, of which a patch is what is left when
    corners are covered at 45 degrees."""
    found = []
    for i, p in enumerate(patch):
        along = (patch[(i + 1) % len(patch)] - p) / abs(patch[(i + 1) % len(patch)] - p)
        for ahead in (along, along * (1 + 1j) / abs(1 + 1j)):
            lying = [q / ahead for q in patch]
            left, top, right, bottom = box(lying)
            if all(_upright_or_aslant(q - lying[k - 1]) for k, q in enumerate(lying)):
                found.append((right - left + 2 * seam, bottom - top + 2 * seam))
    return found


def _upright_or_aslant(way: complex) -> bool:
    """Whether a side runs along the axes or at 45 degrees to them."""
    x, y = abs(way.real), abs(way.imag)
    return min(x, y, abs(x - y)) <= 4 * SAME  # both of its ends are known to SAME


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


def _is_rectangle(shape: Polygon) -> bool:
    sides = [shape[(i + 1) % 4] - p for i, p in enumerate(shape)]
    return all(
        abs((sides[i - 1] * sides[i].conjugate()).real)
        <= RIGHT * abs(sides[i - 1]) * abs(sides[i])
        for i in range(4)
    )


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
    edge = strip_edge(outline)
    strip = max(edge.off(p) for p in outline)
    if piece.shape in ("triangle", "trapezoid"):
        return strip, max(abs(p - outline[i - 1]) for i, p in enumerate(outline))
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
        right = nearest(size.need, settings.step)
        if piece.rounding == "trimmed":
            right = up(size.need, settings.step) + more
        elif gives > 1:
            right = up(size.need, settings.step)
        off = abs(size.ruler - size.need) > SAME and piece.shape != "template"
        if size.ruler != right or (piece.rounding == "on the ruler" and off):
            return faulty(
                RULER,
                f"{piece.letter} is cut {long(size.ruler)}; what is needed, {long(size.need)}, "
                f"taken to the ruler as “{piece.rounding}” is {long(right)}",
            )
    return None
