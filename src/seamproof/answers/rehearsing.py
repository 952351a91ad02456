"""How a block comes out in real hands: the answer of ``seamproof rehearse``."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, ClassVar

from seamproof.accuracy.model import NEAR_ENOUGH, Advice, Rehearsal, Spread
from seamproof.answers.model import HIDDEN, Answer, noted
from seamproof.drawing.svg import svg
from seamproof.figures.rehearsal import rehearsal_scene
from seamproof.length.notation import Measure, inches, with_unit
from seamproof.pipeline.model import BlockWork
from seamproof.pipeline.rehearsing import RehearsedWork


@dataclass(frozen=True, slots=True)
class SpreadLine:
    """How a length comes out from maker to maker, in inches (angles in degrees): mean, standard
    deviation, and what 5 and 95 of 100 are at or below."""

    mean: float
    sd: float
    p05: float
    p95: float


@dataclass(frozen=True, slots=True)
class CrossingLine:
    """A place where seams meet across a seam: how far they miss each other, as root mean square,
    for 95 of 100 makers, and the share that misses by more than 1/16 in."""

    x: float
    y: float
    rms: float
    p95: float
    over: float


@dataclass(frozen=True, slots=True)
class PointLine:
    """A point of a patch: the share of makers whose point is cut off, or floats, by more than
    1/32 in."""

    x: float
    y: float
    cut_off: float
    floating: float


@dataclass(frozen=True, slots=True)
class CostLine:
    """A source of error and its share of what width and height vary by."""

    source: str
    share: float


@dataclass(frozen=True, slots=True)
class OversizeLine:
    """One unit that is squared up: what it is cut over, taken up to the ruler, the share that can
    be trimmed then, the oversize that lets 95 or 99 of 100 units be trimmed, and, in marks of the
    ruler, the one that lets 95 or 99 of 100 makers trim all that a block needs. Inches."""

    unit: str
    part: int
    oversize: float
    trimmable: float
    p95: float
    p99: float
    all_p95: float
    all_p99: float


@dataclass(frozen=True, slots=True)
class AdviceLine:
    """What to change: the share of makers within 1/8 in both ways before and after, and the
    sentence."""

    change: str
    before: float
    after: float
    say: str


@dataclass(frozen=True, slots=True)
class MakerLine:
    """Whose hands: the name of the profile and whether it is an assumption."""

    name: str
    assumed: bool


@dataclass(frozen=True, kw_only=True)
class RehearseAnswer(Answer):
    """How many makers' copies of a block come out."""

    command: ClassVar[str] = "rehearse"

    maker: MakerLine
    makers: int
    seed: int
    width: SpreadLine | None
    height: SpreadLine | None
    out_of_square: SpreadLine | None
    within: dict[str, float] | None
    no_point_cut_off: float | None
    crossings: tuple[CrossingLine, ...] | None
    points: tuple[PointLine, ...] | None
    costs: tuple[CostLine, ...] | None
    oversize: tuple[OversizeLine, ...] | None
    advice: tuple[AdviceLine, ...] | None
    picture: str | None = None
    rehearsal: Annotated[Rehearsal | None, HIDDEN] = field(repr=False, compare=False)
    work: Annotated[BlockWork, HIDDEN] = field(repr=False, compare=False)

    def svg(self) -> str | None:
        """One stitch for each of a hundred makers over a ruler; None if nothing was rehearsed."""
        if self.rehearsal is None:
            return None
        work = self.work
        return svg(rehearsal_scene(self.rehearsal, work.drawing.name, work.measure), 1.0)


def rehearse_answer(done: RehearsedWork, makers: int, seed: int) -> RehearseAnswer:
    """What there is to say about a rehearsal."""
    told = done.rehearsal
    return RehearseAnswer(
        findings=noted(done.findings),
        maker=MakerLine(done.maker.name, done.maker.assumed),
        makers=makers,
        seed=seed,
        width=None if told is None else _spread(told.width),
        height=None if told is None else _spread(told.height),
        out_of_square=None if told is None else _spread(told.out_of_square),
        within=None if told is None else {inches(t): share for t, share in told.within},
        no_point_cut_off=None if told is None else told.whole,
        crossings=None
        if told is None
        else tuple(CrossingLine(c.x, c.y, c.rms, c.p95, c.over) for c in told.crossings),
        points=None
        if told is None
        else tuple(PointLine(p.x, p.y, p.cut_off, p.floating) for p in told.points),
        costs=None if told is None else tuple(CostLine(c.source, c.share) for c in told.costs),
        oversize=None
        if told is None
        else tuple(
            OversizeLine(
                unit=u.kind,
                part=u.unit,
                oversize=float(u.oversize),
                trimmable=u.trimmable,
                p95=u.p95,
                p99=u.p99,
                all_p95=float(u.marks95),
                all_p99=float(u.marks99),
            )
            for u in told.units
        ),
        advice=None
        if told is None
        else tuple(_advice(advice, done.work.measure) for advice in told.advice),
        rehearsal=told,
        work=done.work,
    )


def _advice(advice: Advice, measure: Measure) -> AdviceLine:
    shares = f"{round(100 * advice.within)} instead of {round(100 * advice.before)}"
    near = with_unit(NEAR_ENOUGH, measure)
    return AdviceLine(
        advice.change,
        advice.before,
        advice.within,
        f"{advice.what}: {shares} of 100 makers come within {near}",
    )


def _spread(spread: Spread) -> SpreadLine:
    return SpreadLine(spread.mean, spread.sd, spread.p05, spread.p95)
