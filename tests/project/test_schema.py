"""The schemas for editors: they know every key, accept what we write, are never the stricter."""

from __future__ import annotations

import random
import re
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft7Validator
from ruamel.yaml import YAML

from seamproof.draft.model import Drawing
from seamproof.errors import InputError
from seamproof.length.notation import Measure
from seamproof.project import block_file, quilt_file, starting
from seamproof.project.schema import block_schema, quilt_schema
from seamproof.project.writing import write_block
from seamproof.project.yaml_tree import Items, Node, Scalar, document
from tests.project.test_mutations import FILES, mutated, read
from tests.project.test_refusals import CASES, FOLDER
from tests.project.written import drawings

DEMO = Path(starting.__file__).parent / "demo"
BLOCK, QUILT = Draft7Validator(block_schema()), Draft7Validator(quilt_schema())

NULL, BOOLEAN = re.compile("null|Null|NULL|~|"), re.compile("true|True|TRUE|false|False|FALSE")
INTEGER = re.compile("[-+]?[0-9]+")
FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?")


def loaded(node: Node) -> Any:
    """What an editor makes of a tree: the core schema of YAML 1.2, chapter 10.3.2."""
    if isinstance(node, Items):
        return [loaded(item) for item in node.items]
    if not isinstance(node, Scalar):
        return {key.text: loaded(value) for key, value in node.entries}
    text = node.text
    if node.style != "plain":
        return text
    if NULL.fullmatch(text):
        return None
    if BOOLEAN.fullmatch(text):
        return text.lower() == "true"
    if INTEGER.fullmatch(text):
        return int(text)
    return float(text) if FLOAT.fullmatch(text) else text


def test_the_schemas_are_schemas() -> None:
    Draft7Validator.check_schema(block_schema())
    Draft7Validator.check_schema(quilt_schema())
    assert set(block_schema()["properties"]) == set(block_file.KEYS)
    assert set(quilt_schema()["properties"]) == set(quilt_file.KEYS)
    fabric = quilt_schema()["properties"]["fabrics"]["items"]["properties"]
    assert set(fabric) == set(quilt_file.FABRIC_KEYS)
    preferences = quilt_schema()["properties"]["preferences"]["properties"]
    assert set(preferences) == set(quilt_file.PREFERENCE_KEYS)


def described(schema: dict[str, Any]) -> bool:
    return all(schema["properties"][key].get("description") for key in schema["properties"])


def test_every_key_is_described() -> None:
    assert described(block_schema())
    assert described(quilt_schema())


@pytest.mark.parametrize("path", sorted(DEMO.rglob("*.yaml")), ids=lambda path: path.stem)
def test_the_demo_is_valid(path: Path) -> None:
    validator = QUILT if path.name == quilt_file.QUILT_FILE else BLOCK
    text = path.read_text(encoding="utf-8")
    validator.validate(YAML(typ="safe", pure=True).load(text))
    validator.validate(loaded(document(text.encode(), path.name).root))


def test_new_files_are_valid(tmp_path: Path) -> None:
    quilt, block = starting.new_project(tmp_path)
    QUILT.validate(loaded(document(quilt.read_bytes(), "quilt.yaml").root))
    BLOCK.validate(loaded(document(block.read_bytes(), "block.yaml").root))


@given(drawings, st.sampled_from(["in", "cm"]))
def test_what_we_write_is_valid(drawing: Drawing, measure: Measure) -> None:
    text = write_block(drawing, measure)
    BLOCK.validate(loaded(document(text.encode(), "made.yaml").root))


def never_stricter(name: str, data: bytes) -> bool | None:
    """Whether the schema refuses; None if nothing can be loaded. If it does, the reader does."""
    try:
        plain = loaded(document(data, f"{name}.yaml").root)
    except InputError:
        return None
    validator = QUILT if name.startswith("quilt") else BLOCK
    refused = not validator.is_valid(plain)
    if refused:
        with pytest.raises(InputError):
            read(name, data)
    return refused


@pytest.mark.parametrize("name", FILES)
def test_what_the_schema_refuses_the_reader_refuses(name: str) -> None:
    dice = random.Random(f"schema {name}")
    refused = [never_stricter(name, mutated(FILES[name], dice)) for _ in range(150)]
    assert refused.count(True) > 5


def test_the_schema_sees_faults_of_keys_and_shapes() -> None:
    seen = [case for case in CASES if never_stricter(case, (FOLDER / f"{case}.yaml").read_bytes())]
    assert {"no-name", "unknown-key", "drawn-twice", "patch-capital", "quilt-color"} <= set(seen)
    assert len(seen) >= 25
