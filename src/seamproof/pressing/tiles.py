"""A top divided into tiles: the inside of every leaf, the stretches along its edges, its corners.

Everything lies in the *field*: the frame in which the blocks stand upright, so that a top set on
point is turned by an eighth. Deeper in a leaf than `depth` no seam of the setting folds anything
and no neighbour's cloth lies, so the inside is the same wherever the leaf is set. Along an edge it
is only near the places where seams end that tiles differ; the stretches between are tiles too.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely

from seamproof.pressing.folding import Convex, Spot
from seamproof.pressing.kinds import Kind
from seamproof.pressing.meetings import NEAR
from seamproof.pressing.sheets import Above
from seamproof.pressing.windows import Box

APART = 2.0
"""Seam allowances. So far from where a seam ends on an edge, besides the depth of the tile, the
edge lies as if no seam ended there: seams come in at 45 degrees and more."""


@dataclass(frozen=True, slots=True, eq=False)
class Lying:
    """One leaf where it lies: `quarters` clockwise as seen, its frame's origin at `at`. `above` are
    the seams of the setting that fold it, from the inside out, each with the side it is on.
    `alone` tells that one of them ends away from a raw edge, `fills` that it fills its box. Kind -1
    is what lies round the top."""

    kind: int
    quarters: int
    at: Spot
    box: Box
    outline: Convex
    above: Above = ()
    alone: bool = False
    fills: bool = True


@dataclass(frozen=True, slots=True, eq=False)
class Tile:
    """A place that is looked at for itself: `box`, or within it `shape`. What may fold into it lies
    in `reach`. `inside` tells that only the leaf
    it belongs to lies there, `mirrored` that every seam of the setting that comes through its reach
    runs through its middle."""

    leaf: int
    box: Box
    reach: Box
    shape: Convex | None = None
    inside: bool = False
    mirrored: bool = False


def spun(p: Spot, quarters: int) -> Spot:
    """A point turned round the origin, clockwise as seen.

    >>> spun((1.0, 0.0), 1), spun((1.0, 2.0), 2), spun((1.0, 2.0), 3)
    ((-0.0, 1.0), (-1.0, -2.0), (2.0, -1.0))
    """
    x, y = p
    return ((x, y), (-y, x), (-x, -y), (y, -x))[quarters % 4]


def spun_box(box: Box, quarters: int) -> Box:
    """An upright rectangle turned round the origin by quarters."""
    (x, y), (u, v) = spun((box[0], box[1]), quarters), spun((box[2], box[3]), quarters)
    return min(x, u), min(y, v), max(x, u), max(y, v)


def around(outline: Convex, depth: float) -> Iterator[Lying]:
    """What lies round a top with these corners, clockwise as seen: a band along every edge, a
    square at every corner."""
    for i, a in enumerate(outline):
        b, c = outline[(i + 1) % len(outline)], outline[i - 1]
        (nx, ny), (mx, my) = _outwards(a, b, depth), _outwards(c, a, depth)
        band = ((a[0] + nx, a[1] + ny), (b[0] + nx, b[1] + ny), b, a)
        square = (
            (a[0] + mx, a[1] + my),
            (a[0] + mx + nx, a[1] + my + ny),
            (a[0] + nx, a[1] + ny),
            a,
        )
        for shape in (band, square):
            yield Lying(-1, 0, shape[3], _around(shape), shape, fills=fills(shape, _around(shape)))


def _outwards(a: Spot, b: Spot, far: float) -> Spot:
    length = math.dist(a, b)
    return ((b[1] - a[1]) / length * far, (a[0] - b[0]) / length * far)


def _around(shape: Sequence[Spot]) -> Box:
    xs, ys = [x for x, _ in shape], [y for _, y in shape]
    return min(xs), min(ys), max(xs), max(ys)


@dataclass(eq=False)
class Tiling:
    """Divides leaves into tiles that cover everything once."""

    kinds: Sequence[Kind]
    leaves: Sequence[Lying]
    depth: float
    seam: float

    def __post_init__(self) -> None:
        boxes = shapely.box(*zip(*(leaf.box for leaf in self.leaves), strict=True))
        self.tree = shapely.STRtree(boxes)
        pairs = self.tree.query(boxes, predicate="dwithin", distance=NEAR)
        self.near: list[list[int]] = [[] for _ in self.leaves]
        for one, other in zip(*(row.tolist() for row in pairs), strict=True):
            if one != other:
                self.near[one].append(other)
        self._plain = [
            all(self._roomy(k) for k in (number, *near)) for number, near in enumerate(self.near)
        ]
        self._rims: dict[tuple[int, int], tuple[tuple[float, ...], ...] | None] = {}

    def _roomy(self, number: int) -> bool:
        """Whether nothing that lies at one edge of a leaf reaches the other; nothing round the top
        is in the way."""
        leaf = self.leaves[number]
        x0, y0, x1, y1 = leaf.box
        return leaf.fills and (leaf.kind < 0 or min(x1 - x0, y1 - y0) > 2 * self.depth + NEAR)

    def reaching(self, tile: Tile) -> list[int]:
        """The leaves whose cloth may lie in a tile's reach."""
        box = tile.reach
        d = self.depth - NEAR
        if self._plain[tile.leaf] and tile.mirrored:
            x0, y0, x1, y1 = box
            found = []
            for k in (tile.leaf, *self.near[tile.leaf]):
                other = self.leaves[k].box
                if (
                    self.leaves[k].kind >= 0
                    and other[0] < x1 + d
                    and other[2] > x0 - d
                    and other[1] < y1 + d
                    and other[3] > y0 - d
                ):
                    found.append(k)
            return sorted(found)
        found = self.tree.query(shapely.box(box[0] - d, box[1] - d, box[2] + d, box[3] + d))
        return sorted(k for k in found.tolist() if self.leaves[k].kind >= 0)

    def tiles(self) -> Iterator[Tile]:
        """All tiles, leaf by leaf. Those that fill a place together are one."""
        sharing: dict[Box, list[Tile]] = {}
        for number in range(len(self.leaves)):
            for tile in self.of(number):
                if tile.inside or tile.shape is not None:
                    yield tile
                else:
                    x0, y0, x1, y1 = tile.reach
                    key = (round(x0, 4), round(y0, 4), round(x1, 4), round(y1, 4))
                    sharing.setdefault(key, []).append(tile)
        for together in sharing.values():
            whole = together[0].reach
            if abs(sum(_area(tile.box) for tile in together) - _area(whole)) <= NEAR:
                yield Tile(together[0].leaf, whole, whole, mirrored=together[0].mirrored)
            else:
                yield from together

    def of(self, number: int) -> Iterator[Tile]:
        """The tiles of one leaf."""
        leaf, d = self.leaves[number], self.depth
        x0, y0, x1, y1 = leaf.box
        if not leaf.fills:
            box = _wider(leaf.box, 3 * d)
            yield Tile(number, leaf.box, box, shape=leaf.outline)
        elif min(x1 - x0, y1 - y0) <= 2 * d + NEAR:
            yield from self._rungs(number, level=x1 - x0 >= y1 - y0)
        else:
            inner = (x0 + d, y0 + d, x1 - d, y1 - d)
            yield Tile(number, inner, inner, inside=True)
            for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1)):
                reach = (x - d, y - d, x + d, y + d)
                box = (
                    max(x - d, x0),
                    max(y - d, y0),
                    min(x + d, x1),
                    min(y + d, y1),
                )
                yield self._closed(number, box, reach)
            for side in range(4):
                yield from self._edge(number, side)

    def _edge(self, number: int, side: int) -> Iterator[Tile]:
        leaf, d = self.leaves[number], self.depth
        x0, y0, x1, y1 = leaf.box
        low, high = (x0, x1) if side % 2 == 0 else (y0, y1)
        for a, b in self._cuts(number, (side,), low + d, high - d):
            if side % 2 == 0:
                y = y0 if side == 0 else y1
                box = (a, y, b, y + d) if side == 0 else (a, y - d, b, y)
                reach = (a, y - d, b, y + d)
            else:
                x = x0 if side == 3 else x1
                box = (x, a, x + d, b) if side == 3 else (x - d, a, x, b)
                reach = (x - d, a, x + d, b)
            yield self._closed(number, box, reach)

    def _closed(self, number: int, box: Box, reach: Box) -> Tile:
        """A tile with room for everything that may fold into it: the place itself if it mirrors
        itself, as it does unless more seams come through it than those at its middle."""
        mid = ((reach[0] + reach[2]) / 2, (reach[1] + reach[3]) / 2)
        if self._plain[number]:
            there = (number, *self.near[number])
        else:
            there = tuple(self.tree.query(shapely.box(*reach)).tolist())
        for k in there:
            leaf = self.leaves[k]
            other = leaf.box
            if other[0] > reach[2] or other[2] < reach[0]:
                continue
            if other[1] > reach[3] or other[3] < reach[1]:
                continue
            if not leaf.fills:
                return Tile(number, box, _wider(reach, 3 * self.depth))
            for axis in (0, 1):
                for line in (other[axis], other[axis + 2]):
                    crosses = reach[axis] + NEAR < line < reach[axis + 2] - NEAR
                    if crosses and abs(line - mid[axis]) > NEAR:
                        return Tile(number, box, _wider(reach, 3 * self.depth))
        return Tile(number, box, reach, mirrored=True)

    def _rungs(self, number: int, *, level: bool) -> Iterator[Tile]:
        """A strip no wider than two depths, divided along its length."""
        x0, y0, x1, y1 = self.leaves[number].box
        sides = (0, 2) if level else (1, 3)
        for a, b in self._cuts(number, sides, *((x0, x1) if level else (y0, y1))):
            box = (a, y0, b, y1) if level else (x0, a, x1, b)
            yield Tile(number, box, _wider(box, 3 * self.depth))

    def _cuts(
        self, number: int, sides: Sequence[int], low: float, high: float
    ) -> Iterator[tuple[float, float]]:
        """Stretches along an edge: those round places where seams end, and those between."""
        far = self.depth + APART * self.seam
        runs: list[tuple[float, float]] = []
        for at in sorted(self._ends(number, sides)):
            a, b = max(at - far, low), min(at + far, high)
            if b - a <= NEAR:
                continue
            if runs and a <= runs[-1][1] + NEAR:
                runs[-1] = (runs[-1][0], max(b, runs[-1][1]))
            else:
                runs.append((a, b))
        at = low
        for a, b in runs:
            if a - at > NEAR:
                yield at, a
            yield (a if a - at > NEAR else at), b
            at = b
        if high - at > NEAR:
            yield at, high

    def _ends(self, number: int, sides: Sequence[int]) -> set[float]:
        """Where seams end on edges of a leaf, its own and its neighbours'."""
        leaf = self.leaves[number]
        found: set[float] = set()
        for side in sides:
            axis = side % 2
            line = (leaf.box[1], leaf.box[2], leaf.box[3], leaf.box[0])[side]
            found |= self._along(number, side)
            for k in self.near[number]:
                other = self.leaves[k].box
                faces = (other[3], other[0], other[1], other[2])[side]
                if abs(faces - line) > 2 * NEAR or not self.leaves[k].fills:
                    continue
                found |= {round(other[axis], 5), round(other[axis + 2], 5)}
                found |= self._along(k, (side + 2) % 4)
            for k in self.near[number]:
                if not self.leaves[k].fills:
                    found |= {
                        round(p[axis], 5)
                        for p in self.leaves[k].outline
                        if abs(p[1 - axis] - line) <= 2 * NEAR
                    }
        return found

    def _along(self, number: int, side: int) -> set[float]:
        leaf = self.leaves[number]
        rims = self._turned(leaf)
        if rims is None:
            return set()
        start = leaf.box[side % 2]
        return {round(start + t, 5) for t in rims[side]}

    def _turned(self, leaf: Lying) -> tuple[tuple[float, ...], ...] | None:
        """The rim of a leaf as it is turned."""
        key = (leaf.kind, leaf.quarters)
        if key not in self._rims:
            rim = self.kinds[leaf.kind].rim if leaf.kind >= 0 else None
            if rim is not None:
                x0, y0, x1, y1 = _around(self.kinds[leaf.kind].outline)
                size = (x1 - x0, y1 - y0)
                for _ in range(leaf.quarters):
                    upper, right, lower, left = rim
                    high = size[1]
                    rim = (
                        tuple(high - t for t in reversed(left)),
                        upper,
                        tuple(high - t for t in reversed(right)),
                        lower,
                    )
                    size = (size[1], size[0])
            self._rims[key] = rim
        return self._rims[key]


def fills(outline: Convex, box: Box) -> bool:
    """Whether an outline fills its box."""
    x0, y0, x1, y1 = box
    return len(outline) == 4 and all(
        min(abs(x - x0), abs(x - x1)) <= NEAR and min(abs(y - y0), abs(y - y1)) <= NEAR
        for x, y in outline
    )


def _wider(box: Box, by: float) -> Box:
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def _area(box: Box) -> float:
    return (box[2] - box[0]) * (box[3] - box[1])
