"""The questions about versions: freezing one, and what differs between two."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from pathlib import Path

from seamproof.answers.model import noted
from seamproof.answers.versions import (
    BuyLine,
    EditionLine,
    ExtraLine,
    RedlineAnswer,
    ReleaseAnswer,
    change_lines,
    changes_csv,
)
from seamproof.cloth.buying import METRE, YARD
from seamproof.errors import InputError, Place
from seamproof.findings import worst
from seamproof.length.notation import mixed, parse
from seamproof.pipeline.editions import edition_notes, work_editions
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import ProjectProgress, Stop
from seamproof.pipeline.versions import work_told
from seamproof.programme.testing import open_points
from seamproof.programme.versions import Change, Version, differences
from seamproof.project.model import Project
from seamproof.project.reading import no_blocks, read_project
from seamproof.project.releases import freeze, read_version, versions
from seamproof.project.saving import save_bytes, save_text
from seamproof.project.testers import read_forms, read_testers


def release(
    folder: Path | str,
    *,
    version: str | None = None,
    dated: str = "",
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    stop: Stop | None = None,
) -> ReleaseAnswer:
    """Freeze a `version` of the quilt in a folder, unless something keeps it: an error, or a point
    of a tester that is not settled. Without `version` only what there is to say.

    Raises InputError for what cannot be used, and SaveError if a file cannot be written.
    """
    memory, project = memory or Memory(), _project(folder)
    assert project.folder is not None
    told = work_told(project, memory=memory, progress=progress, stop=stop)
    forms, unread = read_forms(project.folder)
    points = tuple(open_points(forms))
    editions = work_editions(project, forms, memory=memory, stop=stop)
    findings = [*told.findings, *unread, *points]
    findings += [note for note in edition_notes(editions) if note not in findings]
    files: tuple[Path, ...] = ()
    if version is not None and worst(findings) != "error":
        files = freeze(project, version, told.facts, dated)
    return ReleaseAnswer(
        findings=noted(findings),
        name=project.name,
        version=version if files else None,
        versions=versions(project.folder),
        facts=len(told.facts),
        invited=invited(project),
        forms=len({row.where.file for row in forms}),
        answered=sum(row.answered for row in forms),
        open_points=len(points),
        editions=tuple(
            EditionLine(
                size=one.size,
                colourway=one.colourway,
                finished_in=None
                if one.finished is None
                else (float(one.finished[0]), float(one.finished[1])),
                buys=tuple(BuyLine(*buy) for buy in one.buys),
                sewn=one.sewn,
                says=one.says,
            )
            for one in editions
        ),
        files=tuple(map(str, files)),
    )


def redline(
    folder: Path | str,
    old: str,
    new: str | None = None,
    *,
    output: Path | str | None = None,
    errata: Path | str | None = None,
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    stop: Stop | None = None,
) -> RedlineAnswer:
    """What differs between two frozen versions of the quilt in a folder; `new` None is the quilt as
    it is now.

    The list is written to `output` as CSV, the notice for those who have the old version to
    `errata` as a PDF. Raises InputError for what cannot be used, and SaveError if a file cannot be
    written.
    """
    project = _project(folder)
    assert project.folder is not None
    before = read_version(project.folder, old)
    if new is None:
        told = work_told(project, memory=memory, progress=progress, stop=stop)
        after = Version("", told.facts)
    else:
        after = read_version(project.folder, new)
    changes = differences(before.facts, after.facts)
    lines, extra = change_lines(changes), tuple(extra_cloth(changes))
    files = []
    if output is not None:
        save_text(output, changes_csv(lines))
        files.append(str(output))
    if errata is not None:
        from seamproof.booklet.errata import errata_notice
        from seamproof.booklet.plain_pages import composed

        notice = errata_notice(
            project.name, old, new, changes, [(e.fabric, e.more) for e in extra if e.more]
        )
        save_bytes(errata, composed(notice, project.preferences.sheet))
        files.append(str(errata))
    return RedlineAnswer(
        name=project.name, old=old, new=new, changes=lines, extra=extra, files=tuple(files)
    )


def invited(project: Project) -> int:
    """How many forms go out: one for every tester and release that has blocks."""
    assert project.folder is not None
    if project.programme is None:
        return 0
    releases = sum(1 for release in project.programme.releases if release.blocks)
    return len(read_testers(project.folder)) * releases


def _project(folder: Path | str) -> Project:
    path = Path(folder)
    if not path.is_dir():
        raise InputError(
            "this is not a folder" if path.exists() else "there is no such folder",
            mend="give the folder of a quilt",
            place=Place(str(path)),
        )
    project = read_project(path)
    if not project.blocks:
        raise no_blocks(project)
    return project


_FABRIC = re.compile("fabric ([A-Z]{1,2})|the (backing|binding)")


def extra_cloth(changes: Iterable[Change]) -> Iterable[ExtraLine]:
    """The fabrics of which another amount is bought, and how much more that is; "" if less."""
    for change in changes:
        found = _FABRIC.fullmatch(change.about)
        if found is None or change.what != "buy" or change.written:
            continue
        more = _amount(change.new) - _amount(change.old)
        yield ExtraLine((found[1] or found[2]).lower(), change.old, change.new, _said(more, change))


def _amount(told: str | None) -> Fraction:
    """An amount as a shop says it, in inches."""
    if not told:
        return Fraction(0)
    number, _, unit = told.rpartition(" ")
    return parse(number) * (YARD if unit == "yd" else METRE)


def _said(more: Fraction, change: Change) -> str:
    if more <= 0:
        return ""
    if (change.new or "").endswith("yd"):
        return f"{mixed(more / YARD)} yd"
    return f"{float(more / METRE):g} m"
