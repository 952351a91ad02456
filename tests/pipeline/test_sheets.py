from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from seamproof.errors import Stopped
from seamproof.pipeline import sheets
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork
from seamproof.pipeline.sheets import make_sheet
from seamproof.pipeline.working import work_block
from seamproof.project.reading import read_block_bytes

STAR = "name: {name}\nfinished: 9\ncells:\n  - a   a/b a\n  - a\\b c   b\\a\n  - a   b/a a\n"


def worked(name: str = "Star", remark: str = "", more: str = "") -> BlockWork:
    text = remark + STAR.format(name=name) + more
    return work_block(read_block_bytes(text.encode(), "star.yaml"))


def test_the_same_block_gives_the_same_bytes_with_memory_or_without(tmp_path: Path) -> None:
    without = make_sheet(worked())
    assert without is not None
    assert without.startswith(b"%PDF-")
    first = make_sheet(worked(), memory=Memory(tmp_path))
    second = make_sheet(worked(), memory=Memory(tmp_path))
    assert without == first == second


def test_a_remark_in_the_file_sets_no_page_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = make_sheet(worked(), memory=Memory(tmp_path))
    monkeypatch.setattr(sheets, "_made", None)
    assert make_sheet(worked(remark="# my first\n"), memory=Memory(tmp_path)) == before


def test_a_name_or_the_paper_does(tmp_path: Path) -> None:
    memory = Memory(tmp_path)
    found = {
        make_sheet(worked(), memory=memory),
        make_sheet(worked("Other"), memory=memory),
        make_sheet(worked(), memory=memory, paper="a4"),
    }
    assert len(found) == 3


def test_what_does_not_come_out_is_not_printed() -> None:
    work = worked()
    grave = replace(worked().findings[0], severity="error")
    assert make_sheet(replace(work, findings=(grave,))) is None
    assert make_sheet(replace(work, cutting=None)) is None
    assert make_sheet(work_block(work.source, until="draft")) is None


def test_it_stops_when_it_is_asked_to() -> None:
    with pytest.raises(Stopped):
        make_sheet(worked(), stop=lambda: True)
