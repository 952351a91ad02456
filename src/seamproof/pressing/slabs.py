"""Layers counted in slabs: many heaps of polygons at once, without laying one over the other.

Each heap is divided at the height of every corner and of every place where edges cross. Within such
a slab edges run from the upper side to the lower without meeting. Ordered from left to right they
bound trapezoids; the layers of a trapezoid are the edges left of it that go down less those that
go up. Whatever trapezoids are left out or counted, layers times area is what the polygons have: the
edges of a slab come out to nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from seamproof.pressing.numbering import Floats, Ints, spread

DECIMALS = 11
"""Those of the grid, in inches. Corners, crossings and the ends of edges in a slab are one if they
are on it; what is worked out in floating point errs by a hundredth of that. An edge of 12 in that
is brought to it sweeps less than a thousand-millionth of a square inch."""

GRID = 10.0**-DECIMALS

AT_ONCE = 2_000_000
"""Pairs of edges that are looked at together: a few hundred megabytes at most."""


@dataclass(frozen=True, slots=True, eq=False)
class Trapezoids:
    """Places with an equal count of layers above none, ordered by heap. `corners` has shape
    (n, 4, 2), clockwise as seen from the upper left."""

    heap: Ints
    layers: Ints
    corners: Floats
    areas: Floats


@dataclass(frozen=True, slots=True, eq=False)
class _Edges:
    """Edges from their upper end to their lower; `down` is 1 where the polygon lies right of an
    edge, -1 where left. Level ones bound nothing and are left out."""

    heap: Ints
    x: Floats
    y: Floats
    u: Floats
    v: Floats
    down: Ints


def counted(points: Floats, ring: Ints, heap: Ints) -> Trapezoids:
    """The layers of heaps. `points` are corners, shape (n, 2), ring by ring; `ring` is the number
    of each corner's ring, in ascending order, and `heap` the heap of each ring, in ascending order.
    Outer rings go round clockwise as seen (y downwards), holes the other way.

    >>> square = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)]
    >>> corner = [(1.0, 1.0), (3.0, 1.0), (1.0, 3.0)]
    >>> ring = np.array([0] * 4 + [1] * 3)
    >>> found = counted(np.array(square + corner), ring, np.array([0, 0]))
    >>> [float(found.areas[found.layers == count].sum()) for count in (1, 2)]
    [4.0, 1.0]
    """
    if not len(points):
        none = np.empty(0, dtype=np.int64)
        return Trapezoids(none, none, np.empty((0, 4, 2)), np.empty(0))
    edges = _edges(points, ring, heap)
    heap_of, level = _levels(edges)
    # Every edge is in the slabs from its upper end to its lower.
    grid = np.round(level / GRID).astype(np.int64)
    first, last = (_found(heap_of, grid, edges.heap, end) for end in (edges.y, edges.v))
    edge, slab = spread(first, last - first)
    upper, lower = (np.round(_at(edges, edge, level[slab + k]), DECIMALS) for k in (0, 1))
    middle = np.round((upper + lower) / GRID).astype(np.int64)
    order = np.lexsort((middle, slab))
    slab, upper, lower, middle = slab[order], upper[order], lower[order], middle[order]
    layers = np.cumsum(edges.down[edge[order]])
    # Of edges in one place only the last tells what lies right of them; of those right of which as
    # much lies as left of them, none bounds anything.
    last_there = np.append((slab[1:] != slab[:-1]) | (middle[1:] != middle[:-1]), True)
    slab, upper, lower, layers = (a[last_there] for a in (slab, upper, lower, layers))
    changes = np.append(True, layers[1:] != layers[:-1])
    slab, upper, lower, layers = (a[changes] for a in (slab, upper, lower, layers))
    left = np.nonzero(layers > 0)[0]
    # Edges that cross on the grid of a slab's side may have changed places there by one step.
    a, b = (_in_order(at[left], at[left + 1]) for at in (upper, lower))
    wide = (b[1] - b[0] > GRID / 2) | (a[1] - a[0] > GRID / 2)
    left, a, b = left[wide], a[:, wide], b[:, wide]
    above, below = level[slab[left]], level[slab[left] + 1]
    areas = (a[1] - a[0] + b[1] - b[0]) / 2 * (below - above)
    corners = np.stack(
        [
            np.stack(pair, axis=-1)
            for pair in ((a[0], above), (a[1], above), (b[1], below), (b[0], below))
        ],
        axis=1,
    )
    return Trapezoids(heap_of[slab[left]], layers[left], corners, areas)


def _in_order(left: Floats, right: Floats) -> Floats:
    """Two rows: what lies left and what lies right; where they are the other way round, both lie
    between."""
    both = np.stack([left, right])
    found: Floats = np.where(left > right, both.mean(axis=0), both)
    return found


def _edges(points: Floats, ring: Ints, heap: Ints) -> _Edges:
    points = np.round(points, DECIMALS)
    ends = np.flatnonzero(np.append(ring[1:] != ring[:-1], True))
    after = np.arange(1, len(points) + 1)
    after[ends] = np.append(0, ends[:-1] + 1)
    x, y = points.T
    u, v = x[after], y[after]
    rising = v < y
    down = np.where(rising, 1, -1)
    x, u = np.where(rising, u, x), np.where(rising, x, u)
    y, v = np.where(rising, v, y), np.where(rising, y, v)
    bound = y != v
    return _Edges(heap[ring][bound], x[bound], y[bound], u[bound], v[bound], down[bound])


def _levels(edges: _Edges) -> tuple[Ints, Floats]:
    """The levels at which heaps are divided, heap by heap, downwards."""
    crossing_heap, crossing = _crossings(edges)
    heap = np.concatenate([edges.heap, edges.heap, crossing_heap])
    level = np.round(np.concatenate([edges.y, edges.v, crossing]), DECIMALS)
    order = np.lexsort((level, heap))
    heap, level = heap[order], level[order]
    new = np.append(True, (heap[1:] != heap[:-1]) | (np.abs(level[1:] - level[:-1]) > GRID / 2))
    return heap[new], level[new]


def _found(heap: Ints, grid: Ints, wanted: Ints, level: Floats) -> Ints:
    """The numbers of levels of heaps."""
    at = np.round(level / GRID).astype(np.int64)
    low = min(int(grid.min()), int(at.min())) if len(at) else 0
    span = (int(grid.max()) - low + 2) if len(grid) else 1
    return np.searchsorted(heap * span + (grid - low), wanted * span + (at - low)).astype(np.int64)


def _crossings(edges: _Edges) -> tuple[Ints, Floats]:
    """Levels at which edges of a heap cross, each with its heap."""
    slanted = np.flatnonzero(edges.x != edges.u)
    starts = np.searchsorted(edges.heap, edges.heap[slanted], side="left")
    counts = np.searchsorted(edges.heap, edges.heap[slanted], side="right") - starts
    heaps, levels = [np.empty(0, dtype=np.int64)], [np.empty(0)]
    total = np.cumsum(counts)
    begin = 0
    while begin < len(slanted):
        done = total[begin - 1] if begin else 0
        end = max(begin + 1, int(np.searchsorted(total, done + AT_ONCE, side="right")))
        which, other = spread(starts[begin:end], counts[begin:end])
        heap, level = _crossed(edges, slanted[begin:end][which], other)
        heaps.append(heap)
        levels.append(level)
        begin = end
    return np.concatenate(heaps), np.concatenate(levels)


def _crossed(edges: _Edges, one: Ints, other: Ints) -> tuple[Ints, Floats]:
    e = edges
    left, right = np.minimum(e.x, e.u), np.maximum(e.x, e.u)
    near = (e.y[one] < e.v[other]) & (e.y[other] < e.v[one])
    near &= (left[one] < right[other]) & (left[other] < right[one]) | (e.x[other] == e.u[other])
    one, other = one[near], other[near]
    # How far right of one the other lies, where both begin and where the first of them ends.
    top, foot = np.maximum(e.y[one], e.y[other]), np.minimum(e.v[one], e.v[other])
    begins, ends = (_at(e, other, level) - _at(e, one, level) for level in (top, foot))
    crosses = (np.minimum(begins, ends) < -GRID) & (np.maximum(begins, ends) > GRID)
    begins, ends, top, foot = (a[crosses] for a in (begins, ends, top, foot))
    level = top + (foot - top) * begins / (begins - ends)
    inside = (level > top + GRID) & (level < foot - GRID)
    return e.heap[one[crosses][inside]], level[inside]


def _at(edges: _Edges, edge: Ints, level: Floats) -> Floats:
    """How far right edges lie at levels."""
    x, y, u, v = (a[edge] for a in (edges.x, edges.y, edges.u, edges.v))
    found: Floats = x + (level - y) / (v - y) * (u - x)
    return found
