"""A named cast of blocks for all tests: every kind, and the awkward ones.

Every function gives a :class:`~seamproof.draft.model.Block` that went through `understand`;
`CAST` lists them all, `REFUSED` lists drawings that are no block, each with the code it must get.
"""

from __future__ import annotations

import csv
import functools
import json
import math
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from pathlib import Path

from seamproof.draft.model import (
    Block,
    Cells,
    Drawing,
    DrawnPatch,
    DrawnSeam,
    FabricAt,
    Fixing,
    Polygons,
    Seams,
    Written,
)
from seamproof.draft.understanding import understand
from seamproof.findings import Where
from seamproof.plane.model import Point

TABLES = Path(__file__).parent / "trade_tables"
GOLDEN = Path(__file__).parent / "golden"

Number = float | int | str | Fraction
Corners = Sequence[Sequence[Number]]

# Drawings, written short --------------------------------------------------------------------------


def cells_drawing(
    name: str,
    finished: tuple[Number, Number],
    rows: Sequence[str],
    *,
    columns: Sequence[Number] | None = None,
    heights: Sequence[Number] | None = None,
    units: Mapping[str, Sequence[str]] | None = None,
    fixings: Sequence[Fixing] = (),
) -> Drawing:
    """A drawing of cells; each row is one text with blanks between its cells."""
    drawn = _cells(
        rows, columns, heights, tuple((unit, _cells(of)) for unit, of in (units or {}).items())
    )
    return Drawing(
        name, (Fraction(finished[0]), Fraction(finished[1])), drawn, fixings=tuple(fixings)
    )


def _cells(
    rows: Sequence[str],
    columns: Sequence[Number] | None = None,
    heights: Sequence[Number] | None = None,
    units: tuple[tuple[str, Cells], ...] = (),
) -> Cells:
    return Cells(
        cells=tuple(
            tuple(
                Written(text, Where(line=line + 1, column=column + 1))
                for column, text in enumerate(row.split())
            )
            for line, row in enumerate(rows)
        ),
        columns=None if columns is None else tuple(Fraction(c) for c in columns),
        rows=None if heights is None else tuple(Fraction(h) for h in heights),
        units=units,
        where=Where(line=1),
    )


def polygon_drawing(
    name: str,
    finished: tuple[Number, Number],
    patches: Sequence[tuple[str, Corners]],
    *,
    fixings: Sequence[Fixing] = (),
) -> Drawing:
    """A drawing of polygons; coordinates may be numbers or text such as "3.51" or "1/3"."""
    return Drawing(
        name=name,
        finished=(Fraction(finished[0]), Fraction(finished[1])),
        drawn=Polygons(
            tuple(
                DrawnPatch(fabric, tuple(_point(p) for p in points), Where(line=line + 1))
                for line, (fabric, points) in enumerate(patches)
            ),
            Where(line=1),
        ),
        fixings=tuple(fixings),
    )


def seams_drawing(
    name: str,
    finished: tuple[Number, Number],
    seams: Sequence[tuple[Sequence[Number], Sequence[Number]]],
    fabrics: Sequence[tuple[str, Sequence[Number]]],
) -> Drawing:
    """A drawing of seam lines, with a fabric for a point in each patch."""
    return Drawing(
        name=name,
        finished=(Fraction(finished[0]), Fraction(finished[1])),
        drawn=Seams(
            tuple(
                DrawnSeam((_point(a), _point(b)), Where(line=line + 1))
                for line, (a, b) in enumerate(seams)
            ),
            tuple(
                FabricAt(fabric, _point(p), Where(line=len(seams) + line + 1))
                for line, (fabric, p) in enumerate(fabrics)
            ),
            Where(line=1),
        ),
    )


def _point(pair: Sequence[Number]) -> Point:
    return (Fraction(pair[0]), Fraction(pair[1]))


def understood(drawing: Drawing) -> Block:
    """The block of a drawing that must be fine."""
    block, findings = understand(drawing)
    assert block is not None, findings
    assert not [f for f in findings if f.severity == "error"], findings
    return block


def as_polygons(block: Block) -> Drawing:
    """A drawing of the block's patches as polygons, every vertex typed as it is."""
    return Drawing(
        block.name,
        (block.width, block.height),
        Polygons(tuple(DrawnPatch(p.fabric, block.corners_of(p)) for p in block.patches)),
        upright=block.upright,
        fixings=block.fixings,
    )


# The cast -----------------------------------------------------------------------------------------


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

_SQUARE = [(0, 0), (4, 0), (4, 4), (0, 4)]

REFUSED: dict[str, tuple[int, Drawing]] = {
    "nothing": (112, polygon_drawing("nothing", (4, 4), [])),
    "two corners": (101, polygon_drawing("two corners", (4, 4), [("a", [(0, 0), (4, 4)])])),
    "one spot": (
        101,
        polygon_drawing(
            "one spot", (4, 4), [("a", _SQUARE), ("b", [(1, 1), ("1.01", 1), (1, "1.01")])]
        ),
    ),
    "bow": (102, polygon_drawing("bow", (4, 4), [("a", [(0, 0), (4, 4), (4, 0), (0, 4)])])),
    "waist": (
        102,
        polygon_drawing("waist", (4, 4), [("a", [(0, 0), (4, 0), (2, 2), (4, 4), (0, 4), (2, 2)])]),
    ),
    "overlap": (
        103,
        polygon_drawing(
            "overlap",
            (8, 4),
            [("a", [(0, 0), (5, 0), (5, 4), (0, 4)]), ("b", [(4, 0), (8, 0), (8, 4), (4, 4)])],
        ),
    ),
    "drawn twice": (103, polygon_drawing("drawn twice", (4, 4), [("a", _SQUARE), ("b", _SQUARE)])),
    "gap": (
        104,
        polygon_drawing(
            "gap",
            (6, 6),
            [
                ("a", [(0, 0), (6, 0), (6, 2), (0, 2)]),
                ("b", [(0, 2), (2, 2), (2, 6), (0, 6)]),
                ("c", [(4, 2), (6, 2), (6, 6), (4, 6)]),
                ("d", [(2, 4), (4, 4), (4, 6), (2, 6)]),
            ],
        ),
    ),
    "two islands": (
        105,
        polygon_drawing(
            "two islands", (10, 4), [("a", _SQUARE), ("b", [(6, 0), (10, 0), (10, 4), (6, 4)])]
        ),
    ),
    "touching corners": (
        106,
        polygon_drawing(
            "touching corners",
            (8, 8),
            [("a", _SQUARE), ("b", [(4, 4), (8, 4), (8, 8), (4, 8)])],
        ),
    ),
    "on top": (
        107,
        polygon_drawing(
            "on top", (4, 4), [("a", _SQUARE), ("b", [(1, 1), (3, 1), (3, 3), (1, 3)])]
        ),
    ),
    "keyhole": (
        107,
        polygon_drawing(
            "keyhole",
            (6, 6),
            [
                (
                    "a",
                    [
                        (0, 0),
                        (6, 0),
                        (6, 6),
                        (0, 6),
                        (0, 2),
                        (2, 2),
                        (2, 4),
                        (4, 4),
                        (4, 2),
                        (2, 2),
                        (0, 2),
                    ],
                ),
                ("b", [(2, 2), (4, 2), (4, 4), (2, 4)]),
            ],
        ),
    ),
    "ring of cells": (
        107,
        cells_drawing("ring of cells", (6, 6), ["a a= a=", "a^ b a^", "a^ a= a=^"]),
    ),
    "slit": (
        104,
        polygon_drawing(
            "slit",
            (4, 4),
            [
                ("a", [(0, 0), (2, 0), ("2.05", 4), (0, 4)]),
                ("b", [("2.05", 0), (4, 0), (4, 4), ("2.05", 4)]),
            ],
        ),
    ),
    "narrow gap": (
        104,
        polygon_drawing(
            "narrow gap",
            (4, 4),
            [
                ("a", [(0, 0), (2, 0), (2, 4), (0, 4)]),
                ("b", [("2.05", 0), (4, 0), (4, 4), (2, 4), (2, 2)]),
            ],
        ),
    ),
    "short side": (
        108,
        polygon_drawing(
            "short side",
            (4, 4),
            [
                ("a", [(0, 0), (2, 0), (2, 2), (0, 2)]),
                ("b", [(0, 2), (2, 2), (2, 4), (0, 4)]),
                ("c", [(2, 0), (4, 0), (4, "2.05"), (2, "2.05")]),
                ("d", [(2, "2.05"), (4, "2.05"), (4, 4), (2, 4)]),
            ],
        ),
    ),
    "needle": (
        108,
        polygon_drawing(
            "needle",
            (12, 4),
            [
                ("a", [(0, 0), (12, 0), (6, "1/30")]),
                ("b", [(0, 0), (6, "1/30"), (12, 0), (12, 4), (0, 4)]),
            ],
        ),
    ),
    "wrong size": (109, polygon_drawing("wrong size", (6, 6), [("a", _SQUARE)])),
    "wrong origin": (
        109,
        polygon_drawing("wrong origin", (4, 4), [("a", [(1, 0), (5, 0), (5, 4), (1, 4)])]),
    ),
    "no cell": (120, cells_drawing("no cell", (4, 4), ["a|b"])),
    "three letters": (120, cells_drawing("three letters", (4, 4), ["a.b.c"])),
    "ragged": (121, cells_drawing("ragged", (4, 4), ["a b", "a"])),
    "columns": (122, cells_drawing("columns", (4, 4), ["a b"], columns=[1])),
    "nothing at the left": (123, cells_drawing("nothing at the left", (4, 4), ["= a"])),
    "nothing above": (123, cells_drawing("nothing above", (4, 4), ["a^ b"])),
    "only a corner": (123, cells_drawing("only a corner", (4, 4), ["a", r"a^\b"])),
    "another fabric": (124, cells_drawing("another fabric", (4, 4), ["a b="])),
    "other side of the split": (
        124,
        cells_drawing("other side of the split", (8, 4), ["a/b a="]),
    ),
    "no rectangle": (125, cells_drawing("no rectangle", (4, 4), ["a =", "^ b"])),
    "no such unit": (126, cells_drawing("no such unit", (4, 4), ["S"])),
    "unit in itself": (
        127,
        cells_drawing("unit in itself", (4, 4), ["S a"], units={"S": ["a S"]}),
    ),
    "loose seam": (
        130,
        seams_drawing("loose seam", (4, 4), [((2, 0), (2, 3))], [("a", (1, 1))]),
    ),
    "no fabric": (132, seams_drawing("no fabric", (4, 4), [((2, 0), (2, 4))], [("a", (1, 1))])),
    "two fabrics": (
        133,
        seams_drawing("two fabrics", (4, 4), [], [("a", (1, 1)), ("b", (3, 3))]),
    ),
    "on the seam": (
        134,
        seams_drawing(
            "on the seam", (4, 4), [((2, 0), (2, 4))], [("a", (1, 1)), ("b", (2, 2)), ("b", (3, 3))]
        ),
    ),
    "beside the block": (
        135,
        seams_drawing("beside the block", (4, 4), [], [("a", (1, 1)), ("b", (9, 1))]),
    ),
    "loose island": (
        107,
        seams_drawing(
            "loose island",
            (6, 6),
            [((2, 2), (4, 2)), ((4, 2), (4, 4)), ((4, 4), (2, 4)), ((2, 4), (2, 2))],
            [("a", (1, 1)), ("b", (3, 3))],
        ),
    ),
}
"""Drawings that are no block, each with the code of the finding that has to say so."""

# Tables of others ---------------------------------------------------------------------------------

REFERENCE_SIZES = {Fraction(5): Fraction(10), Fraction(7): Fraction(14)}
"""Finished inches for reference blocks whose drawing is this many units wide; others get 12."""


@functools.cache
def reference_drawings() -> dict[str, Drawing]:
    """The drawings of trade_tables/blocks.json, moved to the origin and scaled to a finished size,
    by name. The table's coordinates are exact or typed to nine decimals."""
    drawings = {}
    for entry in json.loads((TABLES / "blocks.json").read_text(encoding="utf-8"), parse_float=str):
        points = [_table_point(p) for _, polygon in entry["patches"] for p in polygon]
        low = (min(p[0] for p in points), min(p[1] for p in points))
        span = max(p[0] for p in points) - low[0]
        drop = max(p[1] for p in points) - low[1]
        width = REFERENCE_SIZES.get(span, Fraction(12))
        scale = width / span
        patches = tuple(
            DrawnPatch(
                fabric,
                tuple(
                    ((x - low[0]) * scale, (y - low[1]) * scale)
                    for x, y in map(_table_point, polygon)
                ),
            )
            for fabric, polygon in entry["patches"]
        )
        drawings[entry["name"]] = Drawing(entry["name"], (width, drop * scale), Polygons(patches))
    return drawings


def _table_point(pair: Sequence[str | int]) -> Point:
    return (_table_number(pair[0]), _table_number(pair[1]))


def _table_number(value: str | int) -> Fraction:
    """A number of the table: nine decimals are thirds or sixteenths where they are meant so."""
    exact = Fraction(value)
    nice = exact.limit_denominator(48)
    return nice if abs(nice - exact) < Fraction(1, 10**8) else exact


@functools.cache
def reference_blocks() -> dict[str, Block]:
    """The blocks of trade_tables/blocks.json by name, at sensible finished sizes."""
    return {name: understood(drawing) for name, drawing in reference_drawings().items()}


@functools.cache
def reference_values() -> dict[str, dict[str, str]]:
    """The rows of trade_tables/piecing.csv by block name."""
    with (TABLES / "piecing.csv").open(encoding="utf-8", newline="") as file:
        return {row["block"]: row for row in csv.DictReader(file)}


@functools.cache
def golden_cells() -> dict[str, tuple[Drawing, frozenset[tuple[str, tuple[Point, ...]]]]]:
    """The drawings of golden/draft/cell_drawings.json by name, each with the patches it must give:
    fabric and corners, clockwise from the least point."""
    entries = json.loads((GOLDEN / "draft" / "cell_drawings.json").read_text(encoding="utf-8"))
    return {
        entry["name"]: (
            Drawing(
                entry["name"],
                (Fraction(entry["size"]), Fraction(entry["size"])),
                _cells(
                    entry["cells"],
                    entry["columns"],
                    entry["rows"],
                    tuple(
                        (unit, _cells(of["cells"], of["columns"], of["rows"]))
                        for unit, of in entry["units"].items()
                    ),
                ),
            ),
            frozenset(
                (fabric, from_least([_point(p) for p in corners]))
                for fabric, corners in entry["patches"]
            ),
        )
        for entry in entries
    }


def from_least(corners: Sequence[Point]) -> tuple[Point, ...]:
    """A polygon clockwise from its least corner, so that equal polygons compare equal."""
    doubled = sum(
        p[0] * q[1] - p[1] * q[0] for p, q in zip(corners, [*corners[1:], corners[0]], strict=True)
    )
    loop = list(corners) if doubled > 0 else list(reversed(corners))
    start = loop.index(min(loop))
    return (*loop[start:], *loop[:start])
