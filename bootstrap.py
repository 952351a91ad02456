#!/usr/bin/env python3
"""Make the environment in `.venv` and run a command in it. Needs Python and nothing else.

    python bootstrap.py demo     works out the demo quilt into demo-out/
    python bootstrap.py test     every check and test; with arguments: pytest with those alone
    python bootstrap.py soak     the long tests
    python bootstrap.py lint     the checks without the tests
    python bootstrap.py serve    the demo quilt as a page in the browser
    python bootstrap.py setup    only the environment, with the Python this was started with

The environment is made once, from constraints.txt and pyproject.toml, and again when they change.
This file is written so that an old python3 can read it, say what is wrong, and hand over to a
newer Python if there is one.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import IO, Iterator, NoReturn, Sequence

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
STAMP = VENV / "complete.json"  # written last: without it the set-up was interrupted
LOG = VENV / "setup.log"
LOCK = ROOT / ".venv-making"

OLDEST = (3, 11)
NEWER = ("3.13", "3.12", "3.11", "3.14")  # looked for in this order: the best tried first
PIP_KNOWS_OTHERS = (22, 3)  # the first pip with --python
INTERRUPTED = 130  # what a shell returns after Ctrl-C

# Settings of the user's own that would lead an installation elsewhere, or Python astray.
ASTRAY = (
    "PIP_CONSTRAINT",
    "PIP_PREFIX",
    "PIP_REQUIRE_HASHES",
    "PIP_REQUIRE_VIRTUALENV",
    "PIP_ROOT",
    "PIP_TARGET",
    "PIP_USER",
    "PYTHONHOME",
    "PYTHONPATH",
    "PYTHONSTARTUP",
    "__PYVENV_LAUNCHER__",
)

CHECKS: tuple[tuple[str, ...], ...] = (
    ("ruff", "check"),
    ("ruff", "format", "--check"),
    ("mypy",),
)
"""Modules run by `lint`, and by `test` before pytest, which tests the import law too."""


class Refusal(Exception):
    """What stops the work, as one sentence for the person at the keyboard."""


def main(arguments: Sequence[str]) -> int:
    """Run one command and return its exit code; 2 if it is not understood or cannot be set up."""
    if not arguments or arguments[0] in ("-h", "--help", "help"):
        print(__doc__)
        return 0 if arguments else 2
    command, rest = arguments[0], list(arguments[1:])
    if command not in COMMANDS:
        raise Refusal(
            "There is no command {!r}; there are {}.".format(command, ", ".join(COMMANDS))
        )
    if sys.version_info < OLDEST:
        return run([*newer_python(), str(Path(__file__).resolve()), *arguments])
    set_up(again=command == "setup")
    return COMMANDS[command](rest)


def demo(rest: list[str]) -> int:
    """The demo quilt, into demo-out."""
    return run([str(python_of(VENV)), "-m", "seamproof", "demo", "demo-out", *rest])


def test(rest: list[str]) -> int:
    """Every check, then every test; all are run even if one fails."""
    if rest:
        return run([str(python_of(VENV)), "-m", "pytest", *rest])
    failed = failing_checks()
    hands = str(min(4, os.cpu_count() or 1))
    code = run([str(python_of(VENV)), "-m", "pytest", "-n", hands, "-q"])
    if failed:
        print("Not passed: {}.".format(", ".join(failed)), flush=True)
    return code or int(bool(failed))


def soak(rest: list[str]) -> int:
    """The long tests, one after the other."""
    return run([str(python_of(VENV)), "-m", "pytest", "-m", "soak", *rest])


def lint(rest: list[str]) -> int:
    """The checks without the tests; `rest` must be empty."""
    if rest:
        raise Refusal("lint checks everything and takes no arguments.")
    failed = failing_checks()
    law = run([str(python_of(VENV)), "-m", "pytest", "-q", "tests/house/test_import_law.py"])
    return int(bool(failed)) or law


def setup(rest: list[str]) -> int:
    """Nothing more: the environment is made before any command runs."""
    if rest:
        raise Refusal("setup takes no arguments.")
    print("The environment in .venv is ready.")
    return 0


def serve(rest: list[str]) -> int:
    """The demo quilt as a page in the browser; what is changed there stays in demo-out."""
    copy = "from seamproof.project.starting import copy_demo; copy_demo('demo-out', keep=True)"
    code = run([str(python_of(VENV)), "-c", copy])
    return code or run([str(python_of(VENV)), "-m", "seamproof", "serve", "demo-out", *rest])


COMMANDS = {"demo": demo, "test": test, "soak": soak, "lint": lint, "setup": setup, "serve": serve}


def failing_checks() -> list[str]:
    """Run all of `CHECKS` and return those that failed."""
    failed = []
    for check in CHECKS:
        print("$ {}".format(" ".join(check)), flush=True)
        if run([str(python_of(VENV)), "-m", *check]):
            failed.append(" ".join(check))
    return failed


# --- the environment --------------------------------------------------------------------------


def set_up(again: bool) -> None:
    """Make the environment unless it is complete; `again`: also if another Python made it."""
    wanted = stamp()
    if is_complete(wanted, again):
        return
    with one_at_a_time():
        if not is_complete(wanted, again):  # somebody else may have made it while we waited
            make_environment(wanted)


def stamp() -> dict[str, str]:
    """What a complete environment was made from: it is remade when any of this changes."""
    import tomllib  # noqa: PLC0415 - an old python3 gets this far without it

    try:
        project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
        pins = (ROOT / "constraints.txt").read_text(encoding="utf-8")
    except (OSError, ValueError) as problem:
        raise Refusal(
            f"pyproject.toml or constraints.txt cannot be read ({problem}); "
            "get a fresh copy of the project."
        ) from problem
    return {
        "folder": str(ROOT),  # an environment does not work in another place
        "made of": fingerprint(project, pins),
    }


def fingerprint(project: dict[str, object], pins: str) -> str:
    """SHA-256 over the pins and the parts of pyproject.toml that decide what is installed."""
    deciding = [project.get("build-system"), project.get("project"), pins.splitlines()]
    return hashlib.sha256(json.dumps(deciding, sort_keys=True).encode("utf-8")).hexdigest()


def is_complete(wanted: dict[str, str], again: bool) -> bool:
    """Whether `.venv` was finished, from the same pins, here, by a Python that still exists."""
    try:
        found = json.loads(STAMP.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return False
    if not isinstance(found, dict):
        return False
    maker = found.pop("python", {})
    if found != wanted or not isinstance(maker, dict):
        return False
    if again and maker.get("version") != version_of(sys.version_info):
        return False
    return python_of(VENV).exists() and Path(str(maker.get("path"))).exists()


def make_environment(wanted: dict[str, str]) -> None:
    """Make `.venv` anew and write its stamp last."""
    started_with = version_of(sys.version_info)
    print(f"Setting up .venv with Python {started_with} (once, about a minute) ...")
    sys.stdout.flush()
    remove(VENV)
    pip = installer()
    command = [sys.executable, "-I", "-m", "venv", "--without-pip", str(VENV)]
    made = ask(command)
    if made.returncode:
        raise Refusal(f"Python could not make .venv: {last_line(made.stdout)}.")
    install(pip)
    maker = {"version": started_with, "path": os.path.realpath(python_of(VENV))}
    unfinished = STAMP.with_suffix(".part")
    unfinished.write_text(json.dumps({**wanted, "python": maker}), encoding="utf-8")
    unfinished.replace(STAMP)


def installer() -> list[str]:
    """The words with which a pip installs into `.venv`, or a refusal that says what is missing.

    Python's own bundled pip if this Python has it. Debian and Ubuntu keep that in a package of its
    own; then any pip on this machine that can install for another Python will do.
    """
    this = [sys.executable, "-I"]
    if has_module(this, "venv"):
        if has_module(this, "ensurepip.__main__"):  # an emptied folder can be imported as well
            return []
        own = [*this, "-m", "pip"]
        others = [[found] for found in map(shutil.which, ("pip3", "pip")) if found]
        for pip in (own, *others):
            if pip_version(pip):
                return pip
    raise Refusal(
        "This Python cannot make an environment; install its venv module "
        "(on Debian and Ubuntu: sudo apt install python3-venv) and call again."
    )


def install(pip: list[str]) -> None:
    """Install the project and everything it needs into `.venv`, every version as pinned."""
    with LOG.open("wb") as log:
        if pip:
            pip = [*pip, "--python", str(python_of(VENV))]
        else:
            bundled = [str(python_of(VENV)), "-I", "-m", "ensurepip", "--default-pip"]
            if run(bundled, output=log):
                raise Refusal(failure("Python's bundled pip could not be unpacked"))
            pip = [str(python_of(VENV)), "-I", "-m", "pip"]
        options = ["--disable-pip-version-check", "--no-input", "--progress-bar=off"]
        wishes = ["--no-user", "--only-binary=:all:", "-c", "constraints.txt", "-e", ".[dev]"]
        if run([*pip, "install", *options, *wishes], output=log):
            raise Refusal(failure("The packages could not be installed"))


def failure(what: str) -> str:
    """`what` went wrong, the reason as the log of the set-up gives it, and where the rest is."""
    lines = LOG.read_text(encoding="utf-8", errors="replace").splitlines()
    errors = [line for line in lines if line.lstrip().startswith("ERROR:")]
    reason = last_line("\n".join(errors or lines))
    network = ("NewConnectionError", "ConnectTimeout", "NameResolution", "ProxyError", "SSLError")
    if any(word in line for word in network for line in lines):
        reason = "the package index cannot be reached; is this machine on the network?"
    return f"{what}: {reason} (the whole story is in {LOG})."


def has_module(python: list[str], module: str) -> bool:
    """Whether that Python can import `module`."""
    return ask([*python, "-c", "import " + module]).returncode == 0


def pip_version(pip: list[str]) -> tuple[int, int] | None:
    """The version of that pip if it can install for another Python, else None."""
    told = ask([*pip, "--version"])
    found = re.match(r"pip (\d+)\.(\d+)", told.stdout)
    if told.returncode or not found:
        return None
    version = int(found.group(1)), int(found.group(2))
    return version if version >= PIP_KNOWS_OTHERS else None


@contextlib.contextmanager
def one_at_a_time() -> Iterator[None]:
    """Hold a lock that the system lets go of when this process ends, however it ends."""
    with LOCK.open("a+b") as held:
        if os.name == "nt":
            import msvcrt  # noqa: PLC0415 - there is none elsewhere

            while True:
                with contextlib.suppress(OSError):  # it gives up after ten seconds
                    held.seek(0)
                    msvcrt.locking(held.fileno(), msvcrt.LK_LOCK, 1)  # type: ignore[attr-defined,unused-ignore]
                    break
        else:
            import fcntl  # noqa: PLC0415 - there is none on Windows

            with contextlib.suppress(OSError):  # some network folders know no locks
                fcntl.flock(held, fcntl.LOCK_EX)
        yield


def remove(folder: Path) -> None:
    """Delete what is there, if anything."""
    if folder.is_symlink() or folder.is_file():
        folder.unlink()
    elif folder.exists():
        shutil.rmtree(str(folder))


# --- other programs ---------------------------------------------------------------------------


def ask(command: Sequence[str]) -> subprocess.CompletedProcess[str]:
    """Run a program silently and return what it said; a program that cannot start has code 127."""
    try:
        return subprocess.run(
            list(command),
            cwd=str(ROOT),
            env=clean_environment(),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            errors="replace",
            check=False,
        )
    except OSError as problem:
        return subprocess.CompletedProcess(list(command), 127, str(problem))


def run(command: Sequence[str], output: IO[bytes] | None = None) -> int:
    """Run a program in the project's folder and return its exit code; 130 if interrupted.

    Ctrl-C reaches the program too. It is given the time to stop in its own way.
    """
    interrupted = False
    with subprocess.Popen(
        list(command),
        cwd=str(ROOT),
        env=clean_environment(),
        stdout=output,
        stderr=None if output is None else subprocess.STDOUT,
    ) as program:
        while True:
            try:
                code = program.wait()
                break
            except KeyboardInterrupt:
                interrupted = True
    if interrupted and output is not None:
        raise KeyboardInterrupt
    return INTERRUPTED if interrupted else code if code >= 0 else 128 - code


def clean_environment() -> dict[str, str]:
    """The environment of this process without what leads installations or Python astray."""
    return {name: value for name, value in os.environ.items() if name not in ASTRAY}


def newer_python() -> list[str]:
    """The words that start a Python this project can use, or a refusal that asks for one."""
    for version in NEWER:
        name = "python" + version
        folders = (Path(sys.executable).parent, Path("/opt/homebrew/bin"), Path("/usr/local/bin"))
        names = [name, *(str(folder / name) for folder in folders)]
        candidates = [[found] for found in map(shutil.which, names) if found]
        launcher = shutil.which("py")
        if launcher:
            candidates.append([launcher, "-" + version])
        for candidate in candidates:
            if says_new_enough(candidate):
                return candidate
    raise Refusal(
        f"Seamproof needs Python 3.11 or newer and this is {version_of(sys.version_info)}; "
        "install one and start with it, for example: python3.12 bootstrap.py demo."
    )


def says_new_enough(python: list[str]) -> bool:
    """Whether that command starts a Python that is new enough; a mere signpost does not."""
    question = f"import sys; sys.exit(sys.version_info < {OLDEST!r})"
    return ask([*python, "-c", question]).returncode == 0


def python_of(environment: Path) -> Path:
    """Where an environment keeps its Python."""
    if os.name == "nt":
        return environment / "Scripts" / "python.exe"
    return environment / "bin" / "python"


def version_of(version: Sequence[object]) -> str:
    """`3.12` for a version that starts with 3, 12."""
    return f"{version[0]}.{version[1]}"


def last_line(text: str) -> str:
    """The last line that says something, without a full stop; "no reason was given" if none."""
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    return lines[-1].rstrip(".") if lines else "no reason was given"


def stop(sentence: str, code: int) -> NoReturn:
    """Say one sentence and leave."""
    print(sentence, file=sys.stderr)
    sys.exit(code)


if __name__ == "__main__":
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError):
            stream.reconfigure(errors="replace")  # type: ignore[union-attr,unused-ignore]
    try:
        sys.exit(main(sys.argv[1:]))
    except Refusal as refusal:
        stop(str(refusal), 2)
    except KeyboardInterrupt:
        stop("Interrupted.", INTERRUPTED)
    except OSError as problem:
        stop(f"That did not work: {problem}.", 2)
