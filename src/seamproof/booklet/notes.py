"""What the checks found, as it stands on a sheet: short, in a maker's words, alike things once.

Whoever holds a sheet has no file: what speaks of how the file is written is left out, and so are
mends that the steps tell better.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from seamproof.booklet import wording
from seamproof.booklet.model import Note
from seamproof.cutting.checks import (
    ALL_ON_THE_BIAS,
    CUT_FULL,
    METHOD_DOES_NOT_FIT,
    METHOD_UNUSED,
    OFF_THE_RULER,
    SPARES,
)
from seamproof.draft.checks import MADE_UP_FABRICS, SEAM_OUTSIDE, UNUSED_UNIT
from seamproof.findings import Finding
from seamproof.piecing.checks import CORNER_SET_IN, NOT_LAST, TWO_GOES

OF_THE_FILE = {
    kind.code
    for kind in (
        MADE_UP_FABRICS,
        UNUSED_UNIT,
        SEAM_OUTSIDE,
        NOT_LAST,
        METHOD_DOES_NOT_FIT,
        METHOD_UNUSED,
    )
}
"""Findings about what was asked for in a file; a sheet tells what is done."""

_MENDS = {
    CORNER_SET_IN.code: wording.STEPS_SHOW,
    TWO_GOES.code: wording.STEPS_SHOW,
    SPARES.code: wording.KEEP_SPARES,
    OFF_THE_RULER.code: wording.BETWEEN_MARKS,
    ALL_ON_THE_BIAS.code: wording.STARCH,
}
"""What a maker can do about it at the table, where the finding's own mend changes the design."""

_MARKED = re.compile(r"([A-Z]{1,2}[a-z]{1,2}) (.*)", re.DOTALL)
_OF_FABRICS = re.compile(r"(.+?) of ([A-Z][A-Z, and]*): (.*)", re.DOTALL)
_UP_TO = re.compile(r"(?<=up to )[\d.]+")


def notes_on_paper(findings: Iterable[Finding]) -> tuple[Note, ...]:
    """The findings as notes, in the order of the first of each sort. What differs only in the piece
    or the fabrics it is about is one note; what holds at several places is said once."""
    alike: dict[tuple[object, ...], list[Finding]] = {}
    for finding in findings:
        if finding.code not in OF_THE_FILE:
            alike.setdefault(_sort(finding), []).append(finding)
    return tuple(
        Note(
            _said(some),
            _MENDS.get(some[0].code, some[0].mend),
            some[0].severity == "error",
        )
        for some in alike.values()
    )


def _sort(finding: Finding) -> tuple[object, ...]:
    """What findings have in common that are one note."""
    what = finding.what
    if finding.code == CUT_FULL.code:
        what = _UP_TO.sub("", what)
    for pattern, rest in ((_MARKED, 2), (_OF_FABRICS, 3)):
        found = pattern.fullmatch(what)
        if found:
            kind = found.group(1) if pattern is _OF_FABRICS else ""
            return (finding.code, kind, found.group(rest))
    return (finding.code, "", what)


def _said(some: Sequence[Finding]) -> str:
    whats = list(dict.fromkeys(finding.what for finding in some))
    if len(whats) == 1:
        return wording.at_places(whats[0], len(some))
    marked = [found for what in whats if (found := _MARKED.fullmatch(what))]
    if marked:
        marks = list(dict.fromkeys(found.group(1) for found in marked))
        most = max((found.group(2) for found in marked), key=_amount)
        return wording.of_several(marks, most)
    of_fabrics = [match for what in whats if (match := _OF_FABRICS.fullmatch(what))]
    first = of_fabrics[0]
    return wording.of_fabrics(
        first.group(1), [match.group(2) for match in of_fabrics], first.group(3)
    )


def _amount(what: str) -> float:
    found = _UP_TO.search(what)
    return float(found.group()) if found else 0.0
