"""Every size and colourway of a quilt, from one model; and whether anybody has sewn it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from seamproof.cloth.tops import LOOSE
from seamproof.findings import Finding, worst
from seamproof.pipeline.laying import lay_cloth
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import Stop
from seamproof.pipeline.setting import work_top
from seamproof.pipeline.working import work_project
from seamproof.plane.model import Point
from seamproof.programme.checks import NOT_SEWN
from seamproof.programme.testing import FormRow, sewn
from seamproof.project.model import Project

NOT_SEWN_SAYS = "proved by calculation, not sewn"
SEWN_SAYS = "sewn by testers"


@dataclass(frozen=True, slots=True)
class Edition:
    """One size in one colourway; "" is the quilt's own. `finished` is None without a setting.
    `buys` is the letter and name of each fabric and what is bought of it."""

    size: str
    colourway: str
    finished: Point | None
    buys: tuple[tuple[str, str, str], ...]
    sewn: bool
    findings: tuple[Finding, ...] = ()

    @property
    def called(self) -> str:
        """What it is called in a sentence."""
        return ", ".join(part for part in (self.size, self.colourway) if part) or "the quilt as set"

    @property
    def says(self) -> str:
        """What is printed beside it."""
        return SEWN_SAYS if self.sewn else NOT_SEWN_SAYS


def work_editions(
    project: Project,
    forms: tuple[FormRow, ...] = (),
    *,
    memory: Memory | None = None,
    stop: Stop | None = None,
) -> tuple[Edition, ...]:
    """Every size in every colourway. `forms` are those that testers sent back."""
    memory, by_testers = memory or Memory(), sewn(forms)
    found = []
    for size in (None, *project.sizes):
        for colourway in (None, *project.colourways):
            names = (size.name if size else "", colourway.name if colourway else "")
            made = project.edition(size, colourway)
            found.append(_edition(made, names, names in by_testers, memory, stop))
    return tuple(found)


def _edition(
    project: Project, names: tuple[str, str], is_sewn: bool, memory: Memory, stop: Stop | None
) -> Edition:
    top = None
    if project.setting is not None:
        made = work_top(project, until="proof", memory=memory, stop=stop)
        works, top, findings = made.blocks, made.top, made.findings
        if top is not None:
            there = {block.name for block in top.blocks}
            works = tuple(work for work in works if work.drawing.name in there)
    else:
        works = work_project(project, memory=memory, stop=stop).blocks
        findings = tuple(finding for work in works for finding in work.findings)
    buying = project.preferences.buying
    named = {fabric.letter: fabric.name for fabric in project.fabrics}
    cloth = lay_cloth(project, works, top=top, memory=memory, stop=stop)
    buys = tuple(
        (f.fabric.letter, named.get(f.fabric.letter, f.fabric.name), buying.told(f.purchase.buy))
        for f in cloth.fabrics
        if f.purchase is not None and f.fabric.letter not in LOOSE
    )
    finished = None if top is None else (top.width, top.height)
    grave = tuple(f for f in (*findings, *cloth.findings) if f.severity == "error")
    return Edition(*names, finished, buys, is_sewn and worst(grave) != "error", grave)


def edition_notes(editions: tuple[Edition, ...]) -> Iterator[Finding]:
    """What is wrong with an edition, and which nobody has sewn."""
    seen: set[Finding] = set()
    for one in editions:
        for finding in one.findings:
            if finding not in seen:
                seen.add(finding)
                yield finding
    lacking = [one.called for one in editions if not one.sewn]
    if lacking:
        yield NOT_SEWN.found(
            f"{NOT_SEWN_SAYS}: {'; '.join(lacking)}",
            mend="let somebody sew it and put the form into the folder tests, or say so in print",
        )
