"""How thick a block lies: the layer map, the worst place large and the whole block beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import shapely

from seamproof.drawing.inks import luminance, mixed
from seamproof.drawing.scene import Count, Label, Scene, Shape, Spot, Stroke, Tone
from seamproof.figures.cloth import letter
from seamproof.pressing.model import Cell, LayerMap

CIVIDIS = (
    "#00204D",
    "#00336F",
    "#39486B",
    "#575C6D",
    "#707173",
    "#8A8779",
    "#A69D75",
    "#C4B56C",
    "#E4CF5B",
    "#FFEA46",
)
"""Ten colours of the published scale "cividis" (Nuñez, Anderton and Renslow 2018; values from
memory), dark to light; what lies between is mixed."""

DARK_INK, LIGHT_INK = "#10161A", "#FFFFFF"
LIGHT_ON = 0.2
"""Luminance below which a number is white."""

LEAST_SCALE = 12
"""Every map is drawn on a scale from 1 to at least so many layers, so that maps can be compared."""

NUMBERED = 4
"""Layers from which a place bears its number, if the limit is not lower still."""

CLOSE = 2.0
"""Inches across the square that is drawn large."""

LARGE, SMALL, GAP, BAR, ROW = 6.0, 4.0, 0.8, 0.42, 0.36
"""Inches in the picture: the large square, the whole block, between the two, height of the scale,
and of a line of figures."""

UNDER_SCALE, ASIDE, WORDS = 5.0, 6.0, 1.2
"""Points from the scale down to its words, and from the limit's stroke to them; inches that the
word "layers" needs before it."""

MOST_ROWS = 12
"""Counts of layers of which the area is shown; thicker ones are few and stand in the table."""


def tone(layers: int, most: int) -> str:
    """The colour of a count of layers on a scale up to `most`, at least `LEAST_SCALE`.

    >>> tone(1, 4), tone(12, 4), tone(1, 1)
    ('#00204D', '#FFEA46', '#00204D')
    """
    share = (layers - 1) / (max(LEAST_SCALE, most) - 1) * (len(CIVIDIS) - 1)
    low = min(int(share), len(CIVIDIS) - 2)
    return mixed(CIVIDIS[low], CIVIDIS[low + 1], share - low)


def bulk_scene(
    layers: LayerMap, outline: Sequence[Spot], size: tuple[float, float], limit: int, name: str
) -> Scene:
    """The layer map of a block, front view.

    `outline` is the finished outline, `size` its width and height in inches, `limit` the greatest
    count of layers that is fine.
    """
    width, height = size
    close = _close(layers.most_at, size)
    small_scale = SMALL / max(width + CLOSE / 4, height + CLOSE / 4)
    small = _Glass((-CLOSE / 8, -CLOSE / 8), small_scale, (LARGE + GAP, 0.0))
    shapes: list[Shape] = list(close_scene(layers, size, limit).shapes)
    shapes += _cells(layers, small, limit, None)
    shapes.append(Stroke("finished", tuple(map(small.at, outline)), closed=True))
    square = small.box(CLOSE, close)
    shapes.append(Stroke("enlarged", square, closed=True))
    shapes.append(Label((LARGE / 2, LARGE), f"the thickest place, {CLOSE:g} in across", below=6))
    shapes += _areas(layers, (LARGE + GAP, small_scale * (height + CLOSE / 4) + 0.5))
    shapes += scale_shapes(layers.most, limit, LARGE + 0.75)
    return Scene(tuple(shapes), f"{name}: layers of cloth, at most {layers.most}")


def close_scene(
    layers: LayerMap, size: tuple[float, float], limit: int, most: int | None = None
) -> Scene:
    """The square round the thickest place alone, `LARGE` inches wide, front view. `most` is the
    greatest count on its scale, if that is shared with another map."""
    close = _close(layers.most_at, size)
    large = _Glass(close, LARGE / CLOSE, (0.0, 0.0))
    window = shapely.box(close[0], close[1], close[0] + CLOSE, close[1] + CLOSE)
    shapes: list[Shape] = list(_cells(layers, large, limit, window, most))
    shapes.append(Stroke("outline", large.box(CLOSE, close), closed=True))
    return Scene(tuple(shapes), f"the thickest place: {layers.most} layers of cloth")


def scale_scene(most: int, limit: int) -> Scene:
    """The scale of a layer map alone, `LARGE` inches wide."""
    return Scene(tuple(scale_shapes(most, limit, 0.0)), "the scale of the layers")


class _Glass:
    """Draws a part of the block larger or smaller: what lies at `from_` comes to lie at `to`."""

    def __init__(self, from_: Spot, scale: float, to: Spot) -> None:
        self.from_, self.scale, self.to = from_, scale, to

    def at(self, spot: Spot) -> Spot:
        return (
            (spot[0] - self.from_[0]) * self.scale + self.to[0],
            (spot[1] - self.from_[1]) * self.scale + self.to[1],
        )

    def box(self, side: float, corner: Spot) -> tuple[Spot, ...]:
        (x, y), far = corner, side
        return tuple(map(self.at, ((x, y), (x + far, y), (x + far, y + far), (x, y + far))))


def _close(at: Spot, size: tuple[float, float]) -> Spot:
    """The corner of the square that is drawn large: round a place, inside the block if it can."""
    x, y = (
        min(max(at[k] - CLOSE / 2, -CLOSE / 8), max(size[k] + CLOSE / 8 - CLOSE, -CLOSE / 8))
        for k in (0, 1)
    )
    return x, y


def _cells(
    layers: LayerMap,
    glass: _Glass,
    limit: int,
    window: shapely.Geometry | None,
    most: int | None = None,
) -> Iterator[Shape]:
    numbers: list[Shape] = []
    for cell in layers.cells:
        for rings in _inside(cell, window):
            colour = tone(cell.layers, layers.most if most is None else most)
            drawn = tuple(tuple(map(glass.at, ring)) for ring in rings)
            yield Tone(drawn, colour)
            if cell.layers >= min(limit, NUMBERED) and window is not None and len(rings) == 1:
                found = letter(drawn[0], str(cell.layers))
                ink = LIGHT_INK if luminance(colour) < LIGHT_ON else DARK_INK
                numbers.append(Count(found.at, found.text, found.room, ink))
    yield from numbers


def _inside(cell: Cell, window: shapely.Geometry | None) -> Iterator[tuple[tuple[Spot, ...], ...]]:
    if window is None:
        yield cell.rings
        return
    whole = shapely.Polygon(cell.rings[0], cell.rings[1:])
    for part in shapely.get_parts(shapely.normalize(shapely.intersection(whole, window))):
        if shapely.area(part) > 0:
            rings = [part.exterior, *part.interiors]
            yield tuple(
                tuple((float(x), float(y)) for x, y in shapely.get_coordinates(ring)[:-1])
                for ring in rings
            )


def scale_shapes(most: int, limit: int, y: float) -> Iterator[Shape]:
    """The scale of layers from the left edge, at a height, with the limit on it."""
    count = max(LEAST_SCALE, most)
    step = LARGE / count
    for k in range(count):
        x = k * step
        box = ((x, y), (x + step, y), (x + step, y + BAR), (x, y + BAR))
        colour = tone(k + 1, most)
        ink = LIGHT_INK if luminance(colour) < LIGHT_ON else DARK_INK
        yield Tone((box,), colour)
        yield Count((x + step / 2, y + BAR / 2), str(k + 1), step, ink)
    if limit >= count:
        yield Label((0.0, y + BAR), f"layers; the limit is {limit}", "start", below=UNDER_SCALE)
        return
    x = limit * step
    yield Stroke("cut", ((x, y), (x, y + BAR)))
    # On the roomier side of the stroke, so that a limit at either end keeps clear of the words.
    words = f"thick from {limit + 1} on"
    if x <= LARGE / 2:
        yield Label((x, y + BAR), words, "start", below=UNDER_SCALE, aside=ASIDE)
        if x >= WORDS:
            yield Label((0.0, y + BAR), "layers", "start", below=UNDER_SCALE)
    else:
        yield Label((0.0, y + BAR), "layers", "start", below=UNDER_SCALE)
        yield Label((x, y + BAR), words, "end", below=UNDER_SCALE, aside=-ASIDE)


def _areas(layers: LayerMap, at: Spot) -> Iterator[Shape]:
    """Square inches under each count, as bars with figures."""
    whole = sum(area for _, area in layers.areas)
    x, y = at
    yield Label((x, y - ROW), "square inches under so many layers", "start")
    for row, (count, area) in enumerate(layers.areas[:MOST_ROWS]):
        top = y + row * ROW + 0.1
        long = max(area / whole * (SMALL - 2.0), 0.01)
        bar = (
            (x + 0.45, top),
            (x + 0.45 + long, top),
            (x + 0.45 + long, top + ROW * 0.6),
            (x + 0.45, top + ROW * 0.6),
        )
        yield Label((x + 0.3, top + 0.015), str(count), "end")
        yield Tone((bar,), tone(count, layers.most))
        yield Label((x + 0.6 + long, top + 0.015), f"{area:.2f} sq in", "start")
