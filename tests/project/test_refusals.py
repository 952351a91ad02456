"""What is said about files that cannot be read: pairs of a file and what a quilter is told.

`tests/golden/refusals/<case>.yaml` is the file, `<case>.txt` beside it what is said. After a change
that is meant, run with ``SEAMPROOF_ACCEPT=1`` and read the difference.
"""

from __future__ import annotations

import difflib
import os
from pathlib import Path

import pytest

from seamproof.draft.model import Drawing
from seamproof.errors import InputError
from seamproof.project import limits
from seamproof.project.block_file import block_drawing
from seamproof.project.model import Project
from seamproof.project.quilt_file import quilt_project
from seamproof.project.reading import read_block_bytes
from seamproof.project.yaml_tree import document

FOLDER = Path(__file__).parents[1] / "golden" / "refusals"
CASES = sorted(path.stem for path in FOLDER.glob("*.yaml"))


def told(error: InputError) -> str:
    """Place, what, the line with a caret, mend."""
    place = error.place
    lines = [f"{place}: {error.what}"]
    if error.source is not None:
        line = error.source.replace("\t", " ")
        lines += [f"    {line}".rstrip(), f"    {'^':>{max(place.column, 1)}}"]
    return "\n".join([*lines, f"  {error.mend}"]) + "\n"


def refused(case: str, data: bytes) -> InputError:
    with pytest.raises(InputError) as caught:
        read(case, data)
    return caught.value


def read(case: str, data: bytes) -> Drawing | Project:
    made = document(data, f"{case}.yaml")
    if case.startswith("quilt-"):
        return quilt_project(made, FOLDER / "none")
    return block_drawing(made)


def differences(expected: str, said: str) -> list[str]:
    return list(difflib.unified_diff(expected.splitlines(), said.splitlines(), "expected", "said"))


@pytest.mark.parametrize("case", CASES)
def test_what_is_said(case: str) -> None:
    error = refused(case, (FOLDER / f"{case}.yaml").read_bytes())
    golden = FOLDER / f"{case}.txt"
    if os.environ.get("SEAMPROOF_ACCEPT"):
        golden.write_text(told(error), encoding="utf-8")
    diff = differences(golden.read_text(encoding="utf-8"), told(error))
    assert not diff, "\n".join(diff)
    assert error.place.line >= 1
    assert error.place.column >= 1
    assert error.mend
    assert max(map(len, (error.what, error.mend))) < 140


def test_the_comparison_can_fail() -> None:
    error = refused("no-name", b"finished: 9\n")
    assert differences(told(error).replace("name", "title"), told(error))


def test_every_sentence_has_its_file() -> None:
    assert len(CASES) >= 85
    assert {path.stem for path in FOLDER.glob("*.txt")} == set(CASES)


BYTES = {
    "not utf-8": (b"name: Star\nfinished: \xe9\n", "2:11"),
    "not utf-8 behind a mark": (b"\xef\xbb\xbfname: \xff\n", "1:7"),
    "utf-16": ("name: Star\n".encode("utf-16"), "1:1"),
    "nul": (b"name: St\0ar\n", "1:9"),
    "second mark": (b"\xef\xbb\xbfname: \xef\xbb\xbfStar\n", "1:7"),
    "next line": ("name: Star\x85\n".encode(), "1:11"),
    "half a character": (b"name: Star\nx: \xf0\x9f", "2:4"),
    "surrogate": (b"name: \xed\xa0\x80\n", "1:7"),
    "a version of many digits": (b"%YAML 1." + b"9" * 5000 + b"\n---\nname: x\n", "1:1"),
    "5,000 brackets": (b"name: " + b"[" * 5000, "1:18"),
    "5,000 curly brackets": (b"name: " + b"{a: " * 5000, "1:51"),
    "5,000 levels": (b"".join(b" " * n + b"a:\n" for n in range(5000))[:90_000], "13:13"),
}


@pytest.mark.parametrize("case", BYTES)
def test_bytes_that_are_no_text(case: str) -> None:
    data, place = BYTES[case]
    error = refused(case, data)
    assert str(error.place) == f"{case}.yaml:{place}"
    assert error.mend


def test_what_exceeds_a_limit() -> None:
    head = "name: Star\nfinished: 9\n"
    triangle = "  - {fabric: a, points: [[0, 0], [9, 0], [0, 9]]}\n"
    cases = {
        head + "cells:\n  - " + "a " * (limits.SIDE + 1): "a row has more than 400 cells",
        head + "cells:\n" + "  - a\n" * (limits.SIDE + 1): "cells has more than 400 entries",
        head + "cells:\n" + ("  - " + "a " * 400 + "\n") * 51: "cells has more than 20,000 cells",
        head + "patches:\n" + triangle * (limits.PATCHES + 1): "patches has more than 4,000",
        head + "patches:\n  - {fabric: a, points: [" + "[0, 0], " * 201 + "]}\n": "points has more",
        head + "cells:\n  - a\norder:\n" + "  - rows\n" * 4001: "order has more than 4,000",
        "#" + "x" * limits.FILE_BYTES: "the file is larger than 1,000,000 bytes",
    }
    for text, what in cases.items():
        with pytest.raises(InputError, match=what):
            read_block_bytes(text.encode(), "star.yaml")


def test_the_largest_block_is_read() -> None:
    triangle = "  - {fabric: ab, points: [[0.123456, 0], [9.123456, 0], [0, 9.123456]]}\n"
    text = "name: Star\nfinished: 9\npatches:\n" + triangle * limits.PATCHES
    drawn = read_block_bytes(text.encode(), "star.yaml").drawing.drawn
    assert len(drawn.patches) == limits.PATCHES  # type: ignore[union-attr]
