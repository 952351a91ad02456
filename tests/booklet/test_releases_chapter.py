"""A quilt that goes out release by release: its calendar, and what is saved is what is taken."""

from __future__ import annotations

import functools
import re
from pathlib import Path
from tempfile import TemporaryDirectory

from seamproof.booklet.book import book, keys
from seamproof.booklet.matter import Matter
from seamproof.booklet.model import BookletModel, Notes
from seamproof.booklet.reading import lines_of
from seamproof.booklet.tables import tables_of
from seamproof.pipeline.booklets import BookletWork, work_booklet
from seamproof.project.reading import read_project
from tests.booklet.quilts import QUILT, matter, write_quilt

YEAR = """\
programme:
  start: "2027-01-09"
  rhythm: second Saturday of the month
  releases:
    - Star
    - Pair
    - {parts: [setting, borders, binding]}
"""
PAIR_LINE = re.compile(r"(Take from|Save for) release (\d)\. (.+?)\.?$")


def worked(programme: str) -> BookletWork:
    with TemporaryDirectory() as folder:
        place = write_quilt(Path(folder), quilt=QUILT + programme)
        return work_booklet(read_project(place))


@functools.cache
def by_release() -> Matter:
    made = worked(YEAR).matter
    assert made is not None
    return made


@functools.cache
def model() -> BookletModel:
    return book(by_release())


def lines(key: str) -> list[str]:
    return [line.text for line in lines_of(model()) if line.section == key]


def places(key: str) -> set[str]:
    """The titles of what is told of releases in a section."""
    (section,) = [s for s in model().sections if s.key == key]
    return {part.title for part in section.parts if isinstance(part, Notes)}


def test_the_calendar_says_day_and_blocks_of_every_release() -> None:
    heads, *rows = tables_of(model())["calendar"]
    assert heads[:3] == ("Release", "Day", "What it holds")
    assert [row[:3] for row in rows] == [
        ("1", "9 January 2027", "Star"),
        ("2", "13 February 2027", "Pair"),
        ("3", "13 March 2027", "setting, borders, binding and backing"),
    ]
    assert "half-square triangles" in rows[0][3]
    assert "half-square triangles" not in rows[1][3]


def test_every_piece_that_is_saved_is_told_once() -> None:
    year = by_release().year
    assert year is not None
    told = sum(
        int(count)
        for row in tables_of(model())["saved"][1:]
        for count in re.findall(r"(\d+) [a-z]+ [a-z]", row[2])
    )
    assert told == sum(one.count for need in year.needs for one in need.save) > 0


def test_what_one_block_saves_another_takes() -> None:
    saved = {m[2]: m[3] for text in lines("block:star") if (m := PAIR_LINE.match(text))}
    taken = {m[2]: m[3] for text in lines("block:pair") if (m := PAIR_LINE.match(text))}
    assert saved["2"] == taken["1"]
    table = {row[:2]: row[2] for row in tables_of(model())["saved"]}
    assert table["1", "2"] == saved["2"]
    assert "Release 1, 9 January 2027" in places("block:star")


def test_a_quilt_that_goes_out_at_once_has_none_of_it() -> None:
    assert not {"calendar", "saving"} & {*keys(book(matter()))}
    assert not any("release" in line.text.casefold() for line in lines_of(book(matter())))


def test_a_block_alone_says_its_release_and_has_no_calendar() -> None:
    alone = book(by_release(), "Pair")
    assert "calendar" not in keys(alone)
    assert any("release 1" in line.text for line in lines_of(alone))


def test_a_programme_that_is_wrong_is_said_and_nothing_is_printed() -> None:
    found = worked(YEAR.replace("- Pair", "- Nowhere"))
    assert found.matter is None
    assert any(f.severity == "error" and "Nowhere" in f.what for f in found.findings)
