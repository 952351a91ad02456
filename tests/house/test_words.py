"""What no file of the project may hold, and how long a module may grow."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

TEXT = {"", ".cfg", ".css", ".csv", ".html", ".ini", ".js", ".json", ".md", ".mjs", ".py", ".sh"}
TEXT |= {".svg", ".toml", ".txt", ".typ", ".yaml", ".yml"}

LONGEST = 450
"""Lines of a module. Near 400 it asks to be two; the rest is room for a docstring."""

DRAWERS = {"common", "helpers", "misc", "tools", "util", "utils"}
"""Names that say nothing about what is inside."""

# A letter in brackets keeps this file from finding itself.
UNFINISHED = re.compile(r"\b(TO[D]O|FIX[M]E|XX[X]|NotImplemented[E]rror)\b")
SET_ASIDE = re.compile(r"mark\.(sk[i]p|xf[a]il)|pytest\.(sk[i]p|xf[a]il)\(|import[o]rskip")
HOSTS = re.compile(
    r"pythonhost[e]d\.|pypi\.[op]|registry\.n[p]m|proxy\.gol[a]ng|deb\.deb[i]an|crates\.i[o]\b|"
    r"githubuserc[o]ntent"
)
PLACES = re.compile(r"(?<![\w.])/(work|root|opt|home|Users)/\w+|/tmp/\w+|[A-Z]:\\\\?Users")


def tracked() -> list[Path]:
    """Every text file that belongs to the project, or will with the next commit."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        check=True,
    ).stdout.decode("utf-8")
    paths = [ROOT / name for name in listed.split("\0") if name]
    return [path for path in paths if path.suffix.lower() in TEXT and path.is_file()]


def lines_with(pattern: re.Pattern[str], paths: list[Path]) -> list[str]:
    """`file:line: text` for every line in which the pattern is found."""
    return [
        f"{path.relative_to(ROOT)}:{number}: {line.strip()}"
        for path in paths
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if pattern.search(line)
    ]


@pytest.fixture(scope="module")
def files() -> list[Path]:
    found = tracked()
    assert len(found) > 50
    return found


def test_nothing_is_left_unfinished(files: list[Path]) -> None:
    assert lines_with(UNFINISHED, files) == []


def test_no_test_is_set_aside(files: list[Path]) -> None:
    assert lines_with(SET_ASIDE, files) == []


def test_no_registry_is_named(files: list[Path]) -> None:
    assert lines_with(HOSTS, files) == []


def test_no_place_of_one_machine_is_named(files: list[Path]) -> None:
    # The bootstrap looks where a package manager of macOS puts a Python.
    found = [line for line in lines_with(PLACES, files) if "/opt/homebrew/bin" not in line]
    assert found == []


def test_constraints_hold_versions_and_no_addresses() -> None:
    pin = re.compile(r"[A-Za-z][\w.-]*==[\w.]+\s*(#.*)?")
    for line in (ROOT / "constraints.txt").read_text("utf-8").splitlines():
        assert not line or line.startswith("#") or pin.fullmatch(line), line


def test_modules_stay_short(files: list[Path]) -> None:
    modules = [path for path in files if path.suffix in {".py", ".js", ".mjs"}]
    lengths = {str(path.relative_to(ROOT)): len(path.read_bytes().splitlines()) for path in modules}
    assert {name: length for name, length in lengths.items() if length > LONGEST} == {}


def test_no_drawer_for_everything(files: list[Path]) -> None:
    assert [str(path.relative_to(ROOT)) for path in files if path.stem in DRAWERS] == []


def test_texts_are_utf_8_with_plain_line_ends(files: list[Path]) -> None:
    for path in files:
        data = path.read_bytes()
        data.decode("utf-8")
        if path.suffix != ".csv":  # RFC 4180 ends its lines with both
            assert b"\r" not in data, path


@pytest.mark.parametrize(
    ("pattern", "line"),
    [
        (UNFINISHED, "x = 1  # TO" + "DO: later"),
        (UNFINISHED, "    raise NotImplemented" + "Error"),
        (SET_ASIDE, "@pytest.mark.sk" + "ip(reason='slow')"),
        (SET_ASIDE, "@pytest.mark.xf" + "ail"),
        (HOSTS, "--index-url https://py" + "pi.org/simple"),
        (PLACES, "TABLE = '/ro" + "ot/table.csv'"),
        (PLACES, "see /wo" + "rk/main"),
    ],
)
def test_the_patterns_find_what_they_are_for(pattern: re.Pattern[str], line: str) -> None:
    assert pattern.search(line)


@pytest.mark.parametrize(
    ("pattern", "line"),
    [
        (UNFINISHED, "a method for todos"),
        (PLACES, "#!/usr/bin/env python3"),
        (PLACES, "https://example.org/one/two"),
    ],
)
def test_the_patterns_leave_the_rest_alone(pattern: re.Pattern[str], line: str) -> None:
    assert not pattern.search(line)
