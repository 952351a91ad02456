"""Patches as figures show them: filled, parted by seams, outlined, with their letters."""

from __future__ import annotations

import functools
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

import shapely

from seamproof.draft.model import Fabric
from seamproof.drawing.lettering import printed
from seamproof.drawing.scene import Cloth, Letter, LineKind, Paint, Shape, Spot, Stroke

Paints = Mapping[str, Paint]
"""How each fabric is shown, by its letter as the files write it."""

_NEAR_MIDDLE = 0.93
"""The middle of a patch is as good a place for its letter as the roomiest one if it has this share
of the room; and it looks better."""


@dataclass(frozen=True, slots=True)
class Coloured:
    """A piece of one fabric seen from the front: corners in inches, clockwise as seen."""

    fabric: str
    corners: tuple[Spot, ...]


def paints(fabrics: Iterable[Fabric]) -> dict[str, Paint]:
    """How the fabrics are shown, by letter.

    >>> paints([Fabric("a", "Chalk", "#F1EBDD", "light")])
    {'a': Paint(letter='A', colour='#F1EBDD')}
    """
    return {f.letter: Paint(printed(f.letter), f.colour) for f in fabrics}


def spots(corners: Iterable[tuple[Fraction, Fraction]]) -> tuple[Spot, ...]:
    """Points as a picture takes them."""
    return tuple((float(x), float(y)) for x, y in corners)


def filled(
    patches: Iterable[Coloured],
    paints: Paints,
    *,
    side: Literal["right", "wrong"] = "right",
    slip: float = 0.0,
) -> list[Shape]:
    """The cloth of patches that lie beside each other, fabric by fabric."""
    order = sorted(patches, key=lambda patch: patch.fabric)
    return [Cloth(patch.corners, paints[patch.fabric], side, slip) for patch in order]


def seams(patches: Sequence[Coloured]) -> list[Shape]:
    """The lines between patches that lie beside each other, each once."""
    return list(_between(tuple(patch.corners for patch in patches)))


KEPT = 1024
"""Seams and letters that are kept while the program runs: other fabrics do not move them."""


@functools.lru_cache(maxsize=KEPT)
def _between(patches: tuple[tuple[Spot, ...], ...]) -> tuple[Stroke, ...]:
    runs = shapely.union_all([shapely.Polygon(corners).boundary for corners in patches])
    whole = shapely.union_all([shapely.Polygon(corners).buffer(_HAIR) for corners in patches])
    edge = whole.boundary.buffer(3 * _HAIR)
    inner = shapely.line_merge(runs.difference(edge))
    return tuple(
        Stroke("seam", tuple((x, y) for x, y in part.coords))
        for part in _lines(inner)
        if part.length > 20 * _HAIR
    )


def edge(corners: Iterable[Spot], *, kind: LineKind = "raw edge", slip: float = 0.0) -> Stroke:
    """The outline of a piece."""
    return Stroke(kind, tuple(corners), True, slip)


def letters(patches: Iterable[Coloured], paints: Paints) -> list[Shape]:
    """The fabric's letter on each patch that has room for it."""
    return [letter(p.corners, paints[p.fabric].letter) for p in patches]


def letter(corners: Sequence[Spot], text: str) -> Letter:
    """A letter in the roomiest place of a piece.

    >>> letter([(0, 0), (4, 0), (4, 2), (0, 2)], "A")
    Letter(at=(2.0, 1.0), text='A', room=1.0, needed=False)
    """
    at, room = _roomiest(tuple(corners))
    return Letter(at, text, room)


@functools.lru_cache(maxsize=KEPT)
def _roomiest(corners: tuple[Spot, ...]) -> tuple[Spot, float]:
    polygon = shapely.Polygon(corners)
    line = shapely.maximum_inscribed_circle(polygon, tolerance=math.sqrt(polygon.area) / 200)
    (x, y), room = line.coords[0], line.length
    middle = polygon.centroid
    if polygon.contains(middle):
        central = polygon.boundary.distance(middle)
        if central >= _NEAR_MIDDLE * room:
            x, y, room = middle.x, middle.y, central
    return (round(x, 6), round(y, 6)), round(room, 6)


_HAIR = 1e-4  # inches: far below what any print shows


def _lines(found: shapely.Geometry) -> list[shapely.LineString]:
    parts = getattr(found, "geoms", [found])
    return [p for p in parts if isinstance(p, shapely.LineString) and not p.is_empty]
