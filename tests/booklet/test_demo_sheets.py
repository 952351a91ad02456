"""The sheets of the demo quilt, each read back."""

from __future__ import annotations

import functools
from pathlib import Path

import pytest

import seamproof.project
from seamproof.booklet import composing, wording
from seamproof.booklet.model import SheetModel
from seamproof.booklet.sheets import sheet
from seamproof.drawing.placing import Placed, clashes, place
from seamproof.length.notation import number
from seamproof.pipeline.model import BlockWork
from seamproof.pipeline.working import work_block
from seamproof.project.reading import read_block
from tests.booklet.reading_back import bands, between, plain, sizes_with_unit

DEMO = Path(seamproof.project.__file__).parent / "demo" / "blocks"
NAMES = sorted(path.stem for path in DEMO.glob("*.yaml"))


@functools.cache
def worked(name: str) -> BlockWork:
    return work_block(read_block(DEMO / f"{name}.yaml"))


@functools.cache
def model(name: str) -> SheetModel:
    work = worked(name)
    assert work.block is not None, work.findings
    assert work.piecing is not None, work.findings
    assert work.cutting is not None, work.findings
    return sheet(
        work.block,
        work.fabrics,
        work.piecing,
        work.cutting,
        settings=work.settings,
        proved=True,
        findings=work.findings,
        quilt=work.source.project.name,
        measure=work.measure,
    )


@functools.cache
def made(name: str) -> bytes:
    return composing.compose(model(name))


@functools.cache
def read(name: str) -> list[tuple[str, str]]:
    """Text of each page above its foot, and its foot."""
    return bands(made(name), composing.PAPERS["letter"].bottom - 12)


def test_the_demo_is_there() -> None:
    assert len(NAMES) == 13


@pytest.mark.parametrize("name", NAMES)
def test_the_table_holds_every_cutting_size_and_no_other(name: str) -> None:
    said = plain("\n".join(body for body, _ in read(name)))
    table = between(said, wording.HEADINGS[-1], wording.IRON_TITLE)
    table = table.split(wording.NOTES_TITLE)[0]
    cutting = worked(name).cutting
    assert cutting is not None
    sizes = {number(s.ruler) for p in cutting.pieces for s in (p.width, p.height)}
    assert sizes_with_unit(table) == sizes
    assert model(name).name in said


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_is_in_the_table_once(name: str) -> None:
    cutting = worked(name).cutting
    assert cutting is not None
    told = [row for table in model(name).cutting for row in table.rows]
    rows = [(row.letter, row.count) for row in told if row.letter]
    assert sorted(rows) == sorted((piece.letter, piece.count) for piece in cutting.pieces)


@pytest.mark.parametrize("name", NAMES)
def test_no_texts_meet_in_any_figure(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[Placed] = []

    def recorded(*args: object) -> Placed:
        drawn.append(place(*args))  # type: ignore[arg-type]
        return drawn[-1]

    monkeypatch.setattr(composing, "place", recorded)
    composing.compose(model(name))
    assert len(drawn) > 10
    assert [clashes(placed) for placed in drawn if clashes(placed)] == []


@pytest.mark.parametrize("name", NAMES)
def test_a_sheet_is_short_and_no_page_is_bare(name: str) -> None:
    pages = read(name)
    assert len(pages) <= 5
    for body, foot in pages:
        assert len(body.split()) > 20  # more than a running head
        assert plain(foot).startswith(wording.RULER["in"])
