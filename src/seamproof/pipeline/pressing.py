"""How a worked-out block is pressed, remembered like any other result."""

from __future__ import annotations

from dataclasses import dataclass, replace

from seamproof.cutting.model import CuttingList
from seamproof.draft.model import Block
from seamproof.errors import Stopped
from seamproof.findings import Finding
from seamproof.piecing.model import PiecingPlan
from seamproof.pipeline.memory import Memory, Stage
from seamproof.pipeline.model import BlockWork, Progress, Stop
from seamproof.pipeline.working import nameless
from seamproof.pressing.model import PlanName, Pressed, PressSettings

_Told = tuple[Block, PiecingPlan, CuttingList, PressSettings, PlanName, bool]
_Found = tuple[Pressed | None, tuple[Finding, ...]]

PRESSING: Stage[_Told, _Found] = Stage(
    "pressing", takes=_Told, gives=_Found, stands_on=("shapely", "numpy")
)


@dataclass(frozen=True, slots=True)
class PressedWork:
    """A worked-out block and how it is pressed; `pressed` is None if an error made it impossible.
    `findings` are those of the block and of pressing."""

    work: BlockWork
    settings: PressSettings
    pressed: Pressed | None
    findings: tuple[Finding, ...]


def press_settings(work: BlockWork, wishes: tuple[str, ...] | None = None) -> PressSettings:
    """What the project decides about pressing this block; `wishes` go before the project's."""
    settings = work.source.project.preferences.pressing
    return replace(
        settings,
        seam=work.settings.seam,
        values=tuple((fabric.letter, fabric.value) for fabric in work.fabrics),
        wishes=settings.wishes if wishes is None else wishes,
    )


def press_block(
    work: BlockWork,
    *,
    name: PlanName = "best",
    wishes: tuple[str, ...] | None = None,
    compare: bool = False,
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> PressedWork:
    """The press plan of that name for a worked-out block, with its layers.

    Raises Stopped if `stop` says so.
    """
    settings = press_settings(work, wishes)
    if work.block is None or work.piecing is None or work.cutting is None:
        return PressedWork(work, settings, None, work.findings)
    if stop is not None and stop():
        raise Stopped(f"{work.drawing.name} was stopped before pressing")
    if progress is not None:
        progress("pressing")
    plain, put_back = nameless(work.block, work.drawing.drawn.where)
    told: _Told = (plain, work.piecing, work.cutting, settings, name, compare)
    pressed, found = (memory or Memory()).recall(PRESSING, told, lambda: _pressed(*told))
    return PressedWork(work, settings, pressed, work.findings + put_back(found))


def _pressed(
    block: Block,
    plan: PiecingPlan,
    cutting: CuttingList,
    settings: PressSettings,
    name: PlanName,
    compare: bool,
) -> _Found:
    from seamproof.pressing.pressing import press

    return press(block, plan, cutting, settings, name, compare=compare)
