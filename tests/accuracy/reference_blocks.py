"""The blocks of tests/trade_tables/accuracy.csv made by our engine, and its rows read.

The table was made by an exact engine of the same model (no small angles, nothing reckoned to first
order), which drew its lots itself.
"""

from __future__ import annotations

import csv
import functools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from seamproof.accuracy.model import MAKERS, Maker
from seamproof.accuracy.sampling import Outcome, draw
from seamproof.accuracy.sewing import Matching
from seamproof.accuracy.workshop import Squaring, Workshop
from seamproof.piecing.model import Join, PiecingPlan
from seamproof.piecing.planning import plan
from seamproof.plane.model import Placed
from seamproof.pressing.model import Way
from tests.cast import TABLES
from tests.cutting.drawn import block_of

Values = NDArray[np.float64]

SAMPLES = 20_000
SEED = 1
LEVELS = {"practised": "careful", "average": "everyday", "beginner": "new"}

ROW_OF_FIVE = "a b c d e"
FOUR_PATCH = "a b\nb a"
PINWHEEL = "a\\b a/b\nb/a b\\a"
HALF_SQUARE = "a/b"
GOOSE = "e\\a a=/e"
STAR = "c e\\a a=/e c\na\\e b\\f b/f e/a\na^/e f/b f\\b e\\a^\nc e/a a=\\e c"

SPARE = (7 / 8 - 1 / 2 - math.sqrt(2) / 4) / 2
"""How far a half-square triangle of squares cut F + 7/8 sticks out on each side."""

SPARE_BASE = (5 / 4 - 1 / 2 - math.sqrt(0.5)) / 2
"""How far the long side of a goose sticks out whose large square was cut F + 1 1/4."""

PINWHEEL_PART, _IN = 10, (Fraction(3), Fraction(0))
"""The star's pinwheel, and where it is placed beside the first of the geese."""

STAR_PRESSED = "lllrrrrl"
"""How the seams above the units of the star are pressed, in sewing order: three of the four geese
bear the allowances of the seam at their apex, as in the table."""

_WAYS: dict[str, Way] = {"l": "left", "r": "right", "o": "open"}


@dataclass(frozen=True)
class Row:
    """One row of the table."""

    case: str
    level: str
    parameters: str
    metric: str
    value: float

    def __str__(self) -> str:
        return f"{self.case}, {self.level}, {self.parameters}, {self.metric}"


@functools.cache
def rows() -> tuple[Row, ...]:
    """The whole table."""
    with (TABLES / "accuracy.csv").open(encoding="utf-8", newline="") as file:
        return tuple(
            Row(r["case"], r["level"], r["parameters"], r["metric"], float(r["value"]))
            for r in csv.DictReader(file)
        )


@functools.cache
def planned(cells: str, width: Fraction, height: Fraction | None = None) -> PiecingPlan:
    made, _ = plan(block_of(cells, width, height))
    assert made is not None
    return _as_in_the_table(made) if cells == STAR else made


def _as_in_the_table(star: PiecingPlan) -> PiecingPlan:
    """The star with the pinwheel in its middle sewn as in the table, its last seam lying level: it
    looks the same when it is given a quarter turn, 6 in wide as it is."""
    (number,) = [
        i
        for i, part in enumerate(star.parts)
        if isinstance(part.made, Join)
        and part.made.right == Placed(PINWHEEL_PART, Fraction(0), _IN)
    ]
    part = star.parts[number]
    assert isinstance(part.made, Join)
    turned = Placed(PINWHEEL_PART, Fraction(1, 4), (_IN[0] + 6, _IN[1]))
    again = replace(part, made=replace(part.made, right=turned))
    return replace(star, parts=(*star.parts[:number], again, *star.parts[number + 1 :]))


def workshop(
    cells: str,
    width: Fraction | int,
    height: Fraction | int | None = None,
    *,
    trim: bool = True,
    matching: Matching = "nest",
    pressed: str = "",
    inside: str = "r",
) -> Workshop:
    """A block whose units were cut F + 7/8 and F + 1 1/4. `pressed` is how its seams above the
    units are pressed, in sewing order, all the same if it has one letter; `inside` those in them.
    """
    made = planned(cells, Fraction(width), None if height is None else Fraction(height))
    squarings = {}
    for unit in made.units:
        outline = made.parts[unit.part].outline
        lengths = [
            math.dist(a, b) for a, b in zip(outline, [*outline[1:], outline[0]], strict=True)
        ]
        out = [SPARE] * 4
        if unit.kind == "flying geese":
            # Its large triangle lies on one of the two long sides: the one with nothing ending on
            # it, which is the first whose middle is no corner of a patch.
            apex = _apex(made, unit.part)
            long = [i for i in range(4) if lengths[i] > min(lengths)]
            base = max(long, key=lambda i: math.dist(_middle(outline, i), apex))
            out[base] = SPARE_BASE
        elif unit.kind != "half-square triangle":
            continue
        squarings[unit.part] = Squaring(unit.part, unit.kind, tuple(out))
    joins = [number for number, part in enumerate(made.parts) if isinstance(part.made, Join)]
    within = {
        number
        for unit in made.units
        if unit.part in squarings
        for number in _joins(made, unit.part)
    }
    above = [number for number in joins if number not in within]
    ways = {(number, 0): _WAYS[inside] for number in within}
    letters = pressed if len(pressed) > 1 else (pressed or "l") * len(above)
    ways |= {(n, 0): _WAYS[letter] for n, letter in zip(above, letters, strict=True)}
    return Workshop(
        made,
        squarings=squarings,
        cut_apart=frozenset(squarings),
        presses=ways,
        matching=matching,
        trim=trim,
    )


def _middle(outline: Sequence[tuple[Fraction, Fraction]], side: int) -> tuple[float, float]:
    (ax, ay), (bx, by) = outline[side], outline[(side + 1) % len(outline)]
    return float(ax + bx) / 2, float(ay + by) / 2


def _apex(made: PiecingPlan, unit: int) -> tuple[float, float]:
    """Where the two seams of a goose meet: an end of its last seam that is no corner of it."""
    joined = made.parts[unit].made
    assert isinstance(joined, Join)
    corners = made.parts[unit].outline
    (end,) = [point for point in joined.seam if point not in corners]
    return float(end[0]), float(end[1])


def _joins(made: PiecingPlan, part: int) -> set[int]:
    joined = made.parts[part].made
    if not isinstance(joined, Join):
        return set()
    return {part} | _joins(made, joined.left.part) | _joins(made, joined.right.part)


@functools.cache
def star(*, trim: bool = True, pressed: str = STAR_PRESSED) -> Workshop:
    """The star with four geese and a pinwheel."""
    inside = "o" if pressed == "o" else "r"
    return workshop(STAR, 12, trim=trim, pressed=pressed, inside=inside)


@functools.cache
def drawn(shop: Workshop, maker: Maker, *, slacks: bool = False) -> Outcome:
    """What comes out, once for all rows that ask."""
    return draw(shop, maker, SAMPLES, np.random.default_rng(SEED), slacks=slacks)


def maker_of(level: str) -> Maker:
    return MAKERS[LEVELS[level]]


def calibrated(maker: Maker) -> Maker:
    """After a strip test, as the table has it."""
    return replace(maker, seam=-math.pi * maker.fold / 2, between=0.005)


def marks_at(outcome: Outcome, kind: str, places: Sequence[complex]) -> Values:
    """The values of the marks of a kind at any of these places."""
    chosen = [
        i
        for i, mark in enumerate(outcome.marks)
        if mark.kind == kind and any(abs(mark.at - place) < 0.1 for place in places)
    ]
    return np.asarray(outcome.values[chosen], float)


APEXES = (6 + 3j, 3 + 6j, 6 + 9j, 9 + 6j)
TIPS = (3 + 0j, 9 + 0j, 3 + 12j, 9 + 12j, 3j, 9j, 12 + 3j, 12 + 9j)
JUNCTIONS = (3 + 3j, 9 + 3j, 9 + 9j, 3 + 9j)
