"""The set-up: what it decides, what it says when it cannot go on, and the whole of it once."""

from __future__ import annotations

import importlib.util
import json
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def bootstrap(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """A fresh bootstrap that keeps its environment in a folder with awkward letters."""
    spec = importlib.util.spec_from_file_location("bootstrap_under_test", ROOT / "bootstrap.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    folder = tmp_path / "Größe 7⅞ block"
    folder.mkdir()
    for name in ("pyproject.toml", "constraints.txt"):
        shutil.copy(ROOT / name, folder)
    monkeypatch.setattr(module, "ROOT", folder)
    monkeypatch.setattr(module, "VENV", folder / ".venv")
    monkeypatch.setattr(module, "STAMP", folder / ".venv" / "complete.json")
    monkeypatch.setattr(module, "LOG", folder / ".venv" / "setup.log")
    monkeypatch.setattr(module, "LOCK", folder / ".venv-making")
    return module


def finished(bootstrap: ModuleType, version: str | None = None) -> dict[str, str]:
    """Pretend that the set-up was finished; return what it was made of."""
    python = bootstrap.python_of(bootstrap.VENV)
    python.parent.mkdir(parents=True)
    python.write_bytes(b"")
    wanted: dict[str, str] = bootstrap.stamp()
    maker = {"version": version or bootstrap.version_of(sys.version_info), "path": sys.executable}
    bootstrap.STAMP.write_text(json.dumps({**wanted, "python": maker}), encoding="utf-8")
    return wanted


def test_a_finished_set_up_is_used_again(bootstrap: ModuleType) -> None:
    wanted = finished(bootstrap)
    assert bootstrap.is_complete(wanted, again=False)
    assert bootstrap.is_complete(wanted, again=True)


def test_an_interrupted_set_up_is_made_again(bootstrap: ModuleType) -> None:
    wanted = finished(bootstrap)
    bootstrap.STAMP.unlink()
    assert not bootstrap.is_complete(wanted, again=False)


@pytest.mark.parametrize("text", ["", "{", "[]", '"x"', "{}", '{"python": 3}'])
def test_a_damaged_stamp_is_no_stamp(bootstrap: ModuleType, text: str) -> None:
    wanted = finished(bootstrap)
    bootstrap.STAMP.write_text(text, encoding="utf-8")
    assert not bootstrap.is_complete(wanted, again=False)


def test_other_pins_make_another_environment(bootstrap: ModuleType) -> None:
    wanted = finished(bootstrap)
    pins = bootstrap.ROOT / "constraints.txt"
    pins.write_text(pins.read_text("utf-8").replace("numpy==", "numpy==9."), "utf-8")
    assert bootstrap.stamp() != wanted
    assert not bootstrap.is_complete(bootstrap.stamp(), again=False)


def test_other_dependencies_count_and_other_lint_rules_do_not(bootstrap: ModuleType) -> None:
    before = bootstrap.stamp()
    project = bootstrap.ROOT / "pyproject.toml"
    text = project.read_text("utf-8")
    project.write_text(text.replace("line-length = 100", "line-length = 99"), "utf-8")
    assert bootstrap.stamp() == before
    project.write_text(text.replace('"pytest",', ""), "utf-8")
    assert bootstrap.stamp() != before


def test_a_moved_folder_needs_a_new_environment(
    bootstrap: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    wanted = finished(bootstrap)
    moved = bootstrap.ROOT.rename(bootstrap.ROOT.with_name("moved"))
    monkeypatch.setattr(bootstrap, "ROOT", moved)
    assert bootstrap.stamp() != wanted


def test_a_python_that_is_gone_makes_it_incomplete(bootstrap: ModuleType) -> None:
    wanted = finished(bootstrap)
    text = bootstrap.STAMP.read_text("utf-8")
    gone = json.dumps(sys.executable)
    assert gone in text
    bootstrap.STAMP.write_text(text.replace(gone, '"nowhere"'), encoding="utf-8")
    assert not bootstrap.is_complete(wanted, again=False)


def test_only_setup_minds_which_python_made_it(bootstrap: ModuleType) -> None:
    wanted = finished(bootstrap, version="3.99")
    assert bootstrap.is_complete(wanted, again=False)
    assert not bootstrap.is_complete(wanted, again=True)


def test_settings_that_lead_astray_are_left_out(
    bootstrap: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PYTHONPATH", "elsewhere")
    monkeypatch.setenv("PIP_USER", "1")
    monkeypatch.setenv("PIP_CERT", "kept")
    environment = bootstrap.clean_environment()
    assert "PYTHONPATH" not in environment
    assert "PIP_USER" not in environment
    assert environment["PIP_CERT"] == "kept"


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("pip 23.0.1 from somewhere (python 3.11)", (23, 0)),
        ("pip 22.3 from somewhere", (22, 3)),
        ("pip 22.2.9 from somewhere", None),
        ("pip 9.0.1 from somewhere", None),
        ("No module named pip", None),
    ],
)
def test_only_a_pip_that_knows_other_pythons_will_do(
    bootstrap: ModuleType, said: str, expected: tuple[int, int] | None
) -> None:
    assert bootstrap.pip_version([sys.executable, "-c", f"print({said!r})"]) == expected


def test_a_program_that_is_not_there_is_no_pip(bootstrap: ModuleType) -> None:
    assert bootstrap.pip_version(["no-such-program"]) is None
    assert not bootstrap.says_new_enough(["no-such-program"])
    assert bootstrap.says_new_enough([sys.executable])


@pytest.mark.parametrize(
    ("missing", "words"),
    [({"venv"}, "python3-venv"), ({"ensurepip.__main__"}, "python3-venv"), (set(), None)],
)
def test_what_is_missing_is_named(
    bootstrap: ModuleType,
    monkeypatch: pytest.MonkeyPatch,
    missing: set[str],
    words: str | None,
) -> None:
    monkeypatch.setattr(bootstrap, "has_module", lambda _, module: module not in missing)
    monkeypatch.setattr(bootstrap, "pip_version", lambda _: None)
    if words is None:
        assert bootstrap.installer() == []
        return
    with pytest.raises(bootstrap.Refusal, match=words) as refusal:
        bootstrap.installer()
    assert "\n" not in str(refusal.value)


def test_without_the_bundled_pip_another_one_installs(
    bootstrap: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bootstrap, "has_module", lambda _, module: module == "venv")
    monkeypatch.setattr(bootstrap.shutil, "which", lambda name: f"bin/{name}")
    monkeypatch.setattr(bootstrap, "pip_version", lambda pip: (23, 0) if len(pip) == 1 else None)
    assert bootstrap.installer() == ["bin/pip3"]


@pytest.mark.parametrize(
    ("log", "words"),
    [
        ("Collecting numpy\nERROR: No matching distribution found for numpy==9\n", "numpy==9"),
        ("WARNING: Retrying: NewConnectionError\nERROR: No matching distribution\n", "network"),
        ("error: subprocess\n   ERROR: No flit_core==9.9\n note: not pip\n", "flit_core==9.9"),
        ("", "no reason"),
    ],
)
def test_a_failed_installation_is_one_sentence(bootstrap: ModuleType, log: str, words: str) -> None:
    bootstrap.VENV.mkdir()
    bootstrap.LOG.write_text(log, encoding="utf-8")
    sentence = bootstrap.failure("The packages could not be installed")
    assert words in sentence
    assert "\n" not in sentence
    assert sentence.endswith(".")


def test_an_old_python_looks_for_a_newer_one(
    bootstrap: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bootstrap.shutil, "which", lambda name: f"found/{name}")
    monkeypatch.setattr(bootstrap, "says_new_enough", lambda words: words[-1].endswith("3.11"))
    assert bootstrap.newer_python() == ["found/python3.11"]
    monkeypatch.setattr(bootstrap, "says_new_enough", lambda words: words[-1] == "-3.12")
    assert bootstrap.newer_python() == ["found/py", "-3.12"]
    monkeypatch.setattr(bootstrap, "says_new_enough", lambda _: False)
    with pytest.raises(bootstrap.Refusal, match=r"needs Python 3\.11 or newer"):
        bootstrap.newer_python()


def test_the_exit_code_of_a_command_is_passed_on(bootstrap: ModuleType) -> None:
    assert bootstrap.run([sys.executable, "-c", "raise SystemExit(7)"]) == 7


def test_all_checks_run_and_one_failure_is_enough(
    bootstrap: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    ran: list[str] = []

    def pretend(command: list[str]) -> int:
        ran.append(command[2])
        return int(command[2] == "mypy")

    monkeypatch.setattr(bootstrap, "run", pretend)
    assert bootstrap.test([]) == 1
    assert ran == ["ruff", "ruff", "mypy", "pytest"]


def started(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, str(ROOT / "bootstrap.py"), *arguments],
        capture_output=True,
        encoding="utf-8",
        check=False,
    )


def test_an_unknown_command_is_one_sentence() -> None:
    done = started("sew")
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "demo, test, soak, lint, setup, serve" in done.stderr


def test_help_names_every_command(bootstrap: ModuleType) -> None:
    done = started("--help")
    assert done.returncode == 0
    assert all(f"bootstrap.py {command} " in done.stdout for command in bootstrap.COMMANDS)


def test_it_stays_readable_for_an_old_python() -> None:
    """What a python3 of 2019 cannot parse, it could not refuse in words either."""
    import ast

    ast.parse((ROOT / "bootstrap.py").read_text("utf-8"), feature_version=(3, 8))


@pytest.mark.soak
def test_a_fresh_copy_is_set_up_interrupted_and_set_up_again(tmp_path: Path) -> None:
    folder = tmp_path / "fresh copy ü"
    listed = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True
    ).stdout.decode("utf-8")
    for name in filter(None, listed.split("\0")):
        if (ROOT / name).is_file():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(ROOT / name, folder / name)
    command = [sys.executable, str(folder / "bootstrap.py"), "setup"]

    with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE) as first:
        while not (folder / ".venv" / "setup.log").exists():
            time.sleep(0.05)
        time.sleep(1)
        first.kill()
    assert not (folder / ".venv" / "complete.json").exists()

    subprocess.run(command, check=True)
    begin = time.perf_counter()
    subprocess.run(command, check=True)
    assert time.perf_counter() - begin < 2

    python = folder / ".venv" / ("Scripts" if os.name == "nt" else "bin") / "python"
    where = "import pathlib, seamproof; print(pathlib.Path(seamproof.__file__).parents[2])"
    told = subprocess.run([python, "-c", where], capture_output=True, encoding="utf-8", check=True)
    assert Path(told.stdout.strip()) == folder
