"""The reference page names every key of every answer, and no other."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from seamproof.answers.asking import ANSWERS

PAGE = (Path(__file__).parents[2] / "docs" / "reference" / "json.md").read_text("utf-8")
SECTIONS = dict(re.findall(r"^## (.+?)\n(.*?)(?=^## |\Z)", PAGE, re.MULTILINE | re.DOTALL))
COMMON = "In every answer"


def named(section: str) -> list[str]:
    return re.findall(r"^\| `([\w.\[\]]+)` \| .+\. \|$", SECTIONS[section], re.MULTILINE)


def keys(
    schema: dict[str, Any], node: dict[str, Any], at: str = "", inside: tuple[str, ...] = ()
) -> Iterator[str]:
    """Every key of an answer, as ``blocks[].name``. What holds its own like is gone into once."""
    if "$ref" in node:
        name = node["$ref"].rpartition("/")[2]
        if name in inside:
            return
        node, inside = schema["$defs"][name], (*inside, name)
    for option in node.get("anyOf", ()):
        yield from keys(schema, option, at, inside)
    if isinstance(node.get("items"), dict):
        yield from keys(schema, node["items"], f"{at}[]", inside)
    for key, inner in node.get("properties", {}).items():
        path = f"{at}.{key}" if at else key
        yield path
        yield from keys(schema, inner, path, inside)


@pytest.mark.parametrize("name", ANSWERS)
def test_every_key_is_documented_and_every_documented_one_exists(name: str) -> None:
    schema = ANSWERS[name].json_schema()
    common = [] if name == "error" else named(COMMON)
    written = list(keys(schema, schema))
    assert sorted({*named(name), *common, "format"}) == sorted(written)
    assert len(named(name)) == len(set(named(name)))


def test_every_section_is_of_an_answer() -> None:
    assert sorted(SECTIONS) == sorted([COMMON, *ANSWERS])
