"""Tables of others, and drawings whose patches are known: what results are held against."""

from __future__ import annotations

import csv
import functools
import json
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

from seamproof.draft.model import Block, Drawing, DrawnPatch, Polygons
from seamproof.plane.model import Point
from tests.drawings import cells, point, understood

TABLES = Path(__file__).parent / "trade_tables"
GOLDEN = Path(__file__).parent / "golden"

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
                cells(
                    entry["cells"],
                    entry["columns"],
                    entry["rows"],
                    tuple(
                        (unit, cells(of["cells"], of["columns"], of["rows"]))
                        for unit, of in entry["units"].items()
                    ),
                ),
            ),
            frozenset(
                (fabric, from_least([point(p) for p in corners]))
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
