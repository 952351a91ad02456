"""How the units of the trade are drawn: each patch by its role, in an upright frame.

A pattern lies with its upper left corner at (0, 0), `width` wide and `height` high.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from seamproof.piecing.grids import grid_of
from seamproof.piecing.model import UnitKind
from seamproof.plane.model import Point, Polygon
from seamproof.plane.predicates import distance, same_length, same_point, side


@dataclass(frozen=True, slots=True)
class Pattern:
    """A kind of unit: for each role the corners of its patch, clockwise as seen."""

    kind: UnitKind
    patches: tuple[tuple[str, Polygon], ...]


def patterns(width: Fraction, height: Fraction, patches: tuple[Polygon, ...]) -> Iterator[Pattern]:
    """The patterns that a unit of this size with these patches may follow, the usual name first.

    `patches` lie in the pattern's frame; they are looked at only for how many there are, and for
    measures that a pattern leaves open (the corners of a snowball, the bars of a rail,
    the rows of a nine-patch).
    """
    o, w, h = Fraction(0), width, height
    mid_w, mid_h = w / 2, h / 2
    square = same_length(w, h)
    corner = ((o, o), (w, o), (w, h), (o, h))
    top, right, bottom, left = (mid_w, o), (w, mid_h), (mid_w, h), (o, mid_h)
    middle = (mid_w, mid_h)
    match len(patches):
        case 1:
            yield Pattern("square" if square else "rectangle", (("whole", corner),))
        case 2:
            if square:
                yield Pattern(
                    "half-square triangle",
                    (
                        ("first", (corner[0], corner[1], corner[3])),
                        ("second", (corner[1], corner[2], corner[3])),
                    ),
                )
            elif w > h:
                # Two kinds that are each other's mirror twin, told apart by their roles.
                yield Pattern(
                    "half-rectangle triangle",
                    (
                        ("upper left", (corner[0], corner[1], corner[3])),
                        ("lower right", (corner[1], corner[2], corner[3])),
                    ),
                )
                yield Pattern(
                    "half-rectangle triangle",
                    (
                        ("upper right", (corner[0], corner[1], corner[2])),
                        ("lower left", (corner[0], corner[2], corner[3])),
                    ),
                )
        case 3:
            if same_length(w, 2 * h):
                yield Pattern(
                    "flying geese",
                    (
                        ("goose", (top, corner[2], corner[3])),
                        ("left sky", (corner[0], top, corner[3])),
                        ("right sky", (top, corner[1], corner[2])),
                    ),
                )
            if square:
                yield Pattern(
                    "split quarter square",
                    (
                        ("half", (corner[1], corner[2], corner[3])),
                        ("top quarter", (corner[0], corner[1], middle)),
                        ("left quarter", (corner[0], middle, corner[3])),
                    ),
                )
        case 4:
            if square:
                yield Pattern(
                    "hourglass",
                    (
                        ("top", (corner[0], corner[1], middle)),
                        ("right", (corner[1], corner[2], middle)),
                        ("bottom", (corner[2], corner[3], middle)),
                        ("left", (corner[3], corner[0], middle)),
                    ),
                )
                yield Pattern(
                    "corner-square triangle",
                    (
                        ("half", (corner[1], corner[2], corner[3])),
                        ("square", (corner[0], top, middle, left)),
                        ("top triangle", (top, corner[1], middle)),
                        ("left triangle", (left, middle, corner[3])),
                    ),
                )
        case 5:
            if square:
                yield Pattern(
                    "square-in-a-square",
                    (
                        ("centre", (top, right, bottom, left)),
                        ("upper left", (corner[0], top, left)),
                        ("upper right", (top, corner[1], right)),
                        ("lower right", (right, corner[2], bottom)),
                        ("lower left", (left, bottom, corner[3])),
                    ),
                )
        case 9:
            if square:
                yield Pattern("economy patch", _economy(w, h))
        case _:
            pass
    if len(patches) > 1:
        grid = grid_of(w, h, patches)
        if grid is not None:
            yield Pattern(*grid)
        snowball = _snowball(w, h, patches)
        if snowball is not None:
            yield snowball


def _economy(w: Fraction, h: Fraction) -> tuple[tuple[str, Polygon], ...]:
    """A square of half the size in the middle, four triangles that make it a square on its point,
    and four corners round that."""
    o, q = Fraction(0), Fraction(1, 4)
    inner = ((w * q, h * q), (3 * w * q, h * q), (3 * w * q, 3 * h * q), (w * q, 3 * h * q))
    points = ((w / 2, o), (w, h / 2), (w / 2, h), (o, h / 2))
    corner = ((o, o), (w, o), (w, h), (o, h))
    inside = ("top", "right", "bottom", "left")
    outside = ("upper left", "upper right", "lower right", "lower left")
    return (
        ("centre", inner),
        *((f"{inside[i]} triangle", (inner[i], points[i], inner[(i + 1) % 4])) for i in range(4)),
        *((outside[i], (corner[i], points[i], points[i - 1])) for i in range(4)),
    )


def _snowball(w: Fraction, h: Fraction, patches: tuple[Polygon, ...]) -> Pattern | None:
    """One patch with corners cut off at 45 degrees, one to four of them, each as large as it likes:
    two on one side may meet in a point, as those of a gable do, and no more."""
    corner = ((Fraction(0), Fraction(0)), (w, Fraction(0)), (w, h), (Fraction(0), h))
    names = ("upper left", "upper right", "lower right", "lower left")
    cut: dict[int, tuple[Point, Point]] = {}
    for patch in patches:
        for at in range(4):
            ends = _cut_off(patch, corner[at - 1], corner[at], corner[(at + 1) % 4])
            if ends is not None:
                cut[at] = ends
    if not cut or len(cut) != len(patches) - 1:
        return None
    for k in cut:
        after = (k + 1) % 4
        if after in cut:
            both = distance(cut[k][1], corner[k]) + distance(cut[after][0], corner[after])
            whole = distance(corner[k], corner[after])
            if both > whole and not same_length(both, whole):
                return None
    centre = _once([p for k in range(4) for p in cut.get(k, (corner[k],))])
    triangles = ((names[k], (corner[k], cut[k][1], cut[k][0])) for k in sorted(cut))
    return Pattern("snowball", (("centre", centre), *triangles))


def _cut_off(
    patch: Polygon, before: Point, corner: Point, after: Point
) -> tuple[Point, Point] | None:
    """Where a triangle that fills a corner at 45 degrees ends on the side before that corner and on
    the one after it, going clockwise; None if the patch is no such triangle."""
    if len(patch) != 3:
        return None
    others = [p for p in patch if not same_point(p, corner)]
    if len(others) != 2:
        return None
    first, last = sorted(others, key=lambda p: distance(p, before))
    legs = distance(first, corner), distance(last, corner)
    on_sides = side(before, corner, first) == 0 and side(corner, after, last) == 0
    return (first, last) if on_sides and same_length(*legs) else None


def _once(points: list[Point]) -> Polygon:
    """Corners without those that fall on the one before."""
    return tuple(p for i, p in enumerate(points) if not same_point(p, points[i - 1]))


def alike(one: Polygon, other: Polygon) -> bool:
    """Whether two polygons have the same corners in the same order round, whichever comes first."""
    if len(one) != len(other):
        return False
    return any(
        all(same_point(one[(shift + i) % len(one)], other[i]) for i in range(len(other)))
        for shift in range(len(one))
    )
