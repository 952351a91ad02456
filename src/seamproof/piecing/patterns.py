"""How the units of the trade are drawn: each patch by its role, in an upright frame.

A pattern lies with its upper left corner at (0, 0), `width` wide and `height` high.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from seamproof.piecing.model import UnitKind
from seamproof.plane.model import Point, Polygon
from seamproof.plane.predicates import box, distance, same_length, same_point


@dataclass(frozen=True, slots=True)
class Pattern:
    """A kind of unit: for each role the corners of its patch, clockwise as seen."""

    kind: UnitKind
    patches: tuple[tuple[str, Polygon], ...]


def patterns(width: Fraction, height: Fraction, patches: tuple[Polygon, ...]) -> Iterator[Pattern]:
    """The patterns that a unit of this size with these patches may follow, the usual name first.

    `patches` lie in the pattern's frame; they are looked at only for how many there are, and for
    measures that a pattern leaves open (the corners of a snowball, the bars of a rail).
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
                yield Pattern("four-patch", _grid(w, h, 2))
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
                yield Pattern("nine-patch", _grid(w, h, 3))
        case _:
            pass
    if len(patches) > 1:
        rail = _rail(w, patches)
        if rail is not None:
            yield rail
        snowball = _snowball(w, h, patches)
        if snowball is not None:
            yield snowball


def _grid(w: Fraction, h: Fraction, n: int) -> tuple[tuple[str, Polygon], ...]:
    """N rows of n cells; the role of a cell is its row and column, counted from 1."""
    return tuple(
        (
            f"row {i + 1} column {j + 1}",
            (
                (w * j / n, h * i / n),
                (w * (j + 1) / n, h * i / n),
                (w * (j + 1) / n, h * (i + 1) / n),
                (w * j / n, h * (i + 1) / n),
            ),
        )
        for i in range(n)
        for j in range(n)
    )


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


def _rail(w: Fraction, patches: tuple[Polygon, ...]) -> Pattern | None:
    """Bars that each run the whole width, longer than they are wide, counted from the top."""
    bars = []
    for patch in patches:
        (x0, y0), (x1, y1) = box(patch)
        whole = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
        if not (same_length(x1 - x0, w) and w > y1 - y0 and alike(whole, patch)):
            return None
        bars.append((y0, whole))
    bars.sort()
    return Pattern("rail", tuple((f"bar {i}", bar) for i, (_, bar) in enumerate(bars, start=1)))


def _snowball(w: Fraction, h: Fraction, patches: tuple[Polygon, ...]) -> Pattern | None:
    """One patch with corners cut off at 45 degrees, one to four of them, as large as the sides
    allow; two that would meet make another unit."""
    corner = ((Fraction(0), Fraction(0)), (w, Fraction(0)), (w, h), (Fraction(0), h))
    names = ("upper left", "upper right", "lower right", "lower left")
    cut: dict[int, tuple[Point, Point]] = {}
    triangles: dict[int, Polygon] = {}
    for patch in patches:
        at = next(
            (k for k in range(4) for p in patch if len(patch) == 3 and same_point(p, corner[k])),
            None,
        )
        if at is None:
            continue
        others = [p for p in patch if not same_point(p, corner[at])]
        legs = [distance(p, corner[at]) for p in others]
        if len(others) != 2 or not same_length(*legs):
            return None
        before, after = corner[at - 1], corner[(at + 1) % 4]
        # Clockwise round the corner the patch lies between the side before it and the one after.
        first, last = sorted(others, key=lambda p: distance(p, before))
        shorter = min(distance(corner[at], before), distance(corner[at], after))
        if legs[0] > shorter and not same_length(legs[0], shorter):
            return None
        cut[at], triangles[at] = (first, last), (corner[at], last, first)
    if len(cut) != len(patches) - 1:
        return None
    for k in cut:
        after = (k + 1) % 4
        if after in cut:
            both = distance(cut[k][1], corner[k]) + distance(cut[after][0], corner[after])
            side = distance(corner[k], corner[after])
            if both > side or same_length(both, side):
                return None
    centre = _once([p for k in range(4) for p in cut.get(k, (corner[k],))])
    return Pattern(
        "snowball", (("centre", centre), *((names[k], triangles[k]) for k in sorted(triangles)))
    )


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
