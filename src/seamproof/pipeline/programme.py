"""The programme of a project: its blocks and its finishing, laid as one and parted by release."""

from __future__ import annotations

import functools
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace

from seamproof.cloth.buying import Buying
from seamproof.findings import Finding, worst
from seamproof.length.notation import Measure
from seamproof.pipeline.cloth_there import ClothWishes
from seamproof.pipeline.laying import ClothProgress, ClothWork, lay_cloth
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork, ProjectProgress, Stop
from seamproof.pipeline.setting import available
from seamproof.pipeline.working import work_block
from seamproof.programme.calendar import entries_of
from seamproof.programme.course import Term, course_faults, course_of, lesson
from seamproof.programme.faults import day_faults, release_faults
from seamproof.programme.model import FINISHING, PART_OF, Asked, Entry, FinishingPart, Need
from seamproof.programme.needs import needs_of
from seamproof.project.model import Project
from seamproof.project.reading import not_said, read_block
from seamproof.setting.model import Top
from seamproof.setting.top import set_top


@dataclass(frozen=True, slots=True)
class ProgrammeWork:
    """All that was worked out for a programme. `works` are the blocks that it releases, each for
    as many copies as the top has; `top` is None without a setting, or if it cannot be set.

    `release_of` says with which release each source of pieces goes out: a block, a kind of piece of
    the top. `cloth` is one whole quilt's, `needs` the same parted by release, all releases of a
    fabric together.
    """

    project: Project
    asked: Asked
    works: tuple[BlockWork, ...]
    top: Top | None
    release_of: dict[str, int]
    cloth: ClothWork
    needs: tuple[Need, ...]
    course: tuple[Term, ...]
    entries: tuple[Entry, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def measure(self) -> Measure:
        """What lengths are written in."""
        return self.project.preferences.measure

    @property
    def buying(self) -> Buying:
        """How cloth is bought."""
        return self.project.preferences.buying

    def holds(self, release: int) -> tuple[str, ...]:
        """What a release holds, blocks first, from 1."""
        return held(self.asked, self.release_of, release)

    def sources(self, release: int | None) -> frozenset[str]:
        """What goes out with a release; None is all of them."""
        return frozenset(s for s, when in self.release_of.items() if release in (None, when))


def work_programme(
    project: Project,
    *,
    quick: bool = False,
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    laying: ClothProgress | None = None,
    stop: Stop | None = None,
) -> ProgrammeWork:
    """The programme that the quilt file of a project describes. `quick` takes the first good lay
    of each cloth and looks for no shorter one.

    Raises InputError if it says nothing of one.
    """
    memory, asked = memory or Memory(), asked_of(project)
    in_top = in_layout(project)
    files = {read_block(path).drawing.name: path for path in project.blocks}
    findings = list(release_faults(asked, files, in_top))
    named = [n for release in asked.releases for n in release.blocks if n in files]
    works = []
    for name in dict.fromkeys(named):
        told = None if progress is None else functools.partial(progress, files[name], len(named))
        copies = None if in_top is None else in_top.get(name)
        source = read_block(files[name])
        works.append(work_block(source, copies=copies, memory=memory, progress=told, stop=stop))
    top = None
    if project.setting is not None and worst(findings) != "error":
        top, said = set_top(
            project.setting,
            map(available, works),
            project.fabrics,
            project.cutting(),
            measure=project.preferences.measure,
        )
        findings += said
    findings += [finding for work in works for finding in work.findings]
    wishes = ClothWishes(quick=quick)
    cloth = lay_cloth(project, works, wishes, top=top, memory=memory, progress=laying, stop=stop)
    release_of = releases_of(asked, cloth)
    needs = parted(asked, cloth, release_of)
    course = course_of(
        asked,
        [
            lesson(work.drawing.name, work.piecing, work.cutting)
            for work in works
            if work.piecing is not None and work.cutting is not None
        ],
    )
    work = ProgrammeWork(project, asked, tuple(works), top, release_of, cloth, needs, course)
    entries = entries_of(asked, [listed(work, n) for n in range(1, len(asked.releases) + 1)])
    findings += [*cloth.findings, *day_faults(asked, entries), *course_faults(asked, course)]
    return replace(work, entries=entries, findings=tuple(findings))


def asked_of(project: Project) -> Asked:
    """What the quilt file says about the programme. Raises InputError if that is nothing."""
    if project.programme is None:
        mend = (
            "say when it goes out: programme: with start: and releases: "
            "(docs/reference/files.md, The programme)"
        )
        raise not_said(project, "programme", mend)
    return project.programme


def in_layout(project: Project) -> dict[str, int] | None:
    """How often each block lies in the top; None without a setting."""
    if project.setting is None:
        return None
    return dict(Counter(c.name for row in project.setting.rows for c in row if not c.plain))


def listed(work: ProgrammeWork, release: int) -> str:
    """What a release holds, as a list in words."""
    return ", ".join(work.holds(release)) or "nothing"


def parted(asked: Asked, cloth: ClothWork, release_of: Mapping[str, int]) -> tuple[Need, ...]:
    """The cloth of one quilt by release, all releases of a fabric together."""
    return tuple(
        need
        for one in cloth.fabrics
        if one.laid is not None
        for need in needs_of(one.pool, one.laid, release_of, len(asked.releases))
    )


def held(asked: Asked, release_of: Mapping[str, int], release: int) -> tuple[str, ...]:
    """What a release holds, blocks first, from 1."""
    blocks = asked.releases[release - 1].blocks
    there = {
        PART_OF.get(source, "setting")
        for source, when in release_of.items()
        if when == release and source not in blocks
    }
    return (*blocks, *(part for part in FINISHING if part in there))


def releases_of(asked: Asked, cloth: ClothWork) -> dict[str, int]:
    """With which release each source goes out; finishing that none names, with the last."""
    found = {name: n for n, r in enumerate(asked.releases, 1) for name in r.blocks}
    given: dict[FinishingPart, int] = {
        part: n for n, r in enumerate(asked.releases, 1) for part in r.parts
    }
    for one in cloth.fabrics:
        for kind in one.pool.kinds:
            for use in kind.uses:
                part = PART_OF.get(use.source, "setting")
                found.setdefault(use.source, given.get(part, len(asked.releases)))
    return found
