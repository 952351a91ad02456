"""A quilt is opened as a page: it is drawn in, saved, undone, printed."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

import pytest

from tests.web.driving import STAR, Server, served, start


def test_the_quilt_and_its_blocks_are_told(page: Server) -> None:
    told = page.ask("GET", "/api/project").json
    assert told["title"] == "Trial"
    assert [block["name"] for block in told["blocks"]] == ["star", "pair"]
    assert [fabric["letter"] for fabric in told["fabrics"]] == ["a", "b"]


def test_every_panel_comes(page: Server) -> None:
    for name in ("front", "pieces", "steps", "proof", "back", "bulk", "fit"):
        panel = page.panel("star", name)
        assert panel["facts"], name
        assert panel["revision"] == page.ask("GET", "/api/blocks/star").json["revision"]
    assert page.panel("star", "proof")["proved"] is True
    frames = page.panel("star", "steps")["frames"]
    assert len(frames) >= 3
    assert all(frame["back"].startswith("<svg") for frame in frames)
    seam = page.panel("star", "back")["seams"][0]
    assert {"id", "from", "to", "way", "reason"} <= set(seam)


def test_a_block_is_drawn_undone_and_done_again(quilt: Path) -> None:
    file = quilt / "blocks" / "star.yaml"
    with served(quilt) as page:
        block = page.ask("GET", "/api/blocks/star").json
        drawing = block["drawing"]
        drawing["patches"][0]["fabric"] = "b"
        saved = page.ask(
            "PUT",
            "/api/blocks/star",
            {"what": "Fabric given", "drawing": drawing},
            base=block["revision"],
        )
        assert saved.status == 200
        assert file.read_text("utf-8") == STAR.replace("- a   a/b", "- b   a/b")
        undone = page.ask("POST", "/api/undo", {}).json
        assert (undone["what"], undone["block"], undone["undo"]) == ("Fabric given", "star", None)
        assert file.read_text("utf-8") == STAR
        assert page.ask("POST", "/api/redo", {"block": "star"}).json["redo"] is None
        assert "- b   a/b" in file.read_text("utf-8")
        assert page.ask("POST", "/api/redo", {}).json["what"] is None


def test_a_new_seam_turns_cells_into_seams_and_the_comments_stay(quilt: Path) -> None:
    with served(quilt) as page:
        block = page.ask("GET", "/api/blocks/star").json
        drawing = block["drawing"]
        drawing["seams"].append({"from": ["2", "3"], "to": ["4", "3"]})
        drawing["patches"] = [p for p in drawing["patches"] if p["at"] != ["3", "3"]]
        drawing["patches"] += [
            {"at": ["3", "2 1/2"], "fabric": "b"},
            {"at": ["3", "3 1/2"], "fabric": "a"},
        ]
        body = {"what": "Seam drawn", "drawing": drawing}
        saved = page.ask("PUT", "/api/blocks/star", body, base=block["revision"]).json
        assert saved["findings"] == []
        text = (quilt / "blocks" / "star.yaml").read_text("utf-8")
        assert text.startswith("# My first block.\nname: Star\nfinished: 6\nseams:\n")
        assert "[[2, 3], [4, 3]]" in text


def test_a_block_is_begun_copied_renamed_turned_and_mirrored(quilt: Path) -> None:
    with served(quilt) as page:
        new = page.ask("POST", "/api/blocks", {"what": "new", "name": "Plain"})
        assert (new.status, new.json["name"]) == (201, "plain")
        copied = page.ask("POST", "/api/blocks", {"what": "copy", "name": "Star 2", "from": "star"})
        name, base = copied.json["name"], copied.json["revision"]
        assert "  - Star 2" in (quilt / "quilt.yaml").read_text("utf-8")
        turned = page.ask("POST", f"/api/blocks/{name}/turn", {"quarters": 1}, base=base).json
        mirrored = page.ask("POST", f"/api/blocks/{name}/mirror", {}, base=turned["revision"]).json
        renamed = page.ask(
            "POST", f"/api/blocks/{name}/rename", {"to": "Twin"}, base=mirrored["revision"]
        )
        assert renamed.status == 200
        text = (quilt / "quilt.yaml").read_text("utf-8")
        assert "  - Twin" in text
        assert "Star 2" not in text
        again = page.ask("POST", "/api/blocks", {"what": "new", "name": "Twin"})
        assert again.status == 422
        assert "already" in again.json["sentence"]


def test_pressing_is_fixed_and_left_to_the_plan_again(quilt: Path) -> None:
    file = quilt / "blocks" / "pair.yaml"
    before = file.read_text("utf-8")
    with served(quilt) as page:
        base = page.ask("GET", "/api/blocks/pair").json["revision"]
        seam = [["3", "0"], ["3", "6"]]
        fixed = page.ask(
            "PUT", "/api/blocks/pair/fixing", {"seam": seam, "way": "open"}, base=base
        ).json
        assert "press:\n  - {seam: [[3, 0], [3, 6]], open: yes}" in file.read_text("utf-8")
        assert page.panel("pair", "back")["seams"][0]["fixed"] is True
        page.ask(
            "PUT", "/api/blocks/pair/fixing", {"seam": seam, "way": None}, base=fixed["revision"]
        )
        assert file.read_text("utf-8") == before


def test_a_sheet_is_made_and_downloaded(page: Server) -> None:
    job = page.ask("POST", "/api/jobs", {"job": "sheet", "block": "pair"}).json["job"]
    end = time.monotonic() + 90
    while page.ask("GET", f"/api/jobs/{job}").json["state"] == "working":
        assert time.monotonic() < end
        time.sleep(0.1)
    made = page.ask("GET", f"/api/jobs/{job}/file")
    assert made.body.startswith(b"%PDF-")
    assert 'attachment; filename="pair.pdf"' in made.headers["content-disposition"]


def test_a_value_of_the_quilt_is_changed_and_nothing_else(quilt: Path) -> None:
    with served(quilt) as page:
        told = page.ask("GET", "/api/quilt").json
        change = {"path": ["preferences", "seam"], "value": "3/8"}
        body = {"what": "Seam allowance changed", "changes": [change]}
        assert page.ask("PUT", "/api/quilt", body, base=told["revision"]).status == 200
        text = (quilt / "quilt.yaml").read_text("utf-8")
        assert text.endswith("  - Pair     # the second\npreferences:\n  seam: 3/8\n")
        base = page.ask("GET", "/api/quilt").json["revision"]
        change["value"] = "wide"
        refused = page.ask("PUT", "/api/quilt", body, base=base)
        assert refused.status == 422
        assert (quilt / "quilt.yaml").read_text("utf-8") == text


def test_a_second_server_on_the_same_quilt_is_refused(page: Server, quilt: Path) -> None:
    with served(quilt), pytest.raises(RuntimeError, match="open in another"):
        start(quilt)
    with pytest.raises(RuntimeError, match="is taken"):
        start(quilt, "--port", str(page.port))


def waited(page: Server, path: str, wait: float = 170) -> Any:
    """A view of the quilt, waited for."""
    end = time.monotonic() + wait
    while (reply := page.ask("GET", path)).status == 202:
        assert time.monotonic() < end
        time.sleep(0.2)
    return reply.json


def test_what_a_quilt_does_not_have_is_said(page: Server) -> None:
    for name in ("top", "programme"):
        told = waited(page, f"/api/{name}")
        assert "has no" in told["missing"]
        assert told["mend"]


def test_the_cloth_and_its_lists(page: Server) -> None:
    told = waited(page, "/api/cloth")
    assert [name for name, _ in told["facts"]] == ["A Light", "B Dark"]
    assert all(amount.endswith(" yd") for _, amount in told["facts"])
    assert told["pictures"][0]["svg"].startswith("<svg")
    job = page.ask("POST", "/api/jobs", {"job": "cloth"}).json["job"]
    end = time.monotonic() + 90
    while (state := page.ask("GET", f"/api/jobs/{job}").json)["state"] == "working":
        assert time.monotonic() < end
        time.sleep(0.1)
    assert state["files"] == ["cutting-list.csv", "cutting-order.csv", "shopping-list.csv"]
    made = page.ask("GET", f"/api/jobs/{job}/file?name=shopping-list.csv")
    assert b"Light" in made.body


def test_a_booklet_is_made_and_can_be_stopped(page: Server) -> None:
    job = page.ask("POST", "/api/jobs", {"job": "booklet", "paper": "a4"}).json["job"]
    assert page.ask("POST", f"/api/jobs/{job}/stop").json["job"] == job
    job = page.ask("POST", "/api/jobs", {"job": "booklet", "paper": "a4"}).json["job"]
    end = time.monotonic() + 170
    while (state := page.ask("GET", f"/api/jobs/{job}").json)["state"] == "working":
        assert time.monotonic() < end
        time.sleep(0.2)
    assert state["state"] == "done", state
    assert state["files"] == ["trial-a4.pdf", "trial.html"]
    assert page.ask("GET", f"/api/jobs/{job}/file").body.startswith(b"%PDF-")
