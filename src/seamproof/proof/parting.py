"""Layers of cloth cut apart along lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from seamproof.findings import Finding
from seamproof.plane.model import Line
from seamproof.proof.checks import STITCHING, faulty
from seamproof.proof.cloth_geometry import HAIR, Polygon, Ray, chord, nothing, point, right_of
from seamproof.proof.stock import Layer, Sheet


@dataclass(frozen=True, slots=True)
class Part:
    """A stack of layers between the cuts: the first at the bottom. A layer that has no cloth here
    is empty. It lies right of all `bounds`, the cuts that made it."""

    layers: tuple[Layer, ...]
    bounds: tuple[Ray, ...] = ()


def cut_apart(layers: Sequence[Layer], cuts: Iterable[Line], told: str) -> list[Part] | Finding:
    """The parts that layers fall into along cuts, each of which runs from edge to edge."""
    parts = [Part(tuple(layers))]
    for a, b in cuts:
        line, length = Ray.through(point(a), point(b)), abs(point(b) - point(a))
        runs = [run for layer in layers for face in layer.body if (run := chord(face, line))]
        if not runs:
            return faulty(STITCHING, f"{told}: a cut misses the cloth")
        if min(r[0] for r in runs) < -HAIR or max(r[1] for r in runs) > length + HAIR:
            return faulty(STITCHING, f"{told}: a cut ends within the cloth")
        parts = [half for part in parts for half in _halves(part, line)]
    return parts


def _halves(part: Part, line: Ray) -> list[Part]:
    found = []
    for side in (line, line.back()):
        layers = tuple(_clipped(layer, side) for layer in part.layers)
        if any(layer.body for layer in layers):
            found.append(Part(layers, (*part.bounds, side)))
    return found


def _clipped(layer: Layer, line: Ray) -> Layer:
    return Layer(
        body=tuple(_faces_right_of(layer.body, line)),
        sheets=_sheets_right_of(layer.sheets, line),
        opened=layer.opened,
    )


def _faces_right_of(faces: Iterable[Polygon], line: Ray) -> Iterator[Polygon]:
    for face in faces:
        rest = right_of(face, line)
        if not nothing(rest):
            yield rest


def _sheets_right_of(sheets: Iterable[Sheet], line: Ray) -> tuple[Sheet, ...]:
    clipped = (sheet.reshaped(lambda faces: _faces_right_of(faces, line)) for sheet in sheets)
    return tuple(sheet for sheet in clipped if sheet.faces)


# Opening ------------------------------------------------------------------------------------------
