"""Squares and rectangles with corners cut off at 45 degrees, drawn patch by patch."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from seamproof.draft.model import Block
from seamproof.length.exact import kept
from seamproof.plane.model import Point, Polygon
from tests.cast import polygon_drawing, understood

Drawn = list[tuple[str, Polygon]]


def corners_cut(
    width: Fraction,
    height: Fraction,
    legs: Sequence[Fraction | int],
    fabrics: Sequence[str] = "aaaa",
    centre: str = "c",
) -> Drawn:
    """A whole of fabric `centre` whose corners, clockwise from the upper left one, are cut off so
    far; 0 leaves a corner as it is."""
    zero = Fraction(0)
    corner: list[Point] = [(zero, zero), (width, zero), (width, height), (zero, height)]
    whole: list[Point] = []
    patches: Drawn = []
    for k, leg in enumerate(legs):
        ends = [
            _towards(corner[k], to, Fraction(leg)) for to in (corner[k - 1], corner[(k + 1) % 4])
        ]
        whole += [p for p in ends if p not in whole]
        if leg:
            patches.append((fabrics[k], (corner[k], ends[1], ends[0])))
    return [(centre, tuple(whole)), *patches]


def _towards(a: Point, b: Point, length: Fraction) -> Point:
    return (
        a[0] + ((b[0] > a[0]) - (b[0] < a[0])) * length,
        a[1] + ((b[1] > a[1]) - (b[1] < a[1])) * length,
    )


def in_squares(side: Fraction, fabrics: str) -> Drawn:
    """A square in a square, or, with nine fabrics, an economy patch: the centre, then the triangles
    round by round, from the one at the top or at the upper right on, clockwise."""
    h, q, zero = side / 2, side / 4, Fraction(0)
    corner = [(side, zero), (side, side), (zero, side), (zero, zero)]
    point = [(h, zero), (side, h), (h, side), (zero, h)]
    outer = [(corner[k], point[(k + 1) % 4], point[k]) for k in range(4)]
    if len(fabrics) == 5:
        return list(zip(fabrics, (tuple(point), *outer), strict=True))
    inner = [(q, q), (3 * q, q), (3 * q, 3 * q), (q, 3 * q)]
    tops = [(inner[k], point[k], inner[(k + 1) % 4]) for k in range(4)]
    return list(zip(fabrics, (tuple(inner), *tops, *outer), strict=True))


def block_of(patches: Drawn, *, aslant: bool = False) -> Block:
    """The block of such patches; `aslant` turns it an eighth clockwise as seen."""
    if aslant:
        root = 2**0.5
        turned = [
            (f, tuple((float(x - y) / root, float(x + y) / root) for x, y in shape))
            for f, shape in patches
        ]
        left = min(x for _, shape in turned for x, _ in shape)
        patches = [(f, tuple((kept(x - left), kept(y)) for x, y in shape)) for f, shape in turned]
    xs, ys = zip(*(p for _, shape in patches for p in shape), strict=True)
    return understood(polygon_drawing("test", (max(xs), max(ys)), patches))
