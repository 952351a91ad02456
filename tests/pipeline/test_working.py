from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from pydantic import TypeAdapter

from seamproof.errors import Stopped
from seamproof.pipeline import working
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import STAGES, BlockWork, StageName
from seamproof.pipeline.working import work_block, work_project
from seamproof.project.model import Source
from seamproof.project.reading import read_block_bytes, read_project
from seamproof.project.starting import copy_demo, new_project

STAR = """\
name: First Star
finished: 9
cells:
  - a   a/b a
  - a\\b c   b\\a
  - a   b/a a
"""

PINWHEEL_IN_A_RING = """\
name: Round and round
finished: 9
patches:
  - {fabric: a, points: [[0, 0], [6, 0], [6, 3], [0, 3]]}
  - {fabric: b, points: [[6, 0], [9, 0], [9, 6], [6, 6]]}
  - {fabric: a, points: [[3, 6], [9, 6], [9, 9], [3, 9]]}
  - {fabric: b, points: [[0, 3], [3, 3], [3, 9], [0, 9]]}
  - {fabric: c, points: [[3, 3], [6, 3], [6, 6], [3, 6]]}
"""


def source(text: str, name: str = "star.yaml") -> Source:
    return read_block_bytes(text.encode(), name)


def dumped(work: BlockWork) -> bytes:
    return TypeAdapter(BlockWork).dump_json(work)


@pytest.fixture
def nothing_is_redone(monkeypatch: pytest.MonkeyPatch) -> Any:
    """After this is called, every stage that is remembered fails if it is done again."""

    def again(*_: object) -> Any:
        raise AssertionError("done again")

    def forbid() -> None:
        for name in ("_piecing", "_cutting", "_proof"):
            monkeypatch.setattr(working, name, again)

    return forbid


def test_all_stages_are_worked_out() -> None:
    work = work_block(source(STAR))
    assert work.block is not None
    assert work.piecing is not None
    assert work.cutting is not None
    assert [finding for finding in work.findings if finding.severity != "note"] == []
    assert [fabric.letter for fabric in work.fabrics] == ["a", "b", "c"]


@pytest.mark.parametrize("until", STAGES)
def test_no_more_is_worked_out_than_is_wanted(until: StageName) -> None:
    told: list[StageName] = []
    work = work_block(source(STAR), until=until, progress=told.append)
    assert told == [s for s in STAGES[: STAGES.index(until) + 1] if s != "sheet"]
    assert (work.piecing is None) == (until == "draft")
    assert (work.cutting is None) == (until in ("draft", "piecing"))


@pytest.mark.parametrize(
    "change",
    [
        lambda text: text.replace("First Star", "Second Star"),
        lambda text: "# a remark\n\n" + text.replace("finished", "# another\nfinished"),
        lambda text: text + "upright: no\n",
    ],
    ids=["name", "remarks", "what is so already"],
)
def test_a_name_or_a_remark_redoes_nothing(
    change: Any, tmp_path: Path, nothing_is_redone: Any
) -> None:
    work_block(source(STAR), memory=Memory(tmp_path))
    nothing_is_redone()
    changed = source(change(STAR))
    work = work_block(changed, memory=Memory(tmp_path))
    assert work.drawing is changed.drawing
    assert all(finding.where.block == changed.drawing.name for finding in work.findings)


def test_a_colour_redoes_nothing(tmp_path: Path, nothing_is_redone: Any) -> None:
    quilt, _ = new_project(tmp_path / "quilt")
    before = work_project(read_project(quilt), memory=Memory(tmp_path / "memory")).blocks[0]
    quilt.write_text(
        quilt.read_text(encoding="utf-8").replace("#2F5A48", "#102030"), encoding="utf-8"
    )
    nothing_is_redone()
    after = work_project(read_project(quilt), memory=Memory(tmp_path / "memory")).blocks[0]
    assert before.fabrics != after.fabrics
    assert before.piecing == after.piecing


def test_a_seam_allowance_redoes_no_piecing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    quilt, _ = new_project(tmp_path / "quilt")
    before = work_project(read_project(quilt), memory=Memory(tmp_path / "memory")).blocks[0]
    quilt.write_text(
        quilt.read_text(encoding="utf-8").replace("seam: 1/4", "seam: 3/8"), encoding="utf-8"
    )
    monkeypatch.setattr(working, "_piecing", None)
    after = work_project(read_project(quilt), memory=Memory(tmp_path / "memory")).blocks[0]
    assert before.piecing == after.piecing
    assert before.cutting != after.cutting


@pytest.mark.parametrize("text", [STAR, PINWHEEL_IN_A_RING], ids=["star", "ring"])
def test_with_memory_or_without_it_is_the_same_to_the_last_byte(text: str, tmp_path: Path) -> None:
    without = dumped(work_block(source(text)))
    first = dumped(work_block(source(text), memory=Memory(tmp_path)))
    second = dumped(work_block(source(text), memory=Memory(tmp_path)))
    renamed = text.replace("name: ", "name: Other ")
    third = work_block(source(renamed), memory=Memory(tmp_path))
    assert without == first == second
    assert dumped(third) == dumped(work_block(source(renamed)))


def test_what_piecing_says_is_told_its_place() -> None:
    work = work_block(source(PINWHEEL_IN_A_RING, "ring.yaml"), until="piecing")
    places = {(f.where.file, f.where.block) for f in work.findings}
    assert places == {("ring.yaml", "Round and round")}


def test_the_work_stops_when_it_is_asked_to(tmp_path: Path) -> None:
    told: list[StageName] = []
    with pytest.raises(Stopped):
        work_block(
            source(STAR),
            memory=Memory(tmp_path),
            progress=told.append,
            stop=lambda: len(told) == 2,
        )
    assert told == ["draft", "piecing"]


def test_copies_are_those_of_the_file_or_those_asked_for() -> None:
    text = STAR + "copies: 4\n"
    assert work_block(source(text), until="draft").copies == 4
    assert work_block(source(text), until="draft", copies=7).copies == 7


def test_a_project_is_worked_out_block_by_block(tmp_path: Path) -> None:
    copy_demo(tmp_path)
    project = read_project(tmp_path)
    told: list[tuple[Path, int, StageName]] = []

    class Enough(Exception):
        pass

    def tell(path: Path, blocks: int, stage: StageName) -> None:
        told.append((path, blocks, stage))
        if stage == "piecing":
            raise Enough

    with pytest.raises(Enough):
        work_project(project, progress=tell)
    first, count = project.blocks[0], len(project.blocks)
    assert told == [(first, count, "draft"), (first, count, "piecing")]
