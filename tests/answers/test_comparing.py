"""The answer of ``cut --compare``."""

from __future__ import annotations

from pathlib import Path

import pytest

from seamproof.answers import asking
from seamproof.cli import main

BLOCK = """\
name: Nine
finished: 9
cells:
  - a b a
  - b a b
  - a b a
"""


@pytest.fixture
def nine(tmp_path: Path) -> Path:
    file = tmp_path / "nine.yaml"
    file.write_text(BLOCK, encoding="utf-8")
    return file


def test_what_each_way_asks(nine: Path) -> None:
    answer = asking.compare(nine, copies=2)
    (unit,) = answer.units or ()
    assert (unit.unit, unit.fabrics, unit.count) == ("nine-patch", ("a", "b"), 2)
    assert {way.method: way.chosen for way in unit.ways} == {
        "strip sets": False,
        "single patches": True,
    }
    (singly,) = [way for way in unit.ways if way.chosen]
    assert (singly.pieces, singly.seams, singly.cloth) == (18, 16, 18 * 3.5**2)
    assert answer.exit_code == 0


def test_a_block_that_is_not_understood_has_none(nine: Path) -> None:
    nine.write_text(BLOCK.replace("b a b", "b a"), encoding="utf-8")
    answer = asking.compare(nine)
    assert answer.units is None
    assert answer.exit_code == 1


def test_it_is_shown_unit_by_unit(nine: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["cut", str(nine), "--compare", "--copies", "8"]) == 0
    shown = capsys.readouterr().out
    assert "8 nine-patches of A and B" in shown
    assert "\n*  strip sets " in shown
    assert "\n   single patches " in shown


def test_cloth_is_shown_in_the_measure_of_the_quilt(
    nine: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    quilt = "name: Q\nfabrics:\n  - {letter: a, name: A}\n  - {letter: b, name: B}\n"
    (nine.parent / "quilt.yaml").write_text(
        quilt + "preferences:\n  measure: cm\n", encoding="utf-8"
    )
    main(["cut", str(nine), "--compare"])
    assert "Cloth, sq cm" in capsys.readouterr().out
