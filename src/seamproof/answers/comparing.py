"""The ways to make a unit, side by side: the answer of ``seamproof cut --compare``."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, ClassVar

from seamproof.answers.model import HIDDEN, Answer, noted
from seamproof.cutting.comparing import UnitWays, Way
from seamproof.cutting.model import Hand
from seamproof.pipeline.comparing import compare_ways
from seamproof.pipeline.model import BlockWork


@dataclass(frozen=True, slots=True)
class WayLine:
    """One method, for all of a unit together.

    `cloth` is the square inches of the pieces as they are cut, `pieces` how many are cut, `steps`
    how many things there are to do then, `seams` how many runs of stitching. `machine`, `iron` and
    `mat` are trips. `bias_edges` are those on the outside of one unit. `left_over` are units that
    nobody needs. `chosen` marks the method of the cutting list.
    """

    method: str
    chosen: bool
    cloth: float
    pieces: int
    steps: int
    seams: int
    machine: int
    iron: int
    mat: int
    bias_edges: int
    hand: Hand
    left_over: int


@dataclass(frozen=True, slots=True)
class WaysLine:
    """A unit of the block, and the methods that fit it."""

    unit: str
    part: int
    fabrics: tuple[str, ...]
    count: int
    ways: tuple[WayLine, ...]


@dataclass(frozen=True, kw_only=True)
class CompareAnswer(Answer):
    """The units of a block with the ways to make each; null if it could not be worked out."""

    command: ClassVar[str] = "compare"

    name: str
    copies: int
    units: tuple[WaysLine, ...] | None
    work: Annotated[BlockWork, HIDDEN] = field(repr=False, compare=False)


def compare_answer(work: BlockWork) -> CompareAnswer:
    """The ways to make the units of a block."""
    found = compare_ways(work)
    return CompareAnswer(
        findings=noted(work.findings),
        name=work.drawing.name,
        copies=work.copies,
        units=None if found is None else tuple(map(_unit, found)),
        work=work,
    )


def _unit(unit: UnitWays) -> WaysLine:
    return WaysLine(unit.kind, unit.part, unit.fabrics, unit.count, tuple(map(_way, unit.ways)))


def _way(way: Way) -> WayLine:
    return WayLine(
        method=way.method,
        chosen=way.chosen,
        cloth=way.cloth,
        pieces=way.pieces,
        steps=way.steps,
        seams=way.seams,
        machine=way.trips.machine,
        iron=way.trips.iron,
        mat=way.trips.mat,
        bias_edges=way.bias_edges,
        hand=way.hand,
        left_over=way.spare,
    )
