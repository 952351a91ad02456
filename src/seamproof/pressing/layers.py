"""How many layers lie where, once every seam is pressed."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

import numpy as np
import shapely

from seamproof.pressing.folding import Lying, Spot, laid
from seamproof.pressing.model import Cell, LayerMap, PressSettings, ThickSpot, limit_of
from seamproof.pressing.overlay import Geometries, cut_to, faces_of, polygons
from seamproof.pressing.sheets import Cloth
from seamproof.pressing.tabling import DUST

TOGETHER = 1e-6
"""Inches. Places that come closer are one place: a gap that narrow is the overlay's grid."""


def layer_map(cloth: Cloth, ways: Sequence[int], settings: PressSettings) -> LayerMap:
    """The layers of a block, one way per choice, over all of it to the raw edge.

    Thick spots are connected places above the limit in layers or in millimetres, the worst first,
    then the largest, then in reading order. Raises ArithmeticError if cloth was lost on the way.
    """
    return map_of(laid(cloth.sheets, ways), cloth.raw, settings)


def map_of(cloth: Sequence[Lying], window: Sequence[Spot], settings: PressSettings) -> LayerMap:
    """The layers of cloth as it lies inside an outline.

    >>> square = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    >>> twice = [Lying(square, False, 0), Lying(square, False, 1)]
    >>> map_of(twice, square, PressSettings()).areas
    ((2, 1.0),)
    >>> map_of([], square, PressSettings()).most
    0
    """
    inside, _ = cut_to(polygons([lying.piece for lying in cloth]), shapely.Polygon(window))
    if not len(inside):
        return LayerMap((), 0, (0.0, 0.0), 0.0)
    faces, (face, _) = faces_of(inside)
    layers = np.bincount(face, minlength=len(faces))
    by_count: dict[int, list[shapely.Geometry]] = defaultdict(list)
    for count, one in zip(layers.tolist(), faces, strict=True):
        if count:
            by_count[count].append(one)
    areas = {count: float(shapely.area(some).sum()) for count, some in by_count.items()}
    cells = tuple(cell for count in sorted(by_count) for cell in _cells(count, by_count[count]))
    counted = tuple((count, areas[count]) for count in sorted({cell.layers for cell in cells}))
    if not cells:
        return LayerMap((), 0, (0.0, 0.0), 0.0)
    most = counted[-1][0]
    worst = min((cell for cell in cells if cell.layers == most), key=_rank)
    return LayerMap(
        counted,
        most,
        _middle(worst),
        most * settings.cloth_mm,
        thick_spots(by_count, settings),
        cells,
    )


def _cells(count: int, faces: Sequence[shapely.Geometry]) -> list[Cell]:
    whole = shapely.union_all(faces, grid_size=1e-9)
    found = []
    for part in shapely.get_parts(shapely.normalize(whole)):
        if shapely.area(part) > DUST:
            rings = [part.exterior, *part.interiors]
            told = tuple(
                tuple((float(x), float(y)) for x, y in shapely.get_coordinates(ring)[:-1])
                for ring in rings
            )
            found.append(Cell(count, told, float(shapely.area(part))))
    return sorted(found, key=_rank)


def _rank(cell: Cell) -> tuple[float, float, float]:
    """The largest first, then in reading order."""
    x, y = _middle(cell)
    return (-round(cell.area, 6), round(y, 4), round(x, 4))


def _middle(cell: Cell) -> Spot:
    polygon = shapely.Polygon(cell.rings[0], cell.rings[1:])
    centre = shapely.centroid(polygon)
    if not polygon.contains(centre):
        centre = shapely.point_on_surface(polygon)
    return float(centre.x), float(centre.y)


def thick_spots(
    by_count: Mapping[int, list[shapely.Geometry]], settings: PressSettings
) -> tuple[ThickSpot, ...]:
    """The connected places above the limit, the worst first, then the largest, then in reading
    order. `by_count` has the places by their count of layers."""
    limit = limit_of(settings)
    above: Geometries = np.array(
        [one for count, some in by_count.items() if count > limit for one in some], dtype=object
    )
    if not len(above):
        return ()
    counts = np.array([c for c, some in by_count.items() if c > limit for _ in some])
    joined = shapely.union_all(shapely.buffer(above, TOGETHER), grid_size=1e-9)
    places = shapely.get_parts(joined)
    inside = shapely.point_on_surface(above)
    place, one = shapely.STRtree(inside).query(places, predicate="contains")
    found = []
    for k in range(len(places)):
        mine = one[place == k]
        area = float(shapely.area(above[mine]).sum())
        if area <= DUST:
            continue
        layers = int(counts[mine].max())
        worst = mine[counts[mine] == layers]
        at = shapely.centroid(shapely.union_all(above[worst], grid_size=1e-9))
        spot = (float(at.x), float(at.y))
        found.append(ThickSpot(spot, layers, area, layers * settings.cloth_mm))
    return tuple(
        sorted(
            found,
            key=lambda s: (-s.layers, -round(s.area, 6), round(s.at[1], 4), round(s.at[0], 4)),
        )
    )
