"""The chapters of a filmed lesson as WebVTT (a published standard of the W3C)."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from seamproof.booklet.lesson import Timed


def cues(times: Iterable[Timed]) -> str:
    r"""One cue for each thing of a lesson, from its beginning to the next.

    >>> print(cues([Timed("Cutting", Fraction(3, 2), False), Timed("A --> B", Fraction(60), True)]))
    WEBVTT
    <BLANKLINE>
    1
    00:00:00.000 --> 00:01:30.000
    Cutting
    <BLANKLINE>
    2
    00:01:30.000 --> 01:01:30.000
    A → B
    <BLANKLINE>
    >>> cues([])
    'WEBVTT\n'
    """
    parts = ["WEBVTT\n"]
    gone = Fraction(0)
    for number, line in enumerate(times, start=1):
        end = gone + line.minutes
        parts.append(f"{number}\n{_at(gone)} --> {_at(end)}\n{_safe(line.name)}\n")
        gone = end
    return "\n".join(parts)


def _at(minutes: Fraction) -> str:
    thousandths = round(minutes * 60_000)
    seconds, rest = divmod(thousandths, 1000)
    return f"{seconds // 3600:02}:{seconds // 60 % 60:02}:{seconds % 60:02}.{rest:03}"


def _safe(name: str) -> str:
    """A name that is no line of timing and no tag: the standard forbids both in a cue."""
    one_line = " ".join(name.split())
    return one_line.replace("-->", "→").replace("&", "&amp;").replace("<", "&lt;")
