"""The questions about a maker: what her strips, units and blocks say, why a block came out wrong,
and how her test copies compare with the forecast."""

from __future__ import annotations

import functools
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from seamproof.accuracy.across import across, trimmed_parts
from seamproof.accuracy.checks import COPY_OF_NOTHING, PROFILE_KEPT, PROFILE_RENEWED
from seamproof.accuracy.copies import Beside, beside, copy_findings
from seamproof.accuracy.diagnosis import Sizes, reckon
from seamproof.accuracy.fitting import (
    SewnBlock,
    fit_blocks,
    fit_units,
    measured_maker,
    nearest_preset,
)
from seamproof.accuracy.model import Forecast, Maker
from seamproof.accuracy.seam_words import thousandths
from seamproof.accuracy.spare_cloth import SewnUnits, next_units
from seamproof.accuracy.strip_test import SeamFit, StripSet, fit_strips
from seamproof.accuracy.student_help import diagnose as explain
from seamproof.answers.copying import CopiesAnswer, copies_answer
from seamproof.answers.diagnosing import DiagnoseAnswer, diagnose_answer
from seamproof.answers.measuring import MeasureAnswer, Measured, measure_answer
from seamproof.answers.model import noted
from seamproof.errors import InputError, Place
from seamproof.findings import Finding, Where
from seamproof.length.notation import Measure, with_unit
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork, Progress, ProjectProgress, Stop
from seamproof.pipeline.pressing import press_block
from seamproof.pipeline.rehearsing import forecast_block
from seamproof.pipeline.working import work_block
from seamproof.pressing.model import PlanName
from seamproof.project.copies_file import COPIES_FILE, read_copies
from seamproof.project.maker_file import (
    Change,
    changes,
    maker_file,
    maker_path,
    maker_text,
    read_maker,
)
from seamproof.project.model import Project
from seamproof.project.quilt_file import slug
from seamproof.project.reading import read_block, read_project
from seamproof.project.saving import make_folder, save_new_text, save_text
from seamproof.project.yaml_tree import read_document

_PLANS: dict[str, PlanName] = {
    "best": "best",
    "usual": "usual",
    "open": "open",
    "spun": "spun",
    "thin": "thin",
    "nested": "nested",
}
"""What the column `pressed` may say so that the forecast is of that variant."""


def measure_strips(
    sets: Sequence[StripSet],
    *,
    planned: Sequence[float] = (),
    quilt: Path | str = ".",
    name: str | None = None,
    replaced: bool = False,
) -> MeasureAnswer:
    """What strip tests say of the maker who sewed them.

    With a `name` her profile is written to the folder of the `quilt`; one that is there is kept
    unless `replaced`. `planned` are the planned widths of strips that were measured, one a set.
    Raises SaveError if it cannot be written.
    """
    project = read_project(quilt)
    fit = fit_strips(sets, seam=float(_seam(project)))
    like = nearest_preset(None if fit.scatter is None else fit.scatter.value)
    maker = measured_maker(name or "", fit, sets=sets, planned=planned, like=like)
    count = f"{len(sets)} strip {'set' if len(sets) == 1 else 'sets'}, {fit.seams} seams"
    return _written("strips", fit, maker, like, count, project, name=name, replaced=replaced)


def measure_units(
    sewn: SewnUnits,
    more: int,
    *,
    quilt: Path | str = ".",
    name: str | None = None,
    replaced: bool = False,
) -> MeasureAnswer:
    """What units, measured before they were trimmed, say: what to cut for the next `more`, and, of
    raw half-square triangles, the seam. `name` and `replaced` as for strips."""
    project = read_project(quilt)
    sewn = replace(sewn, seam=_seam(project))
    asked = next_units(sewn, more, step=project.cutting().step)
    measure = project.preferences.measure
    if not sewn.raw:
        if name is not None:
            raise InputError(
                "overhangs do not tell the seam, so there is no profile to write",
                mend="measure raw sizes, or sew a strip test",
            )
        return measure_answer("units", None, units=(sewn, asked), measure=measure)
    fit = fit_units(sewn)
    like = nearest_preset(None)
    maker = measured_maker(name or "", fit, like=like)
    count = f"{len(sewn.raw)} half-square triangles"
    made = _written("units", fit, maker, like, count, project, name=name, replaced=replaced)
    told = measure_answer("units", fit, units=(sewn, asked), measure=measure)
    return replace(made, next=told.next, says=told.says)


def measure_blocks(
    file: Path | str,
    got: Sequence[tuple[float, float | None]],
    *,
    name: str | None = None,
    replaced: bool = False,
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> MeasureAnswer:
    """What sewn copies of the block in a file say of their maker's seam. `got` are (width, height)
    of each; the height may be None. The profile is written beside the block's quilt."""
    source = read_block(file)
    work = work_block(source, until="cutting", memory=memory, progress=progress, stop=stop)
    if work.piecing is None or work.cutting is None:
        return replace(
            measure_answer("blocks", None, measure=work.measure), findings=noted(work.findings)
        )
    plan, trimmed = work.piecing, trimmed_parts(work.cutting)
    ways = (across(plan, "width", trimmed=trimmed), across(plan, "height", trimmed=trimmed))
    planned = _planned(work)
    blocks = [
        SewnBlock(planned[way] - size, lies.seams, lies.pieces)
        for sizes in got
        for way, (size, lies) in enumerate(zip(sizes, ways, strict=True))
        if size is not None
    ]
    if not any(block.seams for block in blocks):
        raise InputError(
            "no seam lies across this block, so it tells nothing about one",
            mend="sew a strip test",
            place=Place(str(file)),
        )
    fit = fit_blocks(blocks)
    like = nearest_preset(None)
    maker = measured_maker(name or "", fit, like=like)
    count = f"{len(got)} {'copy' if len(got) == 1 else 'copies'} of {work.drawing.name}"
    project = source.project
    if project.folder is None:
        project = replace(project, folder=Path(file).parent)
    return _written("blocks", fit, maker, like, count, project, name=name, replaced=replaced)


def diagnose(
    file: Path | str,
    sizes: Sizes,
    *,
    maker: str | None = None,
    memory: Memory | None = None,
    progress: Progress | None = None,
    stop: Stop | None = None,
) -> DiagnoseAnswer:
    """Why a sewn copy of the block in a file came out as it did.

    If `maker` names a measured profile, her seam is known. Raises InputError for a unit or a piece
    that the block does not have.
    """
    source = read_block(file)
    folder = source.project.folder or Path(file).parent
    profile = None if maker is None else read_maker(folder, maker)
    work = work_block(source, until="cutting", memory=memory, progress=progress, stop=stop)
    if work.piecing is None or work.cutting is None:
        return diagnose_answer(work, None)
    seam = work.settings.seam
    _believable(work, sizes, file)
    try:
        reckoned = reckon(work.piecing, work.cutting, sizes, seam=float(seam), maker=profile)
        told = explain(
            work.piecing, work.cutting, sizes, seam=seam, measure=work.measure, maker=profile
        )
    except ValueError as problem:
        units = sorted({unit.kind for unit in work.piecing.units})
        letters = ", ".join(piece.letter for piece in work.cutting.pieces)
        raise InputError(
            str(problem),
            mend=f"its units are {', '.join(units)}; its pieces {letters}",
            place=Place(str(file)),
        ) from None
    return diagnose_answer(work, (reckoned, told))


NO_SUCH_BLOCK = 1 / 3
"""A block that is off by more than this share of its size is another one, or measured in another
unit."""


def _believable(work: BlockWork, sizes: Sizes, file: Path | str) -> None:
    for planned, got in zip(_planned(work), (sizes.width, sizes.height), strict=True):
        if got is not None and abs(got - planned) > planned * NO_SUCH_BLOCK:
            of, shown = (with_unit(_thousandth(v), work.measure) for v in (got, planned))
            raise InputError(
                f"{of} is no size of this block: {shown} are planned from raw edge to raw edge",
                mend="check the number and its unit, and which block it is",
                place=Place(str(file)),
            )


def _thousandth(value: float) -> Fraction:
    return Fraction(value).limit_denominator(1000)


def compare_copies(
    folder: Path | str,
    *,
    maker: str | None = None,
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    stop: Stop | None = None,
) -> CopiesAnswer:
    """The sewn test copies logged in the folder of a quilt, each beside the forecast of its block
    in the hands of `maker`, else of the one that the project names."""
    project = read_project(folder)
    profile = read_maker(folder, maker or project.preferences.maker)
    memory = memory or Memory()
    path = Path(folder) / COPIES_FILE
    measure = project.preferences.measure
    copies, findings = read_copies(path, measure)
    works: dict[str, BlockWork] = {}
    for file in project.blocks:
        told = None if progress is None else functools.partial(progress, file, len(project.blocks))
        source = read_block(file)
        if any(slug(copy.block) in (slug(source.drawing.name), file.stem) for copy in copies):
            work = work_block(source, until="cutting", memory=memory, progress=told, stop=stop)
            works[slug(source.drawing.name)] = works[file.stem] = work
    forecasts: dict[tuple[str, str], Forecast | None] = {}
    shown: list[Beside] = []
    for copy in copies:
        found = works.get(slug(copy.block))
        if found is None or found.piecing is None:
            findings += (_of_nothing(copy.block, copy.where, found, project),)
            continue
        key = (found.drawing.name, _PLANS.get(copy.pressed, "best"))
        if key not in forecasts:
            forecasts[key] = _forecast(found, profile, _PLANS.get(copy.pressed, "best"), memory)
        shown.append(beside(copy, _planned(found)[0], forecasts[key]))
    findings += copy_findings(shown, measure)
    findings = tuple(sorted(findings, key=lambda one: one.where.line or 0))
    return copies_answer(
        str(path),
        profile,
        tuple(shown),
        measure=measure,
        findings=noted(findings),
        lines=_lines(path),
    )


def _lines(path: Path) -> tuple[str, ...]:
    return tuple(path.read_text(encoding="utf-8-sig").splitlines())


def _forecast(work: BlockWork, maker: Maker, plan: PlanName, memory: Memory) -> Forecast | None:
    pressed = press_block(work, name=plan, memory=memory).pressed
    return forecast_block(work, maker, None if pressed is None else pressed.plan)


def _of_nothing(name: str, where: Where, work: BlockWork | None, project: Project) -> Finding:
    if work is not None:
        what = f"{work.drawing.name} cannot be worked out, so its copies are compared with nothing"
        return COPY_OF_NOTHING.found(
            what, mend="see seamproof proof for what it lacks", where=where
        )
    there = ", ".join(path.stem for path in project.blocks)
    return COPY_OF_NOTHING.found(
        f"the quilt has no block {name}", mend=f"it has {there or 'none'}", where=where
    )


def _planned(work: BlockWork) -> tuple[float, float]:
    width, height = work.drawing.finished
    return float(width + 2 * work.settings.seam), float(height + 2 * work.settings.seam)


def _seam(project: Project) -> Fraction:
    return project.cutting().seam


def _written(
    measured: Measured,
    fit: SeamFit,
    maker: Maker,
    like: Maker,
    count: str,
    project: Project,
    *,
    name: str | None,
    replaced: bool,
) -> MeasureAnswer:
    measure = project.preferences.measure
    if name is None:
        return measure_answer(measured, fit, measure=measure)
    path = maker_path(project.folder or Path(), name)
    findings: tuple[Finding, ...] = ()
    told = f"seamproof measure, {count}"
    written: str | None = str(path)
    if not path.exists():
        make_folder(path.parent)
        save_new_text(path, maker_text(maker, like.name, told))
    else:
        before = maker_file(read_document(path), path)
        changed = _changed(changes(before, maker, like), measure)
        if replaced:
            save_text(path, maker_text(maker, like.name, told, before))
            kept = "; what you typed goes before it" if before.typed else ""
            findings = (
                PROFILE_RENEWED.found(
                    f"{changed}{kept}",
                    mend="the rest of the file is as it was",
                    where=Where(file=str(path)),
                ),
            )
        else:
            written = None
            findings = (
                PROFILE_KEPT.found(
                    f"nothing was written: there is a profile of this name already ({changed})",
                    mend="say --replace to write what was measured now, or choose another --name",
                    where=Where(file=str(path)),
                ),
            )
    return measure_answer(
        measured,
        fit,
        maker=maker,
        like=like.name,
        written=written,
        measure=measure,
        findings=noted(findings),
    )


def _changed(changed: Sequence[Change], measure: Measure) -> str:
    if not changed:
        return "no number changes"
    return ", ".join(
        f"{one.key}: {_amount(one.before, measure)} becomes {_amount(one.after, measure)}"
        for one in changed
    )


def _amount(value: Fraction | None, measure: Measure) -> str:
    if value is None:
        return "nothing"
    return f"{'-' if value < -Fraction(1, 2000) else ''}{thousandths(float(value), measure)}"
