"""A block beside itself."""

from __future__ import annotations

from pathlib import Path

import pytest

from seamproof.errors import InputError
from seamproof.pipeline.beside import grid, press_beside
from seamproof.pipeline.working import work_block
from seamproof.project.reading import read_block

FOUR = """\
name: Four
finished: 6
cells:
  - a b
  - b a
press:
  - {seam: [[0, 3], [6, 3]], towards: [1, 1]}
"""


@pytest.fixture
def four(tmp_path: Path) -> Path:
    file = tmp_path / "four.yaml"
    file.write_text(FOUR, "utf-8")
    return file


def test_a_seam_pressed_one_way_needs_a_plan_b_beside_itself(four: Path) -> None:
    work = work_block(read_block(four), until="cutting")
    pressed, findings = press_beside(work, 3, 2)
    assert pressed is not None, findings
    assert pressed.top.columns, pressed.top.rows == (3, 2)
    good, of = pressed.nested
    assert of == 3 + 4
    assert good <= of
    assert pressed.layers.most <= pressed.usual.most


def test_what_cannot_be_laid_beside_itself(four: Path) -> None:
    work = work_block(read_block(four), until="cutting")
    with pytest.raises(InputError, match="cannot be shown"):
        press_beside(work, 0, 3)
    with pytest.raises(InputError, match="does not say"):
        grid("three by four")
    assert grid("3X4") == (3, 4)
