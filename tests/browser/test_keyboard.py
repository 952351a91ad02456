"""The whole way by keys alone: draw, give fabrics, look, undo, get the booklet."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from tests.browser.board import Board
from tests.browser.conftest import Desk


def tab_to(sheet: Any, words: str, most: int = 120) -> None:
    """Press Tab until what has the focus is called so."""
    for _ in range(most):
        sheet.keyboard.press("Tab")
        name = sheet.evaluate(
            """() => {
                const here = document.activeElement;
                if (here === document.body) return "";
                const label = here.labels?.[0]?.textContent;
                return here.getAttribute("aria-label") ?? label ?? here.textContent;
            }"""
        )
        if words in (name or ""):
            return
    raise AssertionError(f"no way to {words} by Tab")


def said(sheet: Any) -> str:
    """The last thing said to whoever listens."""
    return str(sheet.locator("#said").inner_text()).strip("\u00a0 ")


FABRICS = """\
seamproof: 1
name: Keys
fabrics:
  - {letter: a, name: Light, colour: "#F1EBDD"}
  - {letter: b, name: Dark, colour: "#2F5A48"}
"""


def test_the_whole_way_by_keys(bare: Desk, tmp_path: Path) -> None:
    desk = bare
    (desk.folder / "quilt.yaml").write_text(FABRICS, encoding="utf-8")
    sheet = desk.page().go("blocks")
    keys = sheet.keyboard
    sheet.wait_for_selector("text=No blocks yet")
    tab_to(sheet, "Draw a block")
    keys.press("Enter")
    keys.type("By Keys")
    keys.press("Tab")
    keys.type("4")
    keys.press("Enter")
    sheet.wait_for_selector("h1:has-text('By Keys')")
    board = Board(sheet)
    tab_to(sheet, "By Keys, from the front")

    # From the middle to the upper left corner, by the cross.
    keys.press("d")
    keys.press("Shift+N")
    while "Corner, 0 × 0 in" not in said(sheet):
        keys.press("Shift+N")
    keys.press("Enter")
    assert "Begins at 0 × 0 in" in said(sheet)
    keys.press("N")
    while "Corner, 4 × 4 in" not in said(sheet):
        keys.press("N")
    keys.press("Enter")
    assert said(sheet) == "1 seam drawn."
    board.saved()
    assert "[[0, 0], [4, 4]]" in desk.text("by-keys")

    # An exact end, typed.
    for _ in range(2):
        keys.press("Shift+ArrowUp")
    keys.press("f")
    keys.press("ArrowLeft")
    keys.press("Enter")
    assert "Now the letter of its fabric" in said(sheet)
    keys.press("b")
    assert said(sheet) == "Fabric B for 1 patch."
    board.saved()
    assert "fabric: b" in desk.text("by-keys")
    keys.press("Escape")

    keys.press("Control+z")
    sheet.wait_for_selector("text=Redo: fabric given")
    keys.press("Control+Shift+z")
    sheet.wait_for_selector("text=Undo: fabric given")

    # The places inside, and the film.
    for number, place in enumerate(("Front", "Back", "Bulk", "Steps", "Fit"), start=1):
        keys.press(f"Alt+{number}")
        sheet.wait_for_selector(f".inside a.here:has-text('{place}')")
    keys.press("Alt+4")
    sheet.wait_for_selector(".stage .picture")
    tab_to(sheet, "The steps, one after the other")
    keys.press("ArrowRight")
    assert said(sheet).startswith("Step 2 of")
    keys.press("ArrowLeft")
    assert said(sheet).startswith("Step 1 of")
    keys.press("End")
    sheet.wait_for_selector("button:enabled:has-text('Turn the work over')")
    keys.press("b")
    assert said(sheet) == "Back"

    tab_to(sheet, "Booklet", most=200)
    keys.press("Enter")
    sheet.wait_for_selector("h1:has-text('Booklet')")
    tab_to(sheet, "What to make")
    keys.type("By Keys")  # its own pages: the whole booklet is drawn and fetched by pointer
    tab_to(sheet, "Paper")
    keys.type("Letter")
    tab_to(sheet, "Make the booklet")
    keys.press("Enter")
    sheet.wait_for_selector("text=Download by-keys")
    tab_to(sheet, "Download by-keys")
    with sheet.expect_download() as download:
        keys.press("Enter")
    download.value.save_as(tmp_path / "pages.pdf")
    assert (tmp_path / "pages.pdf").read_bytes().startswith(b"%PDF-")


def test_a_seam_is_picked_from_the_list_and_erased(desk: Desk) -> None:
    sheet = desk.page().go("block/star/front")
    board = Board(sheet)
    sheet.locator("summary").focus()
    sheet.keyboard.press("Enter")
    row = sheet.get_by_role("button", name="Seam from 2 × 0 in to 2 × 6 in")
    row.focus()
    sheet.keyboard.press("Enter")
    assert "chosen" in said(sheet)
    board.sheet.locator(".board").focus()
    sheet.keyboard.press("Delete")
    board.saved()
    assert "seams:" in desk.text("star")
    assert "[[2, 0], [2, 6]]" not in desk.text("star")
    sheet.keyboard.press("Control+z")
    sheet.wait_for_selector("text=Redo: seam erased")
    assert "cells:" in desk.text("star")


def test_keys_are_listed_and_single_ones_can_be_turned_off(desk: Desk) -> None:
    sheet = desk.page().go("block/star/front")
    Board(sheet)
    sheet.locator(".board").focus()
    sheet.keyboard.press("?")
    sheet.get_by_label("Single letters work as keys").uncheck()
    sheet.keyboard.press("Escape")
    sheet.locator(".board").focus()
    sheet.keyboard.press("e")
    assert sheet.get_by_role("button", name="Erase a seam").get_attribute("aria-pressed") == "false"
