"""Where the names of parts stand: beside their part, clear of all cloth and of each other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import shapely

from seamproof.drawing.scene import Label, Spot, Stroke, extent

CLEAR = 4.0
"""Points between a part and its name."""

_LINE = 9.0  # points, the height of a line of small text
_WIDE, _HIGH = 0.30, 0.13
"""Room that a name is given, as shares of the longer side of the block: at the scale at which a
block fills a column of three, a name such as "step 12" takes as much."""

_UPRIGHT = 0.9
"""Seams nearer than this (as a cosine) to upright or level count as such."""


def beside(
    names: Sequence[str], outlines: Sequence[Sequence[Spot]], out: Spot, side: float
) -> list[Label]:
    """The names of two parts that lie apart, `out` pointing from the seam to the first of them.

    Under parts that lie side by side, to the right of parts that lie one above the other, above
    and below where the seam is slanted; elsewhere if that place is taken. `side` is the longer
    side of the whole block in inches.
    """
    taken = [shapely.Polygon(outline) for outline in outlines]
    labels = []
    for name, outline, way in zip(names, outlines, (1, -1), strict=True):
        if not name:
            continue
        places = list(_places(outline, out, way, side))
        found = next(
            ((label, room) for label, room in places if not _meets(room, taken)), places[0]
        )
        label, room = found
        taken.append(room)
        labels.append(Label(label.at, name, label.anchor, label.below, label.aside))
    return labels


def _places(
    outline: Sequence[Spot], out: Spot, way: int, side: float
) -> Iterator[tuple[Label, shapely.Polygon]]:
    """Places for the name of a part, the best first, each with the room it takes."""
    (left, top), (right, bottom) = extent([Stroke("raw edge", tuple(outline))])
    x, y = (left + right) / 2, (top + bottom) / 2
    wide, high = _WIDE * side, _HIGH * side
    places = {
        "below": (
            Label((x, bottom), "", "middle", CLEAR),
            shapely.box(x - wide / 2, bottom, x + wide / 2, bottom + high),
        ),
        "above": (
            Label((x, top), "", "middle", -CLEAR - _LINE),
            shapely.box(x - wide / 2, top - high, x + wide / 2, top),
        ),
        "right": (
            Label((right, y), "", "start", -CLEAR, CLEAR),
            shapely.box(right, y - high / 2, right + wide, y + high / 2),
        ),
        "left": (
            Label((left, y), "", "end", -CLEAR, -CLEAR),
            shapely.box(left - wide, y - high / 2, left, y + high / 2),
        ),
    }
    level = "right" if out[0] * way > 0 else "left"
    upright = "below" if out[1] * way > 0 else "above"
    if abs(out[0]) > _UPRIGHT:
        order = ["below", "above", level]
    elif abs(out[1]) > _UPRIGHT:
        order = ["right", "left", upright]
    else:
        order = [upright, level, "below", "above"]
    return (places[where] for where in order)


def _meets(room: shapely.Polygon, taken: Sequence[shapely.Polygon]) -> bool:
    return any(room.intersection(other).area > 1e-6 for other in taken)
