"""Every place at every width: shown, without a scroll bar sideways, without a barrier that axe
finds, in light and dark."""

from __future__ import annotations

from importlib import resources
from typing import Any

import pytest

from tests.browser.conftest import Desk, Page

AXE = (resources.files("axe_playwright_python") / "axe.min.js").read_text(encoding="utf-8")

SHOWN = {
    "blocks": ".block-card svg",
    "block/star/front": "dt:has-text('Patches')",
    "block/star/back": ".picture-board .picture",
    "block/star/bulk": ".picture-board .picture",
    "block/star/steps": ".stage .picture",
    "block/star/fit": "dt:has-text('Width')",
    "top": "main .middle > *",
    "cloth": "main .middle > *",
    "programme": "main .middle > *",
    "booklet": "text=Make the booklet",
    "proof": "text=Pieces cut",
}
"""What tells that a place is there, whole."""

RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}


def barriers(sheet: Any) -> list[str]:
    """What axe finds."""
    sheet.evaluate(AXE)
    found = sheet.evaluate("rules => axe.run(document, rules)", RULES)
    return [
        f"{one['id']}: {node['html'][:160]} {node['failureSummary'][:200]}"
        for one in found["violations"]
        for node in one["nodes"]
    ]


def overflow(sheet: Any) -> int:
    return int(sheet.evaluate("document.documentElement.scrollWidth - innerWidth"))


@pytest.mark.parametrize(
    ("width", "height", "colours", "looked"),
    [(1440, 900, "light", True), (820, 1180, "light", False), (390, 844, "dark", True)],
)
def test_every_place_is_there_and_has_no_barrier(
    desk: Desk, width: int, height: int, colours: str, looked: bool
) -> None:
    page = desk.page(width, height, color_scheme=colours, has_touch=width < 1000)
    for place, sign in SHOWN.items():
        sheet = page.go(place)
        sheet.wait_for_selector(sign)
        assert overflow(sheet) <= 0, place
        if looked:
            assert barriers(sheet) == [], place


def test_targets_are_large_enough_and_text_reflows_at_320(desk: Desk) -> None:
    page = desk.page(320, 700, has_touch=True)
    for place in ("blocks", "block/star/front", "block/star/steps", "proof"):
        sheet = page.go(place)
        sheet.wait_for_selector(SHOWN[place])
        assert overflow(sheet) <= 0, place
        small = sheet.eval_on_selector_all(
            "button, a[href], input, select, summary",
            """nodes => nodes
                .filter((n) => n.checkVisibility() && !n.closest(".unseen, .past-rail"))
                .map((n) => [n.closest("label.tick") ?? n, n])
                .map(([box, n]) => [box.getBoundingClientRect(), n.outerHTML.slice(0, 90)])
                .filter(([box]) => box.width < 24 || box.height < 24)
                .map(([box, html]) => `${box.width} x ${box.height}: ${html}`)""",
        )
        assert small == [], place


def test_cloth_keeps_its_colours_in_the_dark(desk: Desk) -> None:
    fills = []
    for colours in ("light", "dark"):
        sheet = desk.page(color_scheme=colours).go("block/star/front")
        sheet.wait_for_selector(".patches path")
        fills.append(
            sheet.eval_on_selector_all(
                ".patches path", "nodes => nodes.map((n) => getComputedStyle(n).fill)"
            )
        )
        assert sheet.evaluate("getComputedStyle(document.body).filter") == "none"
    assert fills[0] == fills[1]
    assert len(fills[0]) == 13


def test_an_unknown_place_leads_to_the_blocks(desk: Desk) -> None:
    page: Page = desk.page()
    page.go("gallery").wait_for_selector(".blocks")
    page.excused.append("404")
    page.go("block/nowhere/front").wait_for_selector("text=That did not work")
