"""A disk that does not take a drawing: the page is told why, and the drawing can be saved later."""

from __future__ import annotations

import errno
import json
from pathlib import Path
from typing import Any

import pytest

from seamproof.project import saving
from tests.project.test_open_quilt import Disk
from tests.web.calling import Page
from tests.web.driving import STAR, start, write_quilt


def drawn(page: Page, body: dict[str, Any], base: str) -> Any:
    headers = [*page.usual("PUT"), ("if-match", f'"{base}"')]
    sent = json.dumps(body).encode()
    return page.ask("PUT", "/api/blocks/star", headers=headers, body=[sent])


def test_a_full_disk_is_told_and_the_next_save_is_fine(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = write_quilt(tmp_path / "quilt")
    page = Page(folder)
    page.enter()
    told: list[tuple[str, dict[str, Any]]] = []
    monkeypatch.setattr(page.host.events, "tell", lambda kind, **what: told.append((kind, what)))
    block = page.ask("GET", "/api/blocks/star").json
    block["drawing"]["patches"][0]["fabric"] = "b"
    body = {"what": "Fabric given", "drawing": block["drawing"]}
    with monkeypatch.context() as full:
        full.setattr(saving, "os", Disk(1, errno.ENOSPC))
        reply = drawn(page, body, block["revision"])
    assert reply.status == 507
    assert "the disk is full" in reply.json["sentence"]
    assert [kind for kind, _ in told] == ["not-saved"]
    assert "the disk is full" in told[0][1]["reason"]
    assert (folder / "blocks" / "star.yaml").read_text("utf-8") == STAR
    assert page.ask("GET", "/api/history").json["undo"] is None
    again = drawn(page, body, block["revision"])
    assert (again.status, again.json["undo"]) == (200, "Fabric given")
    assert "saved" in [kind for kind, _ in told]
    page.host.quilt.close()


def test_a_folder_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(RuntimeError, match="there is no folder"):
        start(tmp_path / "nowhere")


def test_the_folder_is_left_as_it_was_but_for_the_history(tmp_path: Path) -> None:
    folder = write_quilt(tmp_path / "quilt")
    page = Page(folder)
    page.enter()
    page.ask("GET", "/api/project")
    page.host.quilt.close()
    left = sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*"))
    assert left == [
        ".seamproof",
        ".seamproof/.gitignore",
        ".seamproof/history.sqlite3",
        "blocks",
        "blocks/pair.yaml",
        "blocks/star.yaml",
        "quilt.yaml",
    ]
