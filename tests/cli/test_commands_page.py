"""The reference page says what the commands take."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import typer.main

from seamproof.cli.commands import COMMANDS, app

PAGE = (Path(__file__).parents[2] / "docs" / "reference" / "commands.md").read_text("utf-8")

SECTIONS = dict(re.findall(r"^## (.+?)\n(.*?)(?=^## |\Z)", PAGE, re.MULTILINE | re.DOTALL))
GROUP = typer.main.get_command(app)
EVERYWHERE = SECTIONS["Options of every command"]


def options(text: str) -> set[str]:
    """The options that a page speaks of, in backticks."""
    return set(re.findall(r"`(--?[a-z]+(?:-[a-z]+)*)[ `]", text))


def test_every_command_has_a_section_in_the_order_of_help() -> None:
    assert tuple(SECTIONS) == ("Options of every command", "seamproof", *COMMANDS)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_option_and_argument_is_there_and_no_other(name: str) -> None:
    section = SECTIONS[name]
    taken = GROUP.commands[name].params  # type: ignore[attr-defined]
    known = {opt for p in taken if p.param_type_name == "option" for opt in p.opts}
    common = options(EVERYWHERE)
    assert known - common == options(section) - common
    assert {"--json"} <= known
    for argument in (p for p in taken if p.param_type_name == "argument"):
        words = re.findall(r"[A-Za-z_]+", argument.metavar)
        assert all(re.search(rf"\b{word}\b", section) for word in words)


def test_options_before_the_command_are_there() -> None:
    known = {opt for p in GROUP.params for opt in p.opts if opt.startswith("--")}
    assert known - {"--help"} == options(SECTIONS["seamproof"])
