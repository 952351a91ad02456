"""Pages of tables and labels as a PDF: what is printed for the cutting room and for corrections.

The same content gives the same bytes, as with the sheets.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from seamproof.booklet.model import Caution, Paper
from seamproof.booklet.typesetting import typeset
from seamproof.drawing.inks import PRINT
from seamproof.drawing.lettering import glued
from seamproof.drawing.placing import place
from seamproof.drawing.scene import Cloth, Paint, Scene, Stroke
from seamproof.drawing.svg import written

SIZES: Mapping[Paper, tuple[float, float]] = {
    "letter": (612.0, 792.0),
    "a4": (595.276, 841.89),
}
"""Points."""

SWATCH = 26.0
"""Points: how large a swatch stands beside a title."""


@dataclass(frozen=True, slots=True)
class PlainTable:
    """A table: its headings, its rows, which columns stand flush right, and what it is about."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: tuple[int, ...] = ()
    title: str = ""
    wide: int = -1
    """Number of the column that takes what room is left; the last by itself."""


@dataclass(frozen=True, slots=True)
class Label:
    """A label to cut out: a title, what stands small above it, and some lines."""

    title: str
    above: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlainPage:
    """One page or more: a title, what stands under it, then texts, tables and cautions.

    `half`: it is meant to fit on half a page. `fabric` is shown beside the title.
    """

    title: str
    lead: str = ""
    parts: tuple[str | PlainTable | Caution, ...] = ()
    fabric: Paint | None = None
    half: bool = False


@dataclass(frozen=True, slots=True)
class PlainDocument:
    """Some pages, and labels after them. `quilt` stands at the head of every page."""

    name: str
    quilt: str
    pages: tuple[PlainPage, ...]
    labels: tuple[Label, ...] = ()


def composed(document: PlainDocument, paper: Paper = "letter") -> bytes:
    """The document as a PDF. Two calls give the same bytes."""
    return typeset("plain", _data(document, paper))


def _data(document: PlainDocument, paper: Paper) -> dict[str, Any]:
    width, height = SIZES[paper]
    return {
        "page": {"type": 1.0},
        "width": width,
        "height": height,
        "name": document.name,
        "quilt": document.quilt,
        "pages": [_page(page, n) for n, page in enumerate(document.pages)],
        "labels": [
            {"title": one.title, "above": one.above, "lines": [glued(x) for x in one.lines]}
            for one in document.labels
        ],
    }


def _page(page: PlainPage, number: int) -> dict[str, Any]:
    return {
        "title": page.title,
        "lead": glued(page.lead),
        "half": page.half,
        "fabric": None if page.fabric is None else _fabric(page.fabric, page.title, number),
        "parts": [_part(part) for part in page.parts],
    }


def _part(part: str | PlainTable | Caution) -> dict[str, Any]:
    if isinstance(part, str):
        return {"kind": "text", "text": glued(part)}
    if isinstance(part, Caution):
        return {"kind": "caution", "title": part.title, "text": glued(part.text)}
    wide = part.wide % len(part.headings)
    return {
        "kind": "table",
        "title": part.title,
        "headings": list(part.headings),
        "rows": [[glued(cell) for cell in row] for row in part.rows],
        "right": list(part.right),
        "wide": wide,
    }


def _fabric(paint: Paint, name: str, number: int) -> dict[str, Any]:
    corners = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    scene = Scene((Cloth(corners, paint), Stroke("raw edge", corners, closed=True)), name)
    placed = place(scene, (SWATCH - 2 * PRINT.margin) / 72, PRINT)
    svg = written(placed, name=f"f{number}-")
    return {"svg": svg, "width": placed.width, "height": placed.height, "says": scene.says}
