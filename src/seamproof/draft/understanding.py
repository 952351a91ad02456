"""From a drawing to the block that was meant."""

from __future__ import annotations

from seamproof.draft.checks import UNKNOWN_FABRIC, at, first_few
from seamproof.draft.model import Block, Drawing, Patch, Polygons
from seamproof.draft.partition import Partition
from seamproof.draft.polygons import from_polygons
from seamproof.findings import Finding


def understand(
    drawing: Drawing, letters: frozenset[str] | None = None
) -> tuple[Block | None, tuple[Finding, ...]]:
    """The block that a drawing means, and what is to be said about it.

    `letters` are the fabrics of the project; None means that any letter will do. The block is None
    only if a finding of severity error makes the rest impossible.
    """
    found, findings = _divided(drawing)
    if found is None:
        return None, tuple(first_few(findings))
    findings += _unknown_fabrics(drawing.name, found, letters)
    block = Block(
        name=drawing.name,
        width=drawing.finished[0],
        height=drawing.finished[1],
        vertices=found.vertices,
        patches=tuple(Patch(loop.fabric, loop.corners) for loop in found.loops),
        outline=found.outline,
        fixings=drawing.fixings,
        upright=drawing.upright,
    )
    return block, tuple(first_few(findings))


def _divided(drawing: Drawing) -> tuple[Partition | None, list[Finding]]:
    drawn = drawing.drawn
    if isinstance(drawn, Polygons):
        return from_polygons(drawing.name, drawing.finished, drawn)
    raise NotImplementedError


def _unknown_fabrics(
    name: str, found: Partition, letters: frozenset[str] | None
) -> list[Finding]:
    if letters is None:
        return []
    known = ", ".join(sorted(letters))
    findings = []
    for loop in found.loops:
        if loop.fabric not in letters:
            findings.append(
                UNKNOWN_FABRIC.found(
                    f"the project has no fabric {loop.fabric}",
                    mend=f"its fabrics are {known}; change the letter or add the fabric"
                    if known
                    else "write down the fabric in the project",
                    where=at(loop.where, name, found.vertices[loop.corners[0]]),
                )
            )
    return findings
