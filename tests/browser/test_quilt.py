"""The places of the whole quilt: forms that change the file, the booklet, notes that lead to their
place."""

from __future__ import annotations

from tests.browser.board import begin
from tests.browser.conftest import Desk
from tests.web.driving import write_quilt


def test_a_fabric_is_renamed_by_its_form_and_that_is_undone(desk: Desk) -> None:
    sheet = desk.page().go("cloth")
    sheet.get_by_role("textbox", name="Name").fill("Lamp oil")
    sheet.get_by_role("button", name="Save").click()
    sheet.get_by_role("heading", name="A, Lamp oil").wait_for()
    file = desk.folder / "quilt.yaml"
    text = file.read_text(encoding="utf-8")
    assert "name: Lamp oil" in text
    assert "# A quilt to try things on." in text
    sheet.get_by_role("button", name="Undo: fabric changed").click()
    sheet.wait_for_selector("text=Redo: fabric changed")
    assert "name: Light" in file.read_text(encoding="utf-8")
    # What another program writes is a step too, and said to be one without a block being open.
    file.write_text(text.replace("Lamp oil", "Lamplight"), encoding="utf-8")
    sheet.get_by_role("button", name="Undo: changed by another program").click()
    sheet.wait_for_selector("text=Redo: changed by another program")
    assert "name: Light" in file.read_text(encoding="utf-8")


def test_blocks_are_set_together_and_turned_by_click_and_by_keys(bare: Desk) -> None:
    desk = bare  # other tests draw more blocks into the shared quilt
    write_quilt(desk.folder)
    file = desk.folder / "quilt.yaml"
    before = file.read_text(encoding="utf-8")
    sheet = desk.page().go("top")
    sheet.get_by_role("button", name="Set the blocks together").click()
    sheet.get_by_role("button", name="Row 1, place 1: Star").click()
    sheet.get_by_role("button", name="Turn it (T)").click()
    sheet.get_by_role("button", name="Row 1, place 1: Star, turned by 1 quarter").wait_for()
    sheet.get_by_label("In row 1, place 1").select_option("Pair")
    sheet.wait_for_selector("text=Undo: block set in the layout")
    assert "- [Pair']" in file.read_text(encoding="utf-8")
    # The same by keys alone: into the row below, turned twice, then one row more.
    sheet.get_by_role("button", name="Row 1, place 1").focus()
    for key in ("ArrowDown", "Enter", "t", "t"):
        sheet.keyboard.press(key)
    sheet.get_by_role("button", name="Row 2, place 1: Pair, turned by 2 quarters").wait_for()
    sheet.get_by_role("button", name="Add a row below").press("Enter")
    sheet.wait_for_selector("text=Undo: row added")
    assert file.read_text(encoding="utf-8") == before + (
        "setting:\n  rows:\n    - [Pair']\n    - [Pair'']\n    - [Pair'']\n"
    )
    # Who is on the way by keys stays where she is when another program writes meanwhile.
    sheet.get_by_role("button", name="Row 1, place 1").click()
    sheet.keyboard.press("ArrowDown")
    sheet.evaluate("document.querySelector('.cell').dataset.old = 'yes'")
    file.write_text(f"{file.read_text(encoding='utf-8')}# Looked at.\n", encoding="utf-8")
    sheet.wait_for_selector(".cell[data-old]", state="detached")
    assert sheet.evaluate("document.activeElement.dataset.cell") == "1 0"
    # One point of the history leads back to before all of it.
    sheet.get_by_role("button", name="History").click()
    sheet.get_by_role("button", name="Blocks set together").click()
    sheet.wait_for_selector("text=Redo: block turned in the layout")
    assert "- [Star]\n    - [Pair]\n" in file.read_text(encoding="utf-8")
    sheet.keyboard.press("Escape")
    assert sheet.locator(".history").count() == 0


def test_the_top_is_changed_by_its_form_and_notes_stand_at_their_place(desk: Desk) -> None:
    file = desk.folder / "quilt.yaml"
    before = file.read_text(encoding="utf-8").partition("setting:")[0]
    file.write_text(before + "setting:\n  rows:\n    - [Star, Nowhere]\n", encoding="utf-8")
    page = desk.page()
    sheet = page.go("top")
    sheet.locator("[data-cell='0 1'] .head.error").wait_for()
    sheet.get_by_role("button", name="Show its place").first.click()
    sheet.get_by_label("In row 1, place 2").select_option("plain b")
    sashing = sheet.get_by_role("group", name="Sashing", exact=True)
    width = sashing.get_by_label("Width, in")
    width.fill("seven")
    save = sheet.locator(".top-form").get_by_role("button", name="Save")
    save.click()
    page.excused.append("422")
    sheet.wait_for_selector("text=Not saved")
    assert width.input_value() == "seven"  # what was typed stays
    width.fill("1 1/2")
    sashing.get_by_label("Fabric").select_option("b")
    sheet.get_by_role("button", name="Add a border").click()
    border = sheet.get_by_role("group", name="Borders")
    border.get_by_label("Fabric").select_option("a")
    sheet.get_by_role("group", name="Binding").get_by_label("Width, in").fill("2 1/4")
    save.click()
    sheet.wait_for_selector("text=Undo: top changed")
    text = file.read_text(encoding="utf-8")
    assert text == before + (
        "setting:\n  rows:\n    - [Star, plain b]\n  sashing: 1 1/2 of b\n"
        "  borders:\n    - {width: 4, fabric: a}\n  binding: 2 1/4\n"
    )
    sheet.locator(".top-board .picture").first.wait_for()


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
