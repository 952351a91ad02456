"""The sheets of the demo quilt, each read back."""

from __future__ import annotations

import functools
import io
import itertools
import re
from pathlib import Path

import numpy as np
import pdfplumber
import pypdfium2
import pytest
import typst

import seamproof.project
from seamproof.booklet import composing, laying_out, wording
from seamproof.booklet.model import Paper, PrintedStep, SheetModel
from seamproof.booklet.sheets import sheet
from seamproof.drawing.clashing import clashes
from seamproof.drawing.placing import Placed, place
from seamproof.drawing.scene import Cloth, Label, Numeral, Paint, Scene
from seamproof.drawing.svg import svg
from seamproof.length.notation import number
from seamproof.pipeline.model import BlockWork
from seamproof.pipeline.pressing import press_block
from seamproof.pipeline.working import work_block
from seamproof.project.reading import read_block
from tests.booklet.reading_back import bands, between, page_texts, plain, sizes_with_unit
from tests.worked_out import memory

DEMO = Path(seamproof.project.__file__).parent / "demo" / "blocks"
NAMES = sorted(path.stem for path in DEMO.glob("*.yaml"))


@functools.cache
def worked(name: str) -> BlockWork:
    return work_block(read_block(DEMO / f"{name}.yaml"), memory=memory())


@functools.cache
def model(name: str) -> SheetModel:
    work = worked(name)
    assert work.block is not None, work.findings
    assert work.piecing is not None, work.findings
    assert work.cutting is not None, work.findings
    pressed = press_block(work, memory=memory())
    return sheet(
        work.block,
        work.fabrics,
        work.piecing,
        work.cutting,
        settings=work.settings,
        proved=True,
        findings=pressed.findings,
        quilt=work.source.project.name,
        measure=work.measure,
        pressed=pressed.pressed,
        pressing=pressed.settings,
    )


@functools.cache
def made(name: str, paper: Paper = "letter") -> bytes:
    return composing.compose(model(name), paper)


@functools.cache
def read(name: str, paper: Paper = "letter") -> list[tuple[str, str]]:
    """Text of each page above its foot, and its foot."""
    return bands(made(name, paper), composing.PAPERS[paper].bottom - 12)


def steps(name: str) -> list[PrintedStep]:
    """The steps above the units."""
    assembly = model(name).assembly
    assert assembly is not None
    return list(assembly.steps)


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


@pytest.mark.parametrize("density", composing.DENSITIES, ids=["roomy", "middle", "close"])
@pytest.mark.parametrize("name", NAMES)
def test_no_texts_meet_in_any_figure(
    name: str, density: composing.Density, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn: list[Placed] = []

    def recorded(*args: object) -> Placed:
        drawn.append(place(*args))  # type: ignore[arg-type]
        return drawn[-1]

    monkeypatch.setattr(laying_out, "place", recorded)
    composing.page_data(model(name), composing.PAPERS["letter"], density)
    assert len(drawn) > 10
    assert [clashes(placed) for placed in drawn if clashes(placed)] == []


PAGES = {
    "breakwater": 3,
    "capstan": 4,
    "cardinal-mark": 4,
    "cardinal-mark-straight-seams": 3,
    "cobbled-quay": 4,
    "deck-light": 3,
    "dinghy": 4,
    "herring-run": 5,
    "lamp-room": 4,
    "leading-light": 5,
    "lit-window": 4,
    "net-floats": 4,
    "slack-water": 4,
}
"""As many pages as a sheet may have, on either paper."""


@pytest.mark.parametrize("paper", sorted(composing.PAPERS))
@pytest.mark.parametrize("name", NAMES)
def test_a_sheet_is_short_and_no_page_is_bare(name: str, paper: Paper) -> None:
    pages = read(name, paper)
    assert len(pages) <= PAGES[name]
    for body, foot in pages:
        assert len(body.split()) > 20  # more than a running head
        assert plain(foot).startswith(wording.RULER["in"])


@pytest.mark.parametrize("paper", sorted(composing.PAPERS))
@pytest.mark.parametrize("name", NAMES)
def test_the_margins_are_white(name: str, paper: Paper) -> None:
    """Whatever is drawn; so nothing runs off the page."""
    look = composing.PAPERS[paper]
    with pypdfium2.PdfDocument(made(name, paper)) as document:
        for page in document:
            grey = page.render(grayscale=True).to_numpy().squeeze()
            left, right = int(look.left) - 2, int(look.width - look.right) + 3
            assert grey[:, :left].min() == 255
            assert grey[:, right:].min() == 255
            assert grey[-20:].min() == 255


@pytest.mark.parametrize("name", ["cardinal-mark", "leading-light"])
def test_only_the_fonts_of_the_package_are_used(name: str) -> None:
    with pdfplumber.open(io.BytesIO(made(name))) as document:
        fonts = {char["fontname"] for page in document.pages for char in page.chars}
    assert all("+" in font and ("Atkinson" in font or "Literata" in font) for font in fonts)


def test_a_step_is_read_whole_before_the_next() -> None:
    """Its number and text, then what stands in its picture, then the next step."""
    said = plain("".join(page_texts(made("net-floats"))))
    said = said.split(wording.ASSEMBLY_TITLE, 1)[1]
    place = 0
    for step in steps("net-floats"):
        place = said.index(step.text.split(". ")[0], place)
        for label in (s.text for s in step.figure.shapes if isinstance(s, Label)):
            place = said.index(label, place + 1)


def test_set_in_corners_are_told_run_by_run() -> None:
    wide = [step for step in steps("cardinal-mark") if step.sewn is not None]
    assert len(wide) == 3
    for step in wide:
        assert step.sewn is not None
        runs = sum(isinstance(shape, Numeral) for shape in step.sewn.shapes)
        assert re.findall(r"sew run (\d)", step.text, re.IGNORECASE) == [
            str(i + 1) for i in range(runs)
        ]
        assert "1/4 in from both edges" in step.text
        assert "from the edge to the dot" in step.text
    assert "Sew from the dot to the edge." in steps("cardinal-mark")[0].text


def test_an_open_seam_names_its_stop_and_both_its_steps() -> None:
    (begun,) = [step for step in steps("capstan") if "Stop at the cross" in step.text]
    (finish,) = [step for step in steps("capstan") if "Finish the seam" in step.text]
    assert "1 in past the last crossing" in begun.text
    assert f"open until step {finish.number}." in begun.text
    assert f"begun in step {begun.number}." in finish.text
    assert "Fold the loose end" in steps("capstan")[finish.number - 2].text


def test_sets_are_named_once_and_only_if_that_says_something() -> None:
    for name in NAMES:
        assembly = model(name).assembly
        if assembly is None:
            continue
        named = [step.begins for step in assembly.steps if step.begins]
        assert len(named) == len(set(named))
        sets = [step.set for step in assembly.steps]
        assert sets == sorted(sets)
        assert bool(named) == (len(set(sets)) < len(sets))


def test_notes_of_the_demo_are_few_and_do_not_speak_of_the_file() -> None:
    for name in NAMES:
        notes = model(name).notes
        assert len(notes) <= 4
        assert not any("method" in note.mend or "draw" in note.mend for note in notes)


def test_fabrics_are_told_apart_in_grey_by_their_hatch_alone() -> None:
    """Every two swatches of the demo's key, printed in grey and brought to one tone."""
    fabrics = worked("lamp-room").source.project.fabrics
    grey = [_hatch_in_grey(fabric.letter.upper()) for fabric in fabrics]
    assert len(grey) == 6
    for one, other in itertools.combinations(grey, 2):
        assert np.abs(one - other).mean() > 5  # two of one hatch: 0


def _hatch_in_grey(letter: str) -> np.ndarray:
    """A swatch on cloth of one middle grey, as numbers from 0 to 255."""
    corners = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    picture = svg(Scene((Cloth(corners, Paint(letter, "#B0B0B0")),)), 0.5)
    page = b"#set page(width: auto, height: auto, margin: 0pt)\n#image(bytes(sys.inputs.svg))"
    pdf = typst.compile(page, sys_inputs={"svg": picture}, ignore_system_fonts=True)
    with pypdfium2.PdfDocument(pdf) as document:
        return document[0].render(scale=3, grayscale=True).to_numpy().astype(float)
