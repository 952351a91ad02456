"""The pictures of a booklet by themselves, each with the scale it is drawn at in real units."""

from __future__ import annotations

from seamproof.booklet.model import Beside, BookletModel, Picture, Section, TurnedOver
from seamproof.drawing.inks import PRINT
from seamproof.drawing.placing import fitting
from seamproof.drawing.scene import Scene
from seamproof.drawing.svg import svg

SIDE = 5.0
"""Inches, the longer side of a picture, if it has no scale of its own."""


def pictures_of(model: BookletModel) -> dict[str, str]:
    """Pictures as SVG documents in points, by name: the top, and of every block its front, its
    layout, its back and its thickest place."""
    found: dict[str, str] = {}
    if model.cover is not None:
        found["top"] = _drawn(model.cover.picture.figure, "top")
    for section in model.sections:
        kind, _, slug = section.key.partition(":")
        if kind == "block":
            for name, scene in _of_block(section):
                found[f"{slug}-{name}"] = _drawn(scene, f"{slug}-{name}")
    return found


def _of_block(section: Section) -> list[tuple[str, Scene]]:
    found: list[tuple[str, Scene]] = []
    for part in section.parts:
        if isinstance(part, Picture) and not found:
            found.append(("front", part.figure))
        elif isinstance(part, Beside):
            found.append(("layout", part.picture.figure))
        elif isinstance(part, TurnedOver):
            found += [("back", part.back), ("layers", part.close)]
    return found


def _drawn(scene: Scene, name: str) -> str:
    side = SIDE * PRINT.per_inch
    return svg(scene, fitting([scene], side, side, PRINT), name=f"{name}-")
