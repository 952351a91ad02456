"""A piecing plan as the slow judge sees it: every copy of every patch, and every fold of it."""

from __future__ import annotations

from fractions import Fraction

from seamproof.piecing.leaves import all_leaves, put, within
from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan
from seamproof.plane.model import Placed, Point
from seamproof.pressing.choices import Run, runs, seen_along
from seamproof.pressing.tables import LEFT, OPEN, RIGHT
from tests.pressing.by_overlay import Convex, Fold, Sheet, Spot, Tree, pushed_out, raw, trimmed


def spots(points: tuple[Point, ...]) -> Convex:
    return tuple((float(x), float(y)) for x, y in points)


def tree_of(plan: PiecingPlan) -> Tree:
    """A plan with straight seams only. Pieces of a unit end where the unit is trimmed."""
    listed = runs(plan)
    of_part: dict[int, list[Run]] = {}
    for run in listed:
        of_part.setdefault(run.part, []).append(run)
    named = {unit.part for unit in plan.units}
    found: list[Sheet] = []

    def lay(here: Placed, folds: tuple[Fold, ...], unit: Placed | None) -> None:
        unit = here if here.part in named else unit
        match plan.parts[here.part].made:
            case Leaf(_, corners):
                cut = pushed_out(spots(put(corners, here.turn, here.at)))
                if unit is not None:
                    leaves = all_leaves(plan, unit.part)
                    outline = raw([spots(put(x.corners, unit.turn, unit.at)) for x in leaves])
                    cut = trimmed(cut, outline) if outline else cut
                found.append(Sheet(cut, folds))
            case Join(left, right, set_in=()) as join:
                assert not join.partial
                (run,) = of_part[here.part]
                a, b = spots(put(run.line, here.turn, here.at))
                along = (b[0] - a[0], b[1] - a[1])
                to_left: Spot = (a[0] + along[1], a[1] - along[0])
                to_right: Spot = (a[0] - along[1], a[1] + along[0])
                for side, kept, way in ((left, to_left, LEFT), (right, to_right, RIGHT)):
                    when = frozenset({OPEN, seen_along(way, run.against)})
                    fold = Fold(run.choice, a, along, kept, when)
                    # What is sewn first is folded first: the outer seam comes last.
                    lay(within(side, here), (fold, *folds), unit)
            case Finish():
                raise AssertionError("a seam in two goes")

    lay(Placed(plan.whole, Fraction(0), (Fraction(0), Fraction(0))), (), None)
    count = 1 + max((run.choice for run in listed), default=-1)
    return Tree("plan", tuple(found), count, spots(plan.parts[plan.whole].outline))
