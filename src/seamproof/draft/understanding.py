"""From a drawing to the block that was meant."""

from __future__ import annotations

import functools
from dataclasses import replace
from fractions import Fraction

from seamproof.draft.cells import pieces_of
from seamproof.draft.checks import UNKNOWN_FABRIC, at, first_few
from seamproof.draft.fixings import fixed
from seamproof.draft.joining import loops_of
from seamproof.draft.loops import Partition
from seamproof.draft.model import Block, Cells, Drawing, Patch, Polygons
from seamproof.draft.partition import partition
from seamproof.draft.polygons import from_polygons
from seamproof.draft.ruler import SEAM, off_ruler
from seamproof.draft.seam_lines import from_seams
from seamproof.findings import Finding, worst
from seamproof.length.exact import kept
from seamproof.length.rounding import INCH_STEP

KEPT = 64
"""Drawings that are kept understood: the top and the blocks ask for the same."""


@functools.lru_cache(maxsize=KEPT)
def understand(
    drawing: Drawing,
    letters: frozenset[str] | None = None,
    *,
    step: Fraction = INCH_STEP,
    seam: Fraction = SEAM,
) -> tuple[Block | None, tuple[Finding, ...]]:
    """The block that a drawing means, and what is to be said about it.

    `letters` are the fabrics of the project; None means that any letter will do. `step` and `seam`
    are the ruler's marks and the seam allowance in inches, for the note on sizes off the ruler.

    Vertices are numbered from the top down and in a row from left to right; each patch and the
    outline begin at their lowest number. Patches are in the order in which they were written (for
    seam lines: in which their fabrics were named). Of the fixings those are left that mean a seam
    or a crossing of the block, moved onto its vertices. The block is None only if a finding of
    severity error makes the rest impossible; then that finding names a place.

    >>> from seamproof.draft.model import Written
    >>> from seamproof.findings import Where
    >>> cell = Written("a/b", Where())
    >>> block, findings = understand(Drawing("half", (Fraction(3), Fraction(3)), Cells(((cell,),))))
    >>> [(patch.fabric, patch.corners) for patch in block.patches], findings
    ([('a', (0, 1, 2)), ('b', (1, 3, 2))], ())
    """
    size = (kept(drawing.finished[0]), kept(drawing.finished[1]))
    drawing = replace(drawing, finished=size)
    found, findings = _divided(drawing)
    if found is None:
        return None, tuple(first_few(findings))
    findings += _unknown_fabrics(drawing.name, found, letters)
    fixings, faults = fixed(drawing.name, found, drawing.fixings)
    findings += faults
    findings += off_ruler(drawing.name, size, found, drawing.drawn.where, step=step, seam=seam)
    block = Block(
        name=drawing.name,
        width=size[0],
        height=size[1],
        vertices=found.vertices,
        patches=tuple(Patch(loop.fabric, loop.corners) for loop in found.loops),
        outline=found.outline,
        fixings=fixings,
        upright=drawing.upright,
        order=drawing.order,
    )
    return block, tuple(first_few(findings))


def _divided(drawing: Drawing) -> tuple[Partition | None, list[Finding]]:
    drawn = drawing.drawn
    if isinstance(drawn, Polygons):
        return from_polygons(drawing.name, drawing.finished, drawn)
    if isinstance(drawn, Cells):
        return _from_cells(drawing, drawn)
    return from_seams(drawing.name, drawing.finished, drawn)


def _from_cells(drawing: Drawing, drawn: Cells) -> tuple[Partition | None, list[Finding]]:
    pieces, findings = pieces_of(drawing.name, drawing.finished, drawn)
    if worst(findings) == "error":
        return None, findings
    vertices, loops, faults = loops_of(drawing.name, pieces)
    if faults:
        return None, findings + faults
    found, faults = partition(drawing.name, vertices, loops)
    return found, findings + faults


def _unknown_fabrics(name: str, found: Partition, letters: frozenset[str] | None) -> list[Finding]:
    if letters is None:
        return []
    known = ", ".join(sorted(letters))
    return [
        UNKNOWN_FABRIC.found(
            f"the project has no fabric {loop.fabric}",
            mend=f"its fabrics are {known}; change the letter or add the fabric"
            if known
            else "write the fabric down in the project",
            where=at(loop.where, name, found.vertices[loop.corners[0]]),
        )
        for loop in found.loops
        if loop.fabric not in letters
    ]
