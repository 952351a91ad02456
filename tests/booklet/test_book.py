"""The booklet of a small quilt: its sections, its two forms, and that they are always the same."""

from __future__ import annotations

import functools
import io
import re
from pathlib import Path

import pdfplumber
import pypdfium2
import pytest

from seamproof.booklet import laying_out, printing, wording
from seamproof.booklet.book import ALWAYS, ORDER, book, keys
from seamproof.booklet.html import write_page
from seamproof.booklet.model import BookletModel, Edition
from seamproof.booklet.page_looks import look_of
from seamproof.booklet.printing import print_booklet
from seamproof.booklet.reading import lines_of
from seamproof.drawing.clashing import clashes
from seamproof.drawing.placing import Placed, place
from seamproof.pipeline.booklets import work_booklet
from seamproof.pipeline.memory import Memory
from seamproof.project.reading import read_project
from tests.booklet.quilts import matter, write_quilt
from tests.booklet.reading_back import bands, type_sizes
from tests.booklet.test_wording import NEVER


@functools.cache
def model() -> BookletModel:
    return book(matter())


@functools.cache
def pdf() -> bytes:
    return print_booklet(model(), Edition())


def test_sections_stand_in_the_order_of_a_pattern() -> None:
    found = keys(model())
    assert list(found) == sorted(found, key=ORDER.index)
    assert set(found) >= ALWAYS
    assert {"materials", "cut-first", "cutting", "setting", "borders", "hand-over"} <= set(found)


def test_one_block_alone_has_what_it_cannot_be_sewn_without() -> None:
    alone = book(matter(), "Pair")
    assert keys(alone) == ("notes", "abbreviations", "tools", "block", "closing")
    assert alone.cover is None
    with pytest.raises(ValueError, match="no block"):
        book(matter(), "Nowhere")


def test_no_word_of_the_code_is_printed() -> None:
    assert [line for line in lines_of(model()) if NEVER.search(line.text)] == []


def test_two_builds_are_equal_to_the_last_byte(tmp_path: Path) -> None:
    assert print_booklet(model(), Edition()) == pdf()
    project = read_project(write_quilt(tmp_path))
    again = work_booklet(project, memory=Memory(tmp_path / "memory")).matter
    assert again is not None
    assert print_booklet(book(again), Edition()) == pdf()


def test_the_pdf_is_tagged_and_every_section_is_in_its_bookmarks() -> None:
    with pdfplumber.open(io.BytesIO(pdf())) as read:
        catalogue = read.doc.catalog
        assert catalogue["MarkInfo"]["Marked"] is True
        titles = [title for _, title, *_ in read.doc.get_outlines()]
    assert b"pdfuaid" in pdf()
    for section in model().sections:
        assert section.title in titles


def test_every_picture_has_words_for_who_cannot_see_it() -> None:
    page = write_page(model(), Edition())
    pictures = re.findall(r"<svg [^>]*>", page)
    assert len(pictures) > 40
    assert [svg for svg in pictures if "aria-label=" not in svg] == []


def test_the_page_holds_everything_it_shows() -> None:
    page = write_page(model(), Edition())
    assert page == write_page(model(), Edition())
    assert not re.search(r"(?:src|href)=[\"\']?(?:https?:|//|\.|/)", page)
    assert page.count("@font-face") == 6
    for section in model().sections:
        assert f"<h2>{section.title}</h2>" in page


def test_cutting_and_sewing_pages_bear_the_true_rule() -> None:
    look = look_of(Edition())
    for body, foot in bands(pdf(), look.bottom - 12):
        if "Making the block" in body or "What to cut first" in body:
            assert wording.RULER["in"] in foot


def test_large_print_is_larger_and_has_more_pages() -> None:
    pages, sizes = type_sizes(print_booklet(model(), Edition(large=True)))
    usual, small = type_sizes(pdf())
    assert pages > usual
    assert min(sizes) > 8 > min(small)  # figures of fractions are the smallest of all
    assert 18.0 in sizes


@pytest.mark.parametrize("edition", [Edition(), Edition(large=True), Edition("a4")], ids=str)
def test_nothing_is_clipped_and_the_margins_are_white(edition: Edition) -> None:
    look = look_of(edition)
    made = print_booklet(model(), edition)
    with pypdfium2.PdfDocument(made) as document:
        for page in document:
            grey = page.render(grayscale=True).to_numpy().squeeze()
            left, right = int(look.left) - 2, int(look.width - look.right) + 3
            assert grey[:, :left].min() == 255
            assert grey[:, right:].min() == 255
            assert grey[-20:].min() == 255


def test_line_art_needs_no_colour_for_cloth() -> None:
    page = write_page(model(), Edition(line_art=True))
    for fabric in matter().fabrics:
        assert fabric.colour not in page
        assert fabric.colour in write_page(model(), Edition())


@pytest.mark.parametrize("edition", [Edition(), Edition(large=True)], ids=str)
def test_no_two_texts_meet_in_any_figure(edition: Edition, monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[Placed] = []

    def recorded(*args: object) -> Placed:
        drawn.append(place(*args))  # type: ignore[arg-type]
        return drawn[-1]

    monkeypatch.setattr(laying_out, "place", recorded)
    printing._section.cache_clear()
    printing.book_data(model(), edition)
    printing._section.cache_clear()
    assert len(drawn) > 40
    assert [(placed.says, clashes(placed)) for placed in drawn if clashes(placed)] == []
