from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from seamproof.answers import examining
from seamproof.answers.examining import PACKAGES, doctor


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("USERPROFILE", str(tmp_path))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))


def test_all_is_fine_here(tmp_path: Path) -> None:
    answer = doctor()
    assert [check for check in answer.checks if not check.fine] == []
    assert answer.exit_code == 0
    assert tuple(answer.packages) == PACKAGES
    assert None not in answer.packages.values()
    assert str(tmp_path) not in str(answer.to_json()), "the home folder stands as ~"


def test_what_is_wrong_is_reported_and_the_rest_is_tried_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "cache").write_text("in the way", encoding="utf-8")
    monkeypatch.setattr(examining, "make_sheet", lambda _: b"no page")
    answer = doctor()
    wrong = {check.name: check.seen for check in answer.checks if not check.fine}
    assert set(wrong) == {"cache folder", "from a drawing to its sheet"}
    assert str(tmp_path) not in wrong["cache folder"]
    assert answer.exit_code == 1


def test_the_packages_are_those_that_are_asked_for() -> None:
    page = (Path(__file__).parents[2] / "pyproject.toml").read_text(encoding="utf-8")
    asked = tomllib.loads(page)["project"]["dependencies"]
    assert {line.split(">")[0].split("=")[0] for line in asked} == set(PACKAGES)
