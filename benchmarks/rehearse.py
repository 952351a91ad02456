"""A block in many hands: makers a second beside a loop over them, and the answer at once.

1. Rehearsals by 10,000 everyday makers: a 12 in star, the blocks of the demo, and blocks of 144
   half-square triangles, once of few kinds, once with fabrics at random so that hardly two parts
   are the same. `makers` is what drawing them takes, `rehearsal` all of it: tables of weights,
   makers, percentiles and advice. Beside it, in the same run, a loop that sews one maker's block
   after the other, seam by seam, from the same tables in plain Python, timed over a few makers;
   both vary alike. `lots` is what it takes to draw nothing but the random numbers of that loop, one
   for each error of each maker. Promised: makers at least 200 times as fast as the loop; the whole
   rehearsal of the star within three times its lots.
2. The answer at once, without makers. Promised: 50 milliseconds for 144 half-square triangles of
   few kinds. Where hardly two parts have the same fabrics, only seams that meet lines lying alike
   are shared: four to five times as long, and nothing promised.
3. Growth, for half-square triangles of few kinds, 4 to 1,936 of them, as many as a block may have:
   four times the units take at most five times as long, once there are 64; and a rehearsal never
   needs more than 300 megabytes.

All in seconds of the processor, in one thread.
"""

from __future__ import annotations

import math
import random
import time
import tracemalloc
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import numpy as np

import seamproof
from benchmarks.measuring import Row, processor_seconds, seconds, table
from seamproof.accuracy.edges import WIDTH
from seamproof.accuracy.forecasting import linear
from seamproof.accuracy.lines import Array
from seamproof.accuracy.model import MAKERS, Source
from seamproof.accuracy.rehearsing import rehearse
from seamproof.accuracy.sampling import draw
from seamproof.accuracy.sewing import SEAM
from seamproof.accuracy.spreads import FIELDS, common
from seamproof.accuracy.workshop import Setup, Workshop, cut_apart_of, presses_of, squarings_of
from seamproof.cutting.listing import cutting_list
from seamproof.cutting.model import CuttingSettings
from seamproof.piecing.planning import plan
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.pressing import press_block
from seamproof.pipeline.working import work_block
from seamproof.project.reading import read_block
from tests.drawings import cells_drawing, understood

EVERYDAY = MAKERS["everyday"]
COUNT = 10_000
SEED = 1

TIMES_THE_LOOP = 200
TIMES_THE_NUMBERS = 3.0
AT_ONCE = 0.050
MEGABYTES = 300
FOUR_TIMES_THE_UNITS = 5.0
FROM_UNITS = 64

STAR = ("c e\\a a=/e c", "a\\e b\\f b/f e/a", "a^/e f/b f\\b e\\a^", "c e/a a=\\e c")
DEMO = Path(seamproof.__file__).parent / "project" / "demo" / "blocks"


def run(quick: bool = False) -> list[Row]:
    rows: list[Row] = []
    broken: list[str] = []
    blocks = {"star 12 in": star(), **demo(1 if quick else None)}
    blocks["144 units, few kinds"] = triangles(12)
    if not quick:
        blocks["144 units, fabrics at random"] = triangles(12, at_random=True)
    rows += [rehearsed(name, setup, broken) for name, setup in blocks.items()]
    rows += grown((2, 4, 8) if quick else (2, 4, 8, 16, 32, 44), broken)
    assert not broken, "\n".join([*broken, "", table(rows)])
    return rows


def row(case: str, **columns: str) -> Row:
    heads = (
        *("parts", "errors", "makers", "loop", "faster"),
        *("rehearsal", "lots", "ratio", "at once", "MB"),
    )
    told = {head: columns.get(head.replace(" ", "_"), "") for head in heads}
    return Row(case, tuple(told.items()))


# Blocks ------------------------------------------------------------------------------------------


def star() -> Setup:
    return drawn(list(STAR), 12)


def demo(most: int | None) -> dict[str, Setup]:
    found = {}
    for path in sorted(DEMO.glob("*.yaml"))[:most]:
        work = work_block(read_block(path), until="cutting", memory=Memory())
        if work.piecing is None or work.cutting is None or len(work.piecing.parts) == 1:
            continue
        pressed = press_block(work, memory=Memory()).pressed
        found[path.stem] = Setup(
            work.piecing,
            squarings_of(work.piecing, work.cutting, work.settings.oversize),
            cut_apart_of(work.cutting),
            presses_of(None if pressed is None else pressed.plan),
            float(work.settings.seam),
        )
    return found


def triangles(across: int, *, at_random: bool = False) -> Setup:
    """So many half-square triangles across, and down."""
    dice = random.Random(across)

    def cell(i: int, j: int) -> str:
        if not at_random:
            return "a/b" if (i + j) % 2 else "b\\a"
        one, other = dice.sample("abcdefgh", 2)
        return f"{one}{dice.choice('/' + chr(92))}{other}"

    rows = [" ".join(cell(i, j) for i in range(across)) for j in range(across)]
    return drawn(rows, 3 * across)


def drawn(rows: list[str], size: int) -> Setup:
    block = understood(cells_drawing("block", (size, size), rows))
    piecing, _ = plan(block, search=len(block.patches) < 100)
    settings = CuttingSettings()
    cutting, _ = cutting_list(block, piecing, settings=settings)
    return Setup(piecing, squarings_of(piecing, cutting, settings.oversize), cut_apart_of(cutting))


# Measuring ---------------------------------------------------------------------------------------


def rehearsed(name: str, setup: Setup, broken: list[str]) -> Row:
    workshop = setup.workshop()
    loop = Loop(workshop)
    begin = time.process_time()
    makers = 0
    widths = []
    while makers < 20 or (time.process_time() - begin < 1.0 and makers < 400):
        widths.append(loop.maker())
        makers += 1
    theirs = (time.process_time() - begin) / makers * COUNT
    alike(widths, setup, broken, name)
    ours = processor_seconds(partial(sewn, workshop), runs=3)
    faster = theirs / ours
    if faster < TIMES_THE_LOOP:
        broken.append(f"{name}: only {faster:.0f} times as fast as the loop")
    lots = processor_seconds(partial(numbers, loop.numbers), runs=3)
    whole = processor_seconds(partial(told, setup), runs=3)
    ratio = whole / lots
    if name.startswith("star") and ratio > TIMES_THE_NUMBERS:
        broken.append(f"{name}: {ratio:.1f} times as long as drawing its random numbers")
    instant = processor_seconds(partial(at_once, setup), runs=3)
    if name.endswith("few kinds") and instant > AT_ONCE:
        broken.append(f"{name}: the answer at once takes {seconds(instant)}")
    return row(
        name,
        parts=f"{len(setup.plan.parts):,}",
        errors=f"{loop.numbers:,}",
        makers=seconds(ours),
        rehearsal=seconds(whole),
        loop=seconds(theirs),
        faster=f"{faster:.0f}×",
        lots=seconds(lots),
        ratio=f"{ratio:.2f}",
        at_once=f"{1000 * instant:.1f} ms",
    )


def sewn(workshop: Workshop) -> object:
    return draw(workshop, EVERYDAY, COUNT, np.random.default_rng(SEED))


def at_once(setup: Setup) -> object:
    return linear(setup.workshop(looked=False))


def told(setup: Setup) -> object:
    return rehearse(setup, EVERYDAY, np.random.default_rng(SEED), makers=COUNT, seed=SEED)


def numbers(count: int) -> None:
    """Nothing but one random number for each error, for all makers."""
    generator = np.random.default_rng(SEED)
    lots = np.empty((count, 1000))
    for _ in range(COUNT // 1000):
        generator.standard_normal(out=lots)


def alike(widths: list[float], setup: Setup, broken: list[str], name: str) -> None:
    """Whether the loop and our makers vary alike, by four standard errors."""
    found = draw(setup.workshop(), EVERYDAY, COUNT, np.random.default_rng(SEED), slacks=False)
    ours, theirs = float(found.edges[WIDTH].std()), float(np.std(widths))
    if abs(theirs / ours - 1) > 4 / math.sqrt(2 * (len(widths) - 1)):
        broken.append(f"{name}: the width varies by {ours:.4f}, and {theirs:.4f} in the loop")


def grown(sizes: tuple[int, ...], broken: list[str]) -> list[Row]:
    rows = []
    before = math.inf
    for across in sizes:
        setup = triangles(across)
        units = across * across
        ours = processor_seconds(partial(told, setup), runs=1)
        if ours / before > FOUR_TIMES_THE_UNITS and units > FROM_UNITS:
            broken.append(f"{units} units: {ours / before:.1f} times the time of a quarter of them")
        before = ours
        tracemalloc.start()
        told(setup)
        used = tracemalloc.get_traced_memory()[1] / 1e6
        tracemalloc.stop()
        if used > MEGABYTES:
            broken.append(f"{units} units: {used:.0f} megabytes")
        instant = processor_seconds(partial(at_once, setup), runs=3)
        rows.append(
            row(
                f"{units:,} units",
                parts=f"{len(setup.plan.parts):,}",
                rehearsal=seconds(ours),
                at_once=f"{1000 * instant:.1f} ms",
                MB=f"{used:.0f}",
            )
        )
    return rows


# The other way -----------------------------------------------------------------------------------

Weights = list[list[tuple[int, float]]]


@dataclass(frozen=True)
class Small:
    """A part that is worked out at once: weights over common columns and errors."""

    rows: Weights
    errors: tuple[Source, ...]


@dataclass(frozen=True)
class Seam:
    """A part that is sewn of others: the same over the lines of its children."""

    children: tuple[int, ...]
    carried: tuple[int, ...]
    arms: Weights
    motion: Weights
    new: Weights
    lines: int
    errors: tuple[Source, ...]


class Loop:
    """Sews one block after the other, seam by seam, each error drawn when it is made."""

    def __init__(self, workshop: Workshop) -> None:
        self.workshop = workshop
        self.dice = random.Random(SEED)
        self.whole = workshop.plan.whole
        self.parts: dict[int, Small | Seam] = {}
        self.prepare(self.whole)
        self.edges = sparse(workshop.edges().weights)
        self.spare = {
            unit: Small(sparse(overhang.table), overhang.errors)
            for unit in workshop.squarings
            for overhang in (workshop.overhang(unit),)
        }
        self.sizes = {source: getattr(EVERYDAY, field) for source, field in FIELDS.items()}
        self.numbers = self.count(self.whole) + sum(
            workshop.plan.parts[unit].uses * len(small.errors) for unit, small in self.spare.items()
        )

    def prepare(self, part: int) -> None:
        """The tables of a part and of what it is sewn of."""
        if part in self.parts:
            return
        if self.workshop.small(part):
            made = self.workshop.made(part)
            table = np.concatenate([made.table, made.marked])
            self.parts[part] = Small(sparse(table), made.errors)
            return
        children = tuple(child for child, _ in self.workshop.children(part))
        for child in children:
            self.prepare(child)
        sewing = self.workshop.sewing(part)
        self.parts[part] = Seam(
            children,
            tuple(int(i) for i in sewing.carried),
            sparse(sewing.arms),
            sparse(sewing.motion),
            sparse(sewing.new),
            2 * len(sewing.lines),
            sewing.errors,
        )

    def count(self, part: int) -> int:
        """Random numbers for one copy of a part."""
        made = self.parts[part]
        inner = sum(map(self.count, made.children)) if isinstance(made, Seam) else 0
        return len(made.errors) + inner

    def maker(self) -> float:
        """One maker: how much wider than planned her block is."""
        shared = [float(value) for value in common(EVERYDAY)]
        shared[SEAM] += EVERYDAY.between * self.dice.gauss(0, 1)
        lines = self.sewn(self.whole, shared)
        sizes = weighed(self.edges, lines)
        for unit, small in self.spare.items():
            overhang = self.workshop.overhang(unit)
            for _ in range(self.workshop.plan.parts[unit].uses):
                values = weighed(small.rows, [*shared, *self.errors(small.errors)])
                slack(values, overhang.slides)
        return sizes[WIDTH]

    def sewn(self, part: int, shared: list[float]) -> list[float]:
        """The lines of one copy of a part."""
        made = self.parts[part]
        if isinstance(made, Small):
            rows = 2 * len(self.workshop.made(part).lines)
            return weighed(made.rows, [*shared, *self.errors(made.errors)])[:rows]
        values = [value for child in made.children for value in self.sewn(child, shared)]
        values += shared
        values += self.errors(made.errors)
        moved = weighed(made.arms, weighed(made.motion, values))
        carried = [values[i] + by for i, by in zip(made.carried, moved, strict=True)]
        return [*carried, *weighed(made.new, values)][: made.lines]

    def errors(self, sources: tuple[Source, ...]) -> list[float]:
        """One draw of each error."""
        drawn: list[float] = []
        for source in sources:
            if source == "shrink":
                drawn.append(1 / (1 + drawn[-1]) - 1)
            else:
                mean = EVERYDAY.stretch if source == "stretch" else 0.0
                drawn.append(mean + self.sizes[source] * self.dice.gauss(0, 1))
        return drawn


def sparse(table: Array) -> Weights:
    return [[(int(i), float(row[i])) for i in np.flatnonzero(row)] for row in table]


def weighed(rows: Weights, values: list[float]) -> list[float]:
    return [sum(weight * values[i] for i, weight in row) for row in rows]


def slack(values: list[float], slides: Array) -> float:
    """What there is to cut off: see :meth:`seamproof.accuracy.trimming.Overhang.slack`."""
    up = [v / s for v, s in zip(values, slides, strict=True) if s > 0]
    down = [v / -s for v, s in zip(values, slides, strict=True) if s < 0]
    return min(up) + min(down) if up and down else min(values)
