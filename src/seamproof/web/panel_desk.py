"""What was worked out so far for a block, and how panels are put together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any

from seamproof.accuracy.model import Maker
from seamproof.answers.model import noted
from seamproof.drawing.placing import Placed
from seamproof.drawing.svg import written
from seamproof.findings import Finding
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork, StageName, Stop
from seamproof.pipeline.pressing import PressedWork, press_block
from seamproof.pipeline.working import work_block
from seamproof.pressing.model import PlanName
from seamproof.project.maker_file import read_maker
from seamproof.project.model import Source

Panel = dict[str, Any]

SIDE = 6.0
"""Inches on the screen of the longer side of a picture of a block, at 96 px to the inch."""


@dataclass(frozen=True)
class Wanted:
    """What is asked of a block: the press plan, whose hands, how many makers (0: the answer at
    once), and whether plans are laid beside each other."""

    plan: PlanName = "best"
    maker: str = "everyday"
    makers: int = 0
    compare: bool = False


class Desk:
    """What was worked out so far for a block; each stage once, and only if it is asked for."""

    def __init__(self, source: Source, wanted: Wanted, memory: Memory, stop: Stop) -> None:
        self.source, self.wanted, self.memory, self.stop = source, wanted, memory, stop
        self._works: dict[StageName, BlockWork] = {}
        self._pressed: PressedWork | None = None

    def work(self, until: StageName) -> BlockWork:
        """The block worked out until a stage."""
        if until not in self._works:
            self._works[until] = work_block(
                self.source, until=until, memory=self.memory, stop=self.stop
            )
        return self._works[until]

    def pressed(self) -> PressedWork:
        """The block with its press plan."""
        if self._pressed is None:
            self._pressed = press_block(
                self.work("cutting"),
                name=self.wanted.plan,
                compare=self.wanted.compare,
                memory=self.memory,
                stop=self.stop,
            )
        return self._pressed

    def maker(self) -> Maker:
        """Whose hands. Raises InputError if there is no such profile."""
        folder = self.source.project.folder or self.source.path.parent
        return read_maker(folder, self.wanted.maker)


def said(findings: tuple[Finding, ...], facts: list[list[str]]) -> Panel:
    """A panel that begins with these facts and what was found."""
    return {"facts": facts, "findings": notes_of(findings)}


def notes_of(findings: Sequence[Finding]) -> list[Panel]:
    """Findings as plain JSON."""
    return [asdict(note) for note in noted(findings)]


def pictured(placed: Placed, name: str) -> Panel:
    """A picture as SVG, its ids beginning with `name`, and where the block lies in it."""
    frame = frame_of(placed, placed.zero, placed.factor, mirrored=False)
    return {"svg": written(placed, name=name), "frame": frame}


def frame_of(placed: Placed, zero: tuple[float, float], scale: float, *, mirrored: bool) -> Panel:
    """Where the block's (0, 0) lies in a picture and how long its inch is there. Mirrored: a point
    (x, y) of the block is drawn at (zero.x - x * scale, zero.y + y * scale)."""
    return {
        "x": round(zero[0], 3),
        "y": round(zero[1], 3),
        "scale": round(scale, 5),
        "mirrored": mirrored,
        "width": round(placed.width, 2),
        "height": round(placed.height, 2),
    }
