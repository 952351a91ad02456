"""Nothing is lost: two pages on one quilt, and a server that is killed in the middle of an edit."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from tests.browser.board import Board
from tests.browser.conftest import Desk
from tests.web.driving import start, write_quilt


def test_two_pages_on_one_block_both_versions_are_kept(desk: Desk) -> None:
    first = desk.page()
    second = desk.tab(first.sheet.context)
    boards = [Board(page.go("block/pair/front")) for page in (first, second)]
    # The second page saves what it drew on before it hears of the first.
    held: list[Any] = []
    second.sheet.route(
        "**/api/blocks/pair",
        lambda route: held.append(route) if route.request.method == "PUT" else route.continue_(),
    )
    second.excused += ["412", "Precondition"]
    boards[1].seam((0, 3), (3, 3))
    second.sheet.wait_for_selector("text=Saving")
    boards[0].seam((3, 3), (6, 3))
    boards[0].saved()
    assert len(held) == 1
    held[0].continue_()
    second.sheet.unroute("**/api/blocks/pair")
    box = second.sheet.get_by_role("dialog")
    box.wait_for()
    assert box.locator(".small-board svg").count() == 2
    assert "was changed elsewhere" in box.inner_text()
    box.get_by_role("button", name="Go on with mine").click()
    boards[1].saved()
    text = desk.text("pair")
    assert "[[0, 3], [3, 3]]" in text
    # The other version is a step that can be had back.
    first.sheet.keyboard.press("Control+z")
    first.sheet.wait_for_function(
        "async () => (await (await fetch('/api/blocks/pair')).json()).drawing.seams.length === 2"
    )
    assert "[[3, 3], [6, 3]]" in desk.text("pair")


def test_a_change_on_one_page_is_seen_on_the_other(desk: Desk) -> None:
    first = desk.page()
    second = desk.tab(first.sheet.context)
    boards = [Board(page.go("block/star/front")) for page in (first, second)]
    second.sheet.wait_for_timeout(300)
    before = boards[1].letters()
    boards[0].take("Give it a fabric")
    boards[0].click(3, 3)
    first.sheet.keyboard.press("a")
    boards[0].saved()
    second.sheet.wait_for_function(
        "letters => [...document.querySelectorAll('.board .letters g')]"
        ".map((g) => g.textContent).sort().join() !== letters",
        arg=",".join(sorted(before)),
    )


def test_a_server_killed_in_the_middle_of_an_edit(tmp_path: Path, browser: Any) -> None:
    folder = write_quilt(tmp_path / "quilt")
    server = start(folder)
    desk = Desk(server, folder, browser)
    again = None
    try:
        page = desk.page()
        page.excused += ["ERR_", "401", "Failed to load", "EventSource"]
        board = Board(page.go("block/pair/front"))
        board.click(0, 3)
        server.kill()
        board.click(3, 3)
        page.sheet.wait_for_selector("text=Not saved: Seamproof does not answer")
        assert len(board.letters()) == 3  # what was drawn is still there
        # Somebody closes the page, starts the program anew and opens the address it shows.
        again = start(folder, "--port", str(server.port))
        context = page.sheet.context
        context.request.get(again.address)
        page.sheet.wait_for_selector("text=Undo: seam drawn")
        board.saved()
        assert "[[0, 3], [3, 3]]" in desk.text("pair")
        page.check()
    finally:
        desk.end()
        server.end()
        if again:
            again.end()


def test_what_could_not_be_saved_is_offered_after_a_reload(desk: Desk) -> None:
    page = desk.page()
    page.excused += ["ERR_", "Failed to load"]
    sheet = page.sheet
    board = Board(page.go("block/star/front"))
    sheet.route(
        "**/api/blocks/star",
        lambda route: route.abort() if route.request.method == "PUT" else route.continue_(),
    )
    board.take("Give it a fabric")
    board.click(0.5, 0.5)
    sheet.keyboard.press("b")
    sheet.wait_for_selector("text=Not saved")
    sheet.unroute("**/api/blocks/star")
    before = desk.text("star")
    sheet.reload()
    sheet.get_by_role("button", name="Put it back").click()
    sheet.wait_for_selector("text=Undo: fabric given")
    board.saved()
    assert desk.text("star") != before
