"""Seams that were meant to run straight on, made to do so.

Where a seam was typed to a few decimals its inner vertices lie a little beside the line of its
ends. All such vertices are moved at once, each as little as possible, so that a vertex on one
seam lies on it and a crossing lies on both; vertices that already fit stay as they are.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from fractions import Fraction

import numpy as np

from seamproof.length.exact import FINEST, kept
from seamproof.plane.model import Point
from seamproof.plane.snapping import READ_SNAP, as_array

BEND = 20
"""A seam may bend sideways by no more than 1/`BEND` of the shorter of two sides (about three
degrees) and still be meant as straight, however short the sides are."""

TRUE = 2 * float(FINEST)
"""A vertex this near to its line lies on it as well as kept coordinates can say."""

ROUNDS = 12
"""Rounds of moving all vertices; the error is about squared in each, so two or three mostly do."""

FARTHEST = 2
"""No vertex is moved by more than this many times the reading tolerance: an answer that needs it
has let vertices fall together."""

STEPS = 16
"""Inner steps of a round: this many, and as many again per unit of the drawing's width, which is
about the root of the number of vertices; a correction has to travel that far."""

DAMPING = 4
"""Damping per inch of the worst offset. On grids of triangles typed to two decimals anything from
1 to 32 settles in two to five rounds; without it vertices run off."""

SETTLED = 1e-26
"""Squared length of a slope, in inches, at which an inner solution is as exact as floats are."""


def straightened(
    vertices: Sequence[Point],
    sides: Iterable[tuple[int, int]],
    *,
    size: Point | None = None,
    tolerance: Fraction = READ_SNAP,
) -> tuple[Point, ...]:
    """The vertices, moved so that sides that nearly run straight on do run straight on.

    `sides` are pairs of vertex numbers. Level and upright sides stay so. With `size`, points on
    the box from (0, 0) to `size` stay on its edges. Where no exact answer exists the nearest is
    given.

    >>> F = Fraction
    >>> bent = [(F(0), F(0)), (F(1), F("0.01")), (F(2), F(0))]
    >>> straightened(bent, [(0, 1), (1, 2)])[1]
    (Fraction(1, 1), Fraction(0, 1))
    >>> straightened([], [])
    ()
    """
    once = sorted({(min(s), max(s)) for s in sides})
    xy = as_array(vertices)
    runs = _runs(xy, once, float(tolerance))
    rows = [(run[0], run[-1], v) for run in runs for v in run[1:-1]]
    if not rows:
        return tuple(vertices)
    incidence = np.array(rows)
    off = np.abs(_offsets(xy, incidence)[0])
    if off.max() <= TRUE:
        return tuple(vertices)
    bent = sorted({rows[k][2] for k in np.flatnonzero(off > TRUE).tolist()})
    level, loose = _shared(vertices, once), np.arange(2 * len(vertices)).reshape(-1, 2)
    best = xy
    # First only what must move, then everything; level and upright sides given up last, since two
    # ends typed alike need not be meant so.
    for shared, only in ((level, bent), (level, None), (loose, None)):
        free = ~_held(vertices, size, shared)
        if only is not None:
            free &= _follow(only, runs, shared, free)
        moved = _solved(xy, incidence, shared, free)
        far = np.abs(moved - xy).max() > FARTHEST * float(tolerance)
        if not far and _worst(moved, incidence) < _worst(best, incidence):
            best = moved
        if _worst(best, incidence) <= TRUE:
            break
    return tuple(_settled(p, xy[i], best[i]) for i, p in enumerate(vertices))


def _worst(xy: np.ndarray, incidence: np.ndarray) -> float:
    return float(np.abs(_offsets(xy, incidence)[0]).max())


def _settled(point: Point, before: np.ndarray, after: np.ndarray) -> Point:
    """A moved point as it is kept; a coordinate that did not move stays exact."""
    x, y = (
        point[axis]
        if abs(after[axis] - before[axis]) < float(FINEST) / 2
        else kept(Fraction(round(float(after[axis]) / float(FINEST))) * FINEST)
        for axis in (0, 1)
    )
    return (x, y)


def _shared(vertices: Sequence[Point], sides: Iterable[tuple[int, int]]) -> np.ndarray:
    """For each coordinate the number of the value it shares, shape (n, 2): the ends of an upright
    side share their x, those of a level side their y."""
    root = list(range(2 * len(vertices)))

    def find(i: int) -> int:
        while root[i] != i:
            root[i] = root[root[i]]
            i = root[i]
        return i

    for a, b in sides:
        for axis in (0, 1):
            if vertices[a][axis] == vertices[b][axis]:
                i, j = sorted((find(2 * a + axis), find(2 * b + axis)))
                root[j] = i
    return np.array([find(i) for i in range(len(root))]).reshape(-1, 2)


def _held(vertices: Sequence[Point], size: Point | None, shared: np.ndarray) -> np.ndarray:
    """Which shared values may not change: those of the box's edges."""
    held = np.zeros(shared.size, dtype=bool)
    if size is not None:
        for numbers, p in zip(shared.tolist(), vertices, strict=True):
            for axis in (0, 1):
                held[numbers[axis]] |= p[axis] in (0, size[axis])
    return held


def _follow(
    bent: Sequence[int], runs: Sequence[Sequence[int]], shared: np.ndarray, free: np.ndarray
) -> np.ndarray:
    """Which values must change if those of the bent vertices do: where the end of a line moves,
    what lies on the line moves; what slides along a slanted line moves both ways.
    """
    ends: dict[int, list[int]] = {}
    slanted: set[int] = set()
    for k, run in enumerate(runs):
        for v in (run[0], run[-1]):
            ends.setdefault(v, []).append(k)
        if not (shared[run[0]] == shared[run[-1]]).any():
            slanted.update(run[1:-1])
    having: dict[int, list[int]] = {}
    for v, numbers in enumerate(shared.tolist()):
        for number in numbers:
            having.setdefault(number, []).append(v)
    moving = np.zeros(shared.size, dtype=bool)
    todo = shared[list(bent)].ravel().tolist()
    while todo:
        number = todo.pop()
        if moving[number] or not free[number]:
            continue
        moving[number] = True
        for v in having[number]:
            carried = [w for k in ends.get(v, ()) for w in runs[k][1:-1]]
            carried += [v] if v in slanted else []
            todo += shared[carried].ravel().tolist() if carried else []
    return moving


def _runs(xy: np.ndarray, sides: Sequence[tuple[int, int]], tolerance: float) -> list[list[int]]:
    """Longest rows of vertices that were meant to lie on one line, three or more in each."""
    spokes: dict[int, list[int]] = {}
    for a, b in sides:
        spokes.setdefault(a, []).append(b)
        spokes.setdefault(b, []).append(a)
    points = xy.tolist()
    ahead: dict[tuple[int, int], int] = {}
    for v, ends in spokes.items():
        if len(ends) > 1:
            for a, b in _pairs(points, v, ends, tolerance):
                ahead[(a, v)] = b
                ahead[(b, v)] = a
    runs: list[list[int]] = []
    used: set[tuple[int, int]] = set()
    for a, b in [(a, b) for a, b in sides] + [(b, a) for a, b in sides]:
        if (a, b) in used or (a, b) not in ahead or (b, a) in ahead:
            continue
        run = [a, b]
        while (run[-2], run[-1]) in ahead and (run[-2], run[-1]) not in used:
            used.add((run[-2], run[-1]))
            run.append(ahead[(run[-2], run[-1])])
        used.update(zip(run[1:], run[:-1], strict=True))
        used.update(itertools.pairwise(run))
        runs += _split(points, run, tolerance)
    return runs


def _pairs(
    points: list[list[float]], v: int, ends: Sequence[int], tolerance: float
) -> list[tuple[int, int]]:
    """Pairs of neighbours of v that v lies nearly between, each neighbour in one pair only."""
    x, y = points[v]
    arms = [(points[w][0] - x, points[w][1] - y) for w in ends]
    lengths = [math.hypot(*arm) for arm in arms]
    found: list[tuple[float, int, int]] = []
    for i in range(len(ends)):
        for j in range(i + 1, len(ends)):
            (ax, ay), (bx, by) = arms[i], arms[j]
            if ax * bx + ay * by >= 0:
                continue
            beside = abs(ax * by - ay * bx) / math.hypot(ax - bx, ay - by)
            if beside <= min(tolerance, min(lengths[i], lengths[j]) / BEND):
                found.append((beside, ends[i], ends[j]))
    pairs: list[tuple[int, int]] = []
    taken: set[int] = set()
    for _, a, b in sorted(found):
        if a not in taken and b not in taken:
            taken.update((a, b))
            pairs.append((a, b))
    return pairs


def _split(points: list[list[float]], run: list[int], tolerance: float) -> list[list[int]]:
    """A run that bends little by little is several lines: split where it is farthest off."""
    if len(run) < 3:
        return []
    (ax, ay), (bx, by) = points[run[0]], points[run[-1]]
    length = math.hypot(bx - ax, by - ay)
    if length == 0:
        return []
    beside = [
        abs((bx - ax) * (points[v][1] - ay) - (by - ay) * (points[v][0] - ax)) / length
        for v in run[1:-1]
    ]
    worst = max(range(len(beside)), key=beside.__getitem__)
    if beside[worst] <= tolerance:
        return [run]
    cut = worst + 1
    return _split(points, run[: cut + 1], tolerance) + _split(points, run[cut:], tolerance)


def _offsets(xy: np.ndarray, incidence: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """For rows (first end, last end, vertex): how far the vertex lies right of the line, the
    line's unit normal, and the share of the line at which the vertex lies."""
    a, b, v = xy[incidence[:, 0]], xy[incidence[:, 1]], xy[incidence[:, 2]]
    along = b - a
    length = np.hypot(along[:, 0], along[:, 1])
    normal = np.stack([-along[:, 1], along[:, 0]], axis=1) / length[:, None]
    return (
        ((v - a) * normal).sum(axis=1),
        normal,
        ((v - a) * along).sum(axis=1) / length**2,
    )


def _solved(
    xy: np.ndarray, incidence: np.ndarray, shared: np.ndarray, free: np.ndarray
) -> np.ndarray:
    """Vertices moved as little as possible until all offsets vanish.

    Each round solves the linearised problem by conjugate gradients on its squares, damped by the
    size of the offsets (Levenberg-Marquardt: far from the answer, directions that hardly matter
    must not be taken far). Steps are taken in shared values, so those stay shared.
    """
    now = xy.copy()
    a, b, v = incidence.T
    for _ in range(ROUNDS):
        off, normal, share = _offsets(now, incidence)
        worst = float(np.abs(off).max())
        if worst < TRUE / 16:
            break
        parts = (
            (v, normal),
            (a, -(1 - share)[:, None] * normal),
            (b, -share[:, None] * normal),
        )
        damping = (DAMPING * worst) ** 2
        step = np.zeros(shared.size)
        rest = -off
        slope = _gathered(rest, parts, shared) * free
        way = slope
        size = float(slope @ slope)
        for _ in range(STEPS + STEPS * math.isqrt(len(incidence))):
            if size < SETTLED:
                break
            image = _spread(way, parts, shared)
            scale = size / float(image @ image + damping * (way @ way))
            step = step + scale * way
            rest = rest - scale * image
            slope = _gathered(rest, parts, shared) * free - damping * step
            fresh = float(slope @ slope)
            way = slope + fresh / size * way
            size = fresh
        now = now + step[shared]
    return now


_Parts = tuple[tuple[np.ndarray, np.ndarray], ...]


def _spread(step: np.ndarray, parts: _Parts, shared: np.ndarray) -> np.ndarray:
    """How a step in shared values changes the offsets."""
    moved = step[shared]
    result = np.zeros(len(parts[0][0]))
    for vertex, weight in parts:
        result += np.einsum("ij,ij->i", moved[vertex], weight)
    return result


def _gathered(offsets: np.ndarray, parts: _Parts, shared: np.ndarray) -> np.ndarray:
    """The transpose of `_spread`."""
    result = np.zeros(shared.size)
    for vertex, weight in parts:
        for axis in (0, 1):
            result += np.bincount(
                shared[vertex, axis], offsets * weight[:, axis], minlength=shared.size
            )
    return result
