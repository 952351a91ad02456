"""The layers of windows: places cut out of a top, each counted by itself, many in one overlay."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from seamproof.pressing.folding import Convex, Spot, divided
from seamproof.pressing.overlay import GRID, Geometries, faces_of

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
    """The layers of many windows: those of upright rectangles by their sides alone, the others laid
    side by side for one overlay."""
    found: dict[int, Window] = {}
    rest = []
    for k, cloth in enumerate(some):
        window = None if cloth.shape else _by_sides(cloth.pieces)
        if window is None:
            rest.append(k)
        else:
            found[k] = window
    for first in range(0, len(rest), TOGETHER):
        those = rest[first : first + TOGETHER]
        found |= dict(zip(those, _overlaid([some[k] for k in those]), strict=True))
    return [found[k] for k in range(len(some))]


TOGETHER = 32
"""Windows in one overlay: with fewer the calls cost more, with more the noding does."""


def _by_sides(pieces: Sequence[Convex]) -> Window | None:
    """The layers of pieces that are upright rectangles; None if one of them is not."""
    boxes = []
    for piece in pieces:
        xs, ys = {round(x, 9) for x, _ in piece}, {round(y, 9) for _, y in piece}
        if len(xs) != 2 or len(ys) != 2 or len(piece) != 4:
            return None
        boxes.append((min(xs), min(ys), max(xs), max(ys)))
    if not boxes:
        return Window(np.empty(0, dtype=object), (), ())
    sides = np.array(boxes)
    across, down = np.unique(sides[:, [0, 2]]), np.unique(sides[:, [1, 3]])
    columns, rows = (
        np.searchsorted(across, sides[:, [0, 2]]),
        np.searchsorted(down, sides[:, [1, 3]]),
    )
    count = np.zeros((len(down), len(across)), dtype=np.int64)
    for (left, right), (upper, lower) in zip(columns.tolist(), rows.tolist(), strict=True):
        count[upper:lower, left:right] += 1
    upper, left = np.nonzero(count)
    faces = shapely.box(across[left], down[upper], across[left + 1], down[upper + 1])
    layers = tuple(count[upper, left].tolist())
    return Window(faces, layers, _areas(layers, shapely.area(faces)))


def _areas(layers: Sequence[int], areas: npt.NDArray[np.float64]) -> tuple[tuple[int, float], ...]:
    by_count: dict[int, list[float]] = defaultdict(list)
    for count, area in zip(layers, areas.tolist(), strict=True):
        by_count[count].append(area)
    return tuple((count, math.fsum(by_count[count])) for count in sorted(by_count))


def _overlaid(some: Sequence[WindowCloth]) -> list[Window]:
    if not some:
        return []
    moved: list[Convex] = []
    owners: list[int] = []
    at, starts = 0.0, []
    for k, cloth in enumerate(some):
        at = math.ceil(at + cloth.size[0] / 2 + 1)
        starts.append(at)
        moved += [tuple((x + at, y) for x, y in piece) for piece in cloth.pieces]
        owners += [k] * len(cloth.pieces)
        at += cloth.size[0] / 2 + 1
    whole, owner = _on_grid(moved, np.array(owners))
    whole, owner = _in_shape(whole, owner, some, starts)
    faces, (face, _) = faces_of(whole)
    layers = np.bincount(face, minlength=len(faces))
    areas = shapely.area(faces)
    edges = [s + cloth.size[0] / 2 + 1 for s, cloth in zip(starts, some, strict=True)]
    which = np.searchsorted(np.array(edges), shapely.bounds(faces)[:, 0])
    order = np.argsort(which, kind="stable")
    order = order[layers[order] > 0]
    cuts = np.searchsorted(which[order], np.arange(len(some) + 1))
    found = []
    for k, start in enumerate(starts):
        mine = order[cuts[k] : cuts[k + 1]]
        back = shapely.transform(faces[mine], lambda xy, start=start: xy - [start, 0.0])
        told = tuple(layers[mine].tolist())
        found.append(Window(back, told, _areas(told, areas[mine])))
    return found


def _on_grid(
    pieces: Sequence[Convex], owner: npt.NDArray[np.int64]
) -> tuple[Geometries, npt.NDArray[np.int64]]:
    """Convex pieces on the grid of an overlay, each with its owner; slivers vanish there."""
    counts = [len(piece) for piece in pieces]
    points = np.round(np.array([p for piece in pieces for p in piece]), DECIMALS)
    rings = shapely.linearrings(points, indices=np.repeat(np.arange(len(counts)), counts))
    made = shapely.polygons(rings)
    left = shapely.area(made) > 0
    return made[left], owner[left]


DECIMALS = 9
"""Those of the overlay's grid."""


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
