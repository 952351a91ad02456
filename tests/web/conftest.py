"""One server for all tests that only look at a quilt or change it in ways that do not matter."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.web.driving import Server, served, write_quilt


@pytest.fixture(scope="session")
def page(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    folder = write_quilt(tmp_path_factory.mktemp("served") / "my quilt ✂")
    with served(folder) as server:
        yield server


@pytest.fixture
def quilt(tmp_path: Path) -> Path:
    return write_quilt(tmp_path / "quilt")
