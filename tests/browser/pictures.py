"""The pictures of the page in the documentation, made anew from the demo quilt:
``python -m tests.browser.pictures docs/pictures``."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from typing import Any

from PIL import Image
from playwright.sync_api import sync_playwright

from seamproof.project.starting import copy_demo
from tests.browser.board import Board
from tests.browser.conftest import CHROMIUM, Desk
from tests.web.driving import start

LONG = 180_000
"""Milliseconds that a panel may take on a busy machine."""


def front(sheet: Any, name: str) -> None:
    """A seam in hand on the front of a block."""
    board = Board(sheet)
    sheet.wait_for_function("() => !document.querySelector('.before')", timeout=LONG)
    board.take("Draw a seam")
    board.click(4, 8)
    sheet.mouse.move(*board.place(6, 10))
    sheet.wait_for_timeout(300)
    sheet.screenshot(path=name)


def back(sheet: Any, name: str) -> None:
    """The back with a seam chosen, and plans beside it."""
    sheet.wait_for_selector(".plan", timeout=LONG)
    sheet.locator(".seam-list button").nth(8).click()
    sheet.screenshot(path=name)


def steps(sheet: Any, name: str) -> None:
    """A step in the middle of the film."""
    sheet.wait_for_selector(".film li", timeout=LONG)
    sheet.locator(".film button").nth(8).click()
    sheet.wait_for_timeout(300)
    sheet.screenshot(path=name)


PICTURES = (
    ("page-front", "block/cardinal-mark/front", front, 1280, 800, "light"),
    ("page-back", "block/lamp-room/back", back, 1280, 1180, "light"),
    ("page-steps", "block/leading-light/steps", steps, 1280, 760, "light"),
    ("page-phone", "block/leading-light/front", front, 390, 844, "dark"),
)


def main(folder: Path) -> None:
    """Make all of them."""
    quilt = Path(tempfile.mkdtemp())
    copy_demo(quilt, keep=True)
    server = start(quilt)
    try:
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
            desk = Desk(server, quilt, browser)
            for name, place, make, width, height, colours in PICTURES:
                page = desk.page(width, height, color_scheme=colours)
                page.sheet.set_default_timeout(LONG)
                sheet = page.go(place)
                file = folder / f"{name}.png"
                make(sheet, str(file))
                Image.open(file).convert("RGB").quantize(256).save(file, optimize=True)
            browser.close()
    finally:
        server.end()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
