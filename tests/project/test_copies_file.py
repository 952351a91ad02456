"""The log of test copies: what is read, and what is said of rows that cannot be."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from seamproof.accuracy.copies import SewnCopy
from seamproof.findings import Finding
from seamproof.project.copies_file import COLUMNS, copies
from seamproof.project.plain_table import table

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "files.md"


def log(text: str) -> tuple[tuple[SewnCopy, ...], tuple[Finding, ...]]:
    return copies(table(text.encode(), "copies.csv", COLUMNS, ("block",)))


def test_the_example_of_the_reference_page() -> None:
    page = PAGE.read_text("utf-8").split("## The log of test copies")[1].split("\n## ")[0]
    (example,) = re.findall(r"```text\n(.*?)```", page, re.DOTALL)
    found, findings = log(example)
    assert findings == ()
    assert [copy.pressed for copy in found] == ["usual", "open"]
    assert found[0].widths == (9.375, 9.375, 9.3125)
    assert found[1].minutes == 71
    assert found[1].notes == "thread 50, needle 70"


@pytest.mark.parametrize(
    ("row", "column", "said"),
    [
        ("Star,9 x,52", 6, "not a length"),
        ("Star,0,52", 6, "no size of a block"),
        ("Star,9 1/2,an hour", 12, "no number of minutes"),
        ("Star,9 1/2,0", 12, "cannot be"),
        ("Star,9 1/2,99999", 12, "cannot be"),
        (",9 1/2,52", 1, "names no block"),
        ("Star,,", 1, "nothing was measured"),
    ],
)
def test_rows_that_cannot_be_are_left_out_and_told(row: str, column: int, said: str) -> None:
    found, findings = log(f"block,top,minutes\nMoon,9,5\n{row}\n")
    assert [copy.block for copy in found] == ["Moon"]
    (finding,) = findings
    assert said in finding.what
    assert (finding.where.line, finding.where.column) == (3, column)
    assert (finding.severity, finding.code) == ("error", 522)


def test_minutes_alone_are_a_copy() -> None:
    found, findings = log("block,top,minutes\nStar,,52\n")
    assert findings == ()
    assert found[0].width is None
