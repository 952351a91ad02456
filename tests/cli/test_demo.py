"""The demo quilt, from nothing to sheets, and called again."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from seamproof.cli import main

pytestmark = pytest.mark.usefixtures("at_home", "remembering")


def demo(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, Any]:
    code = main(["demo", *arguments, "--json"])
    return code, json.loads(capsys.readouterr().out)


def test_every_block_has_its_sheet(capsys: pytest.CaptureFixture[str]) -> None:
    code, plain = demo(capsys)
    assert code == 0
    assert plain["folder"] == "demo-out"
    assert plain["kept"] == []
    assert len(plain["blocks"]) >= 12
    for block in plain["blocks"]:
        assert Path(block["file"]).is_file()
        assert Path(block["sheet"]).read_bytes().startswith(b"%PDF-")
        assert block["seams"] == block["patches"] - 1
        assert block["pieces"] > 0
        assert block["steps"] > 0
    assert sum(block["notes"] for block in plain["blocks"]) == len(plain["findings"])


def test_the_table_has_a_line_for_every_block(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["demo", "lamps"]) == 0
    title, _, heading, *rows = capsys.readouterr().out.splitlines()
    assert title.startswith("Lamps Along the Quay")
    for column in ("Block", "Size", "Patches", "Seams", "Corners to set in", "Notes", "File"):
        assert column in heading
    assert rows[0].startswith("Breakwater ")
    assert "lamps/sheets/breakwater.pdf" in rows[0].replace("\\", "/")


def test_called_again_it_keeps_what_was_changed_and_gives_the_same_bytes(
    capsys: pytest.CaptureFixture[str], at_home: Path
) -> None:
    _, first = demo(capsys)
    sheet = Path(first["blocks"][0]["sheet"])
    bytes_before = sheet.read_bytes()
    changed = at_home / "demo-out" / "blocks" / "deck-light.yaml"
    changed.write_text("# mine\n" + changed.read_text(encoding="utf-8"), encoding="utf-8")
    (at_home / "demo-out" / "blocks" / "dinghy.yaml").unlink()
    code, second = demo(capsys)
    assert code == 0
    assert [Path(name).name for name in second["kept"]] == ["deck-light.yaml"]
    assert changed.read_text(encoding="utf-8").startswith("# mine\n")
    assert (at_home / "demo-out" / "blocks" / "dinghy.yaml").is_file()
    assert sheet.read_bytes() == bytes_before
    _, fresh = demo(capsys, "--fresh")
    assert fresh == second
    assert sheet.read_bytes() == bytes_before


def test_another_quilt_is_left_alone(capsys: pytest.CaptureFixture[str], at_home: Path) -> None:
    assert main(["new", "mine"]) == 0
    before = {path: path.read_bytes() for path in at_home.rglob("*.yaml")}
    capsys.readouterr()
    code, plain = demo(capsys, "mine")
    assert code == 2
    assert "another quilt" in plain["error"]["what"]
    assert {path: path.read_bytes() for path in at_home.rglob("*.yaml")} == before
