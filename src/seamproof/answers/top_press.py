"""How a whole top is pressed and how thick it lies, as it is told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from seamproof.pipeline.top_pressing import PressedTop
from seamproof.pressing.model import ThickSpot

Pair = tuple[float, float]


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
    """Which blocks are pressed by a second plan, B, so that seams nest where blocks meet: `nested`
    seams of `meeting` do. `second` are the blocks that are made in both ways."""

    pattern: str
    nested: int
    meeting: int
    second: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OpenedLine:
    """The same top with every seam of the setting pressed open."""

    max_layers: int
    thick_spots: int


def pattern_line(pressed: PressedTop) -> PatternLine:
    """The pattern of plans A and B."""
    second = sorted({v.block for v in pressed.variants.values() if v.plan == "B"})
    return PatternLine(pressed.pattern.name, *pressed.nested, tuple(second))


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


def opened_line(pressed: PressedTop) -> OpenedLine:
    """What opening the seams of the setting comes to."""
    return OpenedLine(pressed.opened.most, len(pressed.opened.spots))
