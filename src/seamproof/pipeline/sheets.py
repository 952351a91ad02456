"""The printed sheet of a block, remembered like any other result."""

from __future__ import annotations

from dataclasses import replace

from pydantic import Base64Bytes

from seamproof.booklet.model import Paper
from seamproof.booklet.notes import OF_THE_FILE
from seamproof.cutting.model import CuttingList, CuttingSettings
from seamproof.draft.model import Block, Fabric
from seamproof.errors import Stopped
from seamproof.findings import Finding, Where
from seamproof.length.notation import Measure
from seamproof.piecing.model import PiecingPlan
from seamproof.pipeline.memory import Memory, Stage
from seamproof.pipeline.model import BlockWork, Progress, Stop
from seamproof.pipeline.pressing import press_block
from seamproof.pressing.model import Pressed, PressSettings

_Told = tuple[
    Block,
    tuple[Fabric, ...],
    PiecingPlan,
    CuttingList,
    CuttingSettings,
    tuple[Finding, ...],
    str,
    Measure,
    Paper,
    Pressed | None,
    PressSettings,
]

SHEET: Stage[_Told, bytes] = Stage(
    "sheet", takes=_Told, gives=Base64Bytes, stands_on=("typst", "shapely", "numpy")
)


def make_sheet(
    work: BlockWork,
    *,
    paper: Paper | None = None,
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> bytes | None:
    """The sheet of a block as a PDF, on `paper` or on what the project prints on.

    None if the block was not worked out to the end, or a finding is of severity error: what does
    not come out is not printed. `work` must be of the proof. Raises Stopped if `stop` says so.
    """
    memory = memory or Memory()
    if work.block is None or work.piecing is None or work.cutting is None or _grave(work.findings):
        return None
    pressed = press_block(work, memory=memory, progress=progress, stop=stop)
    if _grave(pressed.findings):
        return None
    if stop is not None and stop():
        raise Stopped(f"{work.drawing.name} was stopped before its sheet")
    if progress is not None:
        progress("sheet")
    project = work.source.project
    told: _Told = (
        replace(work.block, fixings=tuple(replace(f, where=Where()) for f in work.block.fixings)),
        work.fabrics,
        work.piecing,
        work.cutting,
        work.settings,
        tuple(replace(f, where=Where()) for f in pressed.findings if f.code not in OF_THE_FILE),
        project.name,
        work.measure,
        paper or project.preferences.sheet,
        pressed.pressed,
        pressed.settings,
    )
    return memory.recall(SHEET, told, lambda: _made(*told))


def _grave(findings: tuple[Finding, ...]) -> bool:
    return any(finding.severity == "error" for finding in findings)


def _made(
    block: Block,
    fabrics: tuple[Fabric, ...],
    piecing: PiecingPlan,
    cutting: CuttingList,
    settings: CuttingSettings,
    findings: tuple[Finding, ...],
    quilt: str,
    measure: Measure,
    paper: Paper,
    pressed: Pressed | None,
    pressing: PressSettings,
) -> bytes:
    from seamproof.booklet.composing import compose
    from seamproof.booklet.sheets import sheet

    model = sheet(
        block,
        fabrics,
        piecing,
        cutting,
        settings=settings,
        proved=True,
        findings=findings,
        quilt=quilt,
        measure=measure,
        pressed=pressed,
        pressing=pressing,
    )
    return compose(model, paper)
