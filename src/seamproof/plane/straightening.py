"""Seams that were meant to run straight on, made to do so.

Where a seam was typed to a few decimals its inner vertices lie a little beside the line of its
ends. All such vertices are moved at once, each as little as possible, so that a vertex on one
seam lies on it and a crossing lies on both; vertices that already fit stay as they are.
"""

from __future__ import annotations

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
"""Rounds of moving all vertices; the error is about squared in each, so three or four do."""


def straightened(
    vertices: Sequence[Point],
    sides: Iterable[tuple[int, int]],
    *,
    size: Point | None = None,
    tolerance: Fraction = READ_SNAP,
) -> tuple[Point, ...]:
    """The vertices, moved so that sides that nearly run straight on do run straight on.

    `sides` are pairs of vertex numbers. With `size`, points on the box from (0, 0) to `size` stay
    on its edges. Where no exact answer exists the nearest is given.

    >>> F = Fraction
    >>> bent = [(F(0), F(0)), (F(1), F("0.01")), (F(2), F(0))]
    >>> straightened(bent, [(0, 1), (1, 2)])[1]
    (Fraction(1, 1), Fraction(0, 1))
    >>> straightened([], [])
    ()
    """
    xy = as_array(vertices)
    runs = _runs(xy, sorted({(min(s), max(s)) for s in sides}), float(tolerance))
    rows = [(run[0], run[-1], v) for run in runs for v in run[1:-1]]
    if not rows:
        return tuple(vertices)
    incidence = np.array(rows)
    off = np.abs(_offsets(xy, incidence)[0])
    if off.max() <= TRUE:
        return tuple(vertices)
    held = _held(vertices, size)
    bent = {rows[k][2] for k in np.flatnonzero(off > TRUE).tolist()}
    first = np.array(held)
    first[[v for v in range(len(vertices)) if v not in _follow(bent, runs)]] = True
    moved = _solved(xy, incidence, first)
    if np.abs(_offsets(moved, incidence)[0]).max() > TRUE:
        wider = _solved(xy, incidence, held)
        if _worst(wider, incidence) < _worst(moved, incidence):
            moved = wider
    return tuple(_settled(p, xy[i], moved[i]) for i, p in enumerate(vertices))


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


def _held(vertices: Sequence[Point], size: Point | None) -> np.ndarray:
    """Which coordinates may not move: those on the edges of the box. Shape (n, 2)."""
    if size is None:
        return np.zeros((len(vertices), 2), dtype=bool)
    return np.array([[p[axis] in (0, size[axis]) for axis in (0, 1)] for p in vertices])


def _follow(bent: set[int], runs: Sequence[Sequence[int]]) -> set[int]:
    """The vertices that must move, and those that lie on a seam whose end moves."""
    free = set(bent)
    ends: dict[int, list[int]] = {}
    for k, run in enumerate(runs):
        for v in {run[0], run[-1]}:
            ends.setdefault(v, []).append(k)
    todo = sorted(free)
    while todo:
        for k in ends.get(todo.pop(), ()):
            fresh = [v for v in runs[k][1:-1] if v not in free]
            free.update(fresh)
            todo += fresh
    return free


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
        used.update(zip(run[:-1], run[1:], strict=True))
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


def _offsets(
    xy: np.ndarray, incidence: np.ndarray
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
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


def _solved(xy: np.ndarray, incidence: np.ndarray, held: np.ndarray) -> np.ndarray:
    """Vertices moved as little as possible until all offsets vanish (Gauss-Newton; each step is
    the least-norm solution of the linearised problem, by conjugate gradients on its squares)."""
    now = xy.copy()
    free = ~held
    a, b, v = incidence.T
    for _ in range(ROUNDS):
        off, normal, share = _offsets(now, incidence)
        if np.abs(off).max() < TRUE / 16:
            break
        parts = (normal, -(1 - share)[:, None] * normal, -share[:, None] * normal)

        def forward(
            step: np.ndarray, parts: tuple[np.ndarray, np.ndarray, np.ndarray] = parts
        ) -> np.ndarray:
            result: np.ndarray = sum(
                (step[w] * part).sum(axis=1) for w, part in zip((v, a, b), parts, strict=True)
            )
            return result

        def backward(
            weight: np.ndarray, parts: tuple[np.ndarray, np.ndarray, np.ndarray] = parts
        ) -> np.ndarray:
            result = np.zeros_like(xy)
            for w, part in zip((v, a, b), parts, strict=True):
                for axis in (0, 1):
                    result[:, axis] += np.bincount(
                        w, weight * part[:, axis], minlength=len(xy)
                    )
            return result * free

        step = np.zeros_like(xy)
        rest = -off
        slope = backward(rest)
        way = slope
        size = float((slope**2).sum())
        for _ in range(20 + 4 * int(math.sqrt(len(incidence))) * 4):
            if size < 1e-26:
                break
            image = forward(way)
            scale = size / float((image**2).sum())
            step = step + scale * way
            rest = rest - scale * image
            slope = backward(rest)
            fresh = float((slope**2).sum())
            way = slope + fresh / size * way
            size = fresh
        now = now + step
    return now
