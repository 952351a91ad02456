"""A named cast of blocks for all tests: every kind, and the awkward ones.

Every function gives a :class:`~seamproof.draft.model.Block` that went through `understand`.
"""

from __future__ import annotations

import csv
import functools
import json
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

from seamproof.draft.model import Block, Drawing, DrawnPatch, Polygons
from seamproof.draft.understanding import understand
from seamproof.plane.model import Point

TABLES = Path(__file__).parent / "trade_tables"

REFERENCE_SIZES = {Fraction(5): Fraction(10), Fraction(7): Fraction(14)}
"""Finished inches for reference blocks whose drawing is this many units wide; others get 12."""


def polygon_drawing(
    name: str,
    finished: tuple[Fraction | int, Fraction | int],
    patches: Sequence[tuple[str, Sequence[Sequence[float | int | str | Fraction]]]],
) -> Drawing:
    """A drawing of polygons; coordinates may be numbers or text such as "3.51" or "1/3"."""
    return Drawing(
        name=name,
        finished=(Fraction(finished[0]), Fraction(finished[1])),
        drawn=Polygons(
            tuple(
                DrawnPatch(fabric, tuple((Fraction(x), Fraction(y)) for x, y in points))
                for fabric, points in patches
            )
        ),
    )


def understood(drawing: Drawing) -> Block:
    """The block of a drawing that must be fine."""
    block, findings = understand(drawing)
    assert block is not None, findings
    assert not [f for f in findings if f.severity == "error"], findings
    return block


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
