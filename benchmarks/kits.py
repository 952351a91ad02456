"""Kits of a block of the demo quilt for 1 to 1,000 people, cut pieces; seconds of the processor.

Beside it, in the same run: one kit laid and multiplied, as somebody does who works out one kit and
takes it as often. Promised: a thousand kits take no more than twice the time of one, and never more
cloth than one kit so many times over.
"""

from __future__ import annotations

import tempfile
from fractions import Fraction
from functools import partial
from pathlib import Path

from benchmarks.measuring import Row, processor_seconds, seconds
from seamproof.pipeline.kits import KitsWork, KitWishes, work_kits
from seamproof.pipeline.laying import CLOTH
from seamproof.pipeline.memory import Memory, Stage
from seamproof.project.starting import copy_demo

PEOPLE = (1, 10, 60, 100, 1_000)
QUICK = (1, 1_000)

MOST_GROWTH = 2.0
"""A thousand kits against one."""


class _NoLays(Memory):
    """Remembers everything but lays, which are what is measured."""

    def recall(self, stage, inputs, make):  # type: ignore[no-untyped-def]
        if isinstance(stage, Stage) and stage.name == CLOTH.name:
            return make()
        return super().recall(stage, inputs, make)


def run(quick: bool) -> list[Row]:
    rows = []
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "lamps"
        copy_demo(folder)
        block = folder / "blocks" / "slack-water.yaml"
        memory = _NoLays()
        taken: dict[int, float] = {}

        def kits(people: int) -> KitsWork:
            wishes = KitWishes(people=people, spares=Fraction(0), level="patches", quick=True)
            return work_kits(block, wishes, memory=memory)

        one = _length(kits(1))
        for people in QUICK if quick else PEOPLE:
            length = _length(kits(people))
            taken[people] = processor_seconds(partial(kits, people), runs=3)
            assert length <= one * people
            rows.append(
                Row(
                    f"{people:,}",
                    (
                        ("time", seconds(taken[people])),
                        ("pooled, in", f"{float(length):,.1f}"),
                        ("one kit so often, in", f"{float(one * people):,.1f}"),
                        ("saved", f"{float(1 - length / (one * people)):.0%}"),
                    ),
                )
            )
    growth = taken[1_000] / taken[1]
    assert growth <= MOST_GROWTH, f"a thousand kits take {growth:.1f} times as long as one"
    return rows


def _length(work: KitsWork) -> Fraction:
    return sum((one.kit.bare for one in work.fabrics), Fraction(0))
