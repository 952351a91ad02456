"""The patches of a part, where they lie in it."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from fractions import Fraction

from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan
from seamproof.plane.model import Placed, Point, Polygon
from seamproof.plane.predicates import placed, turned


@dataclass(frozen=True, slots=True)
class PlacedLeaf:
    """One patch of a part: the number of its leaf, its fabric, and its corners in the frame of the
    part, clockwise as seen."""

    part: int
    fabric: str
    corners: Polygon


def put(polygon: Polygon, turn: Fraction, at: Point) -> Polygon:
    """A polygon of a part's own frame, where it lies once the part is turned and moved."""
    return tuple(placed(p, turn, at) for p in polygon)


def small_parts(plan: PiecingPlan, most: int) -> dict[int, tuple[PlacedLeaf, ...]]:
    """The patches of every part that has at most `most` of them, by part number.

    They come in sewing order: those of a join's left side, then those of its right side.
    """
    found: dict[int, tuple[PlacedLeaf, ...]] = {}
    for number, part in enumerate(plan.parts):
        match part.made:
            case Leaf(fabric, corners):
                found[number] = (PlacedLeaf(number, fabric, corners),)
            case Join(left, right):
                sides = (left, right)
                if all(side.part in found for side in sides):
                    count = sum(len(found[side.part]) for side in sides)
                    if count <= most:
                        found[number] = tuple(
                            _put(leaf, side) for side in sides for leaf in found[side.part]
                        )
            case Finish(of):
                if of.part in found:
                    found[number] = tuple(_put(leaf, of) for leaf in found[of.part])
            case _:
                pass
    return found


def all_leaves(plan: PiecingPlan, part: int) -> tuple[PlacedLeaf, ...]:
    """The patches of one part, however many, in sewing order."""
    found: list[PlacedLeaf] = []
    for here in parts_in(plan, in_its_frame(part)):
        made = plan.parts[here.part].made
        if isinstance(made, Leaf):
            corners = put(made.corners, here.turn, here.at)
            found.append(PlacedLeaf(here.part, made.fabric, corners))
    return tuple(found)


def in_its_frame(part: int) -> Placed:
    """A part as it lies in its own frame."""
    o = Fraction(0)
    return Placed(part, o, (o, o))


def parts_in(plan: PiecingPlan, outer: Placed, closed: Collection[int] = ()) -> Iterator[Placed]:
    """Every part of a placed one where it lies: first itself, then all of its left side, then all
    of its right side. What `closed` parts are made of is left out."""
    todo = [outer]
    while todo:
        here = todo.pop()
        yield here
        if here.part in closed:
            continue
        match plan.parts[here.part].made:
            case Join(left, right):
                todo += [within(right, here), within(left, here)]
            case Finish(of):
                todo.append(within(of, here))
            case _:
                pass


def within(inner: Placed, outer: Placed) -> Placed:
    """`inner`, placed in a part that is itself placed: where it lies in the outer frame.

    >>> one, o = Fraction(1), Fraction(0)
    >>> within(Placed(3, one / 4, (one, o)), Placed(7, one / 4, (o, o)))
    Placed(part=3, turn=Fraction(1, 2), at=(Fraction(0, 1), Fraction(1, 1)))
    """
    x, y = turned(inner.at, outer.turn)
    return Placed(inner.part, (inner.turn + outer.turn) % 1, (x + outer.at[0], y + outer.at[1]))


def _put(leaf: PlacedLeaf, side: Placed) -> PlacedLeaf:
    return PlacedLeaf(leaf.part, leaf.fabric, put(leaf.corners, side.turn, side.at))
