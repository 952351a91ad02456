"""What a top's layers come to: how much lies how thick, the thickest place, the thick spots."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from seamproof.pressing.layers import thick_spots
from seamproof.pressing.model import PressSettings, ThickSpot, limit_of
from seamproof.pressing.tabling import DUST
from seamproof.pressing.tiles import spun
from seamproof.pressing.top_layers import Laid
from seamproof.pressing.windows import Window

Spot = tuple[float, float]
Ring = tuple[Spot, ...]


@dataclass(frozen=True, slots=True)
class TopLayers:
    """The layers of a whole top, its raw edge included, in inches from the upper left corner of the
    finished top, front view. `areas` pairs each count of layers with its square inches; `most` and
    `most_at` are the greatest count and a place that has it; `mm` is the thickness there; `spots`
    are the thick spots, the worst first."""

    areas: tuple[tuple[int, float], ...]
    most: int
    most_at: Spot
    mm: float
    spots: tuple[ThickSpot, ...]


def top_layers(laid: Laid, settings: PressSettings) -> TopLayers:
    """What the layers of a top come to."""
    limit = limit_of(settings)
    # On point slivers lie where leaves miss each other by a millionth of an inch.
    tops = [
        max((count for count, area in window.areas if area > DUST), default=0)
        for window in laid.windows
    ]
    most = max((tops[number] for number, _, _ in laid.places), default=0)
    above: dict[int, list[shapely.Geometry]] = defaultdict(list)
    for number, quarters, middle in laid.places:
        if tops[number] > limit:
            window = laid.windows[number]
            for face, layers in zip(window.faces, window.layers, strict=True):
                if layers > limit:
                    above[layers].append(_placed(face, laid, quarters, middle))
    worst = [place for place in laid.places if tops[place[0]] == most]
    found = [_at(laid, place, most) for place in worst]
    at = min(found, key=lambda p: (round(p[1], 4), round(p[0], 4)), default=(0.0, 0.0))
    spots = thick_spots(above, settings)
    return TopLayers(laid.areas, most, at, most * settings.cloth_mm, spots)


def _at(laid: Laid, place: tuple[int, int, Spot], most: int) -> Spot:
    number, quarters, middle = place
    window = laid.windows[number]
    faces = window.faces
    areas = shapely.area(faces)
    best = max(
        (k for k, layers in enumerate(window.layers) if layers == most), key=lambda k: areas[k]
    )
    p = shapely.point_on_surface(_placed(faces[best], laid, quarters, middle))
    return float(p.x), float(p.y)


def _placed(face: shapely.Geometry, laid: Laid, quarters: int, middle: Spot) -> shapely.Geometry:
    angle = float(laid.turn) * 2 * math.pi
    cos, sin = (math.cos(angle), math.sin(angle)) if laid.turn else (1.0, 0.0)
    a, b = spun((1.0, 0.0), quarters), spun((0.0, 1.0), quarters)
    turn = np.array([a, b]) @ np.array([[cos, sin], [-sin, cos]])
    shift = np.array(middle) @ np.array([[cos, sin], [-sin, cos]])
    return shapely.transform(face, lambda xy: xy @ turn + shift)


def cells(window: Window, least: int) -> Iterator[tuple[int, tuple[Ring, ...]]]:
    """The places of a window with so many layers at least, those of one count together: outer ring,
    then holes."""
    counts = np.array(window.layers)
    for count in sorted(set(window.layers)):
        if count < least:
            continue
        whole = shapely.union_all(window.faces[counts == count], grid_size=1e-9)
        for part in shapely.get_parts(shapely.normalize(whole)):
            if part.geom_type == "Polygon" and not part.is_empty:  # slivers leave nothing
                yield (
                    count,
                    tuple(
                        tuple((float(x), float(y)) for x, y in shapely.get_coordinates(ring)[:-1])
                        for ring in (part.exterior, *part.interiors)
                    ),
                )


def in_top(laid: Laid, ring: Ring, quarters: int, middle: Spot) -> Ring:
    """A ring of a window where it lies in the top."""
    angle = float(laid.turn) * 2 * math.pi
    cos, sin = (math.cos(angle), math.sin(angle)) if laid.turn else (1.0, 0.0)
    found = []
    for p in ring:
        x, y = spun(p, quarters)
        x, y = x + middle[0], y + middle[1]
        found.append((x * cos - y * sin, x * sin + y * cos))
    return tuple(found)
