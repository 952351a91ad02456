"""A block drawn from nothing becomes a downloaded booklet; every verb; what the file says."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest

from tests.browser.board import begin
from tests.browser.conftest import Desk


def test_a_block_drawn_from_nothing_becomes_a_downloaded_booklet(
    bare: Desk, tmp_path: Path
) -> None:
    sheet = bare.page().go("cloth")
    for name in ("Chalk", "Slate"):
        new = sheet.locator("details form")
        new.get_by_label("Name").fill(name)
        new.get_by_role("button", name="Save").click()
        sheet.wait_for_selector(f".fabric-tab:has-text('{name}')", state="attached")
    board = begin(bare, "Small Fan")
    sheet = board.sheet
    board.seam((0, 6), (6, 0))
    sheet.get_by_label("One seam drawn").select_option("turns")
    board.pull((3, 0), (3, 3))
    board.saved()
    assert len(board.letters()) == 6
    sheet.get_by_label("One seam drawn").select_option("none")
    board.take("Give it a fabric")
    board.click(0.8, 0.8)
    sheet.keyboard.press("b")
    board.saved()
    assert board.letters().count("B") == 1
    # What it takes comes by itself, and so does the proof.
    sheet.wait_for_selector("dt:has-text('Patches') + dd:has-text('6')")
    text = bare.text("small-fan")
    assert "- [[0, 6], [6, 0]]" in text
    assert text.count("fabric: b") == 1

    sheet.get_by_role("link", name="Booklet").click()
    sheet.get_by_label("Paper").select_option(label="A4")
    sheet.get_by_role("button", name="Make the booklet").click()
    link = sheet.get_by_role("link", name="Download bare-a4.pdf")
    with sheet.expect_download() as download:
        link.click()
    path = tmp_path / download.value.suggested_filename
    download.value.save_as(path)
    assert path.read_bytes().startswith(b"%PDF-")
    found = pypdfium2.PdfDocument(path)
    words = " ".join(page.get_textpage().get_text_bounded() for page in found)
    assert "Small Fan" in words
    assert "Slate" in words


def test_an_exact_length_is_typed(desk: Desk) -> None:
    board = begin(desk, "Typed")
    board.click(0, 2)
    board.sheet.mouse.move(*board.place(3, 2))
    board.sheet.keyboard.type("2 3/8")
    board.sheet.get_by_role("textbox", name="Angle").fill("0")
    board.sheet.keyboard.press("Enter")
    board.saved()
    assert "- [[0, 2], [2 3/8, 2]]" in desk.text("typed")
    # What is no length stays as it was typed, and the sentence says why.
    board.click(0, 4)
    board.sheet.keyboard.type("4x")
    board.sheet.keyboard.press("Enter")
    assert board.sheet.get_by_label("Length").input_value() == "4x"
    assert "not a length" in board.sheet.locator(".hint").inner_text()


def test_an_end_is_moved_and_a_seam_erased_and_both_are_undone(desk: Desk) -> None:
    board = begin(desk, "Moved")
    sheet = board.sheet
    board.seam((0, 3), (6, 3))
    board.saved()
    board.take("Move an end")
    board.click(6, 3)
    board.click(6, 1)
    sheet.wait_for_selector("text=Undo: seam end moved")
    assert "- [[0, 3], [6, 1]]" in desk.text("moved")
    board.take("Erase a seam")
    board.click(3, 2)
    sheet.wait_for_selector("text=Undo: seam erased")
    assert "lines" not in desk.text("moved")
    sheet.keyboard.press("Control+z")
    sheet.wait_for_selector("text=Redo: seam erased")
    assert "- [[0, 3], [6, 1]]" in desk.text("moved")
    # History outlives the page.
    sheet.reload()
    sheet.get_by_role("button", name="Undo: seam end moved").click()
    sheet.wait_for_selector("text=Redo: seam end moved")
    assert "- [[0, 3], [6, 3]]" in desk.text("moved")


def test_eight_seams_at_once(desk: Desk) -> None:
    board = begin(desk, "Eight")
    board.sheet.get_by_label("One seam drawn").select_option("eight")
    board.seam((3, 3), (4.5, 0))
    board.saved()
    lines = [line for line in desk.text("eight").splitlines() if line.startswith("    - [[")]
    assert len(lines) == 8
    assert len(set(lines)) == 8


@pytest.mark.parametrize(
    ("unit", "patches"), [("flying geese", 3), ("square-in-a-square", 5), ("nine-patch", 9)]
)
def test_common_units_are_placed_by_rule(desk: Desk, unit: str, patches: int) -> None:
    name = unit.title()
    board = begin(desk, name)
    sheet = board.sheet
    board.take("Place a unit")
    sheet.get_by_role("button", name=unit, exact=True).click()
    size = sheet.get_by_label("Finished size")
    size.fill("6")
    size.press("Tab")
    board.click(0, 0)
    board.saved()
    assert len(board.letters()) == patches + (unit == "flying geese")


def test_a_unit_is_turned_in_its_place(desk: Desk) -> None:
    board = begin(desk, "Turned")
    sheet = board.sheet
    board.take("Place a unit")
    sheet.get_by_role("button", name="half-square triangle", exact=True).click()
    size = sheet.get_by_label("Finished size")
    size.fill("3")
    size.press("Tab")
    board.click(0, 0)
    board.saved()
    before = desk.text("turned")
    assert "[[0, 3], [3, 0]]" in before
    board.take("Turn unit")
    board.click(1, 1)
    sheet.wait_for_selector("text=Undo: unit turned")
    after = desk.text("turned")
    assert "[[0, 0], [3, 3]]" in after or "[[3, 3], [0, 0]]" in after


def test_what_the_hand_drew_is_what_the_program_understood(desk: Desk) -> None:
    """Patches of the page against those of the draft, on a drawing with crossings and T-joints."""
    board = begin(desk, "Crossed", "12")
    sheet = board.sheet
    for start, end in (
        ((0, 0), (12, 12)),
        ((0, 12), (12, 0)),
        ((3, 0), (3, 12)),
        ((3, 9), (12, 6)),
    ):
        board.seam(start, end)
    board.saved()
    sheet.wait_for_selector("dt:has-text('Patches')")
    told = sheet.wait_for_function(
        "async () => (await (await fetch('/api/blocks/crossed/panel/front')).json()).patches"
    ).json_value()
    areas = sheet.evaluate(
        """async () => {
            const { opened } = await import("/static/drawing/model.js");
            const { drawing } = await (await fetch("/api/blocks/crossed")).json();
            return opened(drawing).plane.faces.map((face) => face.area);
        }"""
    )
    assert sorted(round(a, 6) for a in areas) == sorted(round(p["area"], 6) for p in told)
