"""A named cast of blocks for all tests: every kind, and the awkward ones.

Every function gives a :class:`~seamproof.draft.model.Block` that went through `understand`;
`CAST` lists them all. Tests take what they draw or compare with from here too.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable

from seamproof.draft.model import Block, Drawing
from tests.drawings import (
    as_polygons,
    cells_drawing,
    polygon_drawing,
    seams_drawing,
    understood,
)
from tests.reference import (
    GOLDEN,
    TABLES,
    from_least,
    golden_cells,
    reference_blocks,
    reference_drawings,
    reference_values,
)
from tests.refused import REFUSED

__all__ = [
    "CAST",
    "GOLDEN",
    "REFUSED",
    "TABLES",
    "as_polygons",
    "cells_drawing",
    "from_least",
    "golden_cells",
    "polygon_drawing",
    "reference_blocks",
    "reference_drawings",
    "reference_values",
    "seams_drawing",
    "understood",
]


@functools.cache
def one_patch() -> Block:
    """A plain square: nothing to sew."""
    return understood(cells_drawing("one patch", (6, 6), ["a"]))


def four_patch_drawing() -> Drawing:
    return cells_drawing("four patch", (6, 6), ["a b", "b a"])


@functools.cache
def four_patch() -> Block:
    return understood(four_patch_drawing())


@functools.cache
def nine_patch() -> Block:
    return understood(cells_drawing("nine patch", (9, 9), ["a b a", "b a b", "a b a"]))


@functools.cache
def rail() -> Block:
    """Three strips, wider than high."""
    return understood(cells_drawing("rail", (12, 6), ["a", "b", "c"]))


@functools.cache
def half_square() -> Block:
    return understood(cells_drawing("half square", (3, 3), ["a/b"]))


@functools.cache
def pinwheel() -> Block:
    return understood(cells_drawing("pinwheel", (6, 6), [r"a\b a/b", r"b/a b\a"]))


@functools.cache
def hourglass() -> Block:
    return understood(cells_drawing("hourglass", (4, 4), ["a.b.a.b"]))


@functools.cache
def friendship_star() -> Block:
    return understood(
        cells_drawing("friendship star", (9, 9), [r"a b\a a", "a/b b b/a", r"a a\b a"])
    )


@functools.cache
def churn_dash() -> Block:
    """Corners of half-square triangles, rails turned all four ways."""
    return understood(
        cells_drawing(
            "churn dash",
            (9, 9),
            [r"a/b R b\a", "R''' a R'", r"a\b R'' b/a"],
            units={"R": ["a", "b"]},
        )
    )


@functools.cache
def geese_row() -> Block:
    """Four flying geese in a row, all pointing up."""
    return understood(cells_drawing("geese row", (16, 2), [" ".join([r"b/a a=\b"] * 4)]))


@functools.cache
def half_rectangles() -> Block:
    """Half-rectangle triangles of both hands."""
    return understood(cells_drawing("half rectangles", (4, 4), [r"a/b b\a", "^ ^"]))


@functools.cache
def log_cabin() -> Block:
    return understood(cells_drawing("log cabin", (10, 10), _LOGS))


_LOGS = ["a b = = =", "^ c d = e", "^ ^ f g ^", "^ h = ^ ^", "i = = = ^"]


@functools.cache
def lamp_room() -> Block:
    """Half-square triangles, four geese, eight points at the centre."""
    return understood(
        cells_drawing(
            "lamp room",
            (12, 12),
            [r"c/a e\a a=/e a\c", r"a\e b\f b/f e/a", r"a^/e f/b f\b e\a^", r"c\a e/a a=\e a/c"],
        )
    )


@functools.cache
def spiral() -> Block:
    """Four strips round a square, windmill fashion: one partial seam."""
    return understood(cells_drawing("spiral", (9, 9), ["a = b", "d e ^", "^ c ="]))


@functools.cache
def ell() -> Block:
    """An L-shaped patch round a square: one point to set in."""
    return understood(cells_drawing("ell", (6, 6), ["a b", "a^ a="]))


@functools.cache
def mitred_corner() -> Block:
    """A square in a mitred frame: three seams at one point, none straight on."""
    return understood(
        polygon_drawing(
            "mitred corner",
            (6, 6),
            [
                ("a", [(2, 0), (6, 0), (6, 4), (2, 4)]),
                ("b", [(0, 0), (2, 0), (2, 4), (0, 6)]),
                ("c", [(0, 6), (2, 4), (6, 4), (6, 6)]),
            ],
        )
    )


@functools.cache
def eight_pointed_star() -> Block:
    """Eight diamonds, four squares, four triangles; no grid. Typed to four decimals."""
    s = 12 / (2 + math.sqrt(2))
    near, far, half = s, 12 - s, 6.0
    inner = half - s / math.sqrt(2)
    patches = []
    quarter = [
        ("a", [(0, 0), (near, 0), (near, near), (0, near)]),
        ("b", [(near, 0), (far, 0), (half, inner)]),
        ("c", [(near, 0), (half, inner), (half, half), (near, near)]),
        ("d", [(far, 0), (far, near), (half, half), (half, inner)]),
    ]
    for turn in range(4):
        for fabric, points in quarter:
            corners = [(x, y) for x, y in points]
            for _ in range(turn):
                corners = [(12 - y, x) for x, y in corners]
            patches.append((fabric, [(f"{x:.4f}", f"{y:.4f}") for x, y in corners]))
    return understood(polygon_drawing("eight-pointed star", (12, 12), patches))


@functools.cache
def tumbling_block() -> Block:
    """Three diamonds in a hexagon."""
    height, width = 8, 4 * math.sqrt(3)
    x, y = width / 2, height / 4
    w = f"{width:.6f}"
    middle = f"{x:.6f}"
    return understood(
        polygon_drawing(
            "tumbling block",
            (w, height),
            [
                ("a", [(middle, 0), (w, y), (middle, 2 * y), (0, y)]),
                ("b", [(0, y), (middle, 2 * y), (middle, 4 * y), (0, 3 * y)]),
                ("c", [(w, y), (w, 3 * y), (middle, 4 * y), (middle, 2 * y)]),
            ],
        )
    )


@functools.cache
def parallelogram() -> Block:
    """An outline that is no rectangle: two leaning strips of two patches."""
    return understood(
        polygon_drawing(
            "parallelogram",
            (9, 6),
            [
                ("a", [(3, 0), (6, 0), ("9/2", 3), ("3/2", 3)]),
                ("b", [(6, 0), (9, 0), ("15/2", 3), ("9/2", 3)]),
                ("b", [("3/2", 3), ("9/2", 3), (3, 6), (0, 6)]),
                ("a", [("9/2", 3), ("15/2", 3), (6, 6), (3, 6)]),
            ],
        )
    )


@functools.cache
def slanted_strips() -> Block:
    """Drawn by seam lines that lean and stop at one another."""
    return understood(
        seams_drawing(
            "slanted strips",
            (8, 8),
            [((3, 0), (5, 8)), ((0, 4), (4, 4)), ((4, 4), (8, 2))],
            [("a", (1, 1)), ("b", (1, 6)), ("c", (6, 1)), ("a", (6, 6))],
        )
    )


CAST: dict[str, Callable[[], Block]] = {
    maker.__name__: maker
    for maker in (
        one_patch,
        four_patch,
        nine_patch,
        rail,
        half_square,
        pinwheel,
        hourglass,
        friendship_star,
        churn_dash,
        geese_row,
        half_rectangles,
        log_cabin,
        lamp_room,
        spiral,
        ell,
        mitred_corner,
        eight_pointed_star,
        tumbling_block,
        parallelogram,
        slanted_strips,
    )
}
