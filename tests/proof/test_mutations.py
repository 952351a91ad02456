"""Every number of the demo's lists, changed by a step of the ruler or by one, is found."""

from __future__ import annotations

from pathlib import Path

import pytest

import seamproof.project
from seamproof.length.rounding import INCH_STEP
from seamproof.pipeline.model import BlockWork
from seamproof.pipeline.working import work_block
from seamproof.project.reading import read_block
from seamproof.proof.sizes import prove
from tests.proof.mutations import changes, is_drawn

BLOCKS = sorted((Path(seamproof.project.__file__).parent / "demo" / "blocks").glob("*.yaml"))
UNCOVERED = Path(__file__).parents[1] / "golden" / "proof" / "uncovered.txt"


def worked(path: Path) -> BlockWork:
    return work_block(read_block(path))


def unfound(work: BlockWork, *, drawn: bool, every: int = 1) -> set[str]:
    """The numbers of which some change is not found; of many changes every so manieth is tried."""
    assert work.block is not None
    assert work.piecing is not None
    assert work.cutting is not None
    wanted = [change for change in changes(work.cutting, INCH_STEP) if is_drawn(change[0]) == drawn]
    assert wanted
    return {
        where
        for where, other in wanted[::every]
        if not any(
            finding.severity == "error"
            for finding in prove(work.block, work.piecing, other, work.settings)
        )
    }


@pytest.mark.parametrize("path", BLOCKS, ids=lambda path: path.stem)
def test_every_number_that_a_maker_reads_is_proved(path: Path) -> None:
    work = worked(path)
    assert work.cutting is not None
    assert not prove(work.block, work.piecing, work.cutting, work.settings)  # type: ignore[arg-type]
    assert unfound(work, drawn=False) == set()


def test_what_is_only_drawn_is_listed() -> None:
    """Coordinates of pictures that nothing follows from: the list that the documentation gives."""
    some = [path for path in BLOCKS if path.stem in {"lamp-room", "cardinal-mark", "breakwater"}]
    missed = set[str]().union(*(unfound(worked(path), drawn=True, every=3) for path in some))
    listed = {line.split(":")[0] for line in UNCOVERED.read_text(encoding="utf-8").splitlines()}
    assert missed <= listed
    assert "step.cuts" in missed, "the list may be shorter now"


def test_the_page_gives_the_same_list() -> None:
    page = UNCOVERED.parents[3] / "docs" / "explanation" / "proof.md"
    rows = [line for line in page.read_text(encoding="utf-8").splitlines() if "| `step." in line]
    told = {tuple(cell.strip(" `") for cell in row.split("|")[1:3]) for row in rows}
    listed = UNCOVERED.read_text(encoding="utf-8").splitlines()
    assert told == {tuple(line.split(": ")) for line in listed}
