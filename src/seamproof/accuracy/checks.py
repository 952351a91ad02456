"""What the rehearsal has to say."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from seamproof.accuracy.model import Maker, Rehearsal
from seamproof.findings import Finding, Kind, Where
from seamproof.length.notation import Measure, with_unit

ASSUMED_MAKER = Kind(501, "note", "Maker profile is an assumption")
HARD_TO_TRIM = Kind(502, "warning", "Unit that many makers cannot square up")
NOT_REHEARSED = Kind(503, "warning", "Block that cannot be rehearsed")
OVERSIZE_CHOSEN = Kind(504, "note", "Oversize that was worked out")

PROFILE_KEPT = Kind(520, "warning", "A maker profile is there already and was kept")
PROFILE_RENEWED = Kind(521, "note", "What was measured before was replaced")
COPY_UNREADABLE = Kind(522, "error", "A row of the log of test copies cannot be read")
COPY_OF_NOTHING = Kind(523, "error", "A test copy of a block that the quilt does not have")
COPY_OF_ANOTHER_SIZE = Kind(524, "warning", "A test copy is of quite another size")
COPY_UNLIKE_FORECAST = Kind(525, "warning", "A test copy came out unlike the forecast")

ENOUGH = 0.95
"""A unit that fewer makers than this can square up is told of."""


def found(rehearsal: Rehearsal, measure: Measure, where: Where) -> tuple[Finding, ...]:
    """What there is to say about a rehearsal."""
    findings = []
    if rehearsal.maker.assumed:
        findings.append(assumed(rehearsal.maker, where))
    findings += [
        HARD_TO_TRIM.found(
            f"{round(100 * unit.makers)} of 100 makers like this can square up every one of its "
            f"units of the kind {unit.kind}",
            mend=f"cut its pieces {with_unit(unit.marks95, measure)} over instead of "
            f"{with_unit(unit.oversize, measure)}; then 95 of 100 can",
            where=where,
        )
        for unit in rehearsal.units
        if unit.makers < ENOUGH
    ]
    return tuple(findings)


def chosen(
    oversizes: Sequence[tuple[str, Fraction]],
    wanted: Mapping[str, int],
    maker: Maker,
    measure: Measure,
    where: Where,
) -> Finding:
    """What ``oversize: auto`` came to."""
    told = ", ".join(f"{kind} {with_unit(size, measure)}" for kind, size in oversizes)
    shares = sorted({wanted[kind] for kind, _ in oversizes})
    assumed = " (a profile that is an assumption)" if maker.assumed else ""
    return OVERSIZE_CHOSEN.found(
        f"cut over: {told}; so {' or '.join(map(str, shares))} of 100 makers like “{maker.name}”"
        f"{assumed} can square up all they need",
        mend="measure your own seam, or write another maker or oversize into quilt.yaml",
        where=where,
    )


def assumed(maker: Maker, where: Where) -> Finding:
    """That a profile was not measured on anybody."""
    return ASSUMED_MAKER.found(
        f"the profile “{maker.name}” is an assumption, chosen in threads, not measured on a maker",
        mend="read the shares as comparisons; a strip test shows how your own seam differs",
        where=where,
    )
