"""The tables of a block: each cluster of crossings under every way of pressing what reaches it.

A crossing is a corner of a patch. Round it, cloth of its seams lies no farther than
s / sin(angle / 2) for the sharpest corner there. Crossings whose discs meet are one cluster, and so
are those of seams that run closer than two allowances to each other. All cloth as it may come to
lie is laid over each other once a cluster; equal clusters, also turned by quarters, are one.
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import numpy.typing as npt
import shapely

from seamproof.pressing.folding import Convex, Spot, When, may_lie
from seamproof.pressing.meetings import NEAR
from seamproof.pressing.overlay import Geometries, cut_to, faces_of, polygons
from seamproof.pressing.sheets import Cloth
from seamproof.pressing.tables import Table

DUST = 1e-5
"""Square inches. Smaller places are not looked at: corners of cut pieces are kept to 2^-20 in, so
where many points meet their folds miss each other by slivers, a millionth of a square inch each,
that lie layers higher than any cloth does."""

SIDES = 32
"""A disc is drawn as a polygon of so many sides, all round it."""

DECIMALS = 6
"""Clusters are equal if their cloth is, to this many decimals of an inch."""

OFF_TIES = 1.7e-7
"""Inches; keeps sizes in eighths and sixteenths away from where rounding turns over."""


def tables_of(cloth: Cloth, seam: float) -> tuple[Table, ...]:
    """The tables of all clusters of a block, those alike once. `seam` is the allowance, inches."""
    laid = list(may_lie(cloth.sheets, cloth.ways))
    if not laid:
        return ()
    whole = polygons([lying.piece for lying in laid])
    tree = shapely.STRtree(whole)
    found: dict[object, list[Table]] = {}
    for window in windows(cloth.patches, seam):
        near = np.sort(tree.query(window, predicate="intersects"))
        inside, which = cut_to(whole[near], window)
        whens = [laid[k].when for k in near[which]]
        middle = shapely.get_coordinates(shapely.centroid(window))[0]
        key = _key(whens, inside, middle)
        if key in found:
            found[key] = [replace(table, copies=table.copies + 1) for table in found[key]]
        else:
            at = (float(middle[0]), float(middle[1]))
            found[key] = _tables(whens, inside, cloth.ways, at)
    return tuple(table for tables in found.values() for table in tables)


def windows(patches: Sequence[Convex], seam: float) -> list[shapely.Geometry]:
    """Where crossings are: places that do not overlap, with all cloth that more than one seam
    decides about."""
    reach: dict[Spot, tuple[Spot, float]] = {}
    for patch in patches:
        for i, p in enumerate(patch):
            a, b = patch[i - 1], patch[(i + 1) % len(patch)]
            angle = _angle(a, p, b)
            if math.pi - angle < NEAR:
                continue
            far = seam / math.sin(min(angle, math.pi) / 2)
            key = (round(p[0], 4), round(p[1], 4))
            if key not in reach or reach[key][1] < far:
                reach[key] = (p, far)
    centres = shapely.points([p for p, _ in reach.values()])
    radii = np.array([far for _, far in reach.values()]) / math.cos(math.pi / SIDES)
    discs = list(shapely.buffer(centres, radii, quad_segs=SIDES // 4))
    return _apart([*discs, *_between(patches, seam)])


def _angle(a: Spot, p: Spot, b: Spot) -> float:
    """The inner angle at p of a polygon that is clockwise as seen, a before and b after p."""
    back = math.atan2(a[1] - p[1], a[0] - p[0])
    on = math.atan2(b[1] - p[1], b[0] - p[0])
    return (back - on) % (2 * math.pi)


def _between(patches: Sequence[Convex], seam: float) -> list[shapely.Geometry]:
    """Where two sides of a patch that do not meet run closer than two allowances."""
    found = []
    for patch in patches:
        sides = [
            shapely.LineString([patch[i - 1], p])
            for i, p in enumerate(patch)
            if math.dist(patch[i - 1], p) > NEAR
        ]
        strips = [shapely.buffer(side, seam, cap_style="square") for side in sides]
        for i, strip in enumerate(strips):
            for j in range(i + 2, len(strips) - (i == 0)):
                both = shapely.intersection(strip, strips[j])
                if shapely.area(both) > DUST:
                    found.append(shapely.convex_hull(both))
    return found


def _apart(some: list[shapely.Geometry]) -> list[shapely.Geometry]:
    """Those that overlap, as one. Hulls, so that they stay simple; in reading order."""
    while True:
        tree = shapely.STRtree(some)
        groups = list(range(len(some)))

        def top(k: int, groups: list[int] = groups) -> int:
            while groups[k] != k:
                groups[k] = groups[groups[k]]
                k = groups[k]
            return k

        for i, j in zip(*tree.query(some, predicate="intersects"), strict=True):
            groups[top(int(i))] = top(int(j))
        together: dict[int, list[shapely.Geometry]] = defaultdict(list)
        for k, one in enumerate(some):
            together[top(k)].append(one)
        if len(together) == len(some):
            return sorted(some, key=lambda g: (round(g.bounds[1], 6), round(g.bounds[0], 6)))
        some = [shapely.convex_hull(shapely.union_all(group)) for group in together.values()]


def _key(whens: Sequence[When], inside: Geometries, middle: npt.NDArray[np.float64]) -> object:
    """The same for clusters that are alike, however turned by quarters."""
    if not len(inside):
        return ()
    told = []
    points, of = shapely.get_coordinates(inside, return_index=True)
    ends = np.searchsorted(of, np.arange(1, len(inside))).tolist()
    spans = [slice(*span) for span in itertools.pairwise([0, *ends, len(of)])]
    plain = [_plain(when) for when in whens]
    for cos, sin in ((1, 0), (0, 1), (-1, 0), (0, -1)):
        turned = (points - middle) @ np.array([[cos, sin], [-sin, cos]])
        rounded = [tuple(p) for p in (np.round(turned + OFF_TIES, DECIMALS) + 0.0).tolist()]
        rows = [
            (tuple(sorted(set(rounded[span]))), when)
            for span, when in zip(spans, plain, strict=True)
        ]
        told.append(tuple(sorted(rows)))
    return min(told)


def _plain(when: When) -> tuple[tuple[int, tuple[int, ...]], ...]:
    return tuple((choice, tuple(sorted(ways))) for choice, ways in when)


def _tables(
    whens: Sequence[When], cloth: Geometries, ways: Sequence[tuple[int, ...]], at: Spot
) -> list[Table]:
    """One table for every set of choices that decides a place in a window."""
    faces, (face, piece) = faces_of(cloth)
    areas = shapely.area(faces)
    covering: dict[int, list[When]] = defaultdict(list)
    for f, p in zip(face.tolist(), piece.tolist(), strict=True):
        covering[f].append(whens[p])
    kinds: dict[tuple[object, ...], tuple[list[When], float]] = {}
    for f, there in covering.items():
        kind = tuple(sorted(_plain(when) for when in there))
        kinds[kind] = (there, kinds.get(kind, (there, 0.0))[1] + float(areas[f]))
    by_scope: dict[tuple[int, ...], list[tuple[list[When], float]]] = defaultdict(list)
    for there, area in kinds.values():
        scope = tuple(sorted({choice for when in there for choice, _ in when}))
        by_scope[scope].append((there, area))
    return [
        _table(scope, [ways[choice] for choice in scope], members, at)
        for scope, members in sorted(by_scope.items())
    ]


def _table(
    scope: tuple[int, ...],
    known: Sequence[tuple[int, ...]],
    members: Sequence[tuple[list[When], float]],
    at: Spot,
) -> Table:
    """The table of the places that one set of choices decides. Ways that no condition tells from
    each other are counted once."""
    asked = [[dict(when).get(choice) for whens, _ in members for when in whens] for choice in scope]
    alike = [
        [tuple(ways is None or way in ways for ways in some) for way in all_ways]
        for all_ways, some in zip(known, asked, strict=True)
    ]
    kinds = [list(dict.fromkeys(of)) for of in alike]
    shape = tuple(len(of) for of in kinds)
    counts = np.zeros((len(members), *shape), dtype=np.int16)
    # For every choice: does each piece of cloth (row) lie there under each kind of way (column)?
    here = [np.array(of, dtype=np.int16).T for of in kinds]
    number = 0
    for k, (whens, _) in enumerate(members):
        lies = np.ones((len(whens), 1), dtype=np.int16)
        for axis in here:
            some = axis[number : number + len(whens)]
            lies = (lies[:, :, None] * some[:, None, :]).reshape(len(whens), -1)
        counts[k] = lies.sum(axis=0, dtype=np.int16).reshape(shape)
        number += len(whens)
    flat = counts.reshape(len(members), -1)
    table = np.zeros((flat.shape[1], int(flat.max()) + 1))
    rows = np.arange(flat.shape[1])
    for k, (_, area) in enumerate(members):
        table[rows, flat[k]] += area
    thick = np.where(table > DUST, np.arange(table.shape[1]), 0).max(axis=1).astype(np.int16)
    which = np.zeros(1, dtype=np.int64)
    for of, every in zip(kinds, alike, strict=True):
        places = np.array([of.index(told) for told in every])
        which = (which[:, None] * len(of) + places[None, :]).ravel()
    return Table(scope, tuple(known), thick[which], table[which], 1, at)
