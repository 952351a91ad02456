from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def at_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Every test works in an empty folder, with a memory of its own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path / "cache"))
    here = tmp_path / "here"
    here.mkdir()
    monkeypatch.chdir(here)
    return here
