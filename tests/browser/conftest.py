"""A browser that looks at a server of its own, and refuses every slip: an error in the console, a
request to anywhere else, an answer that is refused.

The browser is the system's Chromium. Where there is none these tests are not collected, which the
first lines of the run say; on the machine that checks every change they must be there.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from tests.web.driving import Server, start, write_quilt

CHROMIUM = next(
    filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None
)

PATIENCE = 60_000
"""Milliseconds that anything may take: a busy machine is not a fault of the page."""

if CHROMIUM is None and not os.environ.get("CI"):
    collect_ignore_glob = ["test_*.py"]


def pytest_report_header() -> str:
    return f"browser tests: {CHROMIUM or 'left out, there is no chromium'}"


@dataclass
class Page:
    """A page with everything it did wrong. `sheet` is the page of playwright."""

    sheet: Any
    root: str
    slips: list[str] = field(default_factory=list)
    excused: list[str] = field(default_factory=list)
    """Words of slips that a test provokes."""

    def go(self, place: str = "") -> Any:
        """Go to a place by its address and wait until it is shown."""
        self.sheet.goto(f"{self.root}/#{place}")
        self.sheet.wait_for_selector("main h1")
        return self.sheet

    def watch(self) -> None:
        sheet = self.sheet
        sheet.on("console", lambda m: m.type in {"error", "warning"} and self._slip(m.text))
        sheet.on("pageerror", lambda problem: self._slip(str(problem)))
        sheet.on("request", lambda r: self._elsewhere(r.url))

    def _elsewhere(self, url: str) -> None:
        if not url.startswith((self.root, "data:", "blob:")):
            self._slip(f"asked elsewhere: {url}")

    def _slip(self, text: str) -> None:
        self.slips.append(text)

    def check(self) -> None:
        left = [s for s in self.slips if not any(words in s for words in self.excused)]
        assert left == []


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        running = playwright.chromium.launch(
            executable_path=CHROMIUM, args=["--no-sandbox", "--disable-dev-shm-usage"]
        )
        yield running
        running.close()


@dataclass
class Desk:
    """A server on a quilt, and browsers that may look at it: the launch code works once, so what
    it was exchanged for is kept."""

    server: Server
    folder: Path
    browser: Any
    kept: Any = None
    pages: list[Page] = field(default_factory=list)

    def page(self, width: int = 1440, height: int = 900, **options: Any) -> Page:
        """A page in a browser of its own."""
        context = self.browser.new_context(
            viewport={"width": width, "height": height},
            storage_state=self.kept,
            accept_downloads=True,
            reduced_motion=options.pop("reduced_motion", "reduce"),
            **options,
        )
        context.set_default_timeout(PATIENCE)
        if self.kept is None:
            context.request.get(self.server.address)
            self.kept = context.storage_state()
        return self.tab(context)

    def tab(self, context: Any) -> Page:
        """One more page of the same browser."""
        page = Page(context.new_page(), self.server.root)
        page.watch()
        self.pages.append(page)
        return page

    def text(self, block: str) -> str:
        return (self.folder / "blocks" / f"{block}.yaml").read_text(encoding="utf-8")

    def end(self) -> None:
        for page in self.pages:
            page.sheet.context.close()


@pytest.fixture(scope="session")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Server, Path]]:
    folder = write_quilt(tmp_path_factory.mktemp("browsed") / "quilt")
    server = start(folder)
    yield server, folder
    server.end()


@pytest.fixture(scope="session")
def keys() -> dict[str, Any]:
    """What the launch code of the shared server was exchanged for."""
    return {}


@pytest.fixture
def desk(shared: tuple[Server, Path], browser: Any, keys: dict[str, Any]) -> Iterator[Desk]:
    server, folder = shared
    found = Desk(server, folder, browser, keys.get("kept"))
    yield found
    keys["kept"] = found.kept
    pages = list(found.pages)
    found.end()
    for page in pages:
        page.check()


@pytest.fixture
def bare(tmp_path: Path, browser: Any) -> Iterator[Desk]:
    """A server on a folder with nothing in it."""
    folder = tmp_path / "bare"
    folder.mkdir()
    server = start(folder)
    found = Desk(server, folder, browser)
    try:
        yield found
        pages = list(found.pages)
        found.end()
        for page in pages:
            page.check()
    finally:
        server.end()
