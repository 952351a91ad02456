"""A sheet as a PDF: figures drawn to scale, pages set by Typst with the fonts of this package.

The same content gives the same bytes: no date, no system fonts, no chance.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import typst

from seamproof.booklet import wording
from seamproof.booklet.model import (
    Caution,
    Chapter,
    KeyRow,
    Note,
    Paper,
    PrintedStep,
    SheetModel,
    Template,
)
from seamproof.drawing.inks import PRINT
from seamproof.drawing.lettering import glued
from seamproof.drawing.placing import fitting, place
from seamproof.drawing.scene import Cloth, Scene, Stroke
from seamproof.drawing.svg import written
from seamproof.length.notation import Measure

_HERE = Path(__file__).parent
_INCH = 72.0
_CM = _INCH / 2.54

_SWATCH = 20.0  # points, in the key and the cutting table
_FEW_ROWS = 7  # of the cutting table
_NOTE_LEAD = 40  # characters that the end of a note's last line costs, about
_LONG_NOTES = 3000  # characters of notes that may run over a page; fewer stay together
_VARIANT = 34.0  # points, the picture of one of several units made alike
_STEP_HEIGHT = 96.0  # points that the picture of a step may be high
_GROWN_HEIGHT = 66.0  # points for a row that is drawn larger than it need be
_COLUMNS = 3
_MOST_GROWTH = 1.8
"""How much larger than the smallest-drawn row of a chapter another row may be drawn."""
_MOST_SCALE = 0.5
"""No figure is drawn larger than half size: small units would look like large ones."""


@dataclass(frozen=True, slots=True)
class PageLook:
    """A page in points: the text block is 7 in wide on Letter and as wide as the same margins
    leave on A4; three columns, or two halves."""

    width: float
    height: float
    left: float = 0.875 * _INCH
    right: float = 0.625 * _INCH
    top: float = 0.83 * _INCH
    bottom: float = 1.15 * _INCH
    column_gap: float = 0.19 * _INCH
    half_gap: float = 0.23 * _INCH
    indent: float = 24.0

    @property
    def text(self) -> float:
        """Width of the text block."""
        return self.width - self.left - self.right

    @property
    def room_for_template(self) -> float:
        """Height that is left for one template under its headings."""
        return self.height - self.top - self.bottom - 1.5 * _INCH

    @property
    def column(self) -> float:
        """Width of one of three columns."""
        return (self.text - 2 * self.column_gap) / 3

    @property
    def half(self) -> float:
        """Width of one of two columns."""
        return (self.text - self.half_gap) / 2


PAPERS: dict[Paper, PageLook] = {
    "letter": PageLook(8.5 * _INCH, 11 * _INCH),
    "a4": PageLook(21.0 * _CM, 29.7 * _CM),
}


def compose(model: SheetModel, paper: Paper = "letter") -> bytes:
    """The sheet as a PDF, printed at true size on Letter or A4. Two calls give the same bytes."""
    look = PAPERS[paper]
    found = typst.compile(
        str(_HERE / "typst" / "sheet.typ"),
        root=str(_HERE / "typst"),
        font_paths=typst.Fonts(
            include_system_fonts=False,
            include_embedded_fonts=False,
            font_paths=[str(_HERE / "fonts")],
        ),
        ignore_system_fonts=True,
        format="pdf",
        sys_inputs={"sheet": json.dumps(_data(model, look), ensure_ascii=False)},
        timestamp=0,
    )
    return _at_true_size(found)


def _at_true_size(pdf: bytes) -> bytes:
    """The PDF, asking viewers to print it without scaling and to show its title. Typst cannot say
    so; the catalogue it writes is the last object, so only the place of the table moves."""
    before = b"/ViewerPreferences<</Direction/L2R"
    wish = b"/PrintScaling/None/DisplayDocTitle true"
    head, found, tail = pdf.rpartition(before)
    start, mark, rest = tail.rpartition(b"startxref\n")
    if not found or not mark or b" obj\n" in tail:
        return pdf
    table = int(rest.split(b"\n", 1)[0]) + len(wish)
    return head + before + wish + start + mark + b"%d\n%%%%EOF" % table


def _data(model: SheetModel, look: PageLook) -> dict[str, Any]:
    """Everything the template reads, sentences glued and figures drawn."""
    figures = _Figures(look)
    return {
        "page": _page(look, model.measure),
        "rule-says": wording.RULER[model.measure],
        "name": model.name,
        "quilt": model.quilt,
        "facts": [{"name": f.name, "text": _said(f.text)} for f in model.facts],
        "picture": figures.drawn(model.picture, look.half, _picture_height(model, look)),
        "key-title": wording.KEY_TITLE,
        "fabrics": [_key(row, figures) for row in model.fabrics],
        "cutting-title": model.cutting_title,
        "cutting-lead": _said(model.cutting_lead),
        "headings": list(wording.HEADINGS),
        "cutting": [
            {
                **_key(table.fabric, figures),
                "rows": [
                    {
                        "letter": row.letter,
                        "count": row.count,
                        "shape": row.shape,
                        "cut": _said(wording.extent(row.cut, model.measure)),
                        "split": row.split,
                        "purpose": row.purpose,
                    }
                    for row in table.rows
                ],
            }
            for table in model.cutting
        ],
        "cutter": {"title": model.cutter.title, "text": _said(model.cutter.text)},
        "chapters": [
            _chapter(chapter, figures)
            for chapter in (*model.units, *([model.assembly] if model.assembly else []))
        ],
        "templates-title": wording.TEMPLATES_TITLE,
        "templates-lead": wording.TEMPLATES_LEAD,
        "templates": [_template(template, figures) for template in model.templates],
        "iron": {"title": model.iron.title, "text": _said(model.iron.text)},
        "notes-title": wording.NOTES_TITLE,
        "notes": _two_columns(model.notes, model.iron),
        "edition": model.edition,
    }


def _picture_height(model: SheetModel, look: PageLook) -> float:
    """A long cutting table is given room at the cost of the picture above it."""
    rows = sum(len(table.rows) for table in model.cutting)
    return look.half * (1.0 if rows <= _FEW_ROWS else 0.8)


def _two_columns(notes: Sequence[Note], caution: Caution) -> dict[str, Any]:
    """The notes in two columns of about one length; the second begins with a caution."""
    lengths = [len(note.text) + len(note.mend) + _NOTE_LEAD for note in notes]
    most = (sum(lengths) + len(caution.text)) / 2
    first = sum(sum(lengths[: i + 1]) <= most or i == 0 for i in range(len(notes)))
    said = [{"text": _sentence(n.text), "mend": _sentence(n.mend), "grave": n.grave} for n in notes]
    return {"first": said[:first], "second": said[first:], "long": sum(lengths) > _LONG_NOTES}


def _page(look: PageLook, measure: Measure) -> dict[str, float]:
    inches = measure == "in"
    return {
        "width": look.width,
        "height": look.height,
        "left": look.left,
        "right": look.right,
        "top": look.top,
        "bottom": look.bottom,
        "column": look.column,
        "column-gap": look.column_gap,
        "half": look.half,
        "half-gap": look.half_gap,
        "indent": look.indent,
        "rule-unit": _INCH if inches else _CM,
        "rule-units": 6 if inches else 15,
        "rule-parts": 8 if inches else 2,
    }


class _Figures:
    """Draws scenes, each with ids of its own."""

    def __init__(self, look: PageLook) -> None:
        self.look = look
        self.count = 0

    def at_scale(self, scene: Scene, scale: float) -> dict[str, Any]:
        self.count += 1
        placed = place(scene, scale, PRINT)
        svg = written(placed, name=f"f{self.count}-")
        return {"svg": svg, "width": placed.width, "height": placed.height, "says": scene.says}

    def drawn(self, scene: Scene, width: float, height: float) -> dict[str, Any]:
        return self.at_scale(scene, fitting([scene], width, height, PRINT, _MOST_SCALE))

    def swatch(self, row: KeyRow) -> dict[str, Any]:
        corners = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
        scene = Scene(
            (Cloth(corners, row.paint), Stroke("raw edge", corners, closed=True)), row.name
        )
        return self.at_scale(scene, (_SWATCH - 2 * PRINT.margin) / _INCH)


def _key(row: KeyRow, figures: _Figures) -> dict[str, Any]:
    return {
        "swatch": figures.swatch(row),
        "letter": row.paint.letter,
        "name": _said(row.name),
        "value": row.value,
    }


def _chapter(chapter: Chapter, figures: _Figures) -> dict[str, Any]:
    """A chapter with its figures. Steps that stand beside each other share one scale; so that the
    block grows before the reader's eyes, no row is drawn much larger than the last."""
    width = figures.look.column - figures.look.indent
    rows = [chapter.steps[i : i + _COLUMNS] for i in range(0, len(chapter.steps), _COLUMNS)]

    def scale_of(steps: Sequence[PrintedStep], height: float) -> float:
        return fitting([step.figure for step in steps], width, height, PRINT, _MOST_SCALE)

    least = scale_of(chapter.steps, _STEP_HEIGHT)
    most = min(_MOST_GROWTH * least, _MOST_SCALE)
    scales = [max(least, min(most, scale_of(row, _GROWN_HEIGHT))) for row in rows]
    return {
        "title": _said(chapter.title),
        "lead": _said(chapter.lead),
        "variants": [
            {"text": _said(v.text), "figure": figures.drawn(v.figure, _VARIANT, _VARIANT)}
            for v in chapter.variants
        ],
        "steps": [
            {
                "number": step.number,
                "begins": step.begins,
                "text": _said(step.text),
                "measure": _said(step.measure),
                "figure": figures.at_scale(step.figure, scale),
            }
            for row, scale in zip(rows, scales, strict=True)
            for step in row
        ],
    }


def _template(template: Template, figures: _Figures) -> dict[str, Any]:
    """A template at true size, or no figure if the page cannot hold it."""
    figure = figures.at_scale(template.figure, 1.0)
    look = figures.look
    fits = figure["width"] <= look.text and figure["height"] <= look.room_for_template
    return {
        "title": _said(template.title if fits else f"{template.title} {wording.TOO_LARGE}"),
        "figure": figure if fits else None,
    }


def _said(text: str) -> str:
    """Text as it is set: sizes held together, curved apostrophes."""
    return glued(text).replace("'", "\u2019")


def _sentence(text: str) -> str:
    """A note as a sentence: it begins with a capital and ends with a stop."""
    if not text:
        return ""
    whole = text[0].upper() + text[1:]
    return _said(whole if whole[-1] in ".!?" else f"{whole}.")
