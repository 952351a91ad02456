"""The tutorial is carried out, word for word, in an empty folder.

Shell blocks are run, files are saved where the text says, and what the next block shows must be
what is seen. To take over what is seen now, run with ``SEAMPROOF_ACCEPT=1`` and read the
difference.
"""

from __future__ import annotations

import os
import re
import shlex
from pathlib import Path

import pytest

from seamproof.cli import main

PAGE = Path(__file__).parents[2] / "docs" / "tutorial.md"
BLOCK = re.compile(r"^```(sh|yaml|text)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
SAVED_AS = re.compile(r"`([\w/.-]+\.yaml)`")


def carried_out(page: str, capsys: pytest.CaptureFixture[str]) -> str:
    """The page with every shown output replaced by what is seen."""
    made, done, seen = [], 0, ""
    for block in BLOCK.finditer(page):
        kind, content = block.groups()
        made.append(page[done : block.start()])
        done = block.end()
        if kind == "yaml":
            name = SAVED_AS.findall(page[: block.start()])[-1]
            Path(name).write_text(content, encoding="utf-8")
        elif kind == "sh":
            assert seen == "", "what the command before says is shown"
            for line in content.splitlines():
                program, *arguments = shlex.split(line)
                assert program == "seamproof"
                main(arguments)
            said = capsys.readouterr()
            seen = said.out + said.err
        else:
            content, seen = seen, ""
        made.append(f"```{kind}\n{content}```")
    return "".join([*made, page[done:]])


def test_the_tutorial_does_what_it_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    page = PAGE.read_text(encoding="utf-8")
    found = carried_out(page, capsys)
    if os.environ.get("SEAMPROOF_ACCEPT"):
        PAGE.write_text(found, encoding="utf-8", newline="\n")
        page = found
    assert page == found
    assert (tmp_path / "pier.svg").read_text(encoding="utf-8").startswith("<svg ")
    assert (tmp_path / "pier.pdf").read_bytes().startswith(b"%PDF-")


def test_the_test_can_fail(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    page = "```sh\nseamproof --version\n```\n\n```text\nseamproof 99\n```\n"
    assert carried_out(page, capsys) != page
