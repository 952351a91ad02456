"""The reference page of files: every key and limit is on it, and its examples are read."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from seamproof.draft.understanding import understand
from seamproof.length.notation import inches, parse
from seamproof.project import limits
from seamproof.project.block_file import KEYS, block_drawing
from seamproof.project.quilt_file import FABRIC_KEYS, PREFERENCE_KEYS, VALUES, quilt_project
from seamproof.project.quilt_file import KEYS as QUILT_KEYS
from seamproof.project.yaml_tree import document

PAGE = (Path(__file__).parents[2] / "docs" / "reference" / "files.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```yaml\n(.*?)```", PAGE, re.DOTALL)


@pytest.mark.parametrize("key", [*KEYS, *QUILT_KEYS, *FABRIC_KEYS, *PREFERENCE_KEYS, *VALUES])
def test_every_key_is_on_the_page(key: str) -> None:
    assert f"`{key}`" in PAGE


@pytest.mark.parametrize("text", EXAMPLES, ids=lambda text: text.split("name: ")[1].split("\n")[0])
def test_the_examples_are_read(text: str) -> None:
    made = document(text.encode(), "example.yaml")
    if "fabrics:" in text and "seams:" not in text:
        assert len(quilt_project(made, Path("none")).fabrics) == 2
    else:
        block, findings = understand(block_drawing(made))
        assert block is not None, findings


def test_there_are_examples_of_all_ways_to_draw() -> None:
    assert len(EXAMPLES) == 7
    for key in ("cells:", "patches:", "seams:", "fabrics:", "units:"):
        assert any(f"\n{key}" in text for text in EXAMPLES)


def test_the_lengths_on_the_page_are_read() -> None:
    shown = PAGE.split("As at the cutting table: ")[1].split(". A number")[0]
    lengths = re.findall("`([^`]+)`", shown)
    assert len(lengths) == 8
    assert all(parse(length) > 0 for length in lengths)


def test_every_limit_is_on_the_page() -> None:
    table = PAGE.split("## Limits")[1].split("## ")[0]
    names = [name for name in vars(limits) if name.isupper() and name != "MOST_DIGITS"]
    assert len(names) == table.count("\n| ") - 1 + 1  # SMALLEST shares a row; less the heading
    for name in names:
        value = getattr(limits, name)
        written = f"{value:,}" if isinstance(value, int) else f"{inches(value)} in"
        assert re.search(rf"[ |]{re.escape(written)}[ |;]", table), (name, written)
