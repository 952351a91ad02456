"""Run a benchmark: `python -m benchmarks piecing`, or with `--quick` its smallest cases; one that
has parts (`PARTS`) does those that are named after it, or all: `python -m benchmarks page start`.

Each benchmark is a module of this package with `run(quick: bool) -> list[Row]`. Its docstring
names the other way of doing the same work that it measures beside ours in the same run, and the
bounds that the project promises. A bound that is not kept is an `AssertionError` of `run`.
"""

from __future__ import annotations

import importlib
import itertools
import os
import pkgutil
import platform
import sys
from importlib.metadata import version

import benchmarks
from benchmarks.measuring import Row, table

LIBRARIES = ("numpy", "shapely", "highspy")


def names() -> list[str]:
    """The benchmarks there are."""
    ours = {"__main__", "measuring", "peers"}
    return sorted(
        found.name
        for found in pkgutil.iter_modules(benchmarks.__path__, "")
        if found.name not in ours
    )


def machine() -> str:
    """What the numbers depend on besides the program."""
    libraries = ", ".join(f"{name} {version(name)}" for name in LIBRARIES)
    return (
        f"Python {platform.python_version()} on {platform.system()} {platform.machine()}, "
        f"{os.cpu_count()} cores; {libraries}"
    )


def heads(row: Row) -> tuple[str, ...]:
    """The heads of a row's columns: rows with the same make one table."""
    return tuple(head for head, _ in row.columns)


def main(arguments: list[str]) -> int:
    """Run the benchmark that is named; exit code 2 if there is none of that name."""
    quick = "--quick" in arguments
    name, *parts = [a for a in arguments if a != "--quick"] or [""]
    if name not in names():
        print(f"usage: python -m benchmarks NAME [--quick], NAME one of: {', '.join(names())}")
        return 2
    module = importlib.import_module(f"benchmarks.{name}")
    there = getattr(module, "PARTS", ())
    if not {part for part in parts if not (there and part.isdigit())} <= set(there):
        print(f"the parts of {name}: {', '.join(there) or 'it has none'}")
        return 2
    print((module.__doc__ or "").strip(), machine(), sep="\n\n", end="\n\n")
    rows = module.run(quick, parts) if parts else module.run(quick)
    for _, alike in itertools.groupby(rows, key=heads):
        print(table(list(alike)), end="\n\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
