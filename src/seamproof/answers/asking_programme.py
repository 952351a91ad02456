"""The question of the programme: from a quilt's folder to what goes out when."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from seamproof.answers.programme import (
    CalendarFile,
    ProgrammeAnswer,
    kinds_of,
    needs_csv,
    orders_csv,
    programme_answer,
    saved_csv,
)
from seamproof.answers.spreadsheets import csv_text
from seamproof.errors import InputError, Place
from seamproof.findings import worst
from seamproof.pipeline.forms import form_rows
from seamproof.pipeline.kits import lengths_alone, orders_of, reserved
from seamproof.pipeline.laying import ClothProgress
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import ProjectProgress, Stop
from seamproof.pipeline.programme import ProgrammeWork, work_programme
from seamproof.programme.calendar import days_of
from seamproof.programme.course import gentlest
from seamproof.programme.testing import COLUMNS, FormRow
from seamproof.project.quilt_file import slug
from seamproof.project.reading import read_project
from seamproof.project.releases import versions
from seamproof.project.saving import make_folder, save_bytes, save_text
from seamproof.project.testers import FIELDS, Invited, read_testers

PAGES = "releases.pdf"
CALENDAR = "programme.ics"
"""What the calendar is called in the folder that it is written to."""


def programme(
    folder: Path | str,
    *,
    output: Path | str | None = None,
    forms: Path | str | None = None,
    contacts: bool = False,
    memory: Memory | None = None,
    progress: ProjectProgress | None = None,
    laying: ClothProgress | None = None,
    stop: Stop | None = None,
) -> ProgrammeAnswer:
    """What goes out when for the quilt in a folder, and what each release takes.

    With `output` the calendar, three lists and a page for each release are written to that folder;
    a calendar that is there is brought up to date. With `forms` a form for every tester and release
    is written there, keyed to the steps of the sheets, and a list of invitations; `contacts` puts
    into it how to reach them, which stands nowhere else. Raises InputError for what cannot be used,
    and SaveError if a file cannot be written.
    """
    memory, path = memory or Memory(), Path(folder)
    project = read_project(path if path.is_dir() else path.parent) if path.exists() else None
    if project is None or not path.is_dir():
        raise InputError(
            "this is not a folder", mend="give the folder of a quilt", place=Place(str(path))
        )
    work = work_programme(project, memory=memory, progress=progress, laying=laying, stop=stop)
    usable = worst(work.findings) != "error"
    orders = orders_of(work, memory=memory, stop=stop) if usable else {}
    if usable:
        work = replace(work, findings=(*work.findings, *reserved(work, orders)))
    gentle = gentlest(lesson for term in work.course for lesson in term.lessons)
    alone = lengths_alone(work, memory=memory, stop=stop)
    answer = programme_answer(work, orders, gentle, alone)
    if forms is not None and usable:
        answer = replace(answer, forms=tuple(_forms(work, Path(forms), memory, contacts)))
    if output is None:
        return answer
    place = Path(output)
    make_folder(place)
    files = []
    for name, text in (
        ("needs.csv", needs_csv(answer)),
        ("pieces-to-save.csv", saved_csv(answer)),
        ("orders.csv", orders_csv(answer)),
    ):
        save_text(place / name, text)
        files.append(str(place / name))
    save_bytes(place / PAGES, _pages(work))
    files.append(str(place / PAGES))
    return replace(answer, calendar=_calendar(work, place / CALENDAR), files=tuple(files))


def _pages(work: ProgrammeWork) -> bytes:
    from seamproof.booklet.plain_pages import composed
    from seamproof.booklet.release_pages import release_document

    count = range(1, len(work.asked.releases) + 1)
    document = release_document(
        work.project.name,
        [str(day) for day in days_of(work.asked)],
        [work.holds(n) for n in count],
        work.course,
        work.needs,
        kinds_of(work),
        work.measure,
    )
    return composed(document, work.project.preferences.sheet)


def _calendar(work: ProgrammeWork, file: Path) -> CalendarFile:
    from seamproof.programme.ical import updated

    asked = work.asked
    try:
        old = file.read_bytes() if file.exists() else b""
        made = updated(
            work.entries, name=work.project.name, start=asked.start, zone=asked.zone, old=old
        )
    except InputError as problem:
        raise problem.located(Place(str(file))) from None
    except OSError as problem:
        raise InputError(
            "the calendar that is there cannot be read",
            mend="move it away, or write to another folder",
            place=Place(str(file)),
        ) from problem
    save_bytes(file, made.text)
    return CalendarFile(str(file), made.new, made.changed, made.cancelled, made.kept)


INVITATIONS = "invitations.csv"


def _forms(work: ProgrammeWork, place: Path, memory: Memory, contacts: bool) -> Iterator[str]:
    """Write the forms and the invitations; the files that were written."""
    assert work.project.folder is not None
    make_folder(place)
    testers = read_testers(work.project.folder) or (Invited(""),)
    frozen = versions(work.project.folder)
    version = frozen[-1] if frozen else ""
    steps = {one.drawing.name: tuple(form_rows(one, memory=memory)) for one in work.works}
    tests = {entry.release: entry for entry in work.entries if entry.step == "test"}
    taken: set[str] = set()
    rows = [("tester", *(("contact",) if contacts else ()), *_COLUMNS_OF_INVITATIONS)]
    for number, release in enumerate(work.asked.releases, start=1):
        if not any(steps.get(block) for block in release.blocks):
            continue
        for tester in testers:
            who = f"-{slug(tester.name)}" if tester.name else ""
            name = _unlike(f"release-{number:02d}{who}", taken)
            form = [
                replace(
                    row,
                    version=version,
                    tester=tester.name,
                    size=tester.size,
                    colourway=tester.colourway,
                )
                for block in release.blocks
                for row in steps.get(block, ())
            ]
            save_text(place / name, form_csv(form))
            yield str(place / name)
            reach = (tester.contact,) if contacts else ()
            span = (str(tests[number].begins), str(tests[number].ends))
            held = ", ".join(release.blocks)
            edition = (tester.size, tester.colourway)
            rows.append((tester.name, *reach, str(number), held, *edition, *span, name))
    save_text(place / INVITATIONS, csv_text(rows))
    yield str(place / INVITATIONS)


def form_csv(rows: Iterable[FormRow]) -> str:
    """Rows as a form.

    >>> form_csv([FormRow(block="Star", step="1")]).splitlines()[1]
    ',,,,Star,1,,,,,,,'
    """
    return csv_text(
        [COLUMNS, *([getattr(row, FIELDS.get(key, key)) for key in COLUMNS] for row in rows)]
    )


def _unlike(name: str, taken: set[str]) -> str:
    """A name for a form that no other has: two testers may be called alike."""
    tried = (f"{name}-{n}.csv" if n > 1 else f"{name}.csv" for n in itertools.count(1))
    found = next(one for one in tried if one not in taken)
    taken.add(found)
    return found


_COLUMNS_OF_INVITATIONS = ("release", "blocks", "size", "colourway", "from", "due", "form")
