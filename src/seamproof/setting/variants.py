"""Blocks of one kind that are pressed in two ways, because of where in the layout they lie.

Where blocks lie edge to edge, seams that meet there shall nest; a block may then need a second
press plan, B, in which they lie the other way. And rows of blocks are pressed in turn. What is
pressed in two ways is two kinds to whoever sews, so a layout is given other names.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations
from typing import Literal

from seamproof.plane.model import Placed
from seamproof.plane.predicates import placed
from seamproof.setting.model import Available, Setting, Top
from seamproof.setting.on_point import walked

Plan = Literal["A", "B"]

Spot = tuple[float, float]

CLOSE = 1e-3
"""Inches; seams that end no farther apart meet."""


@dataclass(frozen=True, slots=True)
class Variant:
    """A block as it is pressed: by which plan, and whether in an odd row."""

    block: str
    plan: Plan = "A"
    odd: bool = False

    @property
    def called(self) -> str:
        """What it is called to whoever sews it."""
        return self.block if self.plan == "A" else f"{self.block} ({self.plan})"


@dataclass(frozen=True, slots=True)
class End:
    """A seam of a block that runs to its edge, at a spot of the block: the direction in which it
    goes away from there, and that in which its allowances lie, (0, 0) if open; unit vectors."""

    at: Spot
    away: Spot
    lies: Spot


@dataclass(frozen=True, slots=True)
class Pattern:
    """Which blocks are pressed by plan B: those in every other row, column, or place (both)."""

    name: str
    rows: bool
    columns: bool

    def plan(self, row: int, column: int) -> Plan:
        """The plan of the block in a row and a column."""
        return "B" if (row * self.rows + column * self.columns) % 2 else "A"


PATTERNS = (
    Pattern("all alike", rows=False, columns=False),
    Pattern("every other block", rows=True, columns=True),
    Pattern("every other row", rows=True, columns=False),
    Pattern("every other column", rows=False, columns=True),
)
"""Patterns of A and B that a maker can remember; the first that nests best is taken."""


def cells_of(setting: Setting) -> Iterator[tuple[int, int, int, int]]:
    """Row and column in the layout of every place, and the row and the place in it in which it is
    sewn: diagonal ones on point."""
    if setting.way == "on point":
        for m, k, r, c, _ in walked(setting):
            yield r, c, m, k
    else:
        for r, row in enumerate(setting.rows):
            for c in range(len(row)):
                yield r, c, r, c


def varied(
    setting: Setting, blocks: Sequence[Available], pattern: Pattern, *, rows: bool
) -> tuple[Setting, tuple[Available, ...], dict[str, Variant]]:
    """The same layout with a name for every variant; `rows` tells that every other row is one. The
    new names lead to what they mean."""
    variants: dict[str, Variant] = {}
    names: dict[Variant, str] = {}

    def name(variant: Variant) -> str:
        if variant not in names:
            names[variant] = variant.called + "~" * variant.odd
            variants[names[variant]] = variant
        return names[variant]

    made = [list(row) for row in setting.rows]
    for r, c, row, place in cells_of(setting):
        cell = setting.rows[r][c]
        if not cell.plain:
            variant = Variant(cell.name, pattern.plan(row, place), rows and bool(row % 2))
            made[r][c] = replace(cell, name=name(variant))
    for border in setting.borders:
        for unit in border.units:
            if not unit.plain:
                name(Variant(unit.name))
    by_name = {block.name: block for block in blocks}
    coping = tuple(
        replace(one, block=known)
        for one in setting.coping
        for known, variant in variants.items()
        if variant.block == one.block
    )
    measured = tuple(
        replace(one, block=known)
        for one in setting.measured
        for known, variant in variants.items()
        if variant.block == one.block
    )
    layout = tuple(tuple(row) for row in made)
    changed = replace(setting, rows=layout, coping=coping, measured=measured)
    copies = sum(map(len, setting.rows)) + sum(len(b.units) for b in setting.borders)
    named = tuple(
        replace(by_name[variant.block], name=known, copies=max(1, copies))
        for known, variant in variants.items()
        if variant.block in by_name
    )
    return changed, named, variants


def nested(top: Top, ends: Mapping[str, Sequence[End]]) -> tuple[int, int]:
    """How many seams of blocks that must match across an edge nest, of how many: those that run
    straight on into each other, or the only ones there. `ends` by the name under which a block is
    set."""
    there: dict[tuple[int, int], dict[int, list[End]]] = {}
    good = of = 0
    for number, (name, where) in enumerate(top.placed):
        for end in ends.get(name, ()):
            moved = _moved(end, where)
            x, y = round(moved.at[0] / CLOSE), round(moved.at[1] / CLOSE)
            near = [(x + dx, y + dy) for dx in (-1, 0, 1) for dy in (-1, 0, 1)]
            key = next((k for k in near if k in there), (x, y))
            there.setdefault(key, {}).setdefault(number, []).append(moved)
    for blocks in there.values():
        for one, other in combinations(blocks.values(), 2):
            for a, b in _matched(one, other):
                of += 1
                good += _dot(a.lies, b.lies) < -HALF
    return good, of


HALF = 0.5
"""Allowances lie opposite ways if their directions do, give or take sixty degrees."""


def _matched(one: Sequence[End], other: Sequence[End]) -> list[tuple[End, End]]:
    straight = [(a, b) for a in one for b in other if _dot(a.away, b.away) < CLOSE - 1]
    if not straight and len(one) == len(other) == 1:
        return [(one[0], other[0])]
    return straight


def _dot(a: Spot, b: Spot) -> float:
    return a[0] * b[0] + a[1] * b[1]


def _moved(end: End, where: Placed) -> End:
    """An end of a block where the block lies."""
    at = placed((Fraction(end.at[0]), Fraction(end.at[1])), where.turn, where.at)
    angle = 2 * math.pi * float(where.turn)
    cos, sin = math.cos(angle), math.sin(angle)

    def turned(v: Spot) -> Spot:
        return v[0] * cos - v[1] * sin, v[0] * sin + v[1] * cos

    return End((float(at[0]), float(at[1])), turned(end.away), turned(end.lies))
