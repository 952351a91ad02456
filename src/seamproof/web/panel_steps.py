"""The panel of the steps: the making of a block as a film, each step from the front and from the
back."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import asdict

from seamproof.booklet.assembly_chapter import sewn_sets
from seamproof.booklet.model import Chapter
from seamproof.booklet.sheets import CUTTER, IRON, chapters
from seamproof.booklet.unit_chapters import told_as_one
from seamproof.drawing.inks import SCREEN
from seamproof.drawing.placing import fitting, place
from seamproof.drawing.scene import Scene, Spot
from seamproof.drawing.svg import written
from seamproof.figures.cloth import Coloured, edge, filled, paints, seams, spots
from seamproof.figures.press_signs import from_the_back, press_signs
from seamproof.figures.steps import patches_of
from seamproof.figures.turned_over import turned_over
from seamproof.pipeline.pressing import PressedWork
from seamproof.web.panel_desk import Desk, Panel, pictured, said

FRAME = (420.0, 320.0)
"""Pixels that the picture of a step fits into."""


def steps(desk: Desk) -> Panel:
    """Every step with its picture, its words and what to measure; the usual cautions."""
    pressed = desk.pressed()
    work = desk.work("cutting")
    block, plan, cutting = work.block, work.piecing, work.cutting
    facts: list[list[str]] = []
    if plan is not None:
        facts = [
            ["Steps at the machine", str(plan.sessions)],
            ["Corners to set in", str(plan.set_in_points)],
            ["Sets", str(len(plan.rounds))],
        ]
    panel = said(work.findings, facts)
    frames: list[Panel] = []
    if block is not None and plan is not None and cutting is not None:
        units, assembly = chapters(
            block, work.fabrics, plan, cutting, work.settings, work.measure, pressed.pressed
        )
        back = _Back(pressed)
        made = told_as_one([recipe for recipe in cutting.recipes if recipe.steps])
        for number, (chapter, recipes) in enumerate(zip(units, made, strict=True), start=1):
            backs = [turned_over(step.figure) for step in chapter.steps]
            backs[-1:] = [back.of(recipes[0].unit)]  # which shows how it is pressed, too
            frames += _frames(chapter, f"f{number}-", backs)
        if assembly is not None:
            sewn = itertools.chain(*sewn_sets(plan, cutting))
            frames += _frames(assembly, "f0-", [back.of(one.part) for one in sewn])
        panel["cautions"] = [asdict(CUTTER), asdict(IRON)]
    panel["frames"] = frames
    return panel


def _frames(chapter: Chapter, name: str, backs: list[Scene]) -> Iterator[Panel]:
    pictures = [p for step in chapter.steps for p in (step.figure, step.sewn) if p is not None]
    scale = fitting([*pictures, *backs], *FRAME, SCREEN)
    for step in chapter.steps:
        yield {
            "title": chapter.title,
            "lead": chapter.lead if step.number == 1 else "",
            "number": step.number,
            "set": step.set,
            "begins": step.begins,
            "caption": step.text,
            "measure": step.measure,
            **pictured(place(step.figure, scale, SCREEN), f"{name}{step.number}-"),
            "back": None
            if step.number > len(backs)
            else written(
                place(backs[step.number - 1], scale, SCREEN), name=f"{name}{step.number}b-"
            ),
            "sewn": None
            if step.sewn is None
            else written(place(step.sewn, scale, SCREEN), name=f"{name}{step.number}s-"),
        }


class _Back:
    """Parts of a block from the back, with their press signs if they have any."""

    def __init__(self, pressed: PressedWork) -> None:
        assert pressed.work.piecing is not None
        self.plan = pressed.work.piecing
        self.presses = () if pressed.pressed is None else pressed.pressed.plan.presses
        self.paints = paints(pressed.work.fabrics)

    def of(self, part: int) -> Scene:
        """One part, sewn and pressed."""
        plan = self.plan
        outline = spots(plan.parts[part].outline)
        right = max(x for x, _ in outline)

        def mirrored(spot: Spot) -> Spot:
            return (right - spot[0], spot[1])

        patches = [
            Coloured(patch.fabric, tuple(map(mirrored, patch.corners))[::-1])
            for patch in patches_of(plan, part)
        ]
        signs = [from_the_back(sign, mirrored) for sign in press_signs(plan, part, self.presses)]
        shapes = [*filled(patches, self.paints, side="wrong"), *seams(patches)]
        shapes.append(edge(tuple(map(mirrored, outline))))
        return Scene((*shapes, *signs), "sewn and pressed, from the back")
