"""The sheet of one block, gathered from what the stages worked out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from seamproof.booklet import wording
from seamproof.booklet.assembly_chapter import assembly_chapter
from seamproof.booklet.model import (
    Caution,
    CuttingRow,
    FabricCutting,
    Fact,
    KeyRow,
    Note,
    SheetModel,
    Template,
)
from seamproof.booklet.unit_chapters import Telling, called, unit_chapters
from seamproof.cutting.model import CuttingList, CuttingSettings, Piece, Recipe
from seamproof.draft.model import Block, Fabric
from seamproof.figures.block import block_scene
from seamproof.figures.cloth import paints
from seamproof.figures.template import template_scene
from seamproof.findings import Finding
from seamproof.length.notation import Measure
from seamproof.piecing.model import PiecingPlan
from seamproof.plane.predicates import box


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
) -> SheetModel:
    """Everything that stands on the sheet of a block.

    `fabrics` are at least those that the block uses, `quilt` is the name of the project. `proved`
    says that the proof ran over this cutting list and found nothing that does not add up; the
    sheet tells its reader. `findings` are printed as notes, in their order.
    """
    used = {patch.fabric for patch in block.patches}
    key = {f.letter: f for f in fabrics if f.letter in used}
    shown = paints(key.values())
    rows = {
        letter: KeyRow(shown[letter], fabric.name, fabric.value) for letter, fabric in key.items()
    }
    recipes = [recipe for recipe in cutting.recipes if recipe.steps]
    marks = {recipe.unit: wording.unit_mark(i) for i, recipe in enumerate(recipes, start=1)}
    telling = Telling(shown, settings, measure)
    return SheetModel(
        name=block.name,
        quilt=quilt,
        facts=_facts(block, piecing, cutting, settings, measure),
        picture=block_scene(block, shown),
        fabrics=tuple(rows.values()),
        cutting_title=wording.CUTTING_TITLE,
        cutting_lead=wording.copies_lead(cutting.copies),
        cutting=_cutting(cutting.pieces, rows, _purposes(recipes, marks)),
        cutter=Caution(wording.CUTTER_TITLE, wording.CUTTER),
        units=unit_chapters(recipes, marks, telling),
        assembly=assembly_chapter(piecing, cutting, marks, shown, measure),
        templates=_templates(cutting.pieces, rows, settings),
        iron=Caution(wording.IRON_TITLE, wording.IRON),
        notes=_notes(findings),
        edition=wording.PROVED if proved else wording.NOT_PROVED,
        measure=measure,
    )


def _facts(
    block: Block,
    piecing: PiecingPlan,
    cutting: CuttingList,
    settings: CuttingSettings,
    measure: Measure,
) -> tuple[Fact, ...]:
    finished = (block.width, block.height)
    unfinished = (block.width + 2 * settings.seam, block.height + 2 * settings.seam)
    return (
        Fact("Finished", wording.extent(finished, measure)),
        Fact("Unfinished", wording.extent(unfinished, measure)),
        Fact("Patches", str(piecing.patches)),
        Fact("Pieces to cut", str(sum(piece.count for piece in cutting.pieces))),
        Fact("Steps at the machine", str(piecing.sessions)),
    )


def _notes(findings: Iterable[Finding]) -> tuple[Note, ...]:
    """The findings as notes; what is found at several places is said once."""
    counts: dict[tuple[str, str, bool], int] = {}
    for f in findings:
        key = (f.what, f.mend, f.severity == "error")
        counts[key] = counts.get(key, 0) + 1
    return tuple(
        Note(wording.at_places(what, count), mend, grave)
        for (what, mend, grave), count in counts.items()
    )


def _purposes(recipes: Iterable[Recipe], marks: Mapping[int, str]) -> dict[str, str]:
    """What the pieces of units are for, by their marks."""
    users: dict[str, list[Recipe]] = {}
    for recipe in recipes:
        for piece in recipe.pieces:
            users.setdefault(piece.letter, []).append(recipe)
    return {
        letter: wording.purpose([marks[recipe.unit] for recipe in some], called(some[0]))
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


def _cutting(
    pieces: Iterable[Piece], rows: Mapping[str, KeyRow], purposes: Mapping[str, str]
) -> tuple[FabricCutting, ...]:
    """The cutting table: fabric by fabric in the order of the key, the largest pieces first."""
    ordered = sorted(pieces, key=lambda p: (-p.width.ruler * p.height.ruler, p.letter))
    tables = (
        FabricCutting(row, tuple(_row(p, purposes) for p in ordered if p.fabric == letter))
        for letter, row in rows.items()
    )
    return tuple(table for table in tables if table.rows)


def _row(piece: Piece, purposes: Mapping[str, str]) -> CuttingRow:
    return CuttingRow(
        letter=piece.letter,
        count=piece.count,
        shape=wording.named(piece.shape, piece.count),
        cut=(piece.width.ruler, piece.height.ruler),
        split=_split(piece),
        purpose=purposes.get(piece.letter) or wording.purpose([], ""),
    )


def _split(piece: Piece) -> str:
    """What else there is to say about how a piece is cut."""
    if piece.shape == "template":
        return wording.template_text()
    if piece.shape == "strip":
        return wording.across_text()
    if piece.shape in ("square", "rectangle"):
        return wording.split_text(piece.split, piece.count)
    return wording.strip_text(piece.shape, piece.angle)
