"""All facts of a quilt as it is now, and which findings keep it from being released."""

from __future__ import annotations

import functools
from collections.abc import Iterator
from dataclasses import dataclass

from seamproof.booklet.cloth_wording import size_of
from seamproof.findings import Finding, worst
from seamproof.pipeline.booklets import work_booklet
from seamproof.pipeline.laying import ClothWork, lay_cloth
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork, ProjectProgress, Stop
from seamproof.pipeline.pressing import press_block
from seamproof.pipeline.programme import ProgrammeWork, listed, work_programme
from seamproof.pipeline.setting import work_top
from seamproof.pipeline.working import work_project
from seamproof.programme.facts import block_facts, cloth_facts, programme_facts, top_facts
from seamproof.programme.versions import BOOKLET, Fact
from seamproof.project.model import Project
from seamproof.project.releases import source_facts
from seamproof.setting.model import Top


@dataclass(frozen=True, slots=True)
class ToldWork:
    """A quilt with all that its pattern tells. `works` are its blocks; `sound` is whether no
    finding is of severity error."""

    project: Project
    works: tuple[BlockWork, ...]
    facts: tuple[Fact, ...]
    findings: tuple[Finding, ...]

    @property
    def sound(self) -> bool:
        """Whether it can be released."""
        return worst(self.findings) != "error"


def work_told(
    project: Project,
    *,
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    stop: Stop | None = None,
) -> ToldWork:
    """Everything that the pattern of a project tells, as it is now."""
    memory = memory or Memory()
    programme = None
    top: Top | None = None
    if project.programme is not None:
        programme = work_programme(project, memory=memory, progress=progress, stop=stop)
        works, top, cloth = programme.works, programme.top, programme.cloth
        findings = programme.findings
    elif project.setting is not None:
        made = work_top(project, until="proof", memory=memory, progress=progress, stop=stop)
        works, top = made.blocks, made.top
        cloth = lay_cloth(project, works, top=top, memory=memory, stop=stop)
        findings = (*made.findings, *(f for w in works for f in w.findings), *cloth.findings)
    else:
        works = work_project(project, memory=memory, progress=progress, stop=stop).blocks
        cloth = lay_cloth(project, works, memory=memory, stop=stop)
        findings = (*(f for w in works for f in w.findings), *cloth.findings)
    facts = list(source_facts(project))
    for work in works:
        told = (
            None if progress is None else functools.partial(progress, work.source.path, len(works))
        )
        pressed = press_block(work, memory=memory, progress=told, stop=stop)
        runs = () if pressed.pressed is None else pressed.pressed.runs
        if work.block is not None and work.piecing is not None and work.cutting is not None:
            facts += block_facts(work.block, work.piecing, work.cutting, runs, work.measure)
    facts += _rest(project, top, cloth, programme)
    facts += _printed(project, memory, stop)
    return ToldWork(project, tuple(works), tuple(facts), tuple(findings))


def _printed(project: Project, memory: Memory, stop: Stop | None) -> Iterator[Fact]:
    """Every line of the booklet by its place there, if there is one."""
    from seamproof.booklet.book import book
    from seamproof.booklet.reading import lines_of

    made = work_booklet(project, memory=memory, stop=stop)
    if made.matter is None:
        return
    found: dict[tuple[str, str], str] = {}
    for line in lines_of(book(made.matter)):
        place = line.place
        for fabric in made.matter.fabrics:  # a new name of a cloth moves no line
            place = place.replace(f", {fabric.name}: ", ": ")
        key = (f"{BOOKLET}{line.section}", place)
        found[key] = f"{found[key]}\n{line.text}" if key in found else line.text
    for (about, what), says in found.items():
        yield Fact(about, what, says)


def _rest(
    project: Project, top: Top | None, cloth: ClothWork, programme: ProgrammeWork | None
) -> Iterator[Fact]:
    measure = project.preferences.measure
    if top is not None:
        yield from top_facts(top, measure)
    amounts = [
        (one.fabric.letter, one.purchase.bare, cloth.buying.told(one.purchase.buy))
        for one in cloth.fabrics
        if one.purchase is not None
    ]
    yield from cloth_facts(amounts, measure)
    if programme is not None:
        holds = [listed(programme, n) for n in range(1, len(programme.asked.releases) + 1)]
        pieces = {
            name: f"{kind.shape} {size_of(kind, measure)}"
            for one in cloth.fabrics
            for name, kind in one.kinds.items()
        }
        yield from programme_facts(holds, programme.entries, programme.needs, pieces, measure)
