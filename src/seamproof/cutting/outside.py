"""What of a patch lies on the outside of the block, where a surplus can be cut off at the end."""

from __future__ import annotations

from collections.abc import Iterable

from seamproof.draft.model import Block
from seamproof.plane.model import Point, Polygon
from seamproof.plane.predicates import distance, side


def on_outside(block: Block, a: Point, b: Point) -> bool:
    """Whether the side of a patch from a to b lies on the outline of the block."""
    edge = [block.vertices[v] for v in block.outline]
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    return any(
        side(p, q, a) == 0 and side(p, q, b) == 0 and _between(p, q, middle)
        for p, q in zip(edge, [*edge[1:], edge[0]], strict=True)
    )


def long_side_outside(block: Block, corners: Polygon) -> bool:
    """Whether the longest side of a triangle lies on the outside of the block."""
    k = max(range(3), key=lambda i: distance(corners[i], corners[(i + 1) % 3]))
    return on_outside(block, corners[k], corners[(k + 1) % 3])


def at_corners(block: Block, places: Iterable[Polygon]) -> bool:
    """Whether a four-sided patch has two neighbouring sides on the outside, and two that are sewn,
    at each of its places: then it may be larger, since what is too much of it lies outside."""
    found = [
        [on_outside(block, corners[k - 1], corners[k]) for k in range(4)]
        for corners in places
        if len(corners) == 4
    ]
    return bool(found) and all(
        sum(out) == 2 and any(out[k - 1] and out[k] for k in range(4)) for out in found
    )


def _between(p: Point, q: Point, middle: Point) -> bool:
    along = (middle[0] - p[0]) * (q[0] - p[0]) + (middle[1] - p[1]) * (q[1] - p[1])
    return 0 <= along <= (q[0] - p[0]) ** 2 + (q[1] - p[1]) ** 2
