"""How a benchmark measures and what it hands over."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass

RUNS = 5
"""Runs that count, after one that does not. The median leaves out what the machine did besides."""


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table: a case and its columns, in order, as text."""

    case: str
    columns: tuple[tuple[str, str], ...]


def median_seconds(work: Callable[[], object], runs: int = RUNS) -> float:
    """Median wall-clock seconds of `runs` calls of `work`, after one call that is not counted."""
    work()
    taken = []
    for _ in range(runs):
        begin = time.perf_counter()
        work()
        taken.append(time.perf_counter() - begin)
    return statistics.median(taken)


def processor_seconds(work: Callable[[], object], runs: int = RUNS) -> float:
    """The same in seconds of the processor: what else a busy machine does is not counted, nor, for
    work in one thread, anything left out."""
    work()
    taken = []
    for _ in range(runs):
        begin = time.process_time()
        work()
        taken.append(time.process_time() - begin)
    return statistics.median(taken)


def seconds(value: float) -> str:
    """Seconds with three figures that mean something.

    >>> seconds(0.0123456), seconds(12.3456), seconds(0)
    ('0.0123 s', '12.3 s', '0 s')
    """
    return f"{value:.3g} s"


def table(rows: list[Row]) -> str:
    """The rows under the heads of the first one, numbers to the right; "" if there are none.

    >>> print(table([Row("64 patches", (("ours", "1 s"),)), Row("4,608", (("ours", "20 s"),))]))
    case        ours
    64 patches   1 s
    4,608       20 s
    >>> table([])
    ''
    """
    if not rows:
        return ""
    heads = ["case", *(head for head, _ in rows[0].columns)]
    lines = [heads, *([row.case, *(text for _, text in row.columns)] for row in rows)]
    widths = [max(len(line[i]) for line in lines) for i in range(len(heads))]
    return "\n".join(
        "  ".join(
            [line[0].ljust(widths[0]), *(map(str.rjust, line[1:], widths[1:]))],
        ).rstrip()
        for line in lines
    )
