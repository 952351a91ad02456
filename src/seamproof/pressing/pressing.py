"""From a piecing plan to a press plan with its layers: the stage as the pipeline calls it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from seamproof.cutting.model import CuttingList
from seamproof.draft.model import Block
from seamproof.findings import Finding
from seamproof.piecing.model import PiecingPlan
from seamproof.plane.model import Placed
from seamproof.plane.predicates import placed
from seamproof.pressing.choosing import Chosen
from seamproof.pressing.edge_ends import other_way
from seamproof.pressing.fixing import given, impossible, in_block, not_given
from seamproof.pressing.layers import layer_map
from seamproof.pressing.limits import above_limit, unproved
from seamproof.pressing.model import (
    Beside,
    PlanName,
    Press,
    Pressed,
    PressedRun,
    PressSettings,
)
from seamproof.pressing.plans import Compared, Desk, compared, seams_of
from seamproof.pressing.sheets import cloth_of
from seamproof.pressing.tabling import tables_of

ASIDE = Fraction(1, 4)
"""Inches from the seam at which a point says to which side it is pressed."""


def press(
    block: Block,
    plan: PiecingPlan,
    cutting: CuttingList,
    settings: PressSettings,
    name: PlanName = "best",
    *,
    compare: bool = False,
) -> tuple[Pressed | None, tuple[Finding, ...]]:
    """How every seam of a block is pressed under the plan of that name, how thick it gets, and
    what there is to say.

    The maker's fixings hold in the plans "best", "b" and "as-given"; the others are there to be
    laid beside them. With `compare` all plans worth it are. None if fixings contradict each
    other, or a seam is not named in "as-given". `plan` must be of the whole block (no cores).
    """
    cloth = cloth_of(plan, cutting, settings)
    tables = tables_of(cloth, float(settings.seam))
    desk = Desk(seams_of(plan, tables), tables, settings)
    maker = given(block, desk.seams)
    if maker.findings:
        return None, maker.findings
    if name == "as-given":
        missing = not_given(block.name, desk.seams, maker.fixed)
        if missing:
            return None, tuple(missing)
    found = _named(desk, name, maker.ways)
    if isinstance(found, Chosen) and not found.possible:
        return None, (impossible(block),)
    fixed = maker.fixed if name in ("best", "b", "as-given") else frozenset[int]()
    told = desk.press_plan(found, fixed)
    ways = found.plan if isinstance(found, Chosen) else found
    beside: tuple[Beside, ...] = ()
    if compare:
        beside = tuple(map(_beside, compared(desk, maker.ways, maker.fixed)))
    findings = [*above_limit(block.name, desk, ways), *unproved(block.name, told)]
    pressed = Pressed(
        name,
        told,
        tuple(_runs(plan, desk, told.presses)),
        ways,
        layer_map(cloth, ways, settings),
        _here(desk, name, ways),
        beside,
    )
    return pressed, tuple(findings)


def _named(desk: Desk, name: PlanName, ways: Sequence[Sequence[int]]) -> Chosen | tuple[int, ...]:
    match name:
        case "best" | "as-given":
            return desk.best(ways)
        case "b":
            first = desk.best(ways)
            if not first.possible:
                return first
            second = desk.best(other_way(desk.seams, ways, first.plan))
            return second if second.possible else first
        case "usual":
            return desk.usual_ways
        case "open":
            return desk.all_open()
        case "spun":
            return desk.spun()
        case "thin":
            return desk.least_area()
        case "nested":
            return desk.nested_first()


def _here(desk: Desk, name: str, ways: tuple[int, ...]) -> Beside:
    nested, crossings = desk.nested(ways)
    return Beside(
        name,
        desk.layers(ways),
        desk.thick_area(ways),
        nested,
        crossings,
        desk.as_usual(ways),
        len(ways),
    )


def _beside(row: Compared) -> Beside:
    return Beside(
        row.name, row.layers, row.thick_area, row.nested, row.crossings, row.usual, row.choices
    )


def _runs(plan: PiecingPlan, desk: Desk, presses: Sequence[Press]) -> Iterator[PressedRun]:
    rounds = {part: k for k, some in enumerate(plan.rounds, start=1) for part in some}
    for press_, run, copies in zip(presses, desk.seams.runs, in_block(desk.seams), strict=True):
        where: Placed = copies[0]
        a, b = (placed(p, where.turn, where.at) for p in run.line)
        start, end = (float(a[0]), float(a[1])), (float(b[0]), float(b[1]))
        towards = None
        if press_.way != "open" and not press_.spun:
            towards = _aside(start, end, press_.way == "left")
        turned = tuple(placed(p, where.turn, where.at) for p in press_.spun)
        yield PressedRun(replace(press_, spun=turned), start, end, rounds.get(run.part, 0), towards)


def _aside(a: tuple[float, float], b: tuple[float, float], to_left: bool) -> tuple[float, float]:
    """A point beside the middle of a line, to the left or right of whoever walks along it."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = (dx * dx + dy * dy) ** 0.5
    off = float(ASIDE) / length * (1 if to_left else -1)
    return ((a[0] + b[0]) / 2 + dy * off, (a[1] + b[1]) / 2 - dx * off)
