"""The chain of the stages, each remembered by what it was worked out from.

Drafting is not remembered: it is what finds the places in the file, and takes half a second for
the largest block. The stages after it never see a block's name nor any place in a file, only
numbers that stand for places; so a new name or a new comment is nothing new to them. The places are
put back into what they have to say.
"""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import replace

from seamproof.cutting.model import CuttingList, CuttingSettings
from seamproof.draft.checks import MADE_UP_FABRICS
from seamproof.draft.model import Block
from seamproof.draft.understanding import understand
from seamproof.errors import Stopped
from seamproof.findings import Finding, Where
from seamproof.piecing.model import PiecingPlan
from seamproof.pipeline.memory import Memory, Stage
from seamproof.pipeline.model import BlockWork, Progress, ProjectProgress, StageName, Stop, Work
from seamproof.pipeline.oversizes import settled
from seamproof.project.model import Project, Source, fabrics_for
from seamproof.project.reading import read_block

PIECING: Stage[tuple[Block], tuple[PiecingPlan | None, tuple[Finding, ...]]] = Stage(
    "piecing",
    takes=tuple[Block],
    gives=tuple[PiecingPlan | None, tuple[Finding, ...]],
    stands_on=("highspy",),
)
CUTTING: Stage[
    tuple[Block, PiecingPlan, int, CuttingSettings], tuple[CuttingList, tuple[Finding, ...]]
] = Stage(
    "cutting",
    takes=tuple[Block, PiecingPlan, int, CuttingSettings],
    gives=tuple[CuttingList, tuple[Finding, ...]],
)
PROOF: Stage[tuple[Block, PiecingPlan, CuttingList, CuttingSettings], tuple[Finding, ...]] = Stage(
    "proof",
    takes=tuple[Block, PiecingPlan, CuttingList, CuttingSettings],
    gives=tuple[Finding, ...],
)


def work_block(
    source: Source,
    *,
    copies: int | None = None,
    settings: CuttingSettings | None = None,
    until: StageName = "proof",
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> BlockWork:
    """Everything that can be worked out for one block, with what there is to say about it.

    `copies` and `settings` default to what the block file and its project say; an oversize that the
    project leaves to the program is settled before anything is cut. `until` is the last
    stage wanted; the sheet is made by :func:`~seamproof.pipeline.sheets.make_sheet`. What comes
    after that stage, or what an error makes impossible, is None in the result. `progress` is told
    each stage before it begins; `stop` is asked before each stage.

    Raises Stopped if `stop` says so, and InputError if the project names a maker that is not there.
    """
    project = source.project
    memory = memory or Memory()
    copies = source.drawing.copies if copies is None else copies
    auto = settings is None and project.preferences.auto and project.preferences.sizes == "trimmed"
    settings = settings or project.cutting(source.drawing.methods)

    def begin(stage: StageName) -> None:
        if stop is not None and stop():
            raise Stopped(f"{source.drawing.name} was stopped before {stage}")
        if progress is not None:
            progress(stage)

    begin("draft")
    block, findings = understand(
        source.drawing, project.letters, step=settings.step, seam=settings.seam
    )
    if block is None:
        return BlockWork(source, copies, settings, (), None, None, None, findings)
    fabrics, missing = fabrics_for((patch.fabric for patch in block.patches), project)
    if missing and not project.given:
        findings += (_made_up(source, missing),)
    plain, put_back = nameless(block, source.drawing.drawn.where)
    plan, cutting = None, None

    if until != "draft":
        begin("piecing")
        plan, found = memory.recall(PIECING, (plain,), lambda: _piecing(plain))
        findings += put_back(found)
    if until not in ("draft", "piecing") and plan is not None and not plan.cores:
        begin("cutting")
        cutting, found = _cut(plain, plan, copies, settings, memory)
        if auto:
            settings, chosen = settled(source, plan, cutting, settings, memory)
            findings += chosen
            cutting, found = _cut(plain, plan, copies, settings, memory)
        findings += put_back(found)
    if until not in ("draft", "piecing", "cutting") and plan is not None and cutting is not None:
        begin("proof")
        found = memory.recall(
            PROOF, (plain, plan, cutting, settings), lambda: _proof(plain, plan, cutting, settings)
        )
        findings += put_back(found)
    return BlockWork(source, copies, settings, fabrics, block, plan, cutting, findings)


def _cut(
    block: Block, plan: PiecingPlan, copies: int, settings: CuttingSettings, memory: Memory
) -> tuple[CuttingList, tuple[Finding, ...]]:
    told = (block, plan, copies, settings)
    return memory.recall(CUTTING, told, lambda: _cutting(*told))


def work_project(
    project: Project,
    *,
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    stop: Stop | None = None,
) -> Work:
    """The same for every block of a project, in order."""
    memory = memory or Memory()
    blocks = []
    for path in project.blocks:
        told = None if progress is None else functools.partial(progress, path, len(project.blocks))
        blocks.append(work_block(read_block(path), memory=memory, progress=told, stop=stop))
    return Work(project, tuple(blocks))


# The stages are imported when they are needed: a block that is remembered needs no solver.


def _piecing(block: Block) -> tuple[PiecingPlan | None, tuple[Finding, ...]]:
    from seamproof.piecing.planning import plan

    return plan(block)


def _cutting(
    block: Block, plan: PiecingPlan, copies: int, settings: CuttingSettings
) -> tuple[CuttingList, tuple[Finding, ...]]:
    from seamproof.cutting.listing import cutting_list

    return cutting_list(block, plan, copies=copies, settings=settings)


def _proof(
    block: Block, plan: PiecingPlan, cutting: CuttingList, settings: CuttingSettings
) -> tuple[Finding, ...]:
    from seamproof.proof.sizes import prove

    return prove(block, plan, cutting, settings)


def _made_up(source: Source, missing: tuple[str, ...]) -> Finding:
    letters = ", ".join(letter.upper() for letter in missing)
    return MADE_UP_FABRICS.found(
        f"there is no quilt.yaml, so names and colours are made up: {letters}",
        mend="if you want your own, write them into quilt.yaml beside the block",
        where=Where(file=source.drawing.where.file, block=source.drawing.name),
    )


def nameless(
    block: Block, drawn: Where
) -> tuple[Block, Callable[[tuple[Finding, ...]], tuple[Finding, ...]]]:
    """The block with its name and places taken out, and how they are put back into findings.

    The place of fixing number n stands as line n of no file, so that a finding about it can be
    told where the fixing really is. What a finding says of the block as a whole is said of where
    it is `drawn`.
    """
    places = [fixing.where for fixing in block.fixings]
    plain = replace(
        block,
        name="",
        fixings=tuple(
            replace(fixing, where=Where(line=number))
            for number, fixing in enumerate(block.fixings, start=1)
        ),
    )

    def located(finding: Finding) -> Finding:
        line, at = finding.where.line, finding.where.at
        place = places[line - 1] if line else drawn
        return replace(finding, where=replace(place, block=block.name, at=at or place.at))

    return plain, lambda findings: tuple(map(located, findings))
