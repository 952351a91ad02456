"""How a worked-out block comes out in real hands, remembered like any other result; and the
oversize that an ``oversize: auto`` asks for."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from seamproof.accuracy.checks import NOT_REHEARSED, found
from seamproof.accuracy.model import Forecast, Maker, Rehearsal
from seamproof.cutting.model import CuttingList
from seamproof.errors import Stopped
from seamproof.findings import Finding, Where
from seamproof.piecing.model import PiecingPlan
from seamproof.pipeline.memory import Memory, Stage
from seamproof.pipeline.model import BlockWork, Progress, Stop
from seamproof.pipeline.pressing import press_block
from seamproof.pressing.model import PressPlan

if TYPE_CHECKING:
    from seamproof.accuracy.workshop import Setup

Oversizes = tuple[tuple[str, Fraction], ...]


@dataclass(frozen=True, slots=True)
class Told:
    """All that a rehearsal depends on. `oversizes` are the project's, by kind of unit."""

    plan: PiecingPlan
    cutting: CuttingList
    press: PressPlan | None
    oversizes: Oversizes
    seam: Fraction
    step: Fraction
    maker: Maker
    makers: int
    seed: int


REHEARSAL: Stage[Told, Rehearsal] = Stage(
    "rehearsal", takes=Told, gives=Rehearsal, stands_on=("numpy",)
)


@dataclass(frozen=True, slots=True)
class RehearsedWork:
    """A worked-out block and its rehearsal, None if an error made it impossible. `findings` are
    those of the block, of its pressing and of the rehearsal."""

    work: BlockWork
    maker: Maker
    rehearsal: Rehearsal | None
    findings: tuple[Finding, ...]


def rehearse_block(
    work: BlockWork,
    maker: Maker,
    *,
    makers: int,
    seed: int,
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> RehearsedWork:
    """How the block comes out when `makers` of one profile sew it, pressed as its press plan says.

    Raises Stopped if `stop` says so.
    """
    memory = memory or Memory()
    pressed = press_block(work, memory=memory, progress=progress, stop=stop)
    where = Where(file=work.drawing.where.file, block=work.drawing.name)
    findings = pressed.findings
    plan, cutting = work.piecing, work.cutting
    if plan is None or cutting is None:
        return RehearsedWork(work, maker, None, findings)
    if len(plan.parts) == 1:
        only = NOT_REHEARSED.found(
            "there is nothing to sew in this block", mend="rehearse a block with seams", where=where
        )
        return RehearsedWork(work, maker, None, (*findings, only))
    if stop is not None and stop():
        raise Stopped(f"{work.drawing.name} was stopped before the rehearsal")
    if progress is not None:
        progress("rehearsal")
    settings = work.settings
    told = Told(
        plan,
        cutting,
        None if pressed.pressed is None else pressed.pressed.plan,
        tuple(sorted(settings.oversize.items())) if settings.sizes == "trimmed" else (),
        settings.seam,
        settings.step,
        maker,
        makers,
        seed,
    )
    rehearsal = memory.recall(REHEARSAL, told, lambda: _rehearsed(told))
    return RehearsedWork(work, maker, rehearsal, findings + found(rehearsal, work.measure, where))


def _rehearsed(told: Told) -> Rehearsal:
    import numpy as np

    from seamproof.accuracy.rehearsing import rehearse

    return rehearse(
        _setup(told),
        told.maker,
        np.random.default_rng(told.seed),
        makers=told.makers,
        seed=told.seed,
        step=told.step,
    )


def forecast_block(
    work: BlockWork, maker: Maker, press: PressPlan | None = None
) -> Forecast | None:
    """The answer at once, by straight-line reckoning; None if the block cannot be rehearsed."""
    plan, cutting = work.piecing, work.cutting
    if plan is None or cutting is None or len(plan.parts) == 1:
        return None
    from seamproof.accuracy.forecasting import forecast

    settings = work.settings
    oversizes = tuple(settings.oversize.items()) if settings.sizes == "trimmed" else ()
    told = Told(plan, cutting, press, oversizes, settings.seam, settings.step, maker, 0, 0)
    outline = plan.parts[plan.whole].outline
    size = [max(p[axis] for p in outline) - min(p[axis] for p in outline) for axis in (0, 1)]
    wanted = (float(size[0] + 2 * settings.seam), float(size[1] + 2 * settings.seam))
    return forecast(_setup(told).workshop(looked=False), maker, wanted)


def _setup(told: Told) -> Setup:
    from seamproof.accuracy import workshop

    return workshop.Setup(
        told.plan,
        workshop.squarings_of(told.plan, told.cutting, dict(told.oversizes)),
        workshop.cut_apart_of(told.cutting),
        workshop.presses_of(told.press),
        float(told.seam),
    )
