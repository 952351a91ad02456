"""What each panel of a block shows: pictures for the screen, numbers in words, what was found.

Worked out in a worker, one panel after the other, the cheapest first. A panel is plain JSON.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict
from typing import Literal

from seamproof.answers.drafting import draft_answer
from seamproof.answers.shapes import size_text
from seamproof.booklet import wording
from seamproof.booklet.sheets import CUTTER, facts_of, pieces_of
from seamproof.drawing.inks import SCREEN
from seamproof.drawing.placing import place
from seamproof.figures.block import block_scene
from seamproof.figures.cloth import paints
from seamproof.pipeline.memory import Memory
from seamproof.pipeline.model import BlockWork, Stop
from seamproof.pipeline.working import work_block
from seamproof.project.model import Source
from seamproof.web.panel_desk import SIDE, Desk, Panel, Wanted, pictured, said
from seamproof.web.panel_fit import fit
from seamproof.web.panel_pressing import back, bulk
from seamproof.web.panel_steps import steps

Name = Literal["front", "picture", "pieces", "steps", "proof", "back", "bulk", "fit"]

PANELS: tuple[Name, ...] = (
    "front",
    "picture",
    "pieces",
    "proof",
    "back",
    "bulk",
    "steps",
    "fit",
)
"""The panels of a block, in the order in which they are worked out."""

SMALL_SIDE = 2.0
"""Inches of the longer side of a block in a list of blocks."""


def panels(
    source: Source,
    names: Sequence[Name],
    wanted: Wanted,
    memory: Memory,
    stop: Stop,
) -> Iterator[tuple[Name, Panel]]:
    """The panels of a block, each as soon as it is there. Raises Stopped if `stop` says so."""
    desk = Desk(source, wanted, memory, stop)
    for name in PANELS:
        if name in names:
            yield name, _MADE[name](desk)


def _front(desk: Desk) -> Panel:
    work = desk.work("draft")
    answer, block = draft_answer(work), work.block
    facts = [["Finished", f"{size_text(*work.drawing.finished, work.measure)} {work.measure}"]]
    if answer.patches is not None:
        facts.append(["Patches", str(answer.patches)])
    if answer.fabrics is not None:
        facts.append(["Fabrics", ", ".join(line.letter.upper() for line in answer.fabrics)])
    panel = said(work.findings, facts)
    panel["patches"] = [asdict(line) for line in answer.patches_list or ()]
    if block is not None:
        scene = block_scene(block, paints(work.fabrics), measure=work.measure)
        scale = SIDE / float(max(block.width, block.height))
        panel |= pictured(place(scene, scale, SCREEN), "front")
    return panel


def _picture(desk: Desk) -> Panel:
    """The block small, for a list of blocks."""
    work = desk.work("draft")
    return said(work.findings, []) | _small(work)


def small_picture(source: Source) -> str | None:
    """A block small, as SVG; None if it cannot be drawn."""
    found: str | None = _small(work_block(source, until="draft")).get("svg")
    return found


def _small(work: BlockWork) -> Panel:
    """Without letters and measures."""
    if work.block is None:
        return {}
    scene = block_scene(work.block, paints(work.fabrics), lettered=False)
    scale = SMALL_SIDE / float(max(work.block.width, work.block.height))
    return pictured(place(scene, scale, SCREEN), "small")


def _pieces(desk: Desk) -> Panel:
    work = desk.work("cutting")
    block, plan, cutting = work.block, work.piecing, work.cutting
    if block is None or plan is None or cutting is None:
        return said(work.findings, [])
    told = facts_of(block, plan, cutting, work.settings, work.measure)
    facts = [[fact.name, fact.text] for fact in told]
    facts.append(["Corners to set in", str(plan.set_in_points)])
    panel = said(work.findings, facts)
    panel["title"], panel["lead"] = wording.CUTTING_TITLE, wording.copies_lead(cutting.copies)
    panel["fabrics"] = [
        {
            "letter": cut.fabric.paint.letter,
            "name": cut.fabric.name,
            "colour": cut.fabric.paint.colour,
            "rows": [asdict(row) for row in cut.rows],
        }
        for cut in pieces_of(block, work.fabrics, cutting, work.settings, work.measure)
    ]
    panel["caution"] = asdict(CUTTER)
    return panel


def _proof(desk: Desk) -> Panel:
    work = desk.work("proof")
    grave = any(finding.severity == "error" for finding in work.findings)
    cutting = work.cutting
    facts = []
    if cutting is not None:
        facts.append(["Pieces cut", str(sum(piece.count for piece in cutting.pieces))])
        facts.append(["Steps in all", str(len(cutting.steps))])
    panel = said(work.findings, facts)
    panel["proved"] = None if cutting is None else not grave
    return panel


_MADE: dict[Name, Callable[[Desk], Panel]] = {
    "front": _front,
    "picture": _picture,
    "pieces": _pieces,
    "steps": steps,
    "proof": _proof,
    "back": back,
    "bulk": bulk,
    "fit": fit,
}
