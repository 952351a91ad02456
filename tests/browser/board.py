"""What a hand does on the drawing board of the page, in inches of the block."""

from __future__ import annotations

from typing import Any


class Board:
    """The board of a page that shows Front."""

    def __init__(self, sheet: Any) -> None:
        self.sheet = sheet
        sheet.wait_for_selector(".board .outline[d]")

    def place(self, x: float, y: float) -> tuple[float, float]:
        """Where a place of the block is on the screen."""
        left, top, k = self.sheet.evaluate(
            """() => {
                const box = document.querySelector(".board .outline").getBoundingClientRect();
                const wide = document.querySelector(".board .outline").getAttribute("d");
                const inches = Number(document.querySelector(".board").dataset.width);
                const edge = 2;
                return [box.left + edge / 2, box.top + edge / 2, (box.width - edge) / inches, wide];
            }"""
        )[:3]
        return left + x * k, top + y * k

    def click(self, x: float, y: float) -> None:
        self.sheet.mouse.click(*self.place(x, y))

    def pull(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        self.sheet.mouse.move(*self.place(*start))
        self.sheet.mouse.down()
        self.sheet.mouse.move(*self.place(*end), steps=5)
        self.sheet.mouse.up()

    def seam(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        """Draw a seam with two clicks."""
        self.click(*start)
        self.click(*end)

    def take(self, verb: str) -> None:
        self.sheet.get_by_role("button", name=verb).click()

    def letters(self) -> list[str]:
        """Letters on the patches, from the upper left to the lower right."""
        found: list[str] = self.sheet.eval_on_selector_all(
            ".board .letters g",
            """nodes => nodes.map(n => [n.getBoundingClientRect(), n.textContent])
                .sort(([a], [b]) => Math.round(a.y / 8) - Math.round(b.y / 8) || a.x - b.x)
                .map(([, letter]) => letter)""",
        )
        return found

    def saved(self) -> None:
        """Wait until everything is saved."""
        self.sheet.wait_for_function(
            "() => /^Saved \\d\\d:/.test(document.querySelector('.saved')?.textContent ?? '')"
        )


def begin(desk: Any, name: str, size: str = "6") -> Board:
    """A new block, opened at Front in a page of its own."""
    sheet = desk.page().go("blocks")
    sheet.get_by_role("button", name="Draw a block").click()
    sheet.get_by_role("textbox", name="Name").fill(name)
    sheet.get_by_label("Finished size").fill(size)
    sheet.get_by_role("button", name="Make it").click()
    sheet.wait_for_selector(f"h1:has-text('{name}')")
    return Board(sheet)
