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
    TurnedOver,
)
from seamproof.drawing.inks import PRINT
from seamproof.drawing.lettering import glued
from seamproof.drawing.placing import fitting, place
from seamproof.drawing.scene import Cloth, Scene, Stroke
from seamproof.drawing.svg import written
from seamproof.figures.bulk import LARGE
from seamproof.length.notation import Measure

_HERE = Path(__file__).parent
_INCH = 72.0
_CM = _INCH / 2.54

_SWATCH = 20.0  # points, in the key and the cutting table
_PICTURES = (1.0, 0.88, 0.76, 0.66, 0.58)
"""Heights of the picture of the block, as shares of its column; the page takes the largest that
leaves room for the cutting table and the notes."""
_NOTE_LEAD = 40  # characters that the end of a note's last line costs, about
_LONG_NOTES = 3000  # characters of notes that may run over a page; fewer stay together
_VARIANT = 64.0  # points, the picture of a unit with its press signs
_CLOSE = 132.0
"""Points, the map of the thickest place."""
_BACK = 208.0
"""Points, how high the block from the back may be."""
_SIGN = 0.5
"""Scale of the pictures that explain press signs."""
_COLUMNS = 3
_MOST_GROWTH = 1.8
"""How much larger than the smallest-drawn row of a chapter another row may be drawn."""
_LOST = 24.0
"""Points: a picture narrower than this is lost beside that of a strip set."""
_UNLIKE = 3.0
"""How much larger than its row such a picture may be drawn."""
_MOST_SCALE = 0.5
"""No figure is drawn larger than half size: small units would look like large ones."""


@dataclass(frozen=True, slots=True)
class Density:
    """How high, in points, the pictures of steps may be: `step` at the least scale of a chapter,
    `grown` for a row that is drawn larger than it need be, `wide` for a step that takes the whole
    width. `rows` and `chapters` are what lies between those."""

    step: float
    grown: float
    wide: float
    rows: float
    chapters: float


DENSITIES = (
    Density(108.0, 84.0, 144.0, 13.0, 26.0),
    Density(92.0, 70.0, 124.0, 11.0, 22.0),
    Density(74.0, 62.0, 104.0, 9.0, 18.0),
)
"""From roomy to close; the roomiest of those that take the fewest pages is printed."""


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
    roomy, *closer, closest = DENSITIES
    best = _composed(model, look, roomy)
    least = _composed(model, look, closest)
    if _pages(least) < _pages(best):
        best = min([*(_composed(model, look, density) for density in closer), least], key=_pages)
    return _at_true_size(best)


def _composed(model: SheetModel, look: PageLook, density: Density) -> bytes:
    return typst.compile(
        str(_HERE / "typst" / "sheet.typ"),
        root=str(_HERE / "typst"),
        font_paths=typst.Fonts(
            include_system_fonts=False,
            include_embedded_fonts=False,
            font_paths=[str(_HERE / "fonts")],
        ),
        ignore_system_fonts=True,
        format="pdf",
        sys_inputs={"sheet": json.dumps(page_data(model, look, density), ensure_ascii=False)},
        timestamp=0,
    )


def _pages(pdf: bytes) -> int:
    """How many pages a PDF of Typst's has: it writes them as plain objects."""
    return pdf.count(b"/Type/Page/")


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


def page_data(model: SheetModel, look: PageLook, density: Density) -> dict[str, Any]:
    """Everything the template reads, sentences glued and figures drawn."""
    figures = _Figures(look, density)
    return {
        "page": _page(look, density, model.measure),
        "rule-says": wording.RULER[model.measure],
        "name": model.name,
        "quilt": model.quilt,
        "facts": [{"name": f.name, "text": _said(f.text)} for f in model.facts],
        "pictures": [figures.drawn(model.picture, look.half, look.half * s) for s in _PICTURES],
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
                        "what": _said(row.what),
                        "split": row.split,
                        "under": row.under,
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
        "turned": None if model.turned is None else _turned(model.turned, figures),
        "templates-title": wording.TEMPLATES_TITLE,
        "templates-lead": wording.TEMPLATES_LEAD,
        "templates": [_template(template, figures) for template in model.templates],
        "iron": {"title": model.iron.title, "text": _said(model.iron.text)},
        "notes-title": wording.NOTES_TITLE,
        "notes": _two_columns(model.notes, model.iron),
        "edition": model.edition,
    }


def _two_columns(notes: Sequence[Note], caution: Caution) -> dict[str, Any]:
    """The notes in two columns of about one length; the second begins with a caution."""
    lengths = [len(note.text) + len(note.mend) + _NOTE_LEAD for note in notes]
    most = (sum(lengths) + len(caution.text)) / 2
    first = sum(sum(lengths[: i + 1]) <= most or i == 0 for i in range(len(notes)))
    said = [{"text": _sentence(n.text), "mend": _sentence(n.mend), "grave": n.grave} for n in notes]
    return {"first": said[:first], "second": said[first:], "long": sum(lengths) > _LONG_NOTES}


def _page(look: PageLook, density: Density, measure: Measure) -> dict[str, float]:
    inches = measure == "in"
    return {
        "width": look.width,
        "height": look.height,
        "text": look.text,
        "left": look.left,
        "right": look.right,
        "top": look.top,
        "bottom": look.bottom,
        "column": look.column,
        "column-gap": look.column_gap,
        "half": look.half,
        "half-gap": look.half_gap,
        "indent": look.indent,
        "between-rows": density.rows,
        "between-chapters": density.chapters,
        "rule-unit": _INCH if inches else _CM,
        "rule-units": 6 if inches else 15,
        "rule-parts": 8 if inches else 2,
    }


class _Figures:
    """Draws scenes, each with ids of its own."""

    def __init__(self, look: PageLook, density: Density) -> None:
        self.look = look
        self.density = density
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
    look, density = figures.look, figures.density
    rows = rows_of(chapter.steps)

    def scale_of(row: Sequence[PrintedStep], height: float) -> float:
        wide = row[0].sewn is not None
        width = look.column if wide else look.column - look.indent
        return fitting(
            [f for step in row for f in (step.figure, step.sewn) if f is not None],
            width,
            density.wide if wide else height,
            PRINT,
            _MOST_SCALE,
        )

    narrow = [row for row in rows if row[0].sewn is None]
    least = min((scale_of(row, density.step) for row in narrow), default=_MOST_SCALE)
    most = min(_MOST_GROWTH * least, _MOST_SCALE)

    def scale(row: Sequence[PrintedStep]) -> float:
        own = scale_of(row, density.grown)
        return own if row[0].sewn is not None else max(least, min(most, own))

    return {
        "title": _said(chapter.title),
        "lead": _said(chapter.lead),
        "variants": [
            {"text": _said(v.text), "figure": figures.drawn(v.figure, _VARIANT, _VARIANT)}
            for v in chapter.variants
        ],
        "signs": [
            {"text": sign.text, "figure": figures.at_scale(sign.figure, _SIGN)}
            for sign in chapter.signs
        ],
        "rows": [_row(row, scale(row), figures) for row in rows],
    }


def _turned(it: TurnedOver, figures: _Figures) -> dict[str, Any]:
    look = figures.look
    side = (_CLOSE - 2 * PRINT.margin) / _INCH / LARGE
    wide = (look.half - 2 * PRINT.margin) / _INCH / LARGE
    return {
        "title": it.title,
        "back": figures.drawn(it.back, look.half, min(look.half, _BACK)),
        "back-says": it.back_says,
        "layers": str(it.layers),
        "layers-say": it.layers_say,
        "close": figures.at_scale(it.close, side),
        "close-says": _said(it.close_says),
        "scale": figures.at_scale(it.scale, wide),
        "said": [_said(text) for text in it.said],
        "reasons": _halves([_sentence(text) for text in it.reasons]),
    }


def _halves(texts: Sequence[str]) -> list[list[str]]:
    """Texts in two columns of about one length."""
    lengths = [len(text) + _NOTE_LEAD for text in texts]
    most = sum(lengths) / 2
    first = sum(i == 0 or sum(lengths[: i + 1]) <= most for i in range(len(texts)))
    return [list(texts[:first]), list(texts[first:])]


def rows_of(steps: Sequence[PrintedStep]) -> list[list[PrintedStep]]:
    """Steps as they stand beside each other: three in a row, one that is wide in a row of its own,
    none in a row of its own only to show what came out.

    >>> [len(row) for row in rows_of([PrintedStep(1, "", Scene(()))] * 4)], rows_of([])
    ([3, 1], [])
    """
    rows: list[list[PrintedStep]] = []
    for step in steps:
        full = not rows or len(rows[-1]) == _COLUMNS or rows[-1][0].sewn is not None
        if full and step.shows and rows:
            continue
        if full or step.sewn is not None:
            rows.append([])
        rows[-1].append(step)
    return rows


def _row(row: Sequence[PrintedStep], scale: float, figures: _Figures) -> list[dict[str, Any]]:
    """Pictures that stand beside each other share one scale, unless one is lost in it."""
    look, height = figures.look, figures.density.grown

    def own(scene: Scene) -> float:
        if place(scene, scale, PRINT).width > _LOST:
            return scale
        most = min(_UNLIKE * scale, _MOST_SCALE)
        return fitting([scene], look.column - look.indent, height, PRINT, most)

    return [
        {
            "number": step.number,
            "begins": step.begins,
            "goes-on": bool(step.set) and any(other.set == step.set for other in row[i + 1 :]),
            "text": _said(step.text),
            "measure": _said(step.measure),
            "figure": figures.at_scale(
                step.figure, own(step.figure) if step.sewn is None else scale
            ),
            "sewn": None if step.sewn is None else figures.at_scale(step.sewn, scale),
        }
        for i, step in enumerate(row)
    ]


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
