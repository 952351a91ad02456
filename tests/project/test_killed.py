"""A program that is killed in the middle of a save leaves one whole text or the other."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


def killed(folder: Path, times: int, size: int, seed: int, within: float) -> list[str]:
    """What the killing has to say, line by line."""
    program = str(Path(__file__).with_name("killed.py"))
    done = subprocess.run(
        [sys.executable, program, str(folder), str(times), str(size), str(seed), str(within)],
        env={**os.environ, "PYTHONPATH": str(ROOT / "src")},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


@pytest.mark.parametrize("size", [300_000, 950_000])
def test_ten_kills(tmp_path: Path, size: int) -> None:
    assert killed(tmp_path / "quilt", 10, size, 1, 20) == ["10"]


@pytest.mark.soak
@pytest.mark.parametrize("size", [300_000, 950_000])
def test_a_thousand_kills(tmp_path: Path, size: int) -> None:
    assert killed(tmp_path / "quilt", 1000, size, 2, 2) == ["1000"]
