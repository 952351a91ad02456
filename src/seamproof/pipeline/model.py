"""All that was worked out for a block, and for a project."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from seamproof.cutting.model import CuttingList, CuttingSettings
from seamproof.draft.model import Block, Drawing, Fabric
from seamproof.findings import Finding
from seamproof.length.notation import Measure
from seamproof.piecing.model import PiecingPlan
from seamproof.project.model import Project, Source

StageName = Literal["draft", "piecing", "cutting", "proof", "sheet", "pressing", "rehearsal"]
"""The stages, in their order. The sheet is made of what the others gave."""

STAGES: tuple[StageName, ...] = ("draft", "piecing", "cutting", "proof", "sheet")

Progress = Callable[[StageName], None]
"""Told the name of each stage before it begins."""

ProjectProgress = Callable[[Path, int, StageName], None]
"""Told, before each stage begins, the block's file, how many blocks there are, and the stage."""

Stop = Callable[[], bool]
"""Asked before each stage; true ends the work with :class:`~seamproof.errors.Stopped`."""


@dataclass(frozen=True, slots=True)
class BlockWork:
    """All that was worked out for one block. What an error made impossible is None.

    `cutting` is for `copies` of the block. `fabrics` are those that the block uses, by letter;
    what the project lacks was given a colour.
    """

    source: Source
    copies: int
    settings: CuttingSettings
    fabrics: tuple[Fabric, ...]
    block: Block | None
    piecing: PiecingPlan | None
    cutting: CuttingList | None
    findings: tuple[Finding, ...]

    @property
    def drawing(self) -> Drawing:
        """What the file says."""
        return self.source.drawing

    @property
    def measure(self) -> Measure:
        """What its sizes are written in."""
        return self.source.project.preferences.measure


@dataclass(frozen=True, slots=True)
class Work:
    """All that was worked out for a project: its blocks in order."""

    project: Project
    blocks: tuple[BlockWork, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What there is to say, block by block."""
        return tuple(finding for block in self.blocks for finding in block.findings)
