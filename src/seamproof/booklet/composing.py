"""A sheet as a PDF: figures drawn to scale, pages set by Typst with the fonts of this package.

The same content gives the same bytes: no date, no system fonts, no chance.
"""

from __future__ import annotations

from typing import Any

from seamproof.booklet import wording
from seamproof.booklet.laying_out import (
    PICTURES,
    Figures,
    chapter_of,
    cutting_of,
    key_of,
    notes_of,
    page_of,
    said,
    template_of,
    turned_of,
)
from seamproof.booklet.model import Paper, SheetModel
from seamproof.booklet.page_looks import DENSITIES, PAPERS, Density, PageLook
from seamproof.booklet.typesetting import page_count, typeset


def compose(model: SheetModel, paper: Paper = "letter") -> bytes:
    """The sheet as a PDF, printed at true size on Letter or A4. Two calls give the same bytes."""
    look = PAPERS[paper]
    roomy, *closer, closest = DENSITIES
    best = _composed(model, look, roomy)
    least = _composed(model, look, closest)
    if page_count(least) < page_count(best):
        tried = [*(_composed(model, look, density) for density in closer), least]
        best = min(tried, key=page_count)
    return best


def _composed(model: SheetModel, look: PageLook, density: Density) -> bytes:
    return typeset("sheet", page_data(model, look, density))


def page_data(model: SheetModel, look: PageLook, density: Density) -> dict[str, Any]:
    """Everything the template reads, sentences glued and figures drawn."""
    figures = Figures(look, density)
    return {
        "page": page_of(look, density, model.measure),
        "rule-says": wording.RULER[model.measure],
        "name": model.name,
        "quilt": model.quilt,
        "facts": [{"name": f.name, "text": said(f.text)} for f in model.facts],
        "pictures": [figures.drawn(model.picture, look.half, look.half * s) for s in PICTURES],
        "key-title": wording.KEY_TITLE,
        "fabrics": [key_of(row, figures) for row in model.fabrics],
        "cutting-title": model.cutting_title,
        "cutting-lead": said(model.cutting_lead),
        "headings": list(wording.HEADINGS),
        "cutting": [cutting_of(table, figures) for table in model.cutting],
        "cutter": {"title": model.cutter.title, "text": said(model.cutter.text)},
        "chapters": [
            chapter_of(chapter, figures)
            for chapter in (*model.units, *([model.assembly] if model.assembly else []))
        ],
        "turned": None if model.turned is None else turned_of(model.turned, figures),
        "templates-title": wording.TEMPLATES_TITLE,
        "templates-lead": wording.TEMPLATES_LEAD,
        "templates": [template_of(template, figures) for template in model.templates],
        "iron": {"title": model.iron.title, "text": said(model.iron.text)},
        "notes-title": wording.NOTES_TITLE,
        "notes": notes_of(model.notes, model.iron),
        "edition": model.edition,
    }
