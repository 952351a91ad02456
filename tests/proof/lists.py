"""Cutting lists of real blocks, for tests of the proof."""

from __future__ import annotations

import functools
from pathlib import Path
from typing import NamedTuple

from seamproof import project
from seamproof.cutting.listing import cutting_list
from seamproof.cutting.model import CuttingList, CuttingSettings
from seamproof.draft.model import Block
from seamproof.draft.understanding import understand
from seamproof.findings import Finding
from seamproof.piecing.model import PiecingPlan
from seamproof.piecing.planning import plan
from seamproof.project.reading import read_block
from seamproof.proof.sizes import prove

DEMO = Path(project.__file__).parent / "demo" / "blocks"
DEMO_NAMES = sorted(path.stem for path in DEMO.glob("*.yaml"))

SETTINGS = {
    "trimmed": CuttingSettings(),
    "exact": CuttingSettings(sizes="exact"),
    "metric": CuttingSettings.metric(),
}


class Made(NamedTuple):
    """A block with its plan and cutting list."""

    block: Block
    plan: PiecingPlan
    cutting: CuttingList
    settings: CuttingSettings

    def doubts(self, cutting: CuttingList | None = None) -> tuple[Finding, ...]:
        """What the proof says of this block's list, or of another one for it."""
        return prove(self.block, self.plan, cutting or self.cutting, self.settings)


def made(block: Block, settings: CuttingSettings, copies: int = 1) -> Made | None:
    """None if the block cannot be sewn."""
    drawn, _ = plan(block)
    if drawn is None or drawn.cores:
        return None
    cutting, _ = cutting_list(block, drawn, copies=copies, settings=settings)
    return Made(block, drawn, cutting, settings)


@functools.cache
def demo(name: str) -> Made:
    """A block of the demo quilt, as its files say."""
    source = read_block(DEMO / f"{name}.yaml")
    block, _ = understand(source.drawing)
    assert block is not None
    settings = source.project.preferences.cutting(source.drawing.methods)
    found = made(block, settings, source.drawing.copies)
    assert found is not None
    return found
