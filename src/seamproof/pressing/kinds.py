"""What a top is sewn from, as it lies before that: blocks with their seams pressed, and strips.

A *kind* is one leaf of the top's plan. However often it is set, it is folded once: the seams of the
setting fold it after all its own, so what they find is always the same.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
import numpy.typing as npt

from seamproof.plane.model import Polygon
from seamproof.plane.offsets import offset
from seamproof.pressing.folding import Convex, Spot, laid
from seamproof.pressing.meetings import NEAR
from seamproof.pressing.sheets import Cloth
from seamproof.pressing.snipping import snipped

Box = tuple[float, float, float, float]
"""An upright rectangle: left, upper, right, lower."""


@dataclass(frozen=True, slots=True, eq=False)
class Kind:
    """One leaf in its own frame.

    `patches` are its finished patches in convex parts; `pieces` its cloth as it lies, each with the
    number of its patch, and `boxes` round them, shape (pieces, 4). `rim` says for each side of an
    upright rectangle (upper, right, lower, left) how far along seams end there, from its upper or
    its left end; None for other outlines. `beyond` is how far cloth reaches over the outline.
    """

    outline: Convex
    patches: tuple[Convex, ...]
    pieces: tuple[tuple[int, Convex], ...]
    boxes: npt.NDArray[np.float64]
    rim: tuple[tuple[float, ...], ...] | None
    beyond: float
    area: float


def block_kind(cloth: Cloth, ways: Sequence[int]) -> Kind:
    """A block pressed by a plan, one way per choice."""
    lies = laid(cloth.sheets, ways)
    return _kind(
        cloth.outline,
        tuple(sheet.patch for sheet in cloth.sheets),
        tuple((lying.sheet, lying.piece) for lying in lies),
    )


def strip_kind(corners: Polygon, seam: Fraction) -> Kind:
    """A piece of cloth that is sewn as it is cut, its corners mitred."""
    raw = offset(corners, seam)
    parts = snipped(_spots(corners), _spots(raw))
    return _kind(
        _spots(corners),
        tuple(part for part, _ in parts),
        tuple((k, piece) for k, (_, piece) in enumerate(parts)),
    )


def _spots(polygon: Polygon) -> Convex:
    return tuple((float(x), float(y)) for x, y in polygon)


def _kind(
    outline: Convex, patches: tuple[Convex, ...], pieces: tuple[tuple[int, Convex], ...]
) -> Kind:
    boxes = np.array([_box(piece) for _, piece in pieces])
    x0, y0, x1, y1 = _box(outline)
    rim = None
    if upright(outline):
        rim = _rim((x0, y0, x1, y1), patches)
    over = max(x0 - boxes[:, 0].min(), y0 - boxes[:, 1].min())
    over = max(over, boxes[:, 2].max() - x1, boxes[:, 3].max() - y1)
    return Kind(
        outline, patches, pieces, boxes, rim, float(over), sum(area(piece) for _, piece in pieces)
    )


def _box(polygon: Sequence[Spot]) -> Box:
    xs, ys = [x for x, _ in polygon], [y for _, y in polygon]
    return min(xs), min(ys), max(xs), max(ys)


def area(piece: Convex) -> float:
    """Square inches of a polygon that is clockwise as seen.

    >>> area(((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)))
    2.0
    """
    twice = 0.0
    for i, (x, y) in enumerate(piece):
        u, v = piece[i - 1]
        twice += u * y - x * v
    return abs(twice) / 2


def upright(outline: Sequence[Spot]) -> bool:
    """Whether an outline is a rectangle along the axes.

    >>> upright(((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0))), upright(((0.0, 0.0), (1.0, 1.0)))
    (True, False)
    """
    x0, y0, x1, y1 = _box(outline)
    return (
        len(outline) == 4
        and all(
            min(abs(x - x0), abs(x - x1)) <= NEAR and min(abs(y - y0), abs(y - y1)) <= NEAR
            for x, y in outline
        )
        and (x1 - x0) * (y1 - y0) - area(tuple(outline)) <= NEAR
    )


def _rim(box: Box, patches: Sequence[Convex]) -> tuple[tuple[float, ...], ...]:
    x0, y0, x1, y1 = box
    found: list[set[float]] = [set(), set(), set(), set()]
    for patch in patches:
        for x, y in patch:
            along_x, along_y = x0 + NEAR < x < x1 - NEAR, y0 + NEAR < y < y1 - NEAR
            if along_x and y <= y0 + NEAR:
                found[0].add(round(x - x0, 5))
            if along_x and y >= y1 - NEAR:
                found[2].add(round(x - x0, 5))
            if along_y and x >= x1 - NEAR:
                found[1].add(round(y - y0, 5))
            if along_y and x <= x0 + NEAR:
                found[3].add(round(y - y0, 5))
    return tuple(tuple(sorted(side)) for side in found)


def scaled_kind(kind: Kind, scale: tuple[Fraction, Fraction]) -> Kind:
    """A block that came out otherwise than it was drawn: everything stretched from its upper left
    corner. Its allowances are stretched too, a few thousandths of an inch."""
    across, down = map(float, scale)
    if across == down == 1:
        return kind

    def there(polygon: Convex) -> Convex:
        return tuple((x * across, y * down) for x, y in polygon)

    return _kind(
        there(kind.outline),
        tuple(map(there, kind.patches)),
        tuple((k, there(piece)) for k, piece in kind.pieces),
    )


def turned_kind(kind: Kind, turn: Fraction) -> Kind:
    """The same turned, clockwise as seen by this share of a full turn."""
    angle = float(turn) * 2 * math.pi
    cos, sin = math.cos(angle), math.sin(angle)

    def there(polygon: Convex) -> Convex:
        return tuple((x * cos - y * sin, x * sin + y * cos) for x, y in polygon)

    return _kind(
        there(kind.outline),
        tuple(map(there, kind.patches)),
        tuple((k, there(piece)) for k, piece in kind.pieces),
    )
