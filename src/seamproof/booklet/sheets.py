"""The sheet of one block, gathered from what the stages worked out."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from seamproof.booklet import unit_wording, wording
from seamproof.booklet.assembly_chapter import assembly_chapter, sewn_sets
from seamproof.booklet.cutting_table import cutting_table
from seamproof.booklet.model import (
    Caution,
    Chapter,
    FabricCutting,
    Fact,
    KeyRow,
    SheetModel,
    Template,
    TurnedOver,
)
from seamproof.booklet.notes import notes_on_paper
from seamproof.booklet.pressing_chapter import Pressing, turned_over
from seamproof.booklet.unit_chapters import Telling, unit_chapters
from seamproof.cutting.model import CuttingList, CuttingSettings, Piece, Recipe
from seamproof.draft.model import Block, Fabric
from seamproof.figures.back import pressed_back
from seamproof.figures.block import block_scene
from seamproof.figures.cloth import Paints, paints
from seamproof.figures.template import template_scene
from seamproof.findings import Finding
from seamproof.length.notation import Measure
from seamproof.piecing.model import PiecingPlan
from seamproof.plane.predicates import box
from seamproof.pressing.model import Pressed, PressSettings, limit_of

CUTTER = Caution(wording.CUTTER_TITLE, wording.CUTTER)
IRON = Caution(wording.IRON_TITLE, wording.IRON)


def sheet(
    block: Block,
    fabrics: Sequence[Fabric],
    piecing: PiecingPlan,
    cutting: CuttingList,
    *,
    settings: CuttingSettings,
    proved: bool,
    findings: Iterable[Finding] = (),
    quilt: str = "",
    measure: Measure = "in",
    pressed: Pressed | None = None,
    pressing: PressSettings | None = None,
) -> SheetModel:
    """Everything that stands on the sheet of a block.

    `fabrics` are at least those that the block uses, `quilt` is the name of the project. `proved`
    says that the proof ran over this cutting list and found nothing that does not add up; the
    sheet tells its reader. `findings` are printed as notes, in their order. `pressed` is how the
    block is pressed, by the settings `pressing`; without it the sheet only says to press.
    """
    rows = key_rows(block, fabrics)
    marks = unit_marks(cutting)
    units, assembly = chapters(block, fabrics, piecing, cutting, settings, measure, pressed)
    shown = {letter: row.paint for letter, row in rows.items()}
    return SheetModel(
        name=block.name,
        quilt=quilt,
        facts=facts_of(block, piecing, cutting, settings, measure),
        picture=block_scene(block, shown),
        fabrics=tuple(rows.values()),
        cutting_title=wording.CUTTING_TITLE,
        cutting_lead=wording.copies_lead(cutting.copies),
        cutting=pieces_of(block, fabrics, cutting, settings, measure),
        cutter=CUTTER,
        units=units,
        assembly=assembly,
        templates=_templates(cutting.pieces, rows, settings),
        iron=IRON,
        notes=notes_on_paper(findings),
        edition=wording.PROVED if proved else wording.NOT_PROVED,
        measure=measure,
        turned=None
        if pressed is None or not pressed.runs
        else _turned(block, piecing, cutting, pressed, pressing, marks, shown, settings, measure),
    )


def key_rows(block: Block, fabrics: Sequence[Fabric]) -> dict[str, KeyRow]:
    """The fabrics that a block uses, by letter, as its sheet names them."""
    used = {patch.fabric for patch in block.patches}
    key = {f.letter: f for f in fabrics if f.letter in used}
    shown = paints(key.values())
    return {
        letter: KeyRow(shown[letter], fabric.name, fabric.value) for letter, fabric in key.items()
    }


def unit_marks(cutting: CuttingList) -> dict[int, str]:
    """What units are called on the sheet, by the number of the part."""
    recipes = [recipe for recipe in cutting.recipes if recipe.steps]
    marks = {recipe.unit: wording.unit_mark(i) for i, recipe in enumerate(recipes, start=1)}
    return marks | {
        recipe.twin.unit: unit_wording.mirrored_mark(marks[recipe.unit])
        for recipe in recipes
        if recipe.twin is not None and recipe.twin.unit is not None
    }


def pieces_of(
    block: Block,
    fabrics: Sequence[Fabric],
    cutting: CuttingList,
    settings: CuttingSettings,
    measure: Measure,
) -> tuple[FabricCutting, ...]:
    """The pieces to cut, fabric by fabric, as the sheet lists them."""
    recipes = [recipe for recipe in cutting.recipes if recipe.steps]
    purposes = _purposes(recipes, unit_marks(cutting))
    return cutting_table(cutting.pieces, key_rows(block, fabrics), purposes, settings, measure)


def chapters(
    block: Block,
    fabrics: Sequence[Fabric],
    piecing: PiecingPlan,
    cutting: CuttingList,
    settings: CuttingSettings,
    measure: Measure,
    pressed: Pressed | None,
) -> tuple[tuple[Chapter, ...], Chapter | None]:
    """The chapters on the units, and the one on putting the block together if there is one. The
    first of them explains the press signs."""
    shown = {letter: row.paint for letter, row in key_rows(block, fabrics).items()}
    recipes = [recipe for recipe in cutting.recipes if recipe.steps]
    marks = unit_marks(cutting)
    how = None if pressed is None else Pressing(piecing, pressed.plan.presses)
    units = unit_chapters(recipes, marks, Telling(shown, settings, measure, how))
    assembly = assembly_chapter(piecing, cutting, marks, shown, settings.seam, measure, how)
    if how is not None and units:
        units = (replace(units[0], signs=how.signs()), *units[1:])
    elif how is not None and assembly is not None:
        assembly = replace(assembly, signs=how.signs())
    return units, assembly


def _turned(
    block: Block,
    piecing: PiecingPlan,
    cutting: CuttingList,
    pressed: Pressed,
    pressing: PressSettings | None,
    marks: Mapping[int, str],
    shown: Paints,
    settings: CuttingSettings,
    measure: Measure,
) -> TurnedOver:
    chosen = pressing or PressSettings(seam=settings.seam)
    size = (float(block.width), float(block.height))
    back = pressed_back(block, piecing, cutting, chosen, pressed, shown, max(size))
    numbers = itertools.chain(*sewn_sets(piecing, cutting))
    names = {
        **{sewn.part: wording.step_name(i) for i, sewn in enumerate(numbers, start=1)},
        **marks,
    }
    return turned_over(
        *(pressed, piecing, back, names, size, limit_of(chosen), settings.step), measure
    )


def facts_of(
    block: Block,
    piecing: PiecingPlan,
    cutting: CuttingList,
    settings: CuttingSettings,
    measure: Measure,
) -> tuple[Fact, ...]:
    """The facts at the head of a sheet."""
    finished = (block.width, block.height)
    unfinished = (block.width + 2 * settings.seam, block.height + 2 * settings.seam)
    return (
        Fact("Finished", wording.extent(finished, measure)),
        Fact("Unfinished", wording.extent(unfinished, measure)),
        Fact("Patches", str(piecing.patches)),
        Fact("Pieces to cut", str(sum(piece.count for piece in cutting.pieces))),
        Fact("Steps at the machine", str(piecing.sessions)),
    )


def _purposes(recipes: Iterable[Recipe], marks: Mapping[int, str]) -> dict[str, str]:
    """What the pieces of units are for, by their marks."""
    users: dict[str, list[Recipe]] = {}
    for recipe in recipes:
        for piece in recipe.pieces:
            users.setdefault(piece.letter, []).append(recipe)
    return {
        letter: wording.purpose([marks[recipe.unit] for recipe in some])
        for letter, some in users.items()
    }


def _templates(
    pieces: Iterable[Piece], rows: Mapping[str, KeyRow], settings: CuttingSettings
) -> tuple[Template, ...]:
    """The templates, each once: one outline may serve several fabrics."""
    alike: dict[object, list[Piece]] = {}
    for piece in pieces:
        if piece.shape == "template":
            (x0, y0), _ = box(piece.corners)
            outline = frozenset((x - x0, y - y0) for x, y in piece.corners)
            alike.setdefault(outline, []).append(piece)
    return tuple(
        Template(
            wording.template_title([(p.letter, p.count, rows[p.fabric].name) for p in some]),
            template_scene(some[0], ", ".join(p.letter for p in some), settings.seam),
        )
        for some in alike.values()
    )
