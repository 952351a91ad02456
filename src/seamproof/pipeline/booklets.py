"""The booklet of a project, made from the results of all stages and remembered like any of them."""

from __future__ import annotations

import functools
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from pydantic import Base64Bytes

from seamproof.booklet.matter import BlockMatter, ClothMatter, Matter, Release, Year
from seamproof.booklet.model import Edition
from seamproof.booklet.notes import OF_THE_FILE
from seamproof.booklet.tables import Rows
from seamproof.cloth.tops import LOOSE
from seamproof.errors import Stopped
from seamproof.findings import Finding, Where, worst
from seamproof.pipeline.laying import ClothProgress, ClothWork, lay_cloth
from seamproof.pipeline.memory import Memory, Stage
from seamproof.pipeline.model import BlockWork, ProjectProgress, Stop
from seamproof.pipeline.own_words import with_own_words
from seamproof.pipeline.pressing import PressedWork, press_block
from seamproof.pipeline.programme import held, in_layout, parted, releases_of
from seamproof.pipeline.redrafting import in_centimetres, reader_of
from seamproof.pipeline.second_pair import second_pair
from seamproof.pipeline.setting import work_top
from seamproof.pipeline.top_matter import sewn_top
from seamproof.pipeline.working import PIECING, nameless, work_block
from seamproof.programme.calendar import days_of
from seamproof.programme.course import course_of, lesson
from seamproof.programme.faults import release_faults
from seamproof.project.model import Project, Source, fabrics_for
from seamproof.project.quilt_file import slug
from seamproof.project.reading import read_block
from seamproof.project.words_file import OwnWords, read_words

_Told = tuple[Matter, str | None, Edition]

PATTERN: Stage[_Told, bytes] = Stage(
    "pattern", takes=_Told, gives=Base64Bytes, stands_on=("typst", "shapely", "numpy")
)
PAGE: Stage[_Told, str] = Stage(
    "pattern-page", takes=_Told, gives=str, stands_on=("shapely", "numpy")
)

CHECKED: Stage[_Told, tuple[Finding, ...]] = Stage(
    "pattern-check", takes=_Told, gives=tuple[Finding, ...], stands_on=("shapely", "numpy")
)
TABLES: Stage[_Told, dict[str, Rows]] = Stage(
    "pattern-tables", takes=_Told, gives=dict[str, Rows], stands_on=("shapely", "numpy")
)

PICTURES: Stage[_Told, dict[str, str]] = Stage(
    "pattern-pictures", takes=_Told, gives=dict[str, str], stands_on=("shapely", "numpy")
)
LESSON: Stage[tuple[Matter, Edition], tuple[bytes, str]] = Stage(
    "lesson",
    takes=tuple[Matter, Edition],
    gives=tuple[Base64Bytes, str],
    stands_on=("typst", "shapely", "numpy"),
)


@dataclass(frozen=True, slots=True)
class BookletWork:
    """What a booklet is made from, or why there is none: then `matter` is None and a finding is of
    severity error. `blocks` were worked out, `findings` are everything there is to say."""

    project: Project
    matter: Matter | None
    blocks: tuple[BlockWork, ...]
    findings: tuple[Finding, ...]


def work_booklet(
    project: Project,
    *,
    metric: bool = False,
    lessons: bool = False,
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    laying: ClothProgress | None = None,
    stop: Stop | None = None,
) -> BookletWork:
    """Every stage of a project: its blocks, as many as its top needs, how they are pressed, the
    top, and the cloth for all of it; drafted anew in centimetres if it shall be `metric`. With
    `lessons` what their sheets need besides is worked out too.

    Blocks that a memory on disk does not know yet are worked out by two processes.

    Raises Stopped if `stop` says so.
    """
    memory = memory or Memory()
    read: Callable[[Path], Source] = read_block
    if metric:
        project = in_centimetres(project)
        read = reader_of(project)
    setting = None
    if project.setting is not None:
        setting = work_top(project, read=read, memory=memory, stop=stop)
    top = None if setting is None else setting.top
    counts = None if top is None else Counter(block.name for block in top.blocks)
    works: list[BlockWork] = []
    pressed: list[BlockMatter | None] = []
    drawn = [read(path) for path in project.blocks]
    sources = [source for source in drawn if _used(source, counts)]
    unknown: list[Path] = []
    if memory.folder is not None:
        drafted = {w.source.path: w for w in (() if setting is None else setting.blocks)}
        drafts = (drafted.get(s.path) or work_block(s, until="draft") for s in sources)
        unknown = [draft.source.path for draft in drafts if not _known(draft, memory)]
    copies = {s.path: None if counts is None else counts[s.drawing.name] for s in sources}
    with second_pair(project, unknown, copies, memory, metric=metric, usual=lessons) as turn:
        for source in sources:
            path = source.path
            told = None
            if progress is not None:
                told = functools.partial(progress, path, len(project.blocks))
            turn(path)
            work = work_block(source, copies=copies[path], memory=memory, progress=told, stop=stop)
            found = press_block(work, memory=memory, progress=told, stop=stop)
            if lessons:
                press_block(work, name="usual", memory=memory, stop=stop)
            works.append(replace(work, findings=found.findings))
            pressed.append(_block(found))
    findings = [finding for work in works for finding in work.findings]
    if setting is not None:
        findings += [f for f in setting.findings if f not in findings]
    if any(f.severity == "error" for f in findings) or not works:
        return BookletWork(project, None, tuple(works), tuple(findings))
    cloth = lay_cloth(project, works, top=top, memory=memory, progress=laying, stop=stop)
    findings += cloth.findings
    in_blocks = {fabric.letter for work in works for fabric in work.fabrics}
    used = in_blocks | {one.fabric.letter for one in cloth.fabrics} - {*LOOSE}
    fabrics, _ = fabrics_for(used, project)
    year, said = _year(project, [s.drawing.name for s in drawn], works, cloth)
    findings += said
    if worst(said) == "error":
        return BookletWork(project, None, tuple(works), tuple(findings))
    matter = Matter(
        name=project.name or works[0].drawing.name,
        measure=project.preferences.measure,
        fabrics=fabrics,
        settings=project.cutting(),
        buying=project.preferences.buying,
        blocks=tuple(block for block in pressed if block is not None),
        cloths=tuple(
            ClothMatter(one.fabric, one.pool, one.cloth, one.laid, one.purchase)
            for one in cloth.fabrics
        ),
        top=top,
        year=year,
    )
    if setting is not None and top is not None:
        own = replace(setting, blocks=tuple(works))
        matter = replace(matter, sewn=sewn_top(own, matter.blocks, memory=memory, stop=stop))
    matter, said = with_own_words(matter, _words(project))
    findings += said
    if any(f.severity == "error" for f in said):
        return BookletWork(project, None, tuple(works), tuple(findings))
    return BookletWork(project, matter, tuple(works), tuple(findings))


def _year(
    project: Project, drawn: Sequence[str], works: Sequence[BlockWork], cloth: ClothWork
) -> tuple[Year | None, tuple[Finding, ...]]:
    """The quilt release by release, and what is wrong with its programme; None without one. A block
    may go out that is `drawn` but does not lie in the top; nothing is worked out of it here."""
    asked = project.programme
    if asked is None:
        return None, ()
    said = tuple(release_faults(asked, drawn, in_layout(project)))
    if worst(said) == "error":
        return None, said
    release_of = releases_of(asked, cloth)
    lessons = [
        lesson(work.drawing.name, work.piecing, work.cutting)
        for work in works
        if work.piecing is not None and work.cutting is not None
    ]
    releases = tuple(
        Release(day, release.blocks, held(asked, release_of, n), term.new)
        for n, (day, release, term) in enumerate(
            zip(days_of(asked), asked.releases, course_of(asked, lessons), strict=True), start=1
        )
    )
    return Year(releases, parted(asked, cloth, release_of)), said


def _used(source: Source, counts: Counter[str] | None) -> bool:
    return counts is None or counts[source.drawing.name] > 0


def _known(draft: BlockWork, memory: Memory) -> bool:
    """Whether the first stage of a block is remembered; one that cannot be drawn needs none."""
    block = draft.block
    return block is None or memory.knows(PIECING, (nameless(block, Where())[0],))


def _words(project: Project) -> OwnWords:
    return OwnWords() if project.folder is None else read_words(project.folder)


def _block(found: PressedWork) -> BlockMatter | None:
    work = found.work
    if work.block is None or work.piecing is None or work.cutting is None:
        return None
    fixings = tuple(replace(fixing, where=Where()) for fixing in work.block.fixings)
    return BlockMatter(
        slug=slug(work.drawing.name),
        block=replace(work.block, fixings=fixings),
        fabrics=work.fabrics,
        piecing=work.piecing,
        cutting=work.cutting,
        settings=work.settings,
        pressed=found.pressed,
        pressing=found.settings,
        findings=tuple(
            replace(f, where=Where()) for f in found.findings if f.code not in OF_THE_FILE
        ),
        copies=work.copies,
    )


def print_pattern(
    matter: Matter,
    edition: Edition,
    *,
    only: str | None = None,
    memory: Memory | None = None,
    stop: Stop | None = None,
) -> bytes:
    """The pattern as a PDF; of the block named `only` alone, if one is.

    Raises Stopped if `stop` says so, and ValueError if there is no such block.
    """
    _ask(stop)

    def made() -> bytes:
        from seamproof.booklet.book import book
        from seamproof.booklet.printing import print_booklet

        return print_booklet(book(matter, only, left=edition.left), edition)

    return (memory or Memory()).recall(PATTERN, (matter, only, edition), made)


def page_of_pattern(
    matter: Matter,
    edition: Edition,
    *,
    only: str | None = None,
    memory: Memory | None = None,
    stop: Stop | None = None,
) -> str:
    """The same as one HTML page that holds everything it shows.

    Raises Stopped if `stop` says so, and ValueError if there is no such block.
    """
    _ask(stop)

    def made() -> str:
        from seamproof.booklet.book import book
        from seamproof.booklet.html import write_page

        return write_page(book(matter, only, left=edition.left), edition)

    return (memory or Memory()).recall(PAGE, (matter, only, edition), made)


def check_pattern(
    matter: Matter, edition: Edition, *, only: str | None = None, memory: Memory | None = None
) -> tuple[Finding, ...]:
    """What is wrong with the pattern as it would be printed; nothing if all is well."""

    def made() -> tuple[Finding, ...]:
        from seamproof.booklet.book import book
        from seamproof.booklet.checks import check

        return check(book(matter, only, left=edition.left), edition)

    return (memory or Memory()).recall(CHECKED, (matter, only, edition), made)


def tables_of_pattern(
    matter: Matter, edition: Edition, *, only: str | None = None, memory: Memory | None = None
) -> dict[str, Rows]:
    """Every table of the pattern by its name."""

    def made() -> dict[str, Rows]:
        from seamproof.booklet.book import book
        from seamproof.booklet.tables import tables_of

        return tables_of(book(matter, only, left=edition.left))

    return (memory or Memory()).recall(TABLES, (matter, only, edition), made)


def pictures_of_pattern(
    matter: Matter, edition: Edition, *, only: str | None = None, memory: Memory | None = None
) -> dict[str, str]:
    """The pictures of the pattern by themselves, as SVG by name."""

    def made() -> dict[str, str]:
        from seamproof.booklet.book import book
        from seamproof.booklet.pictures import pictures_of

        return pictures_of(book(matter, only, left=edition.left))

    return (memory or Memory()).recall(PICTURES, (matter, only, edition), made)


def print_lesson(
    matter: Matter,
    work: BlockWork,
    edition: Edition,
    *,
    memory: Memory | None = None,
    stop: Stop | None = None,
) -> tuple[bytes, str]:
    """The lesson sheet of a worked-out block of the matter as a PDF, and the chapters of a film of
    it as WebVTT.

    Raises Stopped if `stop` says so.
    """
    memory = memory or Memory()
    usual = press_block(work, name="usual", memory=memory, stop=stop).pressed
    one = next(one for one in matter.blocks if one.name == work.drawing.name)
    one = replace(one, usual=usual)
    alone = replace(matter, blocks=(one,), cloths=(), top=None, year=None)

    def made() -> tuple[bytes, str]:
        from seamproof.booklet.block_chapters import sheet_of
        from seamproof.booklet.cues import cues
        from seamproof.booklet.lesson import lesson, timed
        from seamproof.booklet.printing import print_booklet

        model = lesson(alone, one)
        return print_booklet(model, edition), cues(timed(alone, one, sheet_of(alone, one)))

    return memory.recall(LESSON, (alone, edition), made)


def _ask(stop: Stop | None) -> None:
    if stop is not None and stop():
        raise Stopped("the booklet was stopped before it was set")
