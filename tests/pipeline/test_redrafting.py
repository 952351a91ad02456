"""A quilt of inches drafted anew in centimetres."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from seamproof.booklet.book import book
from seamproof.booklet.checks import check
from seamproof.booklet.reading import lines_of
from seamproof.length.exact import CM
from seamproof.pipeline.booklets import work_booklet
from seamproof.pipeline.redrafting import in_centimetres, scaled
from seamproof.project.model import Preferences, Project
from seamproof.project.reading import read_project
from tests.booklet.quilts import write_quilt


def test_sizes_are_those_of_a_metric_draft_and_no_inch_is_left(tmp_path: Path) -> None:
    work = work_booklet(read_project(write_quilt(tmp_path)), metric=True)
    assert work.matter is not None, work.findings
    model = book(work.matter)
    assert check(model) == ()
    said = {(line.section, line.place): line.text for line in lines_of(model)}
    assert said["cover", "Quilt"] == "75 × 75 cm"
    assert said["block:star", "Finished"] == "22.5 × 22.5 cm"
    assert said["block:star", "Unfinished"] == "24 × 24 cm"
    assert said["cover", "Seam allowance"] == "0.75 cm"
    assert [text for text in said.values() if re.search(r"\\d in\\b(?! all| the)", text)] == []


def test_a_metric_quilt_stays_as_it_is() -> None:
    project = Project(preferences=Preferences(measure="cm"))
    assert in_centimetres(project) is project


def test_lengths_are_scaled_and_nothing_else() -> None:
    assert scaled((Fraction(12), "a", 3, None)) == (CM * 30, "a", 3, None)
    project = Project(name="One")
    drafted = in_centimetres(project)
    assert replace(drafted, preferences=project.preferences) == project
    assert drafted.preferences.cutting().seam == CM * 3 / 4
