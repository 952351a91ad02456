"""Blocks of one kind that are pressed in two ways, because of where in the layout they lie.

Where blocks lie edge to edge, seams that meet there shall nest; a block may then need a second
press plan, B, in which they lie the other way. And rows of blocks are pressed in turn. What is
pressed in two ways is two kinds to whoever sews, so a layout is given other names.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from seamproof.plane.model import Placed
from seamproof.plane.predicates import placed
from seamproof.setting.model import Available, Setting, Top
from seamproof.setting.on_point import walked

Plan = Literal["A", "B"]

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
    """A seam of a block that runs to its edge, at a spot of the block, with the direction in which
    its allowances lie there: a unit vector along the edge, or (0, 0) if they lie open."""

    at: tuple[float, float]
    lies: tuple[float, float]


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
    changed = replace(setting, rows=tuple(tuple(row) for row in made), coping=coping, measured=())
    copies = sum(map(len, setting.rows)) + sum(len(b.units) for b in setting.borders)
    named = tuple(
        replace(by_name[variant.block], name=known, copies=max(1, copies))
        for known, variant in variants.items()
        if variant.block in by_name
    )
    return changed, named, variants


def nested(top: Top, ends: Mapping[str, Sequence[End]]) -> tuple[int, int]:
    """How many seams of blocks that meet across an edge nest, of how many. `ends` by the name under
    which a block is set."""
    there: dict[tuple[int, int], list[tuple[int, tuple[float, float], tuple[float, float]]]] = {}
    good = of = 0
    for number, (name, where) in enumerate(top.placed):
        for end in ends.get(name, ()):
            at, lies = _moved(end, where)
            key = (round(at[0] / CLOSE), round(at[1] / CLOSE))
            near = [
                other
                for dx in (-1, 0, 1)
                for dy in (-1, 0, 1)
                for other in there.get((key[0] + dx, key[1] + dy), ())
                if other[0] != number
            ]
            for _, _, toward in near:
                of += 1
                good += lies[0] * toward[0] + lies[1] * toward[1] < -0.5
            there.setdefault(key, []).append((number, at, lies))
    return good, of


def _moved(end: End, where: Placed) -> tuple[tuple[float, float], tuple[float, float]]:
    def there(p: tuple[float, float]) -> tuple[float, float]:
        x, y = placed((Fraction(p[0]), Fraction(p[1])), where.turn, where.at)
        return float(x), float(y)

    (x, y), (u, v) = there(end.at), there((end.at[0] + end.lies[0], end.at[1] + end.lies[1]))
    return (x, y), (u - x, v - y)
