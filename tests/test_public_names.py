"""The public names are what they say, and no more."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest

import seamproof

ROOT = Path(__file__).parents[1]
SOURCE = Path(seamproof.__file__)


@pytest.mark.parametrize("name", seamproof.__all__)
def test_every_public_name_is_there(name: str) -> None:
    assert getattr(seamproof, name) is not None
    assert name in dir(seamproof)


def test_no_other_name_is_there() -> None:
    with pytest.raises(AttributeError, match="no attribute 'nonsense'"):
        seamproof.nonsense  # noqa: B018


def test_the_types_and_the_homes_agree() -> None:
    """What the type checker is told to import is what is loaded."""
    tree = ast.parse(SOURCE.read_text(encoding="utf-8"))
    (told,) = (node for node in tree.body if isinstance(node, ast.If))
    imported = {
        alias.asname or alias.name: (node.module, alias.name)
        for node in told.body
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    assert imported == seamproof._HOMES
    assert sorted([*imported, "__version__"]) == sorted(seamproof.__all__)


def test_no_public_name_is_hidden_by_a_package() -> None:
    packages = {path.parent.name for path in SOURCE.parent.glob("*/__init__.py")}
    assert not packages & set(seamproof.__all__)


def test_importing_the_package_loads_nothing() -> None:
    done = subprocess.run(
        [
            sys.executable,
            "-c",
            "import sys, seamproof; print([m for m in sys.modules if m.startswith('seamproof.')])",
        ],
        capture_output=True,
        text=True,
        check=True,
        cwd=SOURCE.parent.parent,
    )
    assert done.stdout == "[]\n"


def test_the_reference_page_names_them_all_and_no_others() -> None:
    page = (ROOT / "docs" / "reference" / "python.md").read_text(encoding="utf-8")
    assert re.findall(r"^\| `(\w+)` \|", page, re.MULTILINE) == seamproof.__all__
