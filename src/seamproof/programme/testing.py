"""The tester desk: forms keyed to the numbers of the steps, and what in them is still open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from seamproof.findings import Finding, Where
from seamproof.programme.checks import OPEN_POINT

COLUMNS = (
    *("version", "tester", "size", "colourway", "block", "step", "says", "should measure"),
    *("measured", "minutes", "clear", "remark", "settled"),
)
"""The columns of a form. Testers fill in *measured* to *remark*, the designer *settled*."""

NOT_CLEAR = frozenset({"no", "n", "not"})
"""What a tester writes under *clear* if a step is not."""


@dataclass(frozen=True, slots=True)
class FormRow:
    """One step as a tester saw it; `step` is its number on the sheet. `where` is the line of the
    form."""

    version: str = ""
    tester: str = ""
    size: str = ""
    colourway: str = ""
    block: str = ""
    step: str = ""
    says: str = ""
    should: str = ""
    measured: str = ""
    minutes: str = ""
    clear: str = ""
    remark: str = ""
    settled: str = ""
    where: Where = Where()

    @property
    def answered(self) -> bool:
        """Whether the tester wrote anything."""
        return any((self.measured, self.minutes, self.clear, self.remark))

    @property
    def open(self) -> bool:
        """Whether it says that something is wrong, and nobody has settled it."""
        wrong = bool(self.remark) or self.clear.lower() in NOT_CLEAR
        return wrong and not self.settled


def open_points(rows: Iterable[FormRow]) -> Iterator[Finding]:
    """A finding for every point that keeps the pattern from being released.

    >>> list(open_points([FormRow(block="Star", step="3", remark="too small", settled="mended")]))
    []
    >>> [f.what for f in open_points([FormRow(block="Star", step="3", clear="no")])]
    ['Star, step 3: a tester found it not clear']
    """
    for row in rows:
        if row.open:
            said = f'a tester says "{row.remark}"' if row.remark else "a tester found it not clear"
            yield OPEN_POINT.found(
                f"{row.block}, step {row.step}: {said}",
                mend="mend the pattern, and write under settled what was done",
                where=row.where,
            )


def sewn(rows: Iterable[FormRow]) -> frozenset[tuple[str, str]]:
    """The sizes and colourways of which somebody sewed something, by their names."""
    return frozenset((row.size, row.colourway) for row in rows if row.answered)
