"""What stands on a page, as the page designs take it: sentences glued, figures drawn to scale."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from typing import Any

from seamproof.booklet import wording
from seamproof.booklet.model import (
    Caution,
    Chapter,
    FabricCutting,
    KeyRow,
    Note,
    PrintedStep,
    Template,
    TurnedOver,
)
from seamproof.booklet.page_looks import CM, INCH, Density, PageLook
from seamproof.drawing.inks import PRINT, Medium
from seamproof.drawing.lettering import glued
from seamproof.drawing.placing import fitting, place
from seamproof.drawing.scene import Cloth, Scene, Stroke
from seamproof.drawing.svg import written
from seamproof.figures.bulk import LARGE
from seamproof.length.notation import Measure

_STEP_NAMED = re.compile(r"\(step (?=\d)")  # never broken before its number
_SWATCH = 20.0  # points, in the key and the cutting table
PICTURES = (1.0, 0.88, 0.76, 0.66, 0.58)
"""Heights of the picture of the block, as shares of its column; the page takes the largest that
leaves room for the cutting table and the notes."""
_NOTE_LEAD = 40  # characters that the end of a note's last line costs, about
_LONG_NOTES = 3000  # characters of notes that may run over a page; fewer stay together
_VARIANT = 64.0  # points, the picture of a unit with its press signs
_CLOSE = 122.0
"""Points, the map of the thickest place."""
_BACK = 192.0
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


def notes_of(notes: Sequence[Note], caution: Caution | None = None) -> dict[str, Any]:
    """The notes in two columns of about one length; the second may begin with a caution."""
    lengths = [len(note.text) + len(note.mend) + _NOTE_LEAD for note in notes]
    most = (sum(lengths) + (len(caution.text) if caution else 0)) / 2
    first = sum(sum(lengths[: i + 1]) <= most or i == 0 for i in range(len(notes)))
    told = [{"text": sentence(n.text), "mend": sentence(n.mend), "grave": n.grave} for n in notes]
    return {"first": told[:first], "second": told[first:], "long": sum(lengths) > _LONG_NOTES}


def page_of(look: PageLook, density: Density, measure: Measure) -> dict[str, float]:
    """The measures of a page, in points."""
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
        "columns": look.columns,
        "type": look.type,
        "between-rows": density.rows,
        "between-chapters": density.chapters,
        "rule-unit": INCH if inches else CM,
        "rule-units": 6 if inches else 15,
        "rule-parts": 8 if inches else 2,
    }


class Figures:
    """Draws scenes, each with ids of its own."""

    def __init__(
        self, look: PageLook, density: Density, medium: Medium = PRINT, name: str = "f"
    ) -> None:
        self.name = name
        self.look = look
        self.medium = medium
        self.density = density
        self.counted = itertools.count(1)

    def with_medium(self, medium: Medium) -> Figures:
        """A drawer with other pens that counts its figures along with this one."""
        other = Figures(self.look, self.density, medium, self.name)
        other.counted = self.counted
        return other

    def at_scale(self, scene: Scene, scale: float) -> dict[str, Any]:
        """A scene drawn `scale` inches to the inch of cloth."""
        placed = place(scene, scale, self.medium)
        svg = written(placed, name=f"{self.name}{next(self.counted)}-")
        return {"svg": svg, "width": placed.width, "height": placed.height, "says": scene.says}

    def drawn(self, scene: Scene, width: float, height: float) -> dict[str, Any]:
        """A scene drawn as large as it fits into so many points, half size at most."""
        return self.at_scale(scene, fitting([scene], width, height, self.medium, _MOST_SCALE))

    def swatch(self, row: KeyRow) -> dict[str, Any]:
        """A small square of a fabric."""
        corners = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
        scene = Scene(
            (Cloth(corners, row.paint), Stroke("raw edge", corners, closed=True)), row.name
        )
        return self.at_scale(scene, (_SWATCH - 2 * self.medium.margin) / INCH)


def key_of(row: KeyRow, figures: Figures) -> dict[str, Any]:
    """A fabric as it stands in a key."""
    return {
        "swatch": figures.swatch(row),
        "letter": row.paint.letter,
        "name": said(row.name),
        "value": row.value,
    }


def cutting_of(table: FabricCutting, figures: Figures) -> dict[str, Any]:
    """What is cut from one fabric: its key, and a row for each letter."""
    rows = [
        {
            "letter": row.letter,
            "count": row.count,
            "what": said(row.what),
            "split": row.split,
            "under": row.under,
            "purpose": row.purpose,
        }
        for row in table.rows
    ]
    return {**key_of(table.fabric, figures), "rows": rows}


def chapter_of(chapter: Chapter, figures: Figures) -> dict[str, Any]:
    """A chapter with its figures. Steps that stand beside each other share one scale; so that the
    block grows before the reader's eyes, no row is drawn much larger than the last."""
    look, density = figures.look, figures.density
    rows = [] if chapter.by else rows_of(chapter.steps, look.columns)

    def scale_of(row: Sequence[PrintedStep], height: float) -> float:
        wide = row[0].sewn is not None
        width = look.column if wide else look.column - look.indent
        return fitting(
            [f for step in row for f in (step.figure, step.sewn) if f is not None],
            width,
            density.wide if wide else height,
            figures.medium,
            _MOST_SCALE,
        )

    narrow = [row for row in rows if row[0].sewn is None]
    least = min((scale_of(row, density.step) for row in narrow), default=_MOST_SCALE)
    most = min(_MOST_GROWTH * least, _MOST_SCALE)

    def scale(row: Sequence[PrintedStep]) -> float:
        own = scale_of(row, density.grown)
        return own if row[0].sewn is not None else max(least, min(most, own))

    return {
        "title": said(chapter.title),
        "lead": said(chapter.lead),
        "variants": [
            {"text": said(v.text), "figure": figures.drawn(v.figure, _VARIANT, _VARIANT)}
            for v in chapter.variants
        ],
        "signs": [
            {"text": sign.text, "figure": figures.at_scale(sign.figure, _SIGN)}
            for sign in chapter.signs
        ],
        "rows": [_row(row, scale(row), figures) for row in rows],
        "recipe": chapter.recipe,
        "by": chapter.by,
        "by-says": wording.method_named(chapter.by),
        "lines": [
            {"number": step.number, "text": said(step.text), "measure": said(step.measure)}
            for step in chapter.steps
            if chapter.by
        ],
    }


def turned_of(it: TurnedOver, figures: Figures) -> dict[str, Any]:
    """The block from the back and its thickest place."""
    look = figures.look
    side = (_CLOSE - 2 * figures.medium.margin) / INCH / LARGE
    wide = (look.half - 2 * figures.medium.margin) / INCH / LARGE
    return {
        "title": it.title,
        "back": figures.drawn(it.back, look.half, min(look.half, _BACK)),
        "back-says": it.back_says,
        "layers": str(it.layers),
        "layers-say": it.layers_say,
        "close": figures.at_scale(it.close, side),
        "close-says": said(it.close_says),
        "scale": figures.at_scale(it.scale, wide),
        "said": [said(text) for text in it.said],
        "reasons": _halves([sentence(text) for text in it.reasons]),
    }


def _halves(texts: Sequence[str]) -> list[list[str]]:
    """Texts in two columns of about one length."""
    lengths = [len(text) + _NOTE_LEAD for text in texts]
    most = sum(lengths) / 2
    first = sum(i == 0 or sum(lengths[: i + 1]) <= most for i in range(len(texts)))
    return [list(texts[:first]), list(texts[first:])]


def rows_of(steps: Sequence[PrintedStep], columns: int = _COLUMNS) -> list[list[PrintedStep]]:
    """Steps as they stand beside each other: as many in a row as there are `columns`,
    one that is wide in a row of its own,
    none in a row of its own only to show what came out.

    >>> [len(row) for row in rows_of([PrintedStep(1, "", Scene(()))] * 4)], rows_of([])
    ([3, 1], [])
    """
    rows: list[list[PrintedStep]] = []
    for step in steps:
        full = not rows or len(rows[-1]) == columns or rows[-1][0].sewn is not None
        if full and step.shows and rows:
            continue
        if full or step.sewn is not None:
            rows.append([])
        rows[-1].append(step)
    return rows


def _row(row: Sequence[PrintedStep], scale: float, figures: Figures) -> list[dict[str, Any]]:
    """Pictures that stand beside each other share one scale, unless one is lost in it."""
    look, height = figures.look, figures.density.grown

    def own(scene: Scene) -> float:
        if place(scene, scale, figures.medium).width > _LOST:
            return scale
        most = min(_UNLIKE * scale, _MOST_SCALE)
        return fitting([scene], look.column - look.indent, height, figures.medium, most)

    return [
        {
            "number": step.number,
            "begins": step.begins,
            "goes-on": bool(step.set) and any(other.set == step.set for other in row[i + 1 :]),
            "text": said(step.text),
            "measure": said(step.measure),
            "figure": figures.at_scale(
                step.figure, own(step.figure) if step.sewn is None else scale
            ),
            "sewn": None if step.sewn is None else figures.at_scale(step.sewn, scale),
        }
        for i, step in enumerate(row)
    ]


def template_of(template: Template, figures: Figures) -> dict[str, Any]:
    """A template at true size, or no figure if the page cannot hold it."""
    figure = figures.at_scale(template.figure, 1.0)
    look = figures.look
    fits = figure["width"] <= look.text and figure["height"] <= look.room_for_template
    return {
        "title": said(template.title if fits else f"{template.title} {wording.TOO_LARGE}"),
        "figure": figure if fits else None,
    }


def said(text: str) -> str:
    """Text as it is set: sizes held together, curved apostrophes."""
    return _STEP_NAMED.sub("(step\u00a0", glued(text)).replace("'", "\u2019")


def sentence(text: str) -> str:
    """A note as a sentence: it begins with a capital and ends with a stop."""
    if not text:
        return ""
    whole = text[0].upper() + text[1:]
    return said(whole if whole.rstrip(")")[-1:] in {*".!?"} else f"{whole}.")
