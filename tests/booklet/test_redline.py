"""What changed between two booklets."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from seamproof.booklet.book import book
from seamproof.booklet.matter import Own
from seamproof.booklet.model import BookletModel
from seamproof.booklet.redline import redline
from seamproof.pipeline.booklets import work_booklet
from seamproof.project.reading import read_project
from tests.booklet.quilts import QUILT, matter, write_quilt


def of(folder: Path, **files: str) -> BookletModel:
    made = work_booklet(read_project(write_quilt(folder, **files))).matter
    assert made is not None
    return book(made)


def test_equal_booklets_do_not_differ() -> None:
    assert redline(book(matter()), book(matter())) == ()


def test_a_wider_sash_changes_sizes_and_no_block(tmp_path: Path) -> None:
    wider = of(tmp_path, quilt=QUILT.replace("sashing: 2 of c", "sashing: 2 1/2 of c"))
    changes = redline(book(matter()), wider)
    assert not any(change.section.startswith("block:") for change in changes)
    (size,) = [change for change in changes if change.place == "Quilt"]
    assert (size.before, size.after, size.what) == ("30 × 30 in", "31 1/2 × 31 1/2 in", "changed")
    assert any("3 × 9 1/2 in" in change.after for change in changes if change.section == "setting")


def test_what_comes_and_goes_is_told_as_such() -> None:
    plain = book(matter())
    told = book(replace(matter(), own=Own(notes=("Bring a friend.",), story=("Once.",))))
    changes = redline(plain, told)
    assert {(c.section, c.what) for c in changes} == {("notes", "new"), ("story", "new")}
    back = redline(told, plain)
    assert [(c.section, c.place, c.before) for c in back] == [
        (c.section, c.place, c.after) for c in changes
    ]
    assert {c.what for c in back} == {"gone"}
