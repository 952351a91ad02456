"""The answer of ``seamproof doctor``: everything the program needs is tried once."""

from __future__ import annotations

import platform
import tempfile
from collections.abc import Callable, Iterator
from importlib import resources
from pathlib import Path

from seamproof.answers.house import CheckLine, DoctorAnswer
from seamproof.errors import SeamproofError
from seamproof.pipeline.memory import users_folder, version_of
from seamproof.pipeline.sheets import make_sheet
from seamproof.pipeline.working import work_block
from seamproof.project.reading import read_block_bytes
from seamproof.project.saving import save_text

PACKAGES = (
    "highspy",
    "icalendar",
    "jinja2",
    "numpy",
    "platformdirs",
    "pydantic",
    "rich",
    "ruamel.yaml",
    "shapely",
    "starlette",
    "typer",
    "typst",
    "uvicorn",
)
"""The distributions that the program stands on."""


def doctor() -> DoctorAnswer:
    """Try everything that is needed. Nothing that is found leaves this machine."""
    return DoctorAnswer(
        seamproof=version_of("seamproof"),
        python=platform.python_version(),
        system=f"{platform.system()} {platform.machine()}",
        packages={name: version_of(name) for name in PACKAGES},
        checks=tuple(_checks()),
    )


def _checks() -> Iterator[CheckLine]:
    yield _tried("saving a file", _saving)
    yield _tried("cache folder", _remembering)
    yield _tried("solver", _solving)
    yield _tried("fonts", _lettering)
    yield _tried("from a drawing to its sheet", _printing)


def _tried(name: str, check: Callable[[], str]) -> CheckLine:
    """Run one check. Whatever goes wrong in it is what the report is for."""
    try:
        return CheckLine(name, True, check())
    except (SeamproofError, OSError, ImportError, RuntimeError) as problem:
        seen = str(problem) or type(problem).__name__
        return CheckLine(name, False, _without_home(seen))


def _saving() -> str:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "ü – 1.yaml"
        save_text(path, "name: ü\n")
        if path.read_bytes() != b"name: \xc3\xbc\n":
            raise OSError("a file does not read back as it was written")
    return "a file was written whole and read back"


def _remembering() -> str:
    folder = users_folder()
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryFile(dir=folder) as file:
        file.write(b"1")
    files = [path.stat().st_size for path in folder.glob("*.json")]
    return (
        f"{_without_home(str(folder))} holds {len(files)} results, "
        f"{sum(files) / 1_000_000:.1f} MB; it can be deleted at any time"
    )


def _solving() -> str:
    from seamproof.solving.zero_one import Problem, Row

    # Three things of which every two need one: two of them are the fewest.
    pairs = ((0, 1), (1, 2), (0, 2))
    problem = Problem(3, [Row({a: 1, b: 1}, lowest=1) for a, b in pairs])
    found = problem.solve([{0: 1, 1: 1, 2: 1}])
    if found is None or sum(found.values) != 2 or not found.proved:
        raise RuntimeError("a small problem was not solved right")
    return "a small problem was solved and its answer proved"


def _lettering() -> str:
    fonts = resources.files("seamproof.booklet") / "fonts"
    found = sorted(file.name for file in fonts.iterdir() if file.name.endswith(".ttf"))
    if not found:
        raise RuntimeError("the fonts that come with the program are missing")
    return f"{len(found)} come with the program"


def _printing() -> str:
    source = read_block_bytes(b"name: Trial\nfinished: 6\ncells:\n  - a/b a\n  - a b\n", "trial")
    sheet = make_sheet(work_block(source))
    if sheet is None or not sheet.startswith(b"%PDF-"):
        raise RuntimeError("a small block was not printed")
    return f"a small block was worked out and printed: {len(sheet) // 1000} kB"


def _without_home(text: str) -> str:
    """The text without the name of a person: the home folder stands as ``~``."""
    return text.replace(str(Path.home()), "~")
