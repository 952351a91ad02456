"""How thick a whole top lies: every place in the colour of its layers, thick spots numbered."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from seamproof.drawing.scene import Count, Label, Scene, Shape, Spot, Stroke, Tone
from seamproof.figures.bulk import scale_shapes, tone
from seamproof.pressing.top_layers import Laid
from seamproof.pressing.top_map import TopLayers, cells, in_top
from seamproof.setting.model import Top

LEAST_DRAWN = 2
"""What lies in fewer layers than this is ground."""

SEAM = 0.25
"""Inches of raw edge round the finished top."""

RING = 0.11
"""Inches of the picture round a thick spot."""

MOST_NUMBERED = 40
"""Thick spots that bear their number; where there are more they are only ringed."""


def top_bulk_scene(laid: Laid, layers: TopLayers, top: Top, limit: int, scale: float) -> Scene:
    """The layers of a top, front view, at inches of the picture to the inch of cloth. Thick spots
    are ringed and numbered in the order of the list, the thickest place is ringed if there are
    none."""
    width, height = float(top.width), float(top.height)

    def at(p: Spot) -> Spot:
        return p[0] * scale, p[1] * scale

    def box(over: float) -> tuple[Spot, ...]:
        a, b, c, d = -over, -over, width + over, height + over
        return tuple(map(at, ((a, b), (c, b), (c, d), (a, d))))

    shapes: list[Shape] = [Tone((box(SEAM),), tone(1, layers.most))]
    drawn = [list(cells(window, LEAST_DRAWN)) for window in laid.windows]
    found = []
    for number, quarters, middle in laid.places:
        for count, rings in drawn[number]:
            lying = tuple(tuple(map(at, in_top(laid, ring, quarters, middle))) for ring in rings)
            found.append((count, Tone(lying, tone(count, layers.most))))
    shapes += [shape for _, shape in sorted(found, key=lambda pair: pair[0])]
    shapes.append(Stroke("finished", box(0.0), closed=True))
    shapes += _rings(layers, at)
    below = (height + SEAM) * scale + 0.45
    shapes += scale_shapes(layers.most, limit, below)
    shapes.append(Label((0.0, below + 0.75), _words(layers, limit), "start"))
    return Scene(tuple(shapes), f"The top's layers of cloth, at most {layers.most}")


def _words(layers: TopLayers, limit: int) -> str:
    count = len(layers.spots)
    if not count:
        return f"No place lies in more than {limit} layers; the thickest is ringed: {layers.most}."
    places = "1 place lies" if count == 1 else f"{count} places lie"
    return f"{places} above the limit of {limit} layers; the worst has {layers.most}."


def _rings(layers: TopLayers, at: Callable[[Spot], Spot]) -> Iterator[Shape]:
    spots = [spot.at for spot in layers.spots] or [layers.most_at]
    for number, spot in enumerate(spots, start=1):
        x, y = at(spot)
        r = RING
        octagon = tuple(
            (x + u * r, y + v * r)
            for u, v in (
                (1.0, 0.4142),
                (0.4142, 1.0),
                (-0.4142, 1.0),
                (-1.0, 0.4142),
                (-1.0, -0.4142),
                (-0.4142, -1.0),
                (0.4142, -1.0),
                (1.0, -0.4142),
            )
        )
        yield Stroke("enlarged", octagon, closed=True)
        if layers.spots and len(spots) <= MOST_NUMBERED:
            yield Count((x + 2 * r, y), str(number), 2 * r, "#FFFFFF")
