"""The PDF, read back."""

from __future__ import annotations

import functools
import io
from dataclasses import replace

import pdfplumber
import pytest

from seamproof.booklet import wording
from seamproof.booklet.composing import PAPERS, compose
from seamproof.booklet.model import Paper, SheetModel
from seamproof.booklet.sheets import sheet
from seamproof.cutting.model import CuttingSettings
from seamproof.length.notation import Measure, number
from tests import by_hand
from tests.booklet.reading_back import between, page_texts, plain, sizes_with_unit


def model(measure: Measure = "in") -> SheetModel:
    return sheet(
        by_hand.block(),
        by_hand.FABRICS,
        by_hand.piecing(),
        by_hand.cutting(),
        settings=CuttingSettings(),
        proved=True,
        quilt="Lamps Along the Quay",
        measure=measure,
    )


@functools.cache
def made(paper: Paper = "letter", measure: Measure = "in") -> bytes:
    return compose(model(measure), paper)


def text(pdf: bytes) -> str:
    return plain("".join(page_texts(pdf)))


def cutting_table(pdf: bytes) -> str:
    """What stands between the head of the table and the first words after it."""
    return between(text(pdf), wording.HEADINGS[-1], wording.PROVED)


def test_the_name_and_every_size_are_text() -> None:
    said = text(made())
    assert "Half lamp" in said
    for piece in by_hand.cutting().pieces:
        assert f"{number(piece.width.ruler)} × {number(piece.height.ruler)} in" in said
    assert "12 × 12 in" in said
    assert "12 1/2 × 12 1/2 in" in said


def test_the_cutting_table_holds_the_cutting_sizes_and_no_others() -> None:
    table = cutting_table(made())
    pieces = by_hand.cutting().pieces
    wanted = {number(s.ruler) for piece in pieces for s in (piece.width, piece.height)}
    assert sizes_with_unit(table) == wanted


def test_a_size_that_does_not_belong_would_be_seen() -> None:
    fake = model()
    row = replace(fake.cutting[0].rows[0], purpose="trimmed to 6 in later")
    table = replace(fake.cutting[0], rows=(row,))
    said = compose(replace(fake, cutting=(table, *fake.cutting[1:])))
    assert "6" in sizes_with_unit(cutting_table(said))


@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_pages_have_their_true_size(paper: Paper) -> None:
    wanted = {"letter": (612, 792), "a4": (595.28, 841.89)}[paper]
    with pdfplumber.open(io.BytesIO(made(paper))) as read:
        assert len(read.pages) <= 3
        for page in read.pages:
            assert (page.width, page.height) == pytest.approx(wanted, abs=0.01)


@pytest.mark.parametrize("paper", sorted(PAPERS))
@pytest.mark.parametrize(("measure", "length", "ticks"), [("in", 432.0, 49), ("cm", 425.197, 31)])
def test_the_rule_at_the_foot_is_true(
    paper: Paper, measure: Measure, length: float, ticks: int
) -> None:
    with pdfplumber.open(io.BytesIO(made(paper, measure))) as read:
        for page in read.pages:
            foot = [line for line in page.lines if line["top"] > page.height - 80]
            long = [line for line in foot if line["x1"] - line["x0"] > 400]
            upright = sorted(line["x0"] for line in foot if line["x1"] - line["x0"] < 0.01)
            assert [line["x1"] - line["x0"] for line in long] == [pytest.approx(length, abs=0.01)]
            assert len(upright) == ticks
            assert upright[-1] - upright[0] == pytest.approx(length, abs=0.01)


def test_nothing_runs_off_the_page() -> None:
    look = PAPERS["a4"]
    with pdfplumber.open(io.BytesIO(made("a4"))) as read:
        for page in read.pages:
            for char in (c for c in page.chars if c["text"].strip()):
                assert look.left - 1 <= char["x0"]
                assert char["x1"] <= look.width - look.right + 1


def test_only_the_fonts_of_the_package_are_used_and_all_are_embedded() -> None:
    pdf = made()
    with pdfplumber.open(io.BytesIO(pdf)) as read:
        fonts = {char["fontname"] for page in read.pages for char in page.chars}
    assert {name.partition("+")[2].partition("-")[0] for name in fonts} == {
        "AtkinsonHyperlegibleNext",
        "Literata",
    }
    assert all("+" in name for name in fonts)  # a subset that is embedded carries a tag


def test_two_calls_give_the_same_bytes() -> None:
    assert compose(model()) == made()


def test_the_pdf_says_its_title_and_asks_for_true_size() -> None:
    pdf = made()
    assert pdf.count(b"/PrintScaling/None") == 1
    with pdfplumber.open(io.BytesIO(pdf)) as read:
        assert read.metadata["Title"] == "Half lamp"
        assert "CreationDate" not in read.metadata
        catalogue = read.doc.catalog["ViewerPreferences"]
    assert catalogue["DisplayDocTitle"] is True


def test_a_metric_sheet_has_no_inches() -> None:
    said = text(made("a4", "cm"))
    assert wording.RULER["cm"] in said
    assert " in " not in said.replace(" in the", "").replace(" in two", "")
    assert "16.51 × 16.51 cm" in said
