"""A top divided into tiles: the inside of every leaf, the stretches along its edges, its corners.

Everything lies in the *field*: the frame in which the blocks stand upright, so that a top set on
point is turned by an eighth. Deeper in a leaf than `depth` no seam of the setting folds anything
and no neighbour's cloth lies, so the inside is the same wherever the leaf is set. Along an edge it
is only near the places where seams end that tiles differ; the stretches between are tiles too.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from seamproof.pressing.folding import Convex, Spot
from seamproof.pressing.kinds import Box, Kind
from seamproof.pressing.meetings import NEAR
from seamproof.pressing.numbering import Bools, Floats, Ints, numbered, spread
from seamproof.pressing.sheets import Above

APART = 2.0
"""Seam allowances. So far from where a seam ends on an edge, besides the depth of the tile, the
edge lies as if no seam ended there: seams come in at 45 degrees and more."""

STEP = 1e-4
"""Inches. Reaches are one place if their sides are, to this step."""

OFF = 0.37
"""A share of a step that keeps common parts of an inch from lying between two steps."""


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

    def put(self, piece: Convex) -> Convex:
        """What is told in the leaf's own frame, in the field."""
        dx, dy = self.at
        turned = (spun(p, self.quarters) for p in piece)
        return tuple((x + dx, y + dy) for x, y in turned)


@dataclass(frozen=True, slots=True, eq=False)
class Tiles:
    """Places that are looked at for themselves, one a row: `box`, or within it the outline that
    `shapes` has for the row. What may fold into it lies in `reach`. `leaf` is one that it belongs
    to; `inside` tells that only this one lies there."""

    leaf: Ints
    box: Floats
    reach: Floats
    inside: Bools
    shapes: Mapping[int, Convex]


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


class Tiling:
    """Divides leaves into tiles that cover everything once."""

    def __init__(self, kinds: Sequence[Kind], leaves: Sequence[Lying], depth: float, seam: float):
        self.kinds, self.leaves, self.depth, self.seam = kinds, leaves, depth, seam
        self.boxes = np.array([leaf.box for leaf in leaves])
        self.fills = np.array([leaf.fills for leaf in leaves])
        self.tree = shapely.STRtree(shapely.box(*self.boxes.T))

    def within(self, boxes: Floats, by: float = 0.0) -> tuple[Ints, Ints]:
        """Pairs (box, leaf) of what touches; the boxes are made wider before, on every side."""
        found = self.tree.query(shapely.box(*_wider(boxes, by).T))
        return found[0].astype(np.int64), found[1].astype(np.int64)

    def tiles(self) -> Tiles:
        """All tiles. Those that fill a place together are one."""
        d, boxes = self.depth, self.boxes
        size = boxes[:, 2:] - boxes[:, :2]
        wide = self.fills & (size.min(axis=1) > 2 * d + NEAR)
        whole, narrow, odd = (np.flatnonzero(k) for k in (wide, self.fills & ~wide, ~self.fills))
        inner = boxes[whole] + np.array([d, d, -d, -d])
        leaf, box, reach = self._edges(whole, narrow)
        rungs = int(np.isin(leaf, narrow).sum())
        corners = [self._corners(whole, across, down) for across in (0, 2) for down in (1, 3)]
        leaf = np.concatenate([whole, odd, *([whole] * 4), leaf])
        box = np.concatenate([inner, boxes[odd], *(box for box, _ in corners), box])
        reach = np.concatenate(
            [inner, _wider(boxes[odd], 3 * d), *(reach for _, reach in corners), reach]
        )
        single = np.arange(len(leaf)) < len(whole) + len(odd)
        kept = _together(box, reach, single)
        narrow_at = len(leaf) - rungs
        mirrored = kept < narrow_at
        leaf, box, reach = leaf[kept], box[kept], reach[kept]
        mirrored &= ~np.isin(np.arange(len(kept)), self._crossed(reach))
        alike = single[kept] | mirrored | (kept >= narrow_at)
        reach[~alike] = _wider(reach[~alike], 3 * d)
        shapes = {len(whole) + k: self.leaves[n].outline for k, n in enumerate(odd.tolist())}
        return Tiles(leaf, box, reach, np.arange(len(leaf)) < len(whole), shapes)

    def _corners(self, whole: Ints, across: int, down: int) -> tuple[Floats, Floats]:
        d, boxes = self.depth, self.boxes[whole]
        x, y = boxes[:, across], boxes[:, down]
        reach = np.stack([x - d, y - d, x + d, y + d], axis=1)
        low, high = np.maximum(reach[:, :2], boxes[:, :2]), np.minimum(reach[:, 2:], boxes[:, 2:])
        return np.concatenate([low, high], axis=1), reach

    def _crossed(self, reach: Floats) -> Ints:
        """Tiles which need room for everything that may fold into them: a place mirrors itself
        unless more seams come through it than those at its middle."""
        tile, leaf = self.within(reach)
        found = ~self.fills[leaf]
        there, other = reach[tile], self.boxes[leaf]
        for axis in (0, 1):
            low, high = there[:, axis], there[:, axis + 2]
            for line in (other[:, axis], other[:, axis + 2]):
                crosses = (low + NEAR < line) & (line < high - NEAR)
                found |= crosses & (np.abs(line - (low + high) / 2) > NEAR)
        return np.unique(tile[found])

    def _edges(self, whole: Ints, narrow: Ints) -> tuple[Ints, Floats, Floats]:
        """The tiles along edges: leaf, box and reach; last the strips no wider than two depths,
        divided along their length."""
        d, boxes = self.depth, self.boxes
        count = len(self.leaves)
        level = boxes[:, 2] - boxes[:, 0] >= boxes[:, 3] - boxes[:, 1]
        low, high = np.full((4, count), np.inf), np.full((4, count), -np.inf)
        for k in range(4):
            low[k, whole] = boxes[whole, k % 2] + d
            high[k, whole] = boxes[whole, k % 2 + 2] - d
        for axis in (0, 1):
            those = narrow[level[narrow] == (axis == 0)]
            low[axis, those], high[axis, those] = boxes[those, axis], boxes[those, axis + 2]
        leaf, side, ends = self._ends()
        # Both long edges of a strip are looked at together.
        side[np.isin(leaf, narrow)] %= 2
        slot, a, b = _stretches(side * count + leaf, ends, low.ravel(), high.ravel(), self._far)
        side, leaf = slot // count, slot % count
        strip = np.isin(leaf, narrow)
        order = np.argsort(strip, kind="stable")
        leaf, side, a, b, strip = leaf[order], side[order], a[order], b[order], strip[order]
        box, reach = boxes[leaf], np.empty((len(leaf), 4))
        across = box[strip]
        for axis in (0, 1):
            those = side[strip] == axis
            across[those, axis], across[those, axis + 2] = a[strip][those], b[strip][those]
        for k, line in enumerate(LINE):
            those = np.flatnonzero(side == k)
            axis, edge = k % 2, boxes[leaf[those], line]
            box[those, axis], box[those, axis + 2] = a[those], b[those]
            reach[those] = box[those]
            reach[those, 1 - axis], reach[those, 3 - axis] = edge - d, edge + d
            box[those, (line + 2) % 4] = edge + (d if line < 2 else -d)
        box[strip], reach[strip] = across, _wider(across, 3 * d)
        return leaf, box, reach

    @property
    def _far(self) -> float:
        return self.depth + APART * self.seam

    def _ends(self) -> tuple[Ints, Ints, Floats]:
        """Where seams end on edges of leaves, the leaves' own and their neighbours': leaf, side
        (upper, right, lower, left), how far right or down."""
        boxes = self.boxes
        rims = self._rims()
        pairs = self.tree.query(self.tree.geometries, predicate="dwithin", distance=NEAR)
        one, other = (row[pairs[0] != pairs[1]].astype(np.int64) for row in pairs)
        every = np.arange(len(self.leaves))
        found: list[tuple[Ints, int, Floats]] = []
        for side in range(4):
            axis, line = side % 2, LINE[side]
            owner, at = rims[side]
            first, last = (np.searchsorted(owner, every, side=s) for s in ("left", "right"))
            facing = np.abs(boxes[other, (line + 2) % 4] - boxes[one, line]) <= 2 * NEAR
            facing &= self.fills[other]
            beside, there = one[facing], other[facing]
            found += [(owner, side, at)]
            found += [(beside, side, boxes[there, axis]), (beside, side, boxes[there, axis + 2])]
            owner, at = rims[(side + 2) % 4]
            first, last = (np.searchsorted(owner, there, side=s) for s in ("left", "right"))
            which, number = spread(first, last - first)
            found += [(beside[which], side, at[number])]
        for k in np.flatnonzero(~self.fills[other]).tolist():
            for side in range(4):
                line = boxes[one[k], LINE[side]]
                for p in self.leaves[other[k]].outline:
                    if abs(p[1 - side % 2] - line) <= 2 * NEAR:
                        found += [(one[k : k + 1], side, np.array([p[side % 2]]))]
        return (
            np.concatenate([leaf for leaf, _, _ in found]),
            np.repeat([side for _, side, _ in found], [len(leaf) for leaf, _, _ in found]),
            np.concatenate([at for _, _, at in found]),
        )

    def _rims(self) -> list[tuple[Ints, Floats]]:
        """For each side, where seams of leaves end on it: leaf by leaf, how far right or down."""
        known: dict[tuple[int, int], tuple[tuple[float, ...], ...]] = {}
        found: list[tuple[list[int], list[float]]] = [([], []) for _ in range(4)]
        for number, leaf in enumerate(self.leaves):
            key = (leaf.kind, leaf.quarters)
            if key not in known:
                known[key] = self._rim(leaf)
            for side, rim in enumerate(known[key]):
                start = leaf.box[side % 2]
                found[side][0].extend([number] * len(rim))
                found[side][1].extend(start + t for t in rim)
        return [(np.array(k, dtype=np.int64), np.array(at, dtype=np.float64)) for k, at in found]

    def _rim(self, leaf: Lying) -> tuple[tuple[float, ...], ...]:
        """The rim of a leaf as it is turned."""
        rim = self.kinds[leaf.kind].rim if leaf.kind >= 0 else None
        if rim is None:
            return ((), (), (), ())
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
        return rim


LINE = (1, 2, 3, 0)
"""For the upper, right, lower and left side, which number of a box says where it is."""


def _stretches(
    slot: Ints, at: Floats, low: Floats, high: Floats, far: float
) -> tuple[Ints, Floats, Floats]:
    """Stretches from `low` to `high` of slots: those round places, and those between. Slots with
    `low` above `high` have none."""
    # Places are one if they are, to a hundred-thousandth of an inch.
    at = np.round(at, 5)
    order = np.lexsort((at, slot))
    slot, at = slot[order], at[order]
    a, b = np.maximum(at - far, low[slot]), np.minimum(at + far, high[slot])
    there = b - a > NEAR
    slot, a, b = slot[there], a[there], b[there]
    fresh = np.append(True, (slot[1:] != slot[:-1]) | (a[1:] > b[:-1] + NEAR))[: len(slot)]
    run = np.flatnonzero(fresh)
    ends = np.append(run[1:] - 1, len(slot) - 1)[: len(run)]
    slot, a, b = slot[run], a[run], b[ends]
    first = np.append(True, slot[1:] != slot[:-1])[: len(slot)]
    before = np.where(first, low[slot], np.append(0.0, b[:-1])[: len(b)])
    gap = a - before > NEAR
    reached = low.copy()
    reached[slot] = b
    rest = np.flatnonzero(high - reached > NEAR)
    return (
        np.concatenate([slot[gap], slot, rest]),
        np.concatenate([before[gap], np.where(gap, a, before), reached[rest]]),
        np.concatenate([a[gap], b, high[rest]]),
    )


def _together(box: Floats, reach: Floats, single: Bools) -> Ints:
    """The tiles that are left when those that fill a place together are one, in their order. `box`
    of the one that is left becomes all of the place."""
    sharing = np.flatnonzero(~single)
    sides = np.floor(reach[sharing] / STEP + OFF).astype(np.int64)
    group, first = numbered(*sides.T)
    area = np.bincount(group, _areas(box[sharing]), minlength=len(first))
    fill = np.abs(area - _areas(reach[sharing[first]])) <= NEAR
    box[sharing[first[fill]]] = reach[sharing[first[fill]]]
    kept = np.ones(len(box), dtype=np.bool_)
    kept[sharing] = ~fill[group]
    kept[sharing[first]] = True
    return np.flatnonzero(kept)


def _areas(boxes: Floats) -> Floats:
    found: Floats = (boxes[:, 2] - boxes[:, 0]) * (boxes[:, 3] - boxes[:, 1])
    return found


def fills(outline: Convex, box: Box) -> bool:
    """Whether an outline fills its box."""
    x0, y0, x1, y1 = box
    return len(outline) == 4 and all(
        min(abs(x - x0), abs(x - x1)) <= NEAR and min(abs(y - y0), abs(y - y1)) <= NEAR
        for x, y in outline
    )


def _wider(boxes: Floats, by: float) -> Floats:
    found: Floats = boxes + np.array([-by, -by, by, by])
    return found
