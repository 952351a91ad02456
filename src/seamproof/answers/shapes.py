"""What patches, parts and their sizes are called when they are shown."""

from __future__ import annotations

from fractions import Fraction

from seamproof.length.notation import Measure, number
from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan, Whole
from seamproof.plane.model import Polygon
from seamproof.plane.predicates import box, distance, same_length

Extent = tuple[Fraction, Fraction]
"""Width and height of a bounding box, in inches."""


def extent(corners: Polygon) -> Extent:
    """Width and height of the bounding box.

    >>> [str(side) for side in extent(((Fraction(1), Fraction(1)), (Fraction(3), Fraction(4))))]
    ['2', '3']
    """
    low, high = box(corners)
    return high[0] - low[0], high[1] - low[1]


def shape_name(corners: Polygon) -> str:
    """What a patch is called by its true corners.

    >>> o, w, h = Fraction(0), Fraction(4), Fraction(2)
    >>> shape_name(((o, o), (w, o), (w, w), (o, w))), shape_name(((o, o), (w, o), (w, h), (o, h)))
    ('square', 'rectangle')
    >>> shape_name(((o, o), (w, o), (o, w))), shape_name(((o, o), (w, h), (o, w), (-w, h)))
    ('triangle', 'four-sided patch')
    """
    if len(corners) == 3:
        return "triangle"
    if len(corners) == 4 and _right_angled(corners):
        first, second = distance(*corners[:2]), distance(*corners[1:3])
        return "square" if same_length(first, second) else "rectangle"
    return f"{_COUNTED.get(len(corners), str(len(corners)))}-sided patch"


_COUNTED = {4: "four", 5: "five", 6: "six", 7: "seven", 8: "eight"}


def _right_angled(corners: Polygon) -> bool:
    """Whether four corners are a rectangle's, at any turn: the diagonals cut each other in half
    and are equally long."""
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = corners
    halves = same_length(ax + cx, bx + dx) and same_length(ay + cy, by + dy)
    return halves and same_length(
        distance(corners[0], corners[2]), distance(corners[1], corners[3])
    )


def part_name(plan: PiecingPlan, part: int) -> str:
    """What a part is called: its trade name, or its shape if it is a patch."""
    for unit in plan.units:
        if unit.part == part:
            return unit.kind
    made = plan.parts[part].made
    match made:
        case Leaf():
            return shape_name(made.corners)
        case Whole():
            return made.block
        case Join() | Finish():
            return "pieced unit"


def size_text(width: Fraction, height: Fraction, measure: Measure) -> str:
    """A size as people read it: one number for a square, else width × height; without the unit.

    >>> size_text(Fraction(9, 2), Fraction(9, 2), "in"), size_text(Fraction(4), Fraction(2), "in")
    ('4 1/2', '4 × 2')
    """
    if width == height:
        return number(width, measure)
    return f"{number(width, measure)} × {number(height, measure)}"
