from __future__ import annotations

import pytest

from seamproof.answers.model import Note, Spot
from seamproof.cli.telling import pointed, show_notes, show_table, tell_refusal
from seamproof.errors import InputError, Place


def note(severity: str, **where: object) -> Note:
    spot = {"file": None, "line": None, "column": None, "block": None, "at": None} | where
    return Note(104, severity, Spot(**spot), "there is a gap", "fill it")  # type: ignore[arg-type]


def test_a_note_says_how_grave_where_what_and_what_to_do(
    capsys: pytest.CaptureFixture[str],
) -> None:
    show_notes([note("error", file="star.yaml", line=2, column=3)], ["name: x", "  - a b"])
    assert capsys.readouterr().out == (
        "\nstar.yaml:2:3: error: there is a gap [104]\n  2 |   - a b\n    |   ^\n  fill it\n"
    )


def test_notes_that_read_alike_are_shown_once(capsys: pytest.CaptureFixture[str]) -> None:
    show_notes([note("note", at=(1.0, 2.0)), note("note", at=(2.0, 1.0)), note("error")])
    said = capsys.readouterr().out
    assert said.count("there is a gap") == 2
    assert "note: there is a gap (at 2 places) [104]" in said


def test_a_note_without_a_file_names_the_block(capsys: pytest.CaptureFixture[str]) -> None:
    show_notes([note("note", block="Star")])
    assert capsys.readouterr().out == "\nStar: note: there is a gap [104]\n  fill it\n"


def test_square_brackets_and_long_lines_are_left_alone(capsys: pytest.CaptureFixture[str]) -> None:
    what = "[bold]" + "long " * 60 + "end"
    tell_refusal(InputError(what, place=Place("a [b].yaml", 1, 1), source="[x]"))
    assert capsys.readouterr().err == f"a [b].yaml:1:1: {what}\n  1 | [x]\n    | ^\n"


def test_there_are_no_colours_where_there_is_no_terminal(
    capsys: pytest.CaptureFixture[str],
) -> None:
    show_notes([note("error")])
    assert "\x1b" not in capsys.readouterr().out


def test_the_caret_stands_under_its_column_behind_tabs_and_in_long_lines() -> None:
    assert pointed("\ta: 1", 7, 5) == ("  7 | \ta: 1", "    | \t   ^")
    source, caret = pointed("x" * 5000 + "!" + "y" * 5000, 12, 5001)
    assert source[caret.index("^")] == "!"
    assert len(source) < 120


def test_nothing_in_a_file_can_move_the_cursor() -> None:
    source, _ = pointed("a\x1b[2Jb\rc", 1, 1)
    assert "\x1b" not in source
    assert "\r" not in source


def test_columns_line_up_with_wide_letters(capsys: pytest.CaptureFixture[str]) -> None:
    show_table(("Name", "Count"), [("藍", "1"), ("a", "10")], right=("Count",))
    assert capsys.readouterr().out.splitlines() == ["Name  Count", "藍        1", "a        10"]
