"""A plan in patterns is told as lays: trees of cuts in inches, with their bounds."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from seamproof.cloth.model import Cloth, Cut, Demand, Fixed, Laid, Lay
from seamproof.cloth.patterns import Grid, Strip
from seamproof.cloth.sources import Pattern, Source
from seamproof.cloth.trees import Trees, flipped


@dataclass(frozen=True, slots=True)
class Least:
    """Inches of yardage that no plan can do without: by `area` alone, by the `bound` of its strips,
    and the first sum of heights of strips from there on that can be `reached`."""

    area: Fraction
    bound: Fraction
    reached: Fraction


def told(
    asked: tuple[Cloth, Sequence[Fixed | None], Sequence[Demand], Sequence[Demand]],
    grid: Grid,
    sources: Sequence[Source],
    plan: Iterable[tuple[Pattern, int]],
    least: Least,
    *,
    stopped: bool,
) -> Laid:
    """The plan as lays. `asked`: the cloth, its stocks as sources number them, what is cut, and
    what is too large."""
    cloth, stocks, demands, too_large = asked
    strips: list[tuple[Strip, int]] = []
    unmet: dict[str, int] = {demand.name: demand.count for demand in too_large}
    fixed: list[tuple[Source, Fixed, Pattern, int]] = []
    yardage: Source | None = None
    for pattern, times in plan:
        if pattern.source is None:
            name = demands[int(np.argmax(pattern.counts))].name
            unmet[name] = unmet.get(name, 0) + times
            continue
        source = sources[pattern.source]
        stock = stocks[source.stock]
        if stock is None:
            yardage = source
            strips.append((pattern.strips[0], times))
        else:
            fixed.append((source, stock, pattern, times))
    fixed.sort(key=lambda entry: entry[0].stock)

    def cut(
        source: Source, width: Fraction, length: Fraction, strips: Sequence[tuple[Strip, int]]
    ) -> Cut:
        trees = Trees(demands, grid, source.pricer.kinds)
        if source.flipped:
            return flipped(trees.whole(length, width, strips))
        return trees.whole(width, length, strips)

    square_inches = Fraction(0) if cloth.yardage else least.bound * cloth.width
    by_area = Fraction(0) if cloth.yardage else least.area * cloth.width
    fewest = not cloth.yardage and not unmet and _fewest(stocks, fixed, square_inches)
    lays = [
        Lay(
            cloth.fabric,
            "fixed",
            stock.width,
            stock.length,
            cut(source, stock.width, stock.length, [(strip, 1) for strip in pattern.strips]),
            times,
            float(square_inches),
            float(by_area),
            fewest,
            stock.name,
        )
        for source, stock, pattern, times in fixed
    ]
    if yardage is not None:
        length = sum((strip.height * times for strip, times in strips), 0) * grid.unit
        lays.append(
            Lay(
                cloth.fabric,
                "yardage",
                cloth.width,
                length,
                cut(yardage, cloth.width, length, strips),
                1,
                float(least.bound),
                float(least.area),
                length <= least.reached,
            )
        )
    heights, later = _measures(lays)
    return Laid(
        tuple(lays),
        tuple(unmet.items()),
        tuple(demand.name for demand in too_large),
        tuple(sorted(heights, reverse=True)),
        len(heights | later),
        stopped,
    )


def _fewest(
    stocks: Sequence[Fixed | None],
    fixed: Sequence[tuple[Source, Fixed, Pattern, int]],
    square_inches: Fraction,
) -> bool:
    """Whether fixed pieces, all of one size, are as few as the area asks for."""
    if len(stocks) != 1 or stocks[0] is None:
        return False
    used = sum(times for *_, times in fixed)
    return (used - 1) * stocks[0].width * stocks[0].length < square_inches


def _measures(lays: Iterable[Lay]) -> tuple[set[Fraction], set[Fraction]]:
    """Different heights of strips, and different measures of all later cuts."""
    strips: set[Fraction] = set()
    later: set[Fraction] = set()

    def walk(cut: Cut, found: set[Fraction]) -> None:
        for part in cut.parts:
            if part.along is not None or part.piece is not None:
                found.add(part.height if cut.along == "across" else part.width)
            walk(part, later)

    for lay in lays:
        walk(lay.cut, strips)
    return strips, later
