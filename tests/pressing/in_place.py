"""Drawn blocks made ready to press, their seams named by a point on them and a point they are
pressed towards. Where a run lies is worked out here from the plan alone."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from seamproof.cutting.listing import cutting_list
from seamproof.cutting.model import CuttingSettings
from seamproof.draft.model import Block
from seamproof.piecing.leaves import put, within
from seamproof.piecing.model import Finish, Join, PiecingPlan
from seamproof.piecing.planning import plan
from seamproof.plane.model import Placed
from seamproof.pressing.choices import Run, runs, seen_along
from seamproof.pressing.folding import Lying, Spot, laid
from seamproof.pressing.layers import map_of
from seamproof.pressing.model import LayerMap, PressSettings
from seamproof.pressing.sheets import Cloth, cloth_of
from seamproof.pressing.tables import LEFT, OPEN, RIGHT

Window = Sequence[Spot]


@dataclass(frozen=True)
class InPlace:
    """A block, how it is sewn, its cloth, and every copy of every run where it lies."""

    block: Block
    piecing: PiecingPlan
    cloth: Cloth
    lines: tuple[tuple[Run, Spot, Spot], ...]

    @property
    def opened(self) -> list[int]:
        return [OPEN] * len(self.cloth.ways)

    def ways(self, pressed: Mapping[Spot, Spot | int]) -> list[int]:
        """One way per choice: the seam through a spot is pressed a way (spun, open), or towards
        another spot. What is not named lies open. Contradictions are AssertionErrors."""
        told: dict[int, int] = {}
        for at, to in pressed.items():
            run, a, b = self.seam(at)
            way = to if isinstance(to, int) else seen_along(_side(a, b, to), run.against)
            assert told.setdefault(run.choice, way) == way, f"{at} is a copy of another seam"
        return [told.get(choice, OPEN) for choice in range(len(self.cloth.ways))]

    def seam(self, at: Spot) -> tuple[Run, Spot, Spot]:
        (found, *more) = [line for line in self.lines if _on(line[1], line[2], at)]
        assert not more, f"more than one seam at {at}"
        return found

    def lies(self, ways: Sequence[int]) -> list[Lying]:
        return laid(self.cloth.sheets, ways)

    def layers(self, ways: Sequence[int], window: Window | None = None) -> LayerMap:
        """In a window; without one, in the finished block."""
        return map_of(self.lies(ways), window or self.cloth.outline, PressSettings())


def in_place(block: Block, methods: Mapping[str, str] | None = None) -> InPlace:
    piecing, _ = plan(block)
    settings = CuttingSettings(methods=dict(methods or {}))
    cutting, _ = cutting_list(block, piecing, settings=settings)
    o = Fraction(0)
    whole = Placed(piecing.whole, o, (o, o))
    return InPlace(
        block,
        piecing,
        cloth_of(piecing, cutting, PressSettings()),
        tuple(_lines(piecing, runs(piecing), whole)),
    )


def _lines(
    piecing: PiecingPlan, listed: Sequence[Run], here: Placed
) -> Iterator[tuple[Run, Spot, Spot]]:
    match piecing.parts[here.part].made:
        case Join(left, right):
            inner = [within(left, here), within(right, here)]
        case Finish(of):
            inner = [within(of, here)]
        case _:
            inner = []
    for one in inner:
        yield from _lines(piecing, listed, one)
    for run in listed:
        if run.part == here.part:
            a, b = ((float(x), float(y)) for x, y in put(run.line, here.turn, here.at))
            yield run, a, b


def _side(a: Spot, b: Spot, p: Spot) -> int:
    """On which side of somebody who walks from a to b a spot lies; y runs down."""
    turn = (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
    assert abs(turn) > 1e-3
    return RIGHT if turn > 0 else LEFT


def _on(a: Spot, b: Spot, p: Spot) -> bool:
    return math.dist(a, p) + math.dist(p, b) - math.dist(a, b) < 1e-6


def square_round(at: Spot, side: float) -> Window:
    return box(at[0] - side / 2, at[1] - side / 2, at[0] + side / 2, at[1] + side / 2)


def box(x0: float, y0: float, x1: float, y1: float) -> Window:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
