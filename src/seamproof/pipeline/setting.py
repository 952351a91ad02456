"""The top of a project: its blocks understood, set together and finished."""

from __future__ import annotations

import functools
from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from seamproof.cloth.buying import SHOP_CUTS
from seamproof.draft.model import Block
from seamproof.findings import Finding
from seamproof.length.notation import Measure
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork, ProjectProgress, StageName, Stop
from seamproof.pipeline.working import work_block
from seamproof.plane.predicates import area
from seamproof.project.model import Project, Source
from seamproof.project.reading import not_said, read_block
from seamproof.setting.model import Available, Setting, Top
from seamproof.setting.targets import Nearest, nearest
from seamproof.setting.top import set_top


@dataclass(frozen=True, slots=True)
class TopWork:
    """A project's top. `top` is None if something in it cannot be set; `blocks` are those of the
    project in order, as far as they were worked out; `findings` are those of the setting and, after
    them, of blocks that cannot be drawn."""

    project: Project
    setting: Setting
    blocks: tuple[BlockWork, ...]
    top: Top | None
    findings: tuple[Finding, ...]

    @property
    def measure(self) -> Measure:
        """What its sizes are written in."""
        return self.project.preferences.measure

    @property
    def drawn(self) -> dict[str, Block]:
        """The blocks that were understood, by name."""
        return {work.block.name: work.block for work in self.blocks if work.block is not None}

    @property
    def pieced_edge(self) -> bool:
        """Whether seams run into the outer edge: then it is stay-stitched before it is quilted."""
        if self.top is None or not self.top.borders:
            return True
        return self.top.borders[-1].kind == "pieced"


def work_top(
    project: Project,
    *,
    until: StageName = "draft",
    read: Callable[[Path], Source] = read_block,
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    stop: Stop | None = None,
) -> TopWork:
    """The top that the quilt file of a project describes; its blocks are `read` and worked out
    `until` a stage.

    Raises InputError if the quilt file says nothing of a setting, and Stopped if `stop` says so.
    """
    setting = project.setting
    if setting is None:
        mend = "say how its blocks lie: setting: with rows: (docs/reference/files.md, The top)"
        raise not_said(project, "setting", mend)
    works = []
    for path in project.blocks:
        told = None if progress is None else functools.partial(progress, path, len(project.blocks))
        works.append(work_block(read(path), until=until, memory=memory, progress=told, stop=stop))
    top, found = set_top(
        setting,
        map(available, works),
        project.fabrics,
        project.cutting(),
        measure=project.preferences.measure,
        shop_step=SHOP_CUTS[project.preferences.buying.shop_cut],
    )
    bad = tuple(f for work in works for f in work.findings if f.severity == "error")
    return TopWork(project, setting, tuple(works), top, found + bad)


def available(work: BlockWork) -> Available:
    """A block as the setting takes it; one that was not understood has its size alone."""
    drawing, block = work.drawing, work.block
    shown: dict[str, Fraction] = defaultdict(Fraction)
    for patch in block.patches if block else ():
        shown[patch.fabric] += area(block.corners_of(patch)) if block else 0
    width, height = (block.width, block.height) if block else drawing.finished
    return Available(
        name=drawing.name,
        width=width,
        height=height,
        copies=work.copies,
        upright=drawing.upright,
        fabrics=tuple(sorted(shown.items())),
        file=str(work.source.path),
    )


def what_if(work: TopWork, names: tuple[str, ...]) -> tuple[Nearest, ...]:
    """The settings of the same blocks that come nearest to each target, and the one that is."""
    blocks = tuple(replace(available(one), copies=1) for one in work.blocks)
    cutting, measure = work.project.cutting(), work.measure
    return nearest(work.setting, blocks, names, cutting, measure)
