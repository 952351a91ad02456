"""A step of a recipe, drawn: how the cloth lies, what is drawn, stitched and cut, what comes out.

Dashed is stitching, solid is an edge of cloth or a drawn line, madder is a cut. Cloth that lies
face down shows its paler wrong side.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import shapely
from shapely.ops import split

from seamproof.drawing.scene import (
    Dimension,
    LineKind,
    Scene,
    Shape,
    Spot,
    Stroke,
    extent,
)
from seamproof.figures.cloth import Paints, edge, filled, letter, letters, seams, spots
from seamproof.figures.looks import Look, Looking
from seamproof.length.notation import Measure, with_unit
from seamproof.plane.model import Line

SLIP = 3.4
"""How far cloth that lies hidden beneath is drawn slipped out, in points."""

_COVERED = 0.9
"""Cloth is hidden if more than this share of it lies under other cloth."""

_TRIM_CLEAR = 9.0
"""Points by which the measure of a trimmed unit keeps clear of the ends of the cuts."""


def sewing_scene(looking: Looking, paints: Paints) -> Scene:
    """The stock right sides together, with what is drawn and stitched."""
    shapes = _pile(looking, paints) + _lines("stitching", looking.step.stitched)
    return Scene(tuple(shapes + _named_pile(looking)), "right sides together, stitched")


def parting_scene(looking: Looking, paints: Paints) -> Scene:
    """The same, with the cuts that part what was sewn."""
    shapes = _pile(looking, paints) + _lines("stitching", looking.step.stitched)
    shapes += _lines("cut", looking.step.cuts)
    return Scene(tuple(shapes), "cut apart between the stitching")


def cutting_scene(looking: Looking, paints: Paints) -> Scene:
    """One thing on the table, face up, with the cuts across it."""
    shapes: list[Shape] = []
    for look in looking.takes:
        shapes += _face_up(look, paints)
    shapes += _lines("cut", looking.step.cuts)
    for look in looking.takes:
        if len(look.what) <= _SHORT_NAME:
            shapes += [letter(p, look.what) for p in _parts(look.corners, looking.step.cuts)]
        else:
            shapes += letters(look.patches, paints)
    return Scene(tuple(shapes), "cut across")


def opened_scene(look: Look, paints: Paints, measure: Measure, size: Sequence[Fraction]) -> Scene:
    """A sewn thing pressed open, from the front, with its width and height."""
    shapes = _face_up(look, paints) + letters(look.patches, paints)
    shapes += _measures(look.corners, size, measure)
    return Scene(tuple(shapes), "opened and pressed, from the front")


def unit_scene(look: Look, paints: Paints) -> Scene:
    """A sewn thing from the front, without letters or measures."""
    return Scene(tuple(_face_up(look, paints)), "the unit from the front")


def trimming_scene(
    looking: Looking, paints: Paints, measure: Measure, size: Sequence[Fraction]
) -> Scene:
    """A sewn thing with the lines it is trimmed along and the size it is trimmed to."""
    look, given = looking.takes[0], looking.gives[0]
    shapes = _face_up(look, paints)
    shapes += _lines("cut", looking.step.cuts or _sides(looking))
    shapes += letters(given.patches, paints)
    shapes += _measures(given.corners, size, measure, out=_TRIM_CLEAR)
    return Scene(tuple(shapes), "trimmed to size")


def _pile(looking: Looking, paints: Paints) -> list[Shape]:
    first, *others = looking.takes
    upper = shapely.union_all([shapely.Polygon(other.corners) for other in others])
    lower = shapely.Polygon(first.corners)
    hidden = upper.intersection(lower).area > _COVERED * lower.area
    slip = SLIP if hidden else 0.0
    shapes = [
        *filled(first.patches, paints, slip=slip),
        edge(first.corners, slip=slip),
    ]
    if not hidden:
        shapes += seams(first.patches)
    for other in others:
        shapes += filled(other.patches, paints, side="wrong" if other.face == "down" else "right")
        shapes += seams(other.patches)
        shapes.append(edge(other.corners))
    shapes += _lines("marked", looking.step.drawn)
    return shapes


def _named_pile(looking: Looking) -> list[Shape]:
    """What lies on top is named where no line runs and nothing else lies."""
    lines = (*looking.step.stitched, *looking.step.drawn)
    uppers = looking.takes[1:]
    outlines = [shapely.Polygon(look.corners) for look in uppers]
    names: list[Shape] = []
    for i, look in enumerate(uppers):
        others = shapely.union_all([outline for k, outline in enumerate(outlines) if k != i])
        free = [
            piece
            for part in _parts(look.corners, lines)
            for piece in _polygons(shapely.Polygon(part).difference(others))
        ]
        if free and len(look.what) <= _SHORT_NAME:
            found = (letter(tuple(p.exterior.coords)[:-1], look.what) for p in free)
            names.append(max(found, key=lambda name: name.room))
    return names


def _polygons(found: shapely.Geometry) -> list[shapely.Polygon]:
    parts = getattr(found, "geoms", [found])
    return [part for part in parts if isinstance(part, shapely.Polygon) and part.area > 1e-6]


_SHORT_NAME = 3  # letters of a piece, "Aa"; longer names are words and stand in the text


def _face_up(look: Look, paints: Paints) -> list[Shape]:
    return [*filled(look.patches, paints), *seams(look.patches), edge(look.corners)]


def _lines(kind: LineKind, lines: Sequence[Line]) -> list[Shape]:
    return [Stroke(kind, spots(line)) for line in lines]


def _sides(looking: Looking) -> list[Line]:
    corners = looking.step.gives[0].corners
    return list(zip(corners, (*corners[1:], corners[0]), strict=True))


def _measures(
    corners: Sequence[Spot], size: Sequence[Fraction], measure: Measure, out: float = 0.0
) -> list[Shape]:
    (left, top), (right, bottom) = extent([Stroke("raw edge", tuple(corners))])
    return [
        Dimension((right, bottom), (left, bottom), with_unit(size[0], measure), out),
        Dimension((left, bottom), (left, top), with_unit(size[1], measure), out),
    ]


def _parts(corners: Sequence[Spot], lines: Sequence[Line]) -> list[tuple[Spot, ...]]:
    """What lines part a piece into."""
    parts = [shapely.Polygon(corners)]
    for line in lines:
        (ax, ay), (bx, by) = spots(line)
        dx, dy = bx - ax, by - ay
        long = shapely.LineString([(ax - 99 * dx, ay - 99 * dy), (bx + 99 * dx, by + 99 * dy)])
        parts = [piece for part in parts for piece in split(part, long).geoms]
    return [
        tuple((x, y) for x, y in part.exterior.coords[:-1]) for part in parts if part.area > 1e-6
    ]
