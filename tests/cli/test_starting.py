"""Streams, endings, and what nobody expected."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

import seamproof
from seamproof.answers import asking
from seamproof.cli import main
from seamproof.errors import SaveError, Stopped

STAR = "name: First Star\nfinished: 9\ncells:\n  - a a/b\n  - b a\n"

SOURCE = Path(seamproof.__file__).parent.parent


def seamproof_process(
    *arguments: str, code: str = "from seamproof.cli import main; main()"
) -> list[str]:
    return [sys.executable, "-c", f"import sys; {code}", *arguments]


@pytest.fixture(autouse=True)
def star(at_home: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("PYTHONPATH", str(SOURCE))
    path = at_home / "star.yaml"
    path.write_text(STAR, encoding="utf-8")
    return path


def broken(problem: BaseException) -> object:
    def ask(*_: object, **__: object) -> None:
        raise problem

    return ask


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"seamproof {seamproof.__version__}\n"


def test_without_a_command_help_is_shown_and_it_is_wrong_use(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main([]) == 2
    assert "Commands:" in capsys.readouterr().out


@pytest.mark.parametrize("arguments", [["--version"], ["--help"], ["piece", "--help"]])
def test_help_and_version_load_nothing_heavy(arguments: list[str]) -> None:
    heavy = {"shapely", "numpy", "highspy", "typst", "ruamel"}
    code = (
        "from seamproof.cli import main; main(); "
        f"print(sorted({heavy} & set(sys.modules)), file=sys.stderr)"
    )
    done = subprocess.run(
        seamproof_process(*arguments, code=code), capture_output=True, text=True, check=True
    )
    assert done.stderr == "[]\n"


def test_a_word_that_is_none_of_those_is_told_with_those(
    star: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["press", str(star), "--plan", "flattest"]) == 2
    told = capsys.readouterr().err
    assert told.startswith("invalid value for '--plan': 'flattest' is not one of 'best', ")
    assert told.endswith("see seamproof press --help\n")


@pytest.mark.parametrize("problem", [KeyboardInterrupt(), Stopped("stopped")], ids=["key", "stop"])
def test_who_is_stopped_ends_with_130(
    problem: BaseException, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(asking, "piece", broken(problem))
    assert main(["piece", "star.yaml"]) == 130
    assert capsys.readouterr() == ("", "Stopped.\n")


def test_what_cannot_be_saved_is_refused(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(asking, "new", broken(SaveError("q was not saved: the disk is full")))
    assert main(["new", "q", "--json"]) == 2
    said = capsys.readouterr()
    assert json.loads(said.out)["error"]["what"] == "q was not saved: the disk is full"
    assert said.err == "q was not saved: the disk is full\n"


def test_a_fault_of_ours_is_a_sentence(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(asking, "piece", broken(ZeroDivisionError("oh")))
    assert main(["piece", "star.yaml", "--json"]) == 70
    said = capsys.readouterr()
    assert "Traceback" not in said.err
    assert "please report it" in said.err
    assert "ZeroDivisionError" in json.loads(said.out)["error"]["what"]
    assert main(["--debug", "piece", "star.yaml"]) == 70
    assert "Traceback" in capsys.readouterr().err


def test_python_m_is_the_same() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "seamproof", "draft", "nowhere.yaml"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 2
    assert done.stderr.startswith("nowhere.yaml: ")


def test_pipes_carry_utf8_whatever_the_system_speaks(star: Path) -> None:
    star.write_text(STAR.replace("First", "Größte"), encoding="utf-8")
    done = subprocess.run(
        seamproof_process("draft", "star.yaml"),
        capture_output=True,
        check=True,
        env={**os.environ, "PYTHONUTF8": "0", "LC_ALL": "C", "PYTHONIOENCODING": "ascii"},
    )
    assert done.stdout.decode("utf-8").startswith("Größte Star")


def test_who_stops_reading_is_no_fault() -> None:
    process = subprocess.Popen(
        seamproof_process("schema", "--answer", "piece"),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert process.stdout is not None
    process.stdout.close()
    _, err = process.communicate(timeout=60)
    assert err == b""


def test_ctrl_c_ends_with_130_and_without_a_traceback() -> None:
    code = (
        "import time; from seamproof.answers import asking; from seamproof.cli import main; "
        "asking.piece = lambda *a, **k: (print('at it', flush=True), time.sleep(60)); "
        "sys.exit(main())"
    )
    process = subprocess.Popen(
        seamproof_process("piece", "star.yaml", code=code),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert process.stdout is not None
    assert process.stdout.readline() == b"at it\n"
    time.sleep(0.1)
    process.send_signal(signal.SIGINT)
    _, err = process.communicate(timeout=60)
    assert process.returncode == 130
    assert err.decode() == "Stopped.\n"


def test_numbers_are_multiplied_in_one_thread_unless_told_otherwise(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delenv("OPENBLAS_NUM_THREADS", raising=False)
    monkeypatch.setenv("VECLIB_MAXIMUM_THREADS", "4")
    assert main(["--version"]) == 0
    assert os.environ["OPENBLAS_NUM_THREADS"] == "1"
    assert os.environ["VECLIB_MAXIMUM_THREADS"] == "4"
