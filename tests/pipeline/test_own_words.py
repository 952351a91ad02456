"""The teacher's own words: live numbers are filled in, and what is wrong is found at its place."""

from __future__ import annotations

from pathlib import Path

import pytest

from seamproof.booklet import checks
from seamproof.booklet.block_chapters import sheet_of
from seamproof.booklet.book import book
from seamproof.booklet.lesson import timed
from seamproof.booklet.reading import lines_of
from seamproof.pipeline.booklets import BookletWork, work_booklet
from seamproof.project.reading import read_project
from tests.booklet.quilts import write_quilt


def made(folder: Path, words: str) -> BookletWork:
    return work_booklet(read_project(write_quilt(folder, words=words)))


def test_live_numbers_are_filled_in(tmp_path: Path) -> None:
    words = (
        "above: In {blocks} blocks\nstory: It finishes {quilt}.\n"
        "blocks:\n  Star:\n    intro: A star of {pieces} pieces, {finished}.\n"
    )
    matter = made(tmp_path, words).matter
    assert matter is not None
    said = [line.text for line in lines_of(book(matter))]
    assert "In 4 blocks" in said
    assert "It finishes 30 × 30 in." in said
    star = next(one for one in matter.blocks if one.name == "Star")
    count = sum(piece.count for piece in star.cutting.pieces)
    assert f"A star of {count} pieces, 9 × 9 in." in said


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("story: It weighs {weight}.\n", checks.UNKNOWN_NUMBER),
        ("story: It has {layers} layers.\n", checks.UNKNOWN_NUMBER),
        ("sentences:\n  trim-to: Trim to {length}, {size}.\n", checks.UNKNOWN_NUMBER),
        ("sentences:\n  trim-down: Trim.\n", checks.UNKNOWN_SENTENCE),
        ("blocks:\n  Moon:\n    intro: Hello.\n", checks.UNKNOWN_BLOCK),
        ("blocks:\n  Moon:\n    minutes: {Unit 1: 3}\n", checks.UNKNOWN_BLOCK),
    ],
)
def test_what_is_wrong_stops_the_booklet_and_has_its_place(
    tmp_path: Path, words: str, kind: checks.Kind
) -> None:
    work = made(tmp_path, words)
    assert work.matter is None
    (found,) = [f for f in work.findings if f.code == kind.code]
    assert found.where.file is not None
    assert found.where.file.endswith("words.yaml")
    assert found.where.line is not None


def test_a_number_that_is_left_out_is_warned_of(tmp_path: Path) -> None:
    work = made(tmp_path, "sentences:\n  trim-to: Trim it.\n")
    assert work.matter is not None
    assert [f.severity for f in work.findings if f.code == checks.NUMBER_LEFT_OUT.code] == [
        "warning"
    ]


def test_minutes_for_no_line_of_the_lesson_are_warned_of(tmp_path: Path) -> None:
    words = "blocks:\n  Star:\n    minutes: {cutting: 20, Cuting: 20}\n"
    work = made(tmp_path, words)
    assert work.matter is not None
    (found,) = [f for f in work.findings if f.code == checks.UNKNOWN_MINUTES.code]
    assert "Cuting" in found.what
    assert "Cutting" in found.mend
    star = next(one for one in work.matter.blocks if one.name == "Star")
    times = timed(work.matter, star, sheet_of(work.matter, star))
    assert [line.minutes for line in times if line.own] == [20]
