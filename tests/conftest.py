"""How tests run: the same examples every time, new ones in `make soak`; in CI none set aside."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tests.worked_out import FOLDER

settings.register_profile(
    "test",
    derandomize=True,
    database=None,
    deadline=None,  # a busy machine is not a fault of the program
    max_examples=60,
    suppress_health_check=[HealthCheck.too_slow],  # likewise
)
settings.register_profile(
    "soak", settings.get_profile("test"), derandomize=False, max_examples=2000
)


def pytest_configure(config: pytest.Config) -> None:
    """Search longer, and elsewhere each time, when the long tests are asked for."""
    settings.load_profile("soak" if config.getoption("markexpr") == "soak" else "test")


@pytest.fixture(scope="session")
def worked_out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of what was worked out, one for all workers of a run.

    For tests that do not ask what a cold start does: the whole demo quilt costs half a minute.
    """
    own = tmp_path_factory.getbasetemp()
    return (own.parent if "PYTEST_XDIST_WORKER" in os.environ else own) / "worked-out"


@pytest.fixture(scope="session", autouse=True)
def _named(worked_out: Path) -> Iterator[None]:
    """Where `worked_out.memory` looks."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(FOLDER, str(worked_out))
        yield


@pytest.fixture
def remembering(worked_out: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The user's memory is the one of the whole run."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(worked_out))
    monkeypatch.setenv("LOCALAPPDATA", str(worked_out))
    return worked_out


@pytest.hookimpl(trylast=True)
def pytest_sessionfinish(session: pytest.Session) -> None:
    """A test that did not run has not passed: in CI that fails the run."""
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    skipped = reporter.stats.get("skipped", []) if reporter else []
    if skipped and os.environ.get("CI") and session.exitstatus == pytest.ExitCode.OK:
        session.exitstatus = pytest.ExitCode.TESTS_FAILED
