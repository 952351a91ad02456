"""The law of the house holds, and the checks that guard it notice each kind of breach."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "seamproof"

# Module that is planted, what it says, and the words with which the breach must be reported.
IMPORTS = [
    (
        "length/planted_up",
        "import seamproof.plane",
        "seamproof.length.planted_up -> seamproof.plane",
    ),
    ("findings_too", "", "findings_too"),
    ("answers/planted_up", "import seamproof.cli", "seamproof.answers.planted_up -> seamproof.cli"),
    (
        "project/planted_sibling",
        "import seamproof.booklet",
        "seamproof.project.planted_sibling -> seamproof.booklet",
    ),
    (
        "cutting/planted_picture",
        "import seamproof.drawing",
        "seamproof.cutting.planted_picture -> seamproof.drawing",
    ),
    (
        "piecing/planted_roof",
        "from seamproof import __version__",
        "seamproof.piecing.planted_roof -> seamproof (",
    ),
    ("answers/planted_terminal", "import typer", "seamproof.answers.planted_terminal -> typer"),
    ("project/planted_terminal", "import rich.table", "seamproof.project.planted_terminal -> rich"),
    ("draft/planted_files", "import ruamel.yaml", "seamproof.draft.planted_files -> ruamel"),
    ("cutting/planted_folders", "import platformdirs", "cutting.planted_folders -> platformdirs"),
    ("piecing/planted_solver", "import highspy", "seamproof.piecing.planted_solver -> highspy"),
    ("figures/planted_type", "import typst", "seamproof.figures.planted_type -> typst"),
    ("answers/planted_web", "import starlette", "seamproof.answers.planted_web -> starlette"),
    ("web/planted_terminal", "import seamproof.cli", "seamproof.web.planted_terminal -> seamproof"),
    ("project/planted_die", "import random", "seamproof.project.planted_die -> random"),
    ("booklet/planted_clock", "import time", "seamproof.booklet.planted_clock -> time"),
    (
        "proof/planted_plan",
        "import seamproof.piecing.planning",
        "planted_plan -> seamproof.piecing.planning",
    ),
    ("plane/planted_a", "import seamproof.plane.planted_b", ".planted_b -> .planted_a"),
    ("plane/planted_b", "import seamproof.plane.planted_a", "removing 1 dependency: - .planted_b"),
]

# The same for ruff: what a module below `project` says, and the rule that must refuse it.
BELOW_PROJECT = [
    ("print('4 7/8')", "T201"),
    ("NOTE = open('notes.txt')", "PTH123"),
    ("import io\nNOTE = io.open('notes.txt')", "TID251"),
    ("from pathlib import Path\nNOTE = Path('notes.txt').read_text()", "TID251"),
    ("import os", "TID251"),
    ("from time import perf_counter", "TID251"),
    ("import datetime\nNOW = datetime.datetime.now(datetime.UTC)", "TID251"),
    ("import datetime\nTODAY = datetime.date.today()", "TID251"),
    ("import random", "TID251"),
    ("from numpy.random import default_rng", "TID251"),
    ("import numpy as np\nDIE = np.random.default_rng()", "TID251"),
    ("import sys\nsys.stdout.write('4 7/8')", "TID251"),
    ("from importlib.resources import files", "TID251"),
    ("import subprocess", "TID251"),
    ("from . import model", "TID252"),
    ("try:\n    pass\nexcept Exception:\n    pass", "BLE001"),
]

PURE = [
    "length",
    "solving",
    "plane",
    "drawing",
    "draft",
    "piecing",
    "cutting",
    "pressing",
    "accuracy",
    "setting",
    "cloth",
    "programme",
    "proof",
    "figures",
]


def house(folder: Path) -> Path:
    """A copy of the package and of the rules, to plant breaches in."""
    shutil.copy(ROOT / "pyproject.toml", folder)
    shutil.copytree(PACKAGE, folder / "src" / "seamproof", ignore=shutil.ignore_patterns("*.pyc"))
    return folder


def plant(folder: Path, module: str, text: str) -> None:
    path = folder / "src" / "seamproof" / f"{module}.py"
    path.write_text(f'"""Planted."""\n\nfrom __future__ import annotations\n\n{text}\n', "utf-8")


def law(folder: Path) -> tuple[int, str]:
    """Exit code and report of import-linter over the package in `folder`."""
    start = (
        "import sys; sys.path.insert(0, 'src'); "
        "from importlinter.cli import lint_imports_command; lint_imports_command()"
    )
    done = subprocess.run(
        [sys.executable, "-I", "-c", start, "--no-cache", "--no-logo"],
        cwd=folder,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    # The report is folded to the width of the terminal; our names hold no spaces.
    return done.returncode, re.sub(r"\s+", " ", done.stdout + done.stderr)


def refusals(folder: Path) -> set[tuple[str, str]]:
    """Module and rule of everything ruff refuses in `folder`."""
    done = subprocess.run(
        [sys.executable, "-m", "ruff", "check", "--no-cache", "--output-format=concise", "src"],
        cwd=folder,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    found = re.findall(r"^(.+?\.py):\d+:\d+: ([A-Z]+\d+)", done.stdout, re.MULTILINE)
    return {(Path(path).stem, rule) for path, rule in found}


@pytest.fixture(scope="module")
def broken_law(tmp_path_factory: pytest.TempPathFactory) -> tuple[int, str]:
    folder = house(tmp_path_factory.mktemp("law"))
    for module, text, _ in IMPORTS:
        plant(folder, module, text)
    return law(folder)


@pytest.fixture(scope="module")
def broken_rules(tmp_path_factory: pytest.TempPathFactory) -> set[tuple[str, str]]:
    folder = house(tmp_path_factory.mktemp("rules"))
    for number, (text, _) in enumerate(BELOW_PROJECT):
        for package in PURE:
            plant(folder, f"{package}/planted_{package}_{number}", text)
    return refusals(folder)


def test_the_law_holds() -> None:
    code, report = law(ROOT)
    assert code == 0, report


@pytest.mark.parametrize(("module", "words"), [(module, words) for module, _, words in IMPORTS])
def test_a_planted_import_is_reported(broken_law: tuple[int, str], module: str, words: str) -> None:
    code, report = broken_law
    assert code == 1
    assert words in report, f"{module} went unnoticed:\n{report}"


def test_every_law_is_broken_by_a_planted_import(broken_law: tuple[int, str]) -> None:
    rules = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["importlinter"]
    for contract in rules["contracts"]:
        assert f"{contract['name']} BROKEN" in broken_law[1], contract["id"]


@pytest.mark.parametrize("number", range(len(BELOW_PROJECT)))
@pytest.mark.parametrize("package", PURE)
def test_a_planted_breach_is_refused_below_project(
    broken_rules: set[tuple[str, str]], package: str, number: int
) -> None:
    rule = BELOW_PROJECT[number][1]
    assert (f"planted_{package}_{number}", rule) in broken_rules


def test_every_package_below_project_is_tried() -> None:
    above = {"project", "booklet", "pipeline", "answers", "cli", "web"}
    packages = {path.parent.name for path in PACKAGE.glob("*/__init__.py")}
    assert packages - above == set(PURE)


def test_no_rule_is_switched_off_without_its_name() -> None:
    """`# noqa` and `# type: ignore` name the rule they set aside."""
    bare = re.compile(r"#\s*(noqa(?!:)|type:\s*ignore(?!\[))")
    for path in [*PACKAGE.rglob("*.py"), ROOT / "bootstrap.py"]:
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1):
            assert not bare.search(line), f"{path.relative_to(ROOT)}:{number}: {line.strip()}"
