"""How pieces lie on cloth: length above the area, beside two packers of rectangles.

1. `turned`, `lying`, `three`: twelve synthetic fabrics of forty kinds and about 280 pieces each
   (`data/packing`, eighths of an inch, 42 in wide): mean length above what the area alone needs,
   and seconds of processor time a fabric, at the effort that the program takes by itself. Two
   stages with turning, two stages as the pieces lie, three stages as they lie. What is promised is
   in PROMISED; what is aimed at stands beside it.
   Beside ours: rectpack (the shortest of its guillotine rules from the highest piece down and from
   the largest; any number of stages, cuts a person may not want) where somebody installed it (it
   comes as source only, so the environment has none), and packingsolver with as many stages, 2 s a
   fabric (6 s for three stages) on one processor, in an interpreter of its own (Python 3.12 or
   later that can import it: the one that PACKING_PYTHON names, or one on the path), else "not run".
2. `public`, `public-three`: 24 public instances of strip packing (Hopper and Turton; Burke and
   others; Kröger; Bengtsson; Christofides and Whitlock; Beasley), as they lie and with turning: on
   how many our lay is no longer than the best height known for as many stages. Aimed at: 20 of 24.
   Promised: what is in REACHED.
3. `kits`: 1, 10, 100, 1,000 kits of one fabric. Promised: a thousand take at most a thousand times
   the cloth of one, at most 0.1 % above their bound, in at most twice the time of one.
4. `first`: the first plan of each of the twelve fabrics. Promised: within 0.2 s.
5. `demo`: the cloth of the demo quilt's blocks, fabric by fabric.

One or several parts by name, as `python -m benchmarks cloth kits first`; else all of them.

Every lay is replayed by the cutter that knows only straight cuts.
"""

from __future__ import annotations

import csv
import importlib
import math
import os
import resource
import shutil
import subprocess
import tempfile
import time
from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from benchmarks.measuring import Row, seconds, table
from seamproof.cloth.laying import lay
from seamproof.cloth.model import EFFORT, Cloth, Demand, Laid, Settings
from seamproof.cloth.replaying import faults
from seamproof.pipeline.laying import lay_cloth
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.working import work_project
from seamproof.project.reading import read_project
from seamproof.project.starting import copy_demo

DATA = Path(__file__).parent / "data" / "packing"
PEER = Path(__file__).parent / "peers" / "guillotine.py"

PROMISED = {(2, True): 0.014, (2, False): 0.062, (3, False): 0.020}
"""Length above the area by stages and turning, mean of the twelve: never more."""

AIMS = {(2, True): 0.014, (2, False): 0.062, (3, False): 0.020}
"""The same, as it should be."""

NO_WORSE = 20
"""On so many public instances our lay should be no longer than the best height known …"""

REACHED = {(2, False): 20, (2, True): 20, (3, False): 19, (3, True): 20}
"""… and on so many it is, by stages and turning: never fewer."""

KITS = (1, 10, 100, 1000)
KITS_ABOVE = 0.001
KITS_TIME = 2.0

PEER_SECONDS = {2: 2, 3: 6}

Piece = tuple[int, int, int]
Instance = tuple[int, tuple[Piece, ...]]


PARTS = ("turned", "lying", "three", "public", "public-three", "kits", "first", "demo")
"""What can be run by itself."""

CASES = {"turned": (2, True), "lying": (2, False), "three": (3, False)}
PUBLIC = {"public": (2, 3 * EFFORT), "public-three": (3, 2 * EFFORT)}
"""Stages and effort: what takes up to about 20 s for the longest list."""

FIRST_WITHIN = 0.2
"""Seconds until the first plan of a fabric stands."""


def run(quick: bool = False, parts: Sequence[str] = PARTS) -> list[Row]:
    broken: list[str] = []
    rows: list[Row] = []
    fabrics = instances("quilt_synthetic.csv")
    chosen = dict(sorted(fabrics.items())[:2]) if quick else fabrics
    public = instances("instances.csv")
    some = dict(sorted(public.items())[:4]) if quick else public
    for part in parts:
        if part in CASES:
            rows.append(synthetic(chosen, *CASES[part], broken, whole=not quick))
        elif part in PUBLIC:
            stages, effort = PUBLIC[part]
            rows += [
                published(some, stages, turn, broken, whole=not quick, effort=effort)
                for turn in (False, True)
            ]
        elif part == "kits":
            rows += kits(fabrics["quilt00"], KITS[:2] if quick else KITS, broken)
        elif part == "first":
            rows.append(first(chosen, broken))
        else:
            rows += demo()
    assert not broken, "\n".join([*broken, "", table(rows)])
    return rows


def row(case: str, **columns: str) -> Row:
    heads = ("ours", "bound", "time", "rectpack", "packingsolver", "aim", "told")
    return Row(case, tuple((head, columns.get(head, "")) for head in heads))


def instances(name: str) -> dict[str, Instance]:
    found: dict[str, tuple[int, list[Piece]]] = {}
    with (DATA / name).open(encoding="utf-8") as lines:
        for line in csv.DictReader(lines):
            _, pieces = found.setdefault(line["instance"], (int(line["strip_width"]), []))
            pieces.append((int(line["item_w"]), int(line["item_h"]), int(line["copies"])))
    return {name: (width, tuple(pieces)) for name, (width, pieces) in found.items()}


def area(instance: Instance) -> float:
    """The length that the area alone needs."""
    width, pieces = instance
    return sum(w * h * copies for w, h, copies in pieces) / width


def laid(
    instance: Instance, stages: int, turn: bool, times: int = 1, effort: int = EFFORT
) -> tuple[Laid, float]:
    """The lay, replayed, and seconds of processor time."""
    width, pieces = instance
    demands = [
        Demand(str(n), Fraction(w), Fraction(h), copies * times, turn)
        for n, (w, h, copies) in enumerate(pieces)
    ]
    settings = Settings(stages=3 if stages == 3 else 2, step=Fraction(1), effort=effort)
    begin = time.process_time()
    made = lay(Cloth("a", Fraction(width)), demands, settings)
    taken = time.process_time() - begin
    assert faults(made, demands) == []
    return made, taken


def percent(value: float) -> str:
    return f"{100 * value:+.2f} %"


def mean(values: Iterable[float]) -> float:
    every = list(values)
    return math.fsum(every) / len(every)


# The two packers --------------------------------------------------------------------------------


def by_rectpack(instance: Instance, turn: bool) -> float | None:
    """The shortest of rectpack's guillotine rules; None if it is not installed."""
    try:
        rectpack = importlib.import_module("rectpack")
    except ModuleNotFoundError:
        return None
    width, pieces = instance
    single = [(w, h) for w, h, copies in pieces for _ in range(copies)]
    best = math.inf
    rules = (rectpack.GuillotineBssfSas, rectpack.GuillotineBafSlas, rectpack.GuillotineBlsfLas)
    orders: tuple[Callable[[tuple[int, int]], Any], ...] = (
        lambda side: (-max(side), -min(side)) if turn else (-side[1], -side[0]),
        lambda side: -side[0] * side[1],
    )
    for rule in rules:
        for order in orders:
            packer = rectpack.newPacker(
                mode=rectpack.PackingMode.Offline,
                pack_algo=rule,
                sort_algo=lambda found: found,
                rotation=turn,
            )
            packer.add_bin(width, sum(max(side) for side in single))
            for side in sorted(single, key=order):
                packer.add_rect(*side)
            packer.pack()
            tops = [y + h for _, _, y, _, h, _ in packer.rect_list()]
            if len(tops) == len(single):
                best = min(best, max(tops))
    return best


@cache
def peer_python() -> str | None:
    """An interpreter that can import packingsolver."""
    named = os.environ.get("PACKING_PYTHON")
    for name in [named] if named else ["python3.14", "python3.13", "python3.12"]:
        found = shutil.which(name)
        if found is None:
            continue
        tried = subprocess.run([found, PEER], input=b"", capture_output=True, check=False)
        if tried.returncode == 0:
            return found
    return None


def by_packingsolver(instance: Instance, stages: int, turn: bool) -> float | None:
    python = peer_python()
    if python is None:
        return None
    width, pieces = instance
    code = f"{stages}NH{'R' if turn else 'O'}"
    told = [code, PEER_SECONDS[stages], width, *(side for piece in pieces for side in piece)]
    pinned = [] if shutil.which("taskset") is None else ["taskset", "-c", "0"]
    done = subprocess.run(
        [*pinned, python, PEER],
        input=" ".join(map(str, told)),
        capture_output=True,
        text=True,
        check=True,
    )
    return float(done.stdout.split()[-1])


# The cases --------------------------------------------------------------------------------------


def synthetic(
    fabrics: dict[str, Instance], stages: int, turn: bool, broken: list[str], *, whole: bool
) -> Row:
    ours: list[tuple[Laid, float]] = [laid(one, stages, turn) for one in fabrics.values()]
    areas = [area(one) for one in fabrics.values()]
    above = mean(
        float(made.length) / least - 1 for (made, _), least in zip(ours, areas, strict=True)
    )
    bound = mean(made.lays[0].bound / made.lays[0].area_bound - 1 for made, _ in ours)
    case = f"{len(fabrics)} fabrics, {stages} stages, {'turned' if turn else 'as they lie'}"
    promised = PROMISED[stages, turn]
    if whole and above > promised:
        broken.append(f"{case}: {percent(above)} above the area, promised {percent(promised)}")
    packed = [by_rectpack(one, turn) for one in fabrics.values()]
    theirs = [
        length / least - 1
        for length, least in zip(packed, areas, strict=True)
        if length is not None
    ]
    begin = resource.getrusage(resource.RUSAGE_CHILDREN)
    peer = [by_packingsolver(one, stages, turn) for one in fabrics.values()]
    end = resource.getrusage(resource.RUSAGE_CHILDREN)
    used = (end.ru_utime - begin.ru_utime) / len(fabrics)
    told = "not run"
    if all(length is not None for length in peer):
        lengths = mean(
            length / least - 1
            for length, least in zip(peer, areas, strict=True)
            if length is not None
        )
        told = f"{percent(lengths)} in {seconds(used)}"
    return row(
        case,
        ours=percent(above),
        bound=percent(bound),
        time=seconds(mean(taken for _, taken in ours)),
        rectpack=percent(mean(theirs)) if theirs else "not run",
        packingsolver=told,
        aim=percent(AIMS[stages, turn]),
    )


def best_known(stages: int, turn: bool) -> dict[str, float]:
    words = f"{stages}-stage", "rotation allowed" if turn else "fixed orientation"
    with (DATA / "best_known.csv").open(encoding="utf-8") as lines:
        return {
            line["instance"]: float(line["best_known_height"])
            for line in csv.DictReader(lines)
            if all(word in line["problem_variant"] for word in words)
        }


def published(
    public: dict[str, Instance],
    stages: int,
    turn: bool,
    broken: list[str],
    *,
    whole: bool,
    effort: int,
) -> Row:
    best = best_known(stages, turn)
    reached, over, taken, worse = 0, [], [], []
    for name, instance in public.items():
        made, used = laid(instance, stages, turn, effort=effort)
        taken.append(used)
        over.append(float(made.length) / best[name] - 1)
        if made.length <= best[name]:
            reached += 1
        else:
            worse.append(f"{name} {int(made.length)} for {int(best[name])}")
    case = f"{len(public)} public, {stages} stages, {'turned' if turn else 'as they lie'}"
    least = REACHED[stages, turn]
    if whole and reached < least:
        broken.append(f"{case}: {reached} no longer than the best known, promised {least}")
    return row(
        case,
        ours=f"{reached} of {len(public)}",
        bound=f"{percent(mean(over))} on the best",
        time=seconds(mean(taken)),
        aim=f"{NO_WORSE} of {len(public)}" if whole else "",
        told=", ".join(worse[:4]) + (" …" if len(worse) > 4 else ""),
    )


def kits(instance: Instance, counts: Sequence[int], broken: list[str]) -> list[Row]:
    rows = []
    one: tuple[Laid, float] | None = None
    for count in counts:
        made, taken = laid(instance, 2, True, count)
        one = one or (made, taken)
        above = float(made.length) / made.lays[0].bound - 1
        if made.length > count * one[0].length:
            broken.append(f"{count} kits take more than {count} times the cloth of one")
        if count == KITS[-1] and above > KITS_ABOVE:
            broken.append(f"{count} kits: {percent(above)} above their bound")
        if taken > KITS_TIME * one[1]:
            broken.append(f"{count} kits take {taken / one[1]:.1f} times the time of one")
        rows.append(
            row(
                f"{count:,} kits",
                ours=f"{float(made.length) / count / 8:.3f} in each",
                bound=f"+{100 * above:.3f} %",
                time=seconds(taken),
            )
        )
    return rows


def first(fabrics: dict[str, Instance], broken: list[str]) -> Row:
    laid(next(iter(fabrics.values())), 2, True, effort=0)  # which loads what is needed
    made = [laid(one, stages, turn, effort=0) for stages, turn in AIMS for one in fabrics.values()]
    longest = max(taken for _, taken in made)
    if longest > FIRST_WITHIN:
        broken.append(f"a first plan takes {seconds(longest)}, promised {seconds(FIRST_WITHIN)}")
    return row(
        f"first plan of {len(made)} lists",
        ours=percent(mean(float(one.length) / one.lays[0].area_bound - 1 for one, _ in made)),
        time=f"{seconds(mean(taken for _, taken in made))}, at most {seconds(longest)}",
        aim=f"at most {seconds(FIRST_WITHIN)}",
    )


def demo() -> list[Row]:
    with tempfile.TemporaryDirectory() as folder:
        copy_demo(Path(folder))
        memory = Memory()
        project = read_project(Path(folder))
        blocks = work_project(project, memory=memory).blocks
        begin = time.process_time()
        work = lay_cloth(project, blocks, memory=memory)
        taken = time.process_time() - begin
    rows = []
    for one in work.fabrics:
        if one.laid is None:
            continue
        (made,) = [lay_ for lay_ in one.laid.lays if lay_.cloth == "yardage"]
        rows.append(
            row(
                f"demo, fabric {one.fabric.letter}",
                ours=f"{float(one.laid.length):.3f} in",
                bound=f"{made.bound:.3f} in{' proved' if made.proved else ''}",
            )
        )
    rows.append(row(f"demo, {len(rows)} fabrics", time=seconds(taken)))
    return rows
