"""How a whole top is pressed and how thick it lies, as it is told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from seamproof.drawing.svg import svg
from seamproof.figures.top_bulk import top_bulk_scene
from seamproof.pipeline.top_pressing import PressedTop
from seamproof.pressing.model import ThickSpot, limit_of
from seamproof.pressing.top_map import TopLayers

Pair = tuple[float, float]

BULK_PICTURE = 10.0
"""The longer side of a picture of a top's bulk, in inches on the screen."""


@dataclass(frozen=True, slots=True)
class SpotLine:
    """A place above the limit, from the upper left corner of the finished top, front view."""

    x: float
    y: float
    layers: int
    mm: float
    area: float


@dataclass(frozen=True, slots=True)
class PatternLine:
    """How the setting is pressed: by the usual rules, or open where these lay too many layers.
    Which blocks are pressed by a second plan, B, so that seams nest where blocks meet: `nested`
    seams of `meeting` do. `second` are the blocks that are pressed by it."""

    setting: Literal["usual", "open"]
    pattern: str
    nested: int
    meeting: int
    second: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LayersLine:
    """How thick the same top is, pressed otherwise."""

    max_layers: int
    thick_spots: int


@dataclass(frozen=True, slots=True)
class BesideLine:
    """The block beside itself, `columns` by `rows`: which copies are pressed by a second plan, B
    (`press --plan b`), so that seams nest where blocks meet, how many do, and how thick it gets,
    in inches from the upper left corner."""

    columns: int
    rows: int
    pattern: str
    nested: int
    meeting: int
    max_layers: int
    max_at: Pair
    thick_spots: int
    usual: LayersLine
    opened: LayersLine


def beside_line(pressed: PressedTop) -> BesideLine:
    """What a block comes to beside itself."""
    return BesideLine(
        pressed.top.columns,
        pressed.top.rows,
        pressed.pattern.name,
        *pressed.nested,
        pressed.layers.most,
        spot(pressed.layers.most_at),
        len(pressed.layers.spots),
        layers_line(pressed.usual),
        layers_line(pressed.opened),
    )


def pattern_line(pressed: PressedTop) -> PatternLine:
    """The pattern of plans A and B."""
    second = sorted({v.block for v in pressed.variants.values() if v.plan == "B"})
    setting: Literal["usual", "open"] = "open" if pressed.departs else "usual"
    return PatternLine(setting, pressed.pattern.name, *pressed.nested, tuple(second))


def spot_lines(spots: Sequence[ThickSpot]) -> tuple[SpotLine, ...]:
    """The thick spots, the worst first."""
    return tuple(
        SpotLine(round(s.at[0], 3), round(s.at[1], 3), s.layers, round(s.mm, 3), round(s.area, 4))
        for s in spots
    )


def spot(at: Pair) -> Pair:
    """A place, to a thousandth of an inch."""
    return round(at[0], 3), round(at[1], 3)


def layers_area(areas: Sequence[tuple[int, float]]) -> dict[str, float]:
    """Square inches under each count of layers."""
    return {str(layers): round(area, 4) for layers, area in areas}


def layers_line(layers: TopLayers) -> LayersLine:
    """What another way of pressing comes to."""
    return LayersLine(layers.most, len(layers.spots))


def top_bulk_svg(pressed: PressedTop) -> str:
    """The layers of a whole top as a picture."""
    scale = BULK_PICTURE / float(max(pressed.top.width, pressed.top.height))
    limit = limit_of(pressed.settings)
    scene = top_bulk_scene(pressed.laid, pressed.layers, pressed.top, limit, scale)
    return svg(scene, 1.0)
