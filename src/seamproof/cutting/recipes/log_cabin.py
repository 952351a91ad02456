"""Log cabins and courthouse steps: a centre and the logs sewn round it, one after the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Recipe, Step, Stock
from seamproof.cutting.recipes.making import (
    MOST_PIECES,
    Cut,
    Method,
    Wanted,
    as_cut,
    in_part_order,
    measured,
    part_name,
    sewn_name,
)
from seamproof.cutting.table import rectangle, turned_over
from seamproof.length.rounding import SAME
from seamproof.plane.model import Line, Polygon
from seamproof.plane.predicates import box, same_length

KIND = "log cabin"


@dataclass(frozen=True, slots=True)
class CutToLength(Method):
    """Every log is cut as long as the side that it is sewn to, so that each round shows whether the
    seams are right."""

    kind: str = KIND
    name: str = "logs cut to length"

    def fits(self, wanted: Wanted) -> bool:
        """If it has no more logs than a recipe may have pieces."""
        return len(wanted.like.patches) <= MOST_PIECES

    def make(self, wanted: Wanted, settings: CuttingSettings, letters: Sequence[str]) -> Recipe:
        """Pieces: the centre, then the logs in the order of sewing; those that are alike once."""
        logs = [_Log.of(wanted, role, settings) for role in range(len(wanted.like.patches))]
        kinds: list[_Log] = []
        for log in logs:
            if not any(log.alike(kind) for kind in kinds):
                kinds.append(log)
        pieces = tuple(
            self.piece(
                wanted,
                letter,
                kind.role,
                (kind.short, kind.long),
                wanted.count * sum(kind.alike(log) for log in logs),
            )
            for kind, letter in zip(kinds, letters, strict=False)
        )
        named = [next(k for k, kind in enumerate(kinds) if kind.alike(log)) for log in logs]
        steps = _rounds(wanted, settings, logs, [pieces[k].letter for k in named])
        return self.recipe(wanted, settings, pieces, steps)


@dataclass(frozen=True, slots=True)
class _Log:
    """A log, or the centre: where it lies finished, and how its shorter and longer side are cut."""

    fabric: str
    role: int
    corners: Polygon
    short: Cut
    long: Cut

    @classmethod
    def of(cls, wanted: Wanted, role: int, settings: CuttingSettings) -> _Log:
        patch = wanted.like.patches[role]
        low, high = box(patch.corners)
        short, long = sorted((high[0] - low[0], high[1] - low[1]))
        cuts = [as_cut(side + 2 * settings.seam, settings) for side in (short, long)]
        return cls(patch.fabric, role, patch.corners, *cuts)

    def alike(self, other: _Log) -> bool:
        """Whether one letter names both."""
        return (
            self.fabric == other.fabric
            and same_length(self.short.shown, other.short.shown)
            and same_length(self.long.shown, other.long.shown)
        )


def _rounds(
    wanted: Wanted, settings: CuttingSettings, logs: Sequence[_Log], letters: Sequence[str]
) -> list[Step]:
    """One step for each log. What is sewn lies face up where it lies in the unit; the log is laid
    on it along the side that it is sewn to."""
    seam, count = settings.seam, wanted.count
    inner = _finished(logs[0].corners)
    sewn = Stock(letters[0], _raw(inner, seam), count)
    steps: list[Step] = []
    for place, (log, letter) in enumerate(zip(logs[1:], letters[1:], strict=True), start=1):
        own = _finished(log.corners)
        outer = (
            min(inner[0], own[0]),
            min(inner[1], own[1]),
            max(inner[2], own[2]),
            max(inner[3], own[3]),
        )
        line = _seam(inner, own, seam)
        shown = _raw(outer, seam)
        last = place == len(logs) - 1
        gives = (
            Stock(part_name(wanted.part), in_part_order(shown, wanted), count)
            if last
            else Stock(sewn_name(wanted.part, f"{place} logs"), shown, count)
        )
        over = Stock(letter, turned_over(_raw(own, seam), line), count, "down")
        steps.append(
            Step(
                "sew",
                takes=(sewn, over),
                gives=(gives,),
                stitched=(line,),
                measure=measured(shown, settings.step),
            )
        )
        inner, sewn = outer, gives
    return steps


Sides = tuple[Fraction, Fraction, Fraction, Fraction]
"""Left, top, right and bottom of an upright rectangle."""


def _finished(corners: Polygon) -> Sides:
    low, high = box(corners)
    return low[0], low[1], high[0], high[1]


def _raw(sides: Sides, seam: Fraction) -> Polygon:
    """From raw edge to raw edge."""
    left, top, right, bottom = sides
    return rectangle(left - seam, top - seam, right - left + 2 * seam, bottom - top + 2 * seam)


def _seam(inner: Sides, log: Sides, seam: Fraction) -> Line:
    """The seam between what is sewn and a log, from raw edge to raw edge."""
    left, top, right, bottom = inner
    if log[1] >= bottom - SAME or log[3] <= top + SAME:
        y = bottom if log[1] >= bottom - SAME else top
        return (left - seam, y), (right + seam, y)
    x = right if log[0] >= right - SAME else left
    return (x, top - seam), (x, bottom + seam)
