"""What the checks have to say about a design, with the place and the mend.

A hundred codes a stage: 1xx draft, 2xx piecing, 3xx cutting, 4xx pressing, 5xx accuracy,
6xx setting, 7xx cloth, 8xx programme, 9xx proof. Each code is defined once, in the `checks.py` of
its stage, as a :class:`Kind`, and documented in ``docs/reference/findings.md``.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Severity = Literal["error", "warning", "note"]


@dataclass(frozen=True, slots=True)
class Where:
    """The place a finding is about.

    `file`, `line`, `column` (from 1) point into a text file; `block` names the block; `at` is a
    point of the finished block in inches, x to the right, y downwards, from the upper left corner
    of its bounding box. Whatever is not known is None.
    """

    file: str | None = None
    line: int | None = None
    column: int | None = None
    block: str | None = None
    at: tuple[Fraction, Fraction] | None = None


@dataclass(frozen=True, slots=True)
class Kind:
    """One sort of finding: its code, how grave it is, and a title for the reference page."""

    code: int
    severity: Severity
    title: str

    def found(self, what: str, *, mend: str, where: Where | None = None) -> Finding:
        """A finding of this kind at a place."""
        return Finding(self.code, self.severity, where or Where(), what, mend)


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing the checks found: `what` is wrong and how to `mend` it, in a quilter's words.

    *error*: cannot be sewn or does not add up. *warning*: will cost the maker something.
    *note*: worth knowing.
    """

    code: int
    severity: Severity
    where: Where
    what: str
    mend: str


def worst(findings: Iterable[Finding]) -> Severity | None:
    """The gravest severity present, or None if there is nothing to say.

    >>> worst([]) is None
    True
    """
    present = {finding.severity for finding in findings}
    order: tuple[Severity, ...] = ("error", "warning", "note")
    return next((severity for severity in order if severity in present), None)
