"""Patches with inner corners: snipped there, so that the allowance of either side can fold.

An allowance goes round an inner corner in one piece and cannot lie flat on either side; it is
snipped to the stitching, half way between the two seams. From there on each side folds by itself.
"""

from __future__ import annotations

import math

import shapely

from seamproof.pressing.folding import TOUCH, Convex, Spot
from seamproof.pressing.meetings import NEAR

Piece = tuple[Convex, Convex]
"""A part of a patch as it finishes, and as it is cut."""


def snipped(patch: Convex, cut: Convex) -> list[Piece]:
    """A patch in convex parts, divided through each of its inner corners, half way between the
    sides that meet there; `cut` is its outline with the allowance. Both clockwise as seen.

    >>> ell = ((0., 0.), (2., 0.), (2., 1.), (1., 1.), (1., 2.), (0., 2.))
    >>> raw = ((-.25, -.25), (2.25, -.25), (2.25, 1.25), (1.25, 1.25), (1.25, 2.25), (-.25, 2.25))
    >>> [len(part) for part, _ in snipped(ell, raw)]
    [4, 4]
    >>> square = ((0., 0.), (1., 0.), (1., 1.), (0., 1.))
    >>> snipped(square, square) == [(square, square)]
    True
    """
    corner = _inner_corner(patch)
    if corner is None:
        return [(patch, cut)]
    p, (ux, uy) = corner
    far = 4 * sum(math.dist(patch[k - 1], q) for k, q in enumerate(patch))
    line = shapely.LineString(
        [(p[0] - far * ux, p[1] - far * uy), (p[0] + far * ux, p[1] + far * uy)]
    )
    finished = _divided(patch, line)
    found: list[Piece] = []
    shapes = [shapely.Polygon(part) for part in finished]
    for piece in _divided(cut, line):
        # Every piece of cloth belongs to the part of the patch that it holds, or lies next to.
        whole = shapely.Polygon(piece)
        inside = [shape.intersection(whole).area for shape in shapes]
        beside = [-shape.distance(whole) for shape in shapes]
        k = max(range(len(finished)), key=lambda k: (inside[k], beside[k]))
        found += snipped(finished[k], piece)
    return found


def _inner_corner(polygon: Convex) -> tuple[Spot, Spot] | None:
    """The first inner corner, and the direction half way between its two sides; None if there is
    none."""
    for i, p in enumerate(polygon):
        a, b = polygon[i - 1], polygon[(i + 1) % len(polygon)]
        back, on = math.dist(a, p), math.dist(p, b)
        u = ((a[0] - p[0]) / back, (a[1] - p[1]) / back)
        v = ((b[0] - p[0]) / on, (b[1] - p[1]) / on)
        if u[0] * v[1] - u[1] * v[0] > NEAR:
            x, y = u[0] + v[0], u[1] + v[1]
            length = math.hypot(x, y)
            return p, (x / length, y / length)
    return None


def _divided(polygon: Convex, line: shapely.LineString) -> list[Convex]:
    whole = shapely.Polygon(polygon)
    lines = shapely.union_all([whole.exterior, line], grid_size=TOUCH)
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(lines)))
    return [_ring(face) for face in faces if whole.contains(face.representative_point())]


def _ring(face: shapely.Polygon) -> Convex:
    """The corners of a face, clockwise as seen: with y downwards, against the clock."""
    ring = shapely.remove_repeated_points(shapely.normalize(face).exterior).reverse()
    return tuple((float(x), float(y)) for x, y in shapely.get_coordinates(ring)[:-1])
