"""Which way each seam lies: how long the choice takes, and whether it is proved.

1. The press plan of blocks of 4 to 64 half-square triangles turned at random, with random fabrics
   of 26, so that hardly two seams are pressed alike. The time of the tables of layers is shown
   and nothing promised. Beside it the wish that costs most, least thick
   area below the fewest layers, as a 0/1 problem with one variable for every row of a table, solved
   by HiGHS in the same run, up to 36 units (with 64 it takes minutes). Promised: with the wishes in
   their usual order, 64 units are proved within 2 seconds; the same area as HiGHS finds.
2. The same with crossings that nest before anything else. Nothing is promised; the last column says
   how far the plan may be from the best.
3. The layers of whole tops: see `benchmarks/layers.py`, which can be run alone.
"""

from __future__ import annotations

import random
import time
from string import ascii_lowercase
from typing import Literal

import numpy as np

from benchmarks import layers
from benchmarks.measuring import Row, seconds, table
from seamproof.cutting.listing import cutting_list
from seamproof.piecing.planning import plan
from seamproof.pressing.choosing import Aim, Worst, area_above, chosen
from seamproof.pressing.model import WISHES, PressSettings
from seamproof.pressing.plans import THICK, Desk, seams_of
from seamproof.pressing.sheets import cloth_of
from seamproof.pressing.tables import Table
from seamproof.pressing.tabling import tables_of
from seamproof.solving.zero_one import Problem
from seamproof.solving.zero_one import Row as Condition
from tests.drawings import cells_drawing, understood

ACROSS = (2, 4, 6, 8)
"""Units across; as many down."""

SOLVED = 36
"""Up to so many units HiGHS is asked too."""

PROVED_WITHIN = 2.0
SHADES: tuple[Literal["light", "medium", "dark"], ...] = ("light", "medium", "dark")
NEST_FIRST = ("nest", "flat", "to-the-dark-side", "few-rules")


def run(quick: bool = False) -> list[Row]:
    rows: list[Row] = []
    broken: list[str] = []
    for across in ACROSS[:2] if quick else ACROSS:
        rows += measured(across, broken)
    assert not broken, "\n".join([*broken, "", table(rows)])
    return [*rows, *layers.run(quick)]


def measured(across: int, broken: list[str]) -> list[Row]:
    dice = random.Random(across)
    cells = [" ".join(_cell(dice) for _ in range(across)) for _ in range(across)]
    block = understood(cells_drawing("random", (3 * across, 3 * across), cells))
    piecing, _ = plan(block)
    cutting, _ = cutting_list(block, piecing)
    begin = time.perf_counter()
    settings = PressSettings()
    tables = tables_of(cloth_of(piecing, cutting, settings), float(settings.seam))
    folding = time.perf_counter() - begin
    values = tuple((letter, dice.choice(SHADES)) for letter in ascii_lowercase)
    rows = []
    for name, wishes in (("usual order", WISHES), ("nest first", NEST_FIRST)):
        begin = time.perf_counter()
        desk = Desk(seams_of(piecing, tables), tables, PressSettings(values=values, wishes=wishes))
        best = desk.best()
        taken = time.perf_counter() - begin
        if name == "usual order" and not (best.proved and taken <= PROVED_WITHIN):
            broken.append(f"{across * across} units: {seconds(taken)}, proved: {best.proved}")
        gaps = [f"{w.name} {w.value:g} ≥ {w.bound:g}" for w in best.wishes if w.value != w.bound]
        beside = ""
        if name == "usual order" and across * across <= SOLVED:
            ways = desk.seams.ways
            aims: list[Aim] = [Worst("flat", tables), area_above("area", tables, THICK - 1)]
            ours = chosen(ways, aims)
            begin = time.perf_counter()
            area = by_rows(ways, tables, int(ours.wishes[0].value))
            beside = seconds(time.perf_counter() - begin)
            if abs(area - ours.wishes[1].value) > 1e-5:
                broken.append(f"{across * across} units: {ours.wishes[1].value} or {area} sq in")
        rows.append(
            Row(
                f"{across * across} units, {name}",
                (
                    ("choices", str(len(desk.seams.ways))),
                    ("tables", str(len(tables))),
                    ("folding", seconds(folding)),
                    ("choosing", seconds(taken)),
                    ("HiGHS", beside),
                    ("steps", str(best.steps)),
                    ("gap", "; ".join(gaps) or "proved"),
                ),
            )
        )
    return rows


def _cell(dice: random.Random) -> str:
    one, other = dice.sample(ascii_lowercase, 2)
    return f"{one}{dice.choice('/' + chr(92))}{other}"


def by_rows(ways: tuple[tuple[int, ...], ...], tables: tuple[Table, ...], layers: int) -> float:
    """The least thick area of plans with so many layers at most, as a 0/1 problem: one variable
    per choice and way, one per row of a table."""
    number = {
        pair: k for k, pair in enumerate((c, way) for c, known in enumerate(ways) for way in known)
    }
    problem = Problem(len(number))
    cost: dict[int, float] = {}
    for choice, known in enumerate(ways):
        weights = {number[choice, way]: 1.0 for way in known}
        problem.rows.append(Condition(weights, lowest=1, highest=1))
    for t in (t for t in tables if t.seams):
        thick = t.copies * t.areas[:, THICK:].sum(axis=1)
        first = problem.count
        problem.count += len(thick)
        shape = [len(known) for known in t.ways]
        places = np.array(np.unravel_index(np.arange(len(thick)), shape))
        for axis, (choice, known) in enumerate(zip(t.seams, t.ways, strict=True)):
            for k, way in enumerate(known):
                weights = {first + int(r): 1.0 for r in np.nonzero(places[axis] == k)[0]}
                weights[number[choice, way]] = -1.0
                problem.rows.append(Condition(weights, lowest=0, highest=0))
        too_many = {first + int(r): 1.0 for r in np.nonzero(t.most > layers)[0]}
        if too_many:
            problem.rows.append(Condition(too_many, highest=0))
        cost |= {first + k: float(area) for k, area in enumerate(thick) if area}
    found = problem.solve([cost])
    assert found is not None
    always = sum(float(t.areas[0, THICK:].sum()) for t in tables if not t.seams)
    return found.cost[0] + always
