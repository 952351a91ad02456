"""The layers of windows: places cut out of a top, each counted by itself, many in one overlay."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from seamproof.pressing.folding import Convex, Spot, divided
from seamproof.pressing.overlay import GRID, Geometries, faces_of, polygons

Box = tuple[float, float, float, float]
"""An upright rectangle: left, upper, right, lower."""


@dataclass(frozen=True, slots=True, eq=False)
class Window:
    """The layers of tiles that are alike, in the tile's frame with its middle at the origin:
    `faces` that cover it, and how many layers lie on each."""

    faces: Geometries
    layers: tuple[int, ...]
    areas: tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True)
class Crease:
    """What lies right of the line is turned over it."""

    at: Spot
    along: Spot

    def beyond(self, p: Spot) -> float:
        """How far beyond the line a point lies; negative on the side that stays."""
        return self.along[0] * (p[1] - self.at[1]) - self.along[1] * (p[0] - self.at[0])

    def folded(self, piece: Convex) -> list[Convex]:
        """A piece once what lies beyond is turned over."""
        stays, goes = divided(piece, self.beyond)
        found = [stays] if stays else []
        if goes:
            over = []
            for p in reversed(goes):
                off = 2 * self.beyond(p)
                over.append((p[0] + off * self.along[1], p[1] - off * self.along[0]))
            found.append(tuple(over))
        return found


@dataclass(frozen=True, slots=True)
class WindowCloth:
    """The cloth of a window, round its middle; it is cut to `shape`, if there is one, or cut
    already. `size` is that of its box."""

    pieces: tuple[Convex, ...]
    shape: Convex | None
    size: Spot


def overlaid(some: Sequence[WindowCloth]) -> list[Window]:
    """The layers of many tiles, laid side by side for one overlay."""
    if not some:
        return []
    moved: list[Convex] = []
    owners: list[int] = []
    at, starts = 0.0, []
    for k, cloth in enumerate(some):
        at += cloth.size[0] / 2 + 1
        starts.append(at)
        moved += [tuple((x + at, y) for x, y in piece) for piece in cloth.pieces]
        owners += [k] * len(cloth.pieces)
        at += cloth.size[0] / 2 + 1
    whole, owner = polygons(moved), np.array(owners)
    whole, owner = _in_shape(whole, owner, some, starts)
    faces, (face, _) = faces_of(whole)
    layers = np.bincount(face, minlength=len(faces))
    areas = shapely.area(faces)
    middles = shapely.get_coordinates(shapely.centroid(faces))[:, 0]
    edges = [s + cloth.size[0] / 2 + 1 for s, cloth in zip(starts, some, strict=True)]
    which = np.searchsorted(np.array(edges), middles)
    found = []
    for k, start in enumerate(starts):
        mine = np.nonzero((which == k) & (layers > 0))[0]
        by_count: dict[int, list[float]] = defaultdict(list)
        for n in mine.tolist():
            by_count[int(layers[n])].append(float(areas[n]))
        back = shapely.transform(faces[mine], lambda xy, start=start: xy - [start, 0.0])
        told = tuple((count, math.fsum(by_count[count])) for count in sorted(by_count))
        found.append(Window(back, tuple(layers[mine].tolist()), told))
    return found


def _in_shape(
    whole: Geometries, owner: np.ndarray, some: Sequence[WindowCloth], starts: Sequence[float]
) -> tuple[Geometries, np.ndarray]:
    """Cuts what belongs to tiles with a shape of their own to it."""
    shaped = [k for k, cloth in enumerate(some) if cloth.shape is not None]
    if not shaped:
        return whole, owner
    shapes = {
        k: shapely.Polygon([(x + starts[k], y) for x, y in some[k].shape or ()]) for k in shaped
    }
    those = np.isin(owner, shaped)
    windows = np.array([shapes[k] for k in owner[those].tolist()], dtype=object)
    cut = shapely.intersection(whole[those], windows, grid_size=GRID)
    parts, which = shapely.get_parts(cut, return_index=True)
    flat = shapely.area(parts) > 0
    return (
        np.concatenate([whole[~those], parts[flat]]),
        np.concatenate([owner[~those], owner[those][which[flat]]]),
    )


def clip(piece: Convex, box: Box) -> Convex:
    """What of a convex piece lies in a box; () if nothing.

    >>> clip(((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)), (1.0, 1.0, 3.0, 3.0))
    ((1.0, 1.0), (2.0, 1.0), (2.0, 2.0), (1.0, 2.0))
    >>> clip(((0.0, 0.0), (1.0, 0.0), (1.0, 1.0)), (2.0, 0.0, 3.0, 1.0))
    ()
    """
    x0, y0, x1, y1 = box
    for height in (
        lambda p: x0 - p[0],
        lambda p: p[0] - x1,
        lambda p: y0 - p[1],
        lambda p: p[1] - y1,
    ):
        piece, _ = divided(piece, height)
        if not piece:
            return ()
    return piece
