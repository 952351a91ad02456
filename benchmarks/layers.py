"""The layers of tops of 400 blocks edge to edge: one kind, twelve in four turns, all unlike.

Ours folds every kind of block once and counts equal windows once. Beside it, in the same run and at
full size, stands one snapped overlay of all sheets: every patch of the top folded by all seams
above it, all of them laid over each other and counted. Both begin with the piecing plans and the
way of every seam, and are measured in seconds of the processor: the median of three runs of ours,
one run of the overlay. Ours must lay the same square inches under each count of layers, and keep
the cut cloth within 1e-9. The twelve kinds are blocks of the trade, laid and turned by a die and
pressed by the usual rules; the unlike ones are squares and half-square triangles by a die. Besides:
how many windows are counted again when one of the twelve kinds is pressed another way, against how
many it lies in, and how far the memory of a process grows by each way.

Promised: 100 times for one kind, 20 times for twelve, no slower if all are unlike.
"""

from __future__ import annotations

import math
import multiprocessing
import random
import resource
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
import shapely

from benchmarks.measuring import Row, processor_seconds, seconds, table
from seamproof.cutting.model import CuttingSettings
from seamproof.draft.model import Block
from seamproof.piecing.model import Join, PiecingPlan, Whole
from seamproof.piecing.planning import plan
from seamproof.pressing.folding import laid
from seamproof.pressing.kinds import area, block_kind
from seamproof.pressing.model import PressSettings
from seamproof.pressing.overlay import faces_of, polygons
from seamproof.pressing.plans import seams_of
from seamproof.pressing.sheets import cloth_of, leaves_above
from seamproof.pressing.tables import LEFT, OPEN, RIGHT
from seamproof.pressing.top_layers import Known, Laid, lay
from seamproof.pressing.usual import usual
from seamproof.setting.assembling import expanded
from seamproof.setting.model import Available, SetCell, Setting
from seamproof.setting.seams import presses
from seamproof.setting.top import set_top
from tests.drawings import cells_drawing, understood

SETTINGS = PressSettings()
VALUES = {"a": "light", "b": "dark", "c": "medium"}
CLOSE = 1e-5
"""Square inches of a whole top that the two may differ by; the overlay of all sheets is the less
exact of them."""

KEPT = 1e-9
"""Square inches to the square inch of cloth that may be lost."""

TWELVE = {
    "Nine-patch": ["a b a", "b a b", "a b a"],
    "Four-patch": ["a b", "b a"],
    "Sixteen-patch": ["a b a b", "b a b a", "a b a b", "b a b a"],
    "Pinwheel": [r"a/b a\b", r"b\a b/a"],
    "Shoofly": [r"b/a a b\a", "a b a", r"a\b a a/b"],
    "Friendship star": [r"a a/b a", r"b\a b a\b", "a b/a a"],
    "Broken dishes": [r"a/b b\a a/b b\a", r"a\b b/a a\b b/a"] * 2,
    "Ohio star": ["a a.b.a.b a", "b.a.b.a c a.b.a.b", "a b.a.b.a a"],
    "Sawtooth": [r"a b/a b\a a", r"b/a c c b\a", r"b\a c c b/a", r"a b\a b/a a"],
    "Rails": ["a b c", "a b c", "a b c"],
    "Stairs": ["a b c c", "a b c c", "c c a b", "c c a b"],
    "Checks and corners": [r"a b c/a", "b a b", r"c\a b a"],
}


@dataclass(frozen=True)
class Sewn:
    """A top ready to press: its plan, those of its blocks, and the way of every seam."""

    plan: PiecingPlan
    blocks: dict[str, PiecingPlan]
    inner: dict[str, tuple[int, ...]]
    ways: tuple[int, ...]

    @staticmethod
    def of(blocks: Sequence[Block], rows: Sequence[Sequence[SetCell]]) -> Sewn:
        """Blocks laid in rows, every seam pressed by the usual rules."""
        known = [Available(b.name, b.width, b.height, 10**6) for b in blocks]
        setting = Setting(rows=tuple(map(tuple, rows)))
        top, found = set_top(setting, known, (), CuttingSettings())
        assert top is not None, found
        plans = {block.name: plan(block)[0] for block in blocks}
        inner = {
            name: tuple(said.way for said in usual(seams_of(made, ()), VALUES))
            for name, made in plans.items()
        }
        inner = {
            n: tuple(w if w in (OPEN, LEFT, RIGHT) else OPEN for w in i) for n, i in inner.items()
        }
        said = presses(top.plan, dict(top.roles))
        return Sewn(top.plan, plans, inner, tuple(press.way for press in said))

    def by_windows(self, known: Known | None = None) -> Laid:
        """Our way."""
        kinds = {
            name: block_kind(cloth_of(made, None, SETTINGS), self.inner[name])
            for name, made in self.blocks.items()
        }
        return lay(self.plan, kinds, self.ways, SETTINGS, known)

    def cut(self) -> float:
        """Square inches of cloth."""
        count = dict.fromkeys(self.blocks, 0)
        for here, _ in leaves_above(self.plan, SETTINGS):
            made = self.plan.parts[here.part].made
            assert isinstance(made, Whole)
            count[made.block] += 1
        cloth = {n: cloth_of(made, None, SETTINGS) for n, made in self.blocks.items()}
        return math.fsum(
            count[n] * area(piece) for n, c in cloth.items() for s in c.sheets for piece in s.pieces
        )

    def all_at_once(self) -> dict[int, float]:
        """The other way: square inches under each count of layers."""
        whole = expanded(self.plan, self.blocks)
        ways: list[int] = []
        own = iter(self.ways)
        for part in self.plan.parts:
            if isinstance(part.made, Whole):
                ways += self.inner[part.made.block]
            elif isinstance(part.made, Join):
                ways += [next(own) for _ in part.made.sewn]
        lies = laid(cloth_of(whole, None, SETTINGS).sheets, ways)
        faces, (face, _) = faces_of(polygons([lying.piece for lying in lies]))
        layers = np.bincount(face, minlength=len(faces))
        areas = shapely.area(faces)
        return {int(n): float(areas[layers == n].sum()) for n in np.unique(layers) if n}


def run(quick: bool) -> list[Row]:
    """`quick` takes tops of 36 blocks, which promise nothing."""
    side = 6 if quick else 20
    twelve = [_twelve(name) for name in TWELVE]
    dice = random.Random(7)
    names = [block.name for block in twelve]
    turned = [
        [SetCell(dice.choice(names), dice.randrange(4)) for _ in range(side)] for _ in range(side)
    ]
    one = [[SetCell(names[7])] * side] * side
    unlike = [_by_a_die(number) for number in range(side * side)]
    apart = [[SetCell(unlike[r * side + c].name) for c in range(side)] for r in range(side)]
    used = {cell.name for row in turned for cell in row}
    broken: list[str] = []
    rows = [
        _row("one kind", Sewn.of(twelve[7:8], one), None, 100.0, broken),
        _row(
            "twelve kinds in four turns",
            Sewn.of([b for b in twelve if b.name in used], turned),
            names[7],
            20.0,
            broken,
        ),
        _row("all unlike", Sewn.of(unlike, apart), None, 1.0, broken),
    ]
    assert quick or not broken, "\n".join([*broken, "", table(rows)])
    return rows


def _twelve(name: str) -> Block:
    return understood(cells_drawing(name, (12, 12), TWELVE[name]))


def _by_a_die(number: int) -> Block:
    dice = random.Random(number)

    def cell() -> str:
        one, other = dice.sample("abc", 2)
        return f"{one}{dice.choice('/' + chr(92))}{other}" if dice.random() < 0.5 else one

    rows = [" ".join(cell() for _ in range(4)) for _ in range(4)]
    return understood(cells_drawing(f"Unlike {number}", (Fraction(12), Fraction(12)), rows))


def _row(case: str, top: Sewn, edited: str | None, promised: float, broken: list[str]) -> Row:
    beside, want, more = _apart(top.all_at_once)
    ours = processor_seconds(top.by_windows, runs=3)
    _, got, less = _apart(lambda: dict(top.by_windows().areas))
    cloth = sum(n * area for n, area in want.items())
    kept = sum(n * area for n, area in got.items())
    cut = top.cut()
    assert abs(cut - kept) <= KEPT * cut, f"{case}: {cut - kept} sq in of cloth were lost"
    off = max(abs(got.get(n, 0.0) - want.get(n, 0.0)) for n in {*got, *want})
    assert off <= CLOSE, f"{case}: {off} sq in differ"
    if beside < promised * ours:
        broken.append(f"{case}: {beside / ours:.1f} times, {promised:g} promised")
    found = top.by_windows()
    return Row(
        case,
        (
            ("cloth", f"{cut:,.0f} sq in"),
            ("lost", f"{abs(cut - kept) / cut:.0e}"),
            ("by the overlay", f"{abs(cut - cloth) / cut:.0e}"),
            ("windows", f"{len(found.windows):,} for {len(found.places):,}"),
            ("by windows", seconds(ours)),
            ("all at once", seconds(beside)),
            ("times", f"{beside / ours:.1f}"),
            ("after an edit", "" if edited is None else _again(top, edited)),
            ("memory", f"{less:.0f} MB"),
            ("all at once", f"{more:.0f} MB"),
        ),
    )


def _again(top: Sewn, edited: str) -> str:
    """How many windows are counted again if a block is pressed the other way."""
    known = Known()
    top.by_windows(known)
    turn = {LEFT: RIGHT, RIGHT: LEFT}
    changed = tuple(turn.get(way, way) for way in top.inner[edited])
    second = Sewn(top.plan, top.blocks, {**top.inner, edited: changed}, top.ways)
    again = second.by_windows(known)
    assert second.by_windows(known).made == 0
    fresh = dict(second.by_windows().areas)
    assert all(abs(fresh[n] - area) <= CLOSE for n, area in again.areas)
    return f"{again.made} of {len(again.windows)}"


def _apart(work: Callable[[], dict[int, float]]) -> tuple[float, dict[int, float], float]:
    """Seconds of the processor that a call takes in a process of its own, what it gives, and by how
    many megabytes the process grows."""
    context = multiprocessing.get_context("fork")
    here, there = context.Pipe(duplex=False)

    def work_there() -> None:
        before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        begin = time.process_time()
        found = work()
        taken = time.process_time() - begin
        grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
        there.send((taken, found, grown / 1024))

    process = context.Process(target=work_there)
    process.start()
    there.close()
    found: tuple[float, dict[int, float], float] = here.recv()
    process.join()
    return found
