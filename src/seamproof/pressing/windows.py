"""The layers of windows: places cut out of a top, each counted by itself, many at once."""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from seamproof.pressing.convexes import Convexes
from seamproof.pressing.numbering import Floats, Ints
from seamproof.pressing.overlay import Geometries
from seamproof.pressing.slabs import counted


@dataclass(frozen=True, slots=True, eq=False)
class Window:
    """The layers of tiles that are alike, in the tile's frame with its middle at the origin:
    trapezoids by their `corners`, shape (n, 4, 2), and how many layers lie on each."""

    corners: Floats
    layers: tuple[int, ...]
    areas: tuple[tuple[int, float], ...]

    @property
    def faces(self) -> Geometries:
        """The trapezoids as polygons."""
        if not len(self.corners):
            return np.empty(0, dtype=object)
        faces: Geometries = shapely.polygons(self.corners)
        return faces


def overlaid(pieces: Convexes, window: Ints, count: int) -> list[Window]:
    """The layers of so many windows. `window` says for every piece, in ascending order, in which it
    lies; pieces go round clockwise as seen."""
    found = counted(pieces.points, pieces.owner, window)
    cuts = np.searchsorted(found.heap, np.arange(count + 1)).tolist()
    windows = []
    for first, last in itertools.pairwise(cuts):
        layers = tuple(found.layers[first:last].tolist())
        areas = _areas(layers, found.areas[first:last].tolist())
        windows.append(Window(found.corners[first:last], layers, areas))
    return windows


def _areas(layers: Sequence[int], areas: Sequence[float]) -> tuple[tuple[int, float], ...]:
    by_count: dict[int, list[float]] = defaultdict(list)
    for count, area in zip(layers, areas, strict=True):
        by_count[count].append(area)
    return tuple((count, math.fsum(by_count[count])) for count in sorted(by_count))
