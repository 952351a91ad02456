"""Every command against the laws that hold for all of them. A new command is one more row."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from seamproof.answers.asking import ANSWERS
from seamproof.cli import main
from seamproof.cli.commands import COMMANDS

STAR = """\
name: First Star
finished: 9
cells:
  - a   a/b a
  - a\\b c   b\\a
  - a   b/a a
"""

SET = """\
name: One star
fabrics: [{letter: a}, {letter: b}, {letter: c}]
setting:
  rows: [[First Star]]
  sashing: 2 of a
programme:
  start: 2027-01-31
  releases: [First Star]
"""

FROZEN = '{"seamproof": 1, "number": "1.0", "facts": [], "dated": ""}'

BROKEN = """\
name: Broken Star
finished: nine inches
cells:
  - a   a/b a
"""

GAP = """\
name: Gap Star
finished: 9
patches:
  - {fabric: a, points: [[0, 0], [9, 0], [9, 4], [0, 4]]}
  - {fabric: b, points: [[0, 5], [9, 5], [9, 9], [0, 9]]}
"""


@dataclass(frozen=True)
class Row:
    """A command: arguments that make it end well, and whether the first of them is a block file."""

    command: str
    arguments: tuple[str, ...]
    reads: bool = True


ROWS = (
    Row("new", ("quilt",), reads=False),
    Row("draft", ("star.yaml",)),
    Row("piece", ("star.yaml",)),
    Row("cut", ("star.yaml", "--copies", "3")),
    Row("press", ("star.yaml", "--compare")),
    Row("bulk", ("star.yaml", "-o", "star.svg", "--beside", "2x2")),
    Row("rehearse", ("star.yaml", "--makers", "200")),
    Row("measure", ("star.yaml", "--got", "9 1/4", "--got", "9 3/8")),
    Row("top", ("set", "-o", "top.svg", "--what-if", "wall"), reads=False),
    Row("proof", ("star.yaml",)),
    Row("cloth", ("star.yaml", "--kits", "3")),
    Row("programme", ("set", "-o", "out"), reads=False),
    Row("release", ("set",), reads=False),
    Row("redline", ("set", "1.0"), reads=False),
    Row("kits", ("star.yaml", "--people", "60", "-o", "out")),
    Row("booklet", ("star.yaml", "--sheet", "-o", "star.pdf")),
    Row("demo", (), reads=False),
    Row("schema", ("quilt",), reads=False),
    Row("doctor", (), reads=False),
)
READING = tuple(row for row in ROWS if row.reads)


def named(row: Row) -> str:
    return row.command


@pytest.fixture(autouse=True)
def files(at_home: Path) -> None:
    for name, text in (("star", STAR), ("broken", BROKEN), ("gap", GAP)):
        (at_home / f"{name}.yaml").write_text(text, encoding="utf-8")
    (at_home / "set").mkdir()
    (at_home / "set" / "quilt.yaml").write_text(SET, encoding="utf-8")
    frozen = at_home / "set" / "releases" / "1.0"
    frozen.mkdir(parents=True)
    (frozen / "version.json").write_text(FROZEN, encoding="utf-8")
    (at_home / "set" / "star.yaml").write_text(STAR, encoding="utf-8")


def answer(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, Any]:
    """How a command with ``--json`` ends, and the one object it wrote."""
    code = main([*arguments, "--json"])
    return code, json.loads(capsys.readouterr().out)


def test_every_command_stands_in_the_table() -> None:
    # `serve` runs until it is stopped; its tests start it as a process of its own.
    assert sorted([*(row.command for row in ROWS), "serve"]) == sorted(COMMANDS)
    assert sorted(ANSWERS) == sorted(
        [*COMMANDS, "compare", "copies", "diagnose", "error", "offer", "pattern"]
    )


@pytest.mark.parametrize("row", ROWS, ids=named)
def test_help_has_an_example_that_works(row: Row, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([row.command, "--help"]) == 0
    said = capsys.readouterr()
    assert f"Example: seamproof {row.command}" in said.out
    assert "--json" in said.out
    assert said.err == ""


@pytest.mark.usefixtures("files", "remembering")
@pytest.mark.parametrize("row", ROWS, ids=named)
def test_it_ends_well_and_says_something(row: Row, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([row.command, *row.arguments]) == 0
    said = capsys.readouterr()
    assert said.out.strip()
    assert said.err == "", "there is nothing to talk about, and this is no terminal"


@pytest.mark.usefixtures("files", "remembering")
@pytest.mark.parametrize("row", ROWS, ids=named)
def test_json_is_one_object_of_the_published_form(
    row: Row, capsys: pytest.CaptureFixture[str]
) -> None:
    code, plain = answer(capsys, row.command, *row.arguments)
    assert code == 0
    assert plain["format"] == 1
    assert isinstance(plain["findings"], list)
    jsonschema.validate(plain, ANSWERS[row.command].json_schema())


@pytest.mark.parametrize("name", ANSWERS)
def test_schemas_are_shown_and_are_schemas(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema", "--answer", name]) == 0
    schema = json.loads(capsys.readouterr().out)
    jsonschema.Draft202012Validator.check_schema(schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({"format": 1}, schema)


@pytest.mark.parametrize("row", READING, ids=named)
def test_a_missing_file_is_refused_by_name(row: Row, capsys: pytest.CaptureFixture[str]) -> None:
    rest = row.arguments[1:]
    code, plain = answer(capsys, row.command, "nowhere.yaml", *rest)
    assert code == 2
    jsonschema.validate(plain, ANSWERS["error"].json_schema())
    assert plain["error"]["file"] == "nowhere.yaml"
    assert main([row.command, "nowhere.yaml", *rest]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("nowhere.yaml: ")


@pytest.mark.parametrize("row", READING, ids=named)
def test_a_broken_file_is_refused_with_line_and_caret(
    row: Row, capsys: pytest.CaptureFixture[str]
) -> None:
    rest = row.arguments[1:]
    code, plain = answer(capsys, row.command, "broken.yaml", *rest)
    error = plain["error"]
    assert code == 2
    assert (error["file"], error["line"], error["column"]) == ("broken.yaml", 2, 11)
    assert main([row.command, "broken.yaml", *rest]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    first, source, caret, *mend = said.err.splitlines()
    assert first.startswith("broken.yaml:2:11: ")
    assert source == "  2 | finished: nine inches"
    assert caret == "    |           ^"
    assert mend == [f"  {error['mend']}"]


@pytest.mark.parametrize("row", READING, ids=named)
def test_a_drawing_that_cannot_be_sewn_ends_with_1(
    row: Row, capsys: pytest.CaptureFixture[str]
) -> None:
    rest = row.arguments[1:]
    code, plain = answer(capsys, row.command, "gap.yaml", *rest)
    assert code == 1
    jsonschema.validate(plain, ANSWERS[row.command].json_schema())
    grave = [found for found in plain["findings"] if found["severity"] == "error"]
    assert grave
    assert all(found["where"]["file"] == "gap.yaml" for found in grave)
    assert all(found["what"] and found["mend"] for found in grave)
    assert main([row.command, "gap.yaml", *rest]) == 1
    said = capsys.readouterr()
    assert grave[0]["what"] in said.out
    assert "error: " in said.out


@pytest.mark.parametrize("row", ROWS, ids=named)
@pytest.mark.parametrize("extra", [["--nonsense"], ["too", "many", "words"]], ids=" ".join)
def test_wrong_use_is_refused_as_json_too(
    row: Row, extra: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    code, plain = answer(capsys, row.command, *row.arguments, *extra)
    assert code == 2
    jsonschema.validate(plain, ANSWERS["error"].json_schema())
    assert plain["error"]["mend"] == f"see seamproof {row.command} --help"


@pytest.mark.parametrize(
    ("arguments", "what"),
    [
        (["nonsense"], "no such command 'nonsense'"),
        (["--nonsense"], "no such option: --nonsense"),
        (["schema", "nonsense"], "there is no file called nonsense"),
        (["schema", "--answer", "nonsense"], "there is no answer called nonsense"),
        (["cut", "star.yaml", "--copies", "0"], "--copies"),
        (["cut", "star.yaml", "--copies", "many"], "--copies"),
        (["proof", "empty"], "there is neither a quilt.yaml nor a block in this folder"),
        (["top", "empty"], "there is no quilt.yaml in this folder, so it has no setting"),
        (["programme", "empty"], "no quilt.yaml in this folder, so it has no programme"),
        (["cloth", "nowhere"], "there is no such file or folder"),
        (["cloth", "star.yaml", "--shelf", "b:-2ofx"], '"-2ofx" is not a piece of cloth'),
        (["top", "nowhere"], "there is no such folder"),
        (["draft", "empty"], "is a folder"),
    ],
    ids=" ".join,
)
def test_other_wrong_uses(
    arguments: list[str], what: str, capsys: pytest.CaptureFixture[str], at_home: Path
) -> None:
    (at_home / "empty").mkdir()
    code, plain = answer(capsys, *arguments)
    assert code == 2
    assert what in plain["error"]["what"]


def test_a_new_quilt_writes_over_nothing(capsys: pytest.CaptureFixture[str], at_home: Path) -> None:
    (at_home / "quilt.yaml").write_text("name: Mine\n", encoding="utf-8")
    code, plain = answer(capsys, "new", ".")
    assert code == 2
    assert "quilt.yaml was not written" in plain["error"]["what"]
    assert (at_home / "quilt.yaml").read_text(encoding="utf-8") == "name: Mine\n"
