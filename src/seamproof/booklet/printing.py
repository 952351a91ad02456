"""A booklet as a PDF: its sections as the page design takes them."""

from __future__ import annotations

import base64
import functools
from dataclasses import replace
from typing import Any
from xml.sax.saxutils import quoteattr

from seamproof.booklet import wording
from seamproof.booklet.laying_out import (
    Figures,
    chapter_of,
    cutting_of,
    key_of,
    notes_of,
    page_of,
    said,
    sentence,
    template_of,
    turned_of,
)
from seamproof.booklet.model import (
    Beside,
    BookletModel,
    Cautions,
    Chapter,
    Cover,
    CuttingTables,
    Edition,
    Facts,
    Heading,
    HelpBox,
    Key,
    KeyRow,
    Listed,
    Notes,
    Part,
    Photo,
    Picture,
    Pictures,
    Section,
    Table,
    Templates,
    TurnedOver,
    Words,
)
from seamproof.booklet.page_looks import INCH, common_look, density_of, look_of, medium_of
from seamproof.booklet.typesetting import typeset
from seamproof.drawing.inks import PRINT, Medium, Pen
from seamproof.drawing.placing import fitting

TITLE_SIZES = ((16, 63.0), (24, 48.0), (40, 36.0))
"""Points of the title on the cover, for titles up to so many characters."""
SMALLEST_TITLE = 28.0
SHORT, SHORT_IN_LARGE = 16, 12
"""Characters of a column that is never broken into lines; in large print fewer have room."""
KEPT = 1024
"""Sections that are kept drawn."""
TALLEST = 0.74
"""Share of the page's height that an enlarged picture may take: its title stands above it, in two
lines of large print."""
LARGE_SHARE = 0.78
"""How much of its usual height a picture has in large print, where the words take more room."""
LARGE_ABOVE = 1.6
"""How much higher a picture may be in large print, where its table stands under it, not beside."""
KEY_ROW, NOTE_LINE, BESIDE_ROWS = 1.7, 48, 14
"""Lines that a fabric takes in the key, characters in a line of a note, and lines beside the
picture of a block."""
LEAST_BESIDE = 0.42
"""Share of the text's width that a table needs beside a picture."""
PHOTO_WIDTH, PHOTO_HEIGHT = 0.6, 288.0
"""Room for a photograph: share of the text's width, and points."""


def print_booklet(model: BookletModel, edition: Edition) -> bytes:
    """The booklet as a tagged PDF. Two calls give the same bytes."""
    return typeset("booklet", book_data(model, edition))


def book_data(model: BookletModel, edition: Edition) -> dict[str, Any]:
    """Everything the page design reads, sentences glued and figures drawn."""
    look, density = look_of(edition), density_of(edition)
    return {
        "page": {**page_of(look, density, model.measure), "keeps-rows": not edition.large},
        "rule-says": wording.RULER[model.measure],
        "title": model.title,
        "version": model.version,
        "headings": list(wording.HEADINGS),
        "cover": None if model.cover is None else _cover(model.cover, replace(edition, paper="a4")),
        "sections": [_section(section, replace(edition, paper="a4")) for section in model.sections],
    }


@functools.lru_cache(maxsize=KEPT)
def _cover(cover: Cover, edition: Edition) -> dict[str, Any]:
    """The cover, kept while the program runs as the sections are."""
    figures = _figures(edition, "cover")
    size = next((s for most, s in TITLE_SIZES if len(cover.title) <= most), SMALLEST_TITLE)
    return {
        "above": cover.above,
        "title": cover.title,
        "size": size,
        "below": cover.below,
        "facts": [{"name": f.name, "text": said(f.text)} for f in cover.facts],
        "picture": _picture(cover.picture, figures),
        "aside": [said(text) for text in cover.aside],
        "photo": None if cover.photo is None else part_of(cover.photo, figures),
    }


def _figures(edition: Edition, key: str) -> Figures:
    """A drawer whose figures bear names that no other section uses."""
    name = "".join(c if c.isalnum() else "-" for c in key)
    return Figures(common_look(edition), density_of(edition), medium_of(edition), name)


@functools.lru_cache(maxsize=KEPT)
def _section(section: Section, edition: Edition) -> dict[str, Any]:
    """One section. What was drawn is kept while the program runs: after an edit only the sections
    that it changed are drawn again, and a page shows the figures of its PDF."""
    figures = _figures(edition, section.key)
    parts = section.parts
    drawn: list[dict[str, Any]] = []
    i = 0
    while i < len(parts):
        part = parts[i]
        after = parts[i + 1] if i + 1 < len(parts) else None
        if isinstance(part, Picture) and isinstance(after, Key):
            below = parts[i + 2] if i + 2 < len(parts) else None
            notes = below if isinstance(below, Notes) and _short(below, after, figures) else None
            drawn.append(
                {
                    **part_of(after, figures),
                    "kind": "front",
                    "picture": _picture(part, figures),
                    "notes": None if notes is None else part_of(notes, figures),
                }
            )
            i += 2 if notes is None else 3
            continue
        drawn.append(part_of(part, figures))
        i += 1
    return {
        "key": section.key,
        "title": said(section.title),
        "lead": said(section.lead),
        "opens": section.opens,
        "rule": section.rule,
        "parts": drawn,
    }


def _short(notes: Notes, key: Key, figures: Figures) -> bool:
    """Whether notes have room under the key, beside the picture of a block."""
    said_ = sum(len(note.text) + len(note.mend) for note in notes.notes)
    rows = len(key.fabrics) * KEY_ROW + said_ / NOTE_LINE + len(notes.notes)
    return rows <= BESIDE_ROWS and not _large(figures)


@functools.singledispatch
def part_of(part: Part, figures: Figures) -> dict[str, Any]:
    """A part as the page design takes it."""
    del figures
    raise TypeError(f"{type(part).__name__} is no part of a booklet")


@part_of.register
def _(part: Words, figures: Figures) -> dict[str, Any]:
    del figures
    return {"kind": "words", "small": part.small, "paragraphs": [said(p) for p in part.paragraphs]}


@part_of.register
def _(part: Facts, figures: Figures) -> dict[str, Any]:
    del figures
    return {"kind": "facts", "facts": [{"name": f.name, "text": said(f.text)} for f in part.facts]}


@part_of.register
def _(part: Table, figures: Figures) -> dict[str, Any]:
    return {
        "kind": "table",
        "name": part.name,
        "columns": list(part.columns),
        "rows": [[said(cell) for cell in row] for row in part.rows],
        "shares": _widths(part, SHORT_IN_LARGE if _large(figures) else SHORT),
        "right": list(part.right),
        "swatches": [
            None if paint is None else figures.swatch(KeyRow(paint, paint.letter, ""))
            for paint in part.swatches
        ],
    }


def _widths(table: Table, short: int) -> list[int | None]:
    """The share of every column; None for one that is as narrow as its few characters."""
    columns = zip(table.columns, *table.rows, strict=True)
    long = [max(map(len, cells)) > short for cells in columns]
    if not any(long):
        long[-1] = True
    return [share if wide else None for share, wide in zip(table.shares, long, strict=True)]


@part_of.register
def _(part: Picture, figures: Figures) -> dict[str, Any]:
    return {"kind": "picture", **_picture(part, figures)}


@part_of.register
def _(part: Pictures, figures: Figures) -> dict[str, Any]:
    return {"kind": "pictures", "pictures": [_picture(one, figures) for one in part.pictures]}


@part_of.register
def _(part: Beside, figures: Figures) -> dict[str, Any]:
    shown = part.picture
    if _large(figures) and not shown.steady:
        shown = replace(shown, height=shown.height * LARGE_ABOVE)
    picture, table = _picture(shown, figures), part_of(part.table, figures)
    room = figures.look.text - figures.look.half_gap - picture["figure"]["width"]
    fits = room >= LEAST_BESIDE * figures.look.text and not _large(figures)
    return {"kind": "beside", "picture": picture, "table": table, "fits": fits, "room": room}


def _large(figures: Figures) -> bool:
    return figures.look.type > 1


@part_of.register
def _(part: Photo, figures: Figures) -> dict[str, Any]:
    width = figures.look.text * PHOTO_WIDTH
    height = min(width * part.height / part.width, PHOTO_HEIGHT)
    width = height * part.width / part.height
    kind = "jpeg" if part.format == "jpg" else part.format
    data = base64.b64encode(part.data).decode("ascii")
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.1f}pt" height="{height:.1f}pt" '
        f'viewBox="0 0 {part.width} {part.height}" role="img" aria-label={quoteattr(part.alt)}>'
        f'<image width="{part.width}" height="{part.height}" '
        f'href="data:image/{kind};base64,{data}"/></svg>'
    )
    figure = {"svg": svg, "width": width, "height": height, "says": part.alt}
    return {"kind": "picture", "figure": figure, "caption": said(part.caption)}


@part_of.register
def _(part: Key, figures: Figures) -> dict[str, Any]:
    rows = [key_of(row, figures) for row in part.fabrics]
    return {"kind": "key", "title": part.title, "fabrics": rows}


@part_of.register
def _(part: CuttingTables, figures: Figures) -> dict[str, Any]:
    return {
        "kind": "cutting",
        "tables": [cutting_of(table, figures) for table in part.tables],
    }


@part_of.register
def _(part: Cautions, figures: Figures) -> dict[str, Any]:
    del figures
    return {
        "kind": "cautions",
        "cautions": [{"title": c.title, "text": said(c.text)} for c in part.cautions],
    }


@part_of.register
def _(part: Notes, figures: Figures) -> dict[str, Any]:
    del figures
    return {"kind": "notes", "title": part.title, **notes_of(part.notes)}


@part_of.register
def _(part: Templates, figures: Figures) -> dict[str, Any]:
    return {
        "kind": "templates",
        "templates": [template_of(template, figures) for template in part.templates],
    }


@part_of.register
def _(part: HelpBox, figures: Figures) -> dict[str, Any]:
    del figures
    return {
        "kind": "help",
        "title": part.title,
        "columns": [
            {"title": column.title, "texts": [sentence(text) for text in column.texts]}
            for column in part.columns
        ],
    }


@part_of.register
def _(part: Heading, figures: Figures) -> dict[str, Any]:
    del figures
    return {"kind": "heading", "title": said(part.title), "lead": said(part.lead)}


@part_of.register
def _(part: Listed, figures: Figures) -> dict[str, Any]:
    del figures
    return {"kind": "listed", "items": [said(item) for item in part.items]}


@part_of.register
def _(part: Chapter, figures: Figures) -> dict[str, Any]:
    return {"kind": "chapter", **chapter_of(part, figures)}


@part_of.register
def _(part: TurnedOver, figures: Figures) -> dict[str, Any]:
    return {"kind": "turned", **turned_of(part, figures)}


def _picture(picture: Picture, figures: Figures) -> dict[str, Any]:
    large = _large(figures)
    medium = figures.medium
    if picture.steady:
        medium = replace(PRINT, plain=medium.plain)
    drawer = figures.with_medium(_fine(medium) if picture.fine else medium)
    scale = picture.scale
    if scale is None:
        room = drawer.look.text * picture.width
        shrunk = LARGE_SHARE if large and not picture.steady else 1.0
        scale = fitting([picture.figure], room, picture.height * INCH * shrunk, drawer.medium)
    figure = drawer.at_scale(picture.figure, scale)
    if picture.steady and large:
        look = drawer.look
        grown = min(
            *(look.type, look.text / figure["width"]),
            max(1.0, TALLEST * (look.height - look.top - look.bottom) / figure["height"]),
        )
        figure = {**figure, "width": figure["width"] * grown, "height": figure["height"] * grown}
    return {"figure": figure, "caption": said(picture.caption)}


def _fine(medium: Medium) -> Medium:
    """The pens of a whole top: a finer hatch and thinner seams."""
    pens = {**medium.pens, "seam": Pen(0.35), "raw edge": Pen(0.5), "outline": Pen(0.9)}
    return replace(medium, pitch=6.0 / 96 * 72, hatch=0.35, pens=pens)
