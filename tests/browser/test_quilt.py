"""The places of the whole quilt: forms that change the file, the booklet, notes that lead to their
place."""

from __future__ import annotations

from tests.browser.board import begin
from tests.browser.conftest import Desk

SETTING = """\
setting:
  rows:
    - [Star, Star']
  sashing: 1 of b
"""


def test_a_fabric_is_renamed_by_its_form_and_that_is_undone(desk: Desk) -> None:
    sheet = desk.page().go("cloth")
    sheet.get_by_role("textbox", name="Name").fill("Lamp oil")
    sheet.get_by_role("button", name="Save").click()
    sheet.get_by_role("heading", name="A, Lamp oil").wait_for()
    text = (desk.folder / "quilt.yaml").read_text(encoding="utf-8")
    assert "name: Lamp oil" in text
    assert "# A quilt to try things on." in text
    sheet.get_by_role("button", name="Undo: fabric changed").click()
    sheet.wait_for_selector("text=Redo: fabric changed")
    assert "name: Light" in (desk.folder / "quilt.yaml").read_text(encoding="utf-8")


def test_the_sashing_is_changed_by_the_form_of_the_top(desk: Desk) -> None:
    file = desk.folder / "quilt.yaml"
    before = file.read_text(encoding="utf-8")
    file.write_text(before + SETTING, encoding="utf-8")
    sheet = desk.page().go("top")
    sashing = sheet.get_by_label("Sashing, finished")
    sashing.wait_for()
    assert sashing.input_value() == "1 of b"
    sashing.fill("seven")
    sheet.get_by_role("button", name="Save").click()
    desk.pages[0].excused.append("422")
    sheet.wait_for_selector("text=Not saved")
    assert sashing.input_value() == "seven"  # what was typed stays
    sashing.fill("2 of b")
    sheet.get_by_role("button", name="Save").click()
    sheet.wait_for_selector("text=Undo: top changed")
    assert 'sashing: "2 of b"' in file.read_text(encoding="utf-8")


def test_a_note_leads_to_its_place(desk: Desk) -> None:
    board = begin(desk, "Corner")
    board.seam((0, 3), (3, 3))
    board.seam((3, 3), (3, 0))
    board.saved()
    sheet = board.sheet
    sheet.get_by_role("link", name="Proof").click()
    sheet.get_by_role("link", name="Show it in Corner").first.click()
    sheet.wait_for_selector(".notes li.held")
    assert sheet.locator(".signs .pin").count() >= 1
    assert sheet.locator(".signs .cursor").count() == 2
