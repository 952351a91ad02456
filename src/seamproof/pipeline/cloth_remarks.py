"""What is to be said about the lay of a fabric."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from seamproof.cloth.checks import CUT_SHORT, NOT_ENOUGH, ONE_WAY, TOO_LARGE, WIDE_CLOTH
from seamproof.cloth.model import Cloth, Laid
from seamproof.cloth.ordering import strips_of
from seamproof.cloth.pooling import Kind, Pool
from seamproof.cutting.model import CuttingSettings
from seamproof.draft.model import Fabric
from seamproof.findings import Finding, Where
from seamproof.length.notation import Measure, number, with_unit
from seamproof.pipeline.cloth_there import called
from seamproof.pipeline.model import BlockWork

WIDE = Fraction(42)
"""Usable width of cloth that is not preshrunk and used from selvage to selvage (common practice,
no source): what some patterns count on."""


def cloth_notes(
    fabric: Fabric,
    pool: Pool,
    cloth: Cloth,
    laid: Laid,
    works: Sequence[BlockWork],
    measure: Measure,
    setting: Where = Where(),
) -> list[Finding]:
    """What is to be said about the lay of a fabric. `setting` is where the top is written."""
    places = {
        work.drawing.name: replace(work.drawing.where, block=work.drawing.name) for work in works
    }
    findings = []
    for name in laid.too_large:
        kind = pool.named(name)
        where = next((places[u.source] for u in kind.uses if u.source in places), setting)
        findings.append(_too_large(kind, fabric, cloth, where, measure))
    lacking = [(name, count) for name, count in laid.unmet if name not in laid.too_large]
    if lacking:
        told = ", ".join(f"{count} of {name}" for name, count in lacking)
        findings.append(
            NOT_ENOUGH.found(
                f"what there is of {called(fabric)} does not give all pieces: {told} are missing",
                mend="have more pieces of it, or let it be bought by length, too",
            )
        )
    sides = {kind.sides for kind in pool.kinds if kind.outline == "box" and not kind.first}
    if fabric.directional and any(short != long for short, long in sides):
        findings.append(
            ONE_WAY.found(
                f"the print of {called(fabric)} has a direction, so no piece of it is turned to "
                "save cloth: rectangles are cut so that it stands upright in the block",
                mend="halves of squares and other triangles will show it both ways; if that "
                "matters there, take another fabric",
            )
        )
    full = _fuller_than_usual(pool, laid, measure)
    if full:
        findings.append(
            WIDE_CLOTH.found(
                f"{full} of the strips of {called(fabric)} hold more than "
                f"{with_unit(usual_width(measure), measure)}, which most cloth has",
                mend=f"measure the cloth before you cut: {with_unit(cloth.width, measure)} must be "
                "there between the selvages; or lay it for the usual width",
            )
        )
    if laid.stopped:
        findings.append(
            CUT_SHORT.found(
                f"the search for a shorter lay of {called(fabric)} was stopped",
                mend="the lay is whole and can be cut; ask again for a shorter one",
            )
        )
    return findings


def usual_width(measure: Measure) -> Fraction:
    """What can be used of most quilting cloth."""
    return (CuttingSettings.metric() if measure == "cm" else CuttingSettings()).usable_width


def _fuller_than_usual(pool: Pool, laid: Laid, measure: Measure) -> int:
    """How many strips hold more than most cloth is wide. Strips that are joined may be shorter, and
    what comes first is told by its own size."""
    usual = usual_width(measure)
    aside = {k.demand.name for k in pool.kinds if k.first or k.demand.width > usual}
    return sum(
        strip.times * lay.times
        for lay in laid.lays
        if lay.cloth == "yardage"
        for strip in strips_of(lay)
        if strip.width - strip.left > usual and not any(name in aside for name, _ in strip.pieces)
    )


def _too_large(kind: Kind, fabric: Fabric, cloth: Cloth, where: Where, measure: Measure) -> Finding:
    short, long = kind.sides
    size = with_unit(long, measure)
    if short != long:
        size = f"{number(short, measure)} × {size}"
    least = short if kind.demand.may_turn else kind.demand.width or short
    mend = "use wider cloth, or put a seam across the piece in the drawing"
    if cloth.yardage and cloth.width < least <= WIDE:
        mend = (
            f"it fits cloth of which {with_unit(least, measure)} can be used: "
            "say so as usable width in quilt.yaml, or with --width"
        )
    room = (
        f"the usable width is {with_unit(cloth.width, measure)}"
        if cloth.yardage
        else "no piece of it is large enough"
    )
    return TOO_LARGE.found(
        f"{kind.shape} {kind.demand.name} of {called(fabric)} is cut {size}, but {room}",
        mend=mend,
        where=where,
    )
