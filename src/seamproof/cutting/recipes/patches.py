"""Patches that no unit holds: cut by the ruler where their sides make that possible, else round a
template."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from seamproof.cutting.model import CuttingSettings, Hand, Piece, Recipe
from seamproof.cutting.model import Shape as PieceShape
from seamproof.cutting.naming import method_named
from seamproof.cutting.recipes.making import Cut, as_cut, as_loose, plain, waste_of
from seamproof.cutting.recipes.shapes import Seen, hand_of, seen, strip_of
from seamproof.length.exact import kept
from seamproof.length.rounding import SAME
from seamproof.piecing.model import Unit
from seamproof.plane.model import Polygon
from seamproof.plane.offsets import offset
from seamproof.plane.predicates import box, distance, turned

BY_RULER = "by ruler"
BY_TEMPLATE = "by template"
PATCH_METHODS = (BY_RULER, BY_TEMPLATE)


@dataclass(frozen=True, slots=True)
class LoosePatch:
    """`count` copies of a patch. `long_outside` says that its longest side lies on the outside of
    the block, where the grain should run straight."""

    part: int
    fabric: str
    corners: Polygon
    count: int
    long_outside: bool


def patch_recipe(patch: LoosePatch, settings: CuttingSettings, letter: str) -> Recipe:
    """How such patches are cut. There are no steps: what is cut is what is sewn."""
    look = seen(patch.corners)
    named = plain(_named(patch, look, settings) or BY_RULER)
    if named == BY_TEMPLATE or look.look == "other":
        piece = _template(patch, settings, letter, _kind(look))
    elif look.look in ("square", "rectangle"):
        piece = _rectangle(patch, settings, letter, look)
    elif look.look in ("right triangle, equal legs", "right triangle"):
        piece = _half(patch, settings, letter, look)
    else:
        piece = _by_strip(patch, settings, letter, look)
    sheets = (offset(patch.corners, settings.seam),)
    return Recipe(
        unit=patch.part,
        kind=piece.unit,
        method=piece.method,
        gives={"whole": 1, "once": 2, "twice": 4}[piece.split],
        made=patch.count,
        spare=0,
        pieces=(piece,),
        steps=(),
        hand=piece.hand,
        sheets=sheets,
        waste=waste_of((piece,), sheets, patch.count) if piece.split != "whole" else 0.0,
        bias_edges=_bias_edges(look, piece),
    )


def _named(patch: LoosePatch, look: Seen, settings: CuttingSettings) -> str | None:
    """The method that the maker names for a patch which is a unit by itself."""
    if look.look not in ("square", "rectangle"):
        return None
    (left, top), (right, bottom) = box(patch.corners)
    roles = (("patch", patch.fabric),)
    return method_named(Unit(patch.part, look.look, right - left, bottom - top, roles), settings)


def _kind(look: Seen) -> str:
    match look.look:
        case "right triangle, equal legs" | "right triangle" | "triangle by strip":
            return "triangle"
        case "other":
            return "patch"
        case plain:
            return plain


def _rectangle(patch: LoosePatch, settings: CuttingSettings, letter: str, look: Seen) -> Piece:
    a, b, c, _ = patch.corners
    sides = sorted((_length(a, b), _length(b, c)))
    cuts = [as_cut(side + 2 * settings.seam, settings) for side in sides]
    shape: PieceShape = "square" if look.look == "square" else "rectangle"
    return _piece(patch, letter, shape, cuts, unit=_kind(look))


def _half(patch: LoosePatch, settings: CuttingSettings, letter: str, look: Seen) -> Piece:
    """A right triangle: half of a square or rectangle, or, with equal legs and its long side
    outside, a quarter of a square, so that the grain runs along that side."""
    raw = offset(patch.corners, settings.seam)
    k = look.base
    legs = sorted((float(distance(raw[k - 1], raw[k])), float(distance(raw[k], raw[(k + 1) % 3]))))
    equal = look.look == "right triangle, equal legs"
    if equal and patch.long_outside:
        long = _longest(patch.corners) + float(settings.seam) * (2 + 2 * math.sqrt(2))
        cut = as_loose(long, settings)
        return _piece(
            patch,
            letter,
            "square",
            [cut, cut],
            unit="triangle",
            split=4,
            count=-(-patch.count // 4),
        )
    if equal:
        cut = as_loose(_leg(patch, k) + float(settings.seam) * (2 + math.sqrt(2)), settings)
        cuts = [cut, cut]
    else:
        cuts = [as_loose(leg, settings) for leg in legs]
    return _piece(
        patch,
        letter,
        "square" if equal else "rectangle",
        cuts,
        unit="triangle",
        split=2,
        count=-(-patch.count // 2),
        hand=hand_of(patch.corners),
    )


def _by_strip(patch: LoosePatch, settings: CuttingSettings, letter: str, look: Seen) -> Piece:
    raw = offset(patch.corners, settings.seam)
    strip = as_cut(_on_grid(strip_of(raw, look.base)), settings)
    if look.look in ("diamond", "parallelogram", "hexagon"):
        other = as_cut(_on_grid(strip_of(raw, look.base + 1)), settings)
    elif look.look == "kite":
        k = look.base
        strip = as_cut(_length(raw[k - 1], raw[k - 3]), settings)
        other = as_cut(_length(raw[k], raw[k - 2]), settings)
    else:
        ends = raw[look.base], raw[(look.base + 1) % len(raw)]
        other = as_cut(_on_grid(_length(*ends)), settings)
    shapes: dict[str, PieceShape] = {
        "diamond": "diamond",
        "parallelogram": "parallelogram",
        "trapezoid": "trapezoid",
        "hexagon": "hexagon",
        "wedge": "wedge",
        "kite": "kite",
    }
    return _piece(
        patch,
        letter,
        shapes.get(look.look, "triangle"),
        [strip, other],
        unit=_kind(look),
        corners=raw,
        angle=look.angle,
        hand=hand_of(patch.corners),
    )


def _template(patch: LoosePatch, settings: CuttingSettings, letter: str, kind: str) -> Piece:
    raw = offset(patch.corners, settings.seam)
    low, high = box(raw)
    if high[0] - low[0] > high[1] - low[1] + SAME:
        raw = tuple(turned(p, Fraction(1, 4)) for p in raw)  # the shorter way across is the width
        low, high = box(raw)
    # A template is as exact as it is drawn: nothing is rounded.
    cuts = [
        Cut(as_cut(span, settings).size, span, "on the ruler")
        for span in (high[0] - low[0], high[1] - low[1])
    ]
    return _piece(
        patch,
        letter,
        "template",
        cuts,
        unit=kind,
        corners=raw,
        hand=hand_of(patch.corners),
        method=BY_TEMPLATE,
    )


def _piece(
    patch: LoosePatch,
    letter: str,
    shape: PieceShape,
    cuts: list[Cut],
    *,
    unit: str,
    split: int = 1,
    count: int | None = None,
    corners: Polygon = (),
    angle: int | None = None,
    hand: Hand = "either",
    method: str = BY_RULER,
) -> Piece:
    on = all(cut.rounding == "on the ruler" for cut in cuts)
    return Piece(
        letter=letter,
        fabric=patch.fabric,
        shape=shape,
        width=cuts[0].size,
        height=cuts[1].size,
        count=patch.count if count is None else count,
        split="whole" if split == 1 else "once" if split == 2 else "twice",
        grain="length" if shape == "template" else "either",
        rounding="on the ruler" if on else "as cut",
        part=patch.part,
        unit=unit,
        method=method,
        hand=hand,
        corners=corners,
        angle=angle,
    )


def _bias_edges(look: Seen, piece: Piece) -> int:
    """Sides that run neither along nor across the grain."""
    if piece.method == BY_TEMPLATE:
        return 0
    if piece.split == "twice":
        return 2
    match look.look:
        case "right triangle, equal legs" | "right triangle":
            return 1
        case "diamond" | "parallelogram" | "triangle by strip":
            return 2
        case "hexagon" | "kite":
            return 4
        case "wedge":
            return 2
        case "trapezoid":
            return sum(1 for k in (1, 3) if not _square_at(piece.corners, look.base + k))
        case _:
            return 0


def _square_at(corners: Polygon, k: int) -> bool:
    """Whether side k is at right angles to the side before it."""
    a, b, c = corners[(k - 1) % 4], corners[k % 4], corners[(k + 1) % 4]
    dot = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return abs(float(dot)) <= _RIGHT * distance(a, b) * distance(b, c)


_RIGHT = 1e-4
"""Cosine of what is a right angle to anybody with a ruler: a hair in 12 in."""


def _leg(patch: LoosePatch, k: int) -> float:
    return distance(patch.corners[k - 1], patch.corners[k])


def _longest(corners: Polygon) -> float:
    return max(distance(corners[k - 1], corners[k]) for k in range(len(corners)))


def _length(a: tuple[Fraction, Fraction], b: tuple[Fraction, Fraction]) -> Fraction:
    """The distance of two points, exact along the axes."""
    dx, dy = abs(a[0] - b[0]), abs(a[1] - b[1])
    return dx + dy if dx == 0 or dy == 0 else kept(distance(a, b))


def _on_grid(length: Fraction) -> Fraction:
    return kept(length)
