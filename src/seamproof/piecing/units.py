"""Which parts of a plan are units that the trade has a name for."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from fractions import Fraction
from typing import get_args

from seamproof.length.exact import kept
from seamproof.piecing.diamonds import diamond_row
from seamproof.piecing.leaves import PlacedLeaf, all_leaves, small_parts
from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan, Unit, UnitKind
from seamproof.piecing.patterns import Pattern, alike, patterns
from seamproof.plane.model import Point, Polygon
from seamproof.plane.predicates import box, distance, same_length, same_point, turned

MOST_PATCHES = 25
"""No named unit has more patches than a checkerboard of five by five; log cabins are told by how
they are sewn."""

_MOST_ANGLED = 9
"""Of those whose patches are not all four-sided, none has more than an economy patch."""

LOGS = 4
"""A log cabin has at least one log on every side."""

_ROUND_TURNS = 48
"""A unit within a hair of a multiple of 1/48 of a full turn lies at that multiple."""

_HAIR = 1e-6


@dataclass(frozen=True, slots=True)
class Likeness:
    """A unit, and how its part shows the pattern of its kind.

    Turned by `turn` and moved to `at`, the pattern (upright, upper left corner at (0, 0)) lies on
    the part in the part's own frame; its upper left corner is corner `first` of the part's outline.
    `patches` are, role by role as in `unit.roles`, the patches
    in the frame of the **pattern**; `order` says for each which patch of the part it is, in sewing
    order. The pattern's lower side lies farther right than its upper one by `lean`, or farther left
    if that is negative: only that of a row of diamonds does.
    """

    unit: Unit
    turn: Fraction
    at: Point
    first: int
    patches: tuple[PlacedLeaf, ...]
    order: tuple[int, ...]
    lean: Fraction = Fraction(0)

    @property
    def outline(self) -> Polygon:
        """The unit, finished, in the pattern's frame, clockwise from the upper left corner."""
        o, wide = Fraction(0), self.unit.width - abs(self.lean)
        high = self.unit.height
        return ((o, o), (wide, o), (wide + self.lean, high), (self.lean, high))


def recognise(plan: PiecingPlan) -> tuple[Unit, ...]:
    """Units by geometry, at any turn and size, in the order of the parts.

    A cell of the plan's grid that has no name of its own is a "pieced unit". The beginning of a log
    cabin is no unit, nor is a rail that is only a row of a larger unit.
    """
    cabins, begun = _log_cabins(plan)
    likes = _likenesses(plan, cabins)
    rows = _rows_of_others(plan, likes, begun)
    found = {number: like.unit for number, like in likes.items() if number not in rows}
    for number in {part for row in plan.rows for part in row if part >= 0}:
        if number not in found and number not in begun and _joined(plan, number):
            width, height = _extent(plan.parts[number].outline)
            found[number] = Unit(number, "pieced unit", width, height)
    return tuple(found[number] for number in sorted(found))


def likenesses(plan: PiecingPlan) -> dict[int, Likeness]:
    """The parts that follow a pattern of the trade, by part number."""
    return _likenesses(plan, _log_cabins(plan)[0])


def _likenesses(plan: PiecingPlan, cabins: Mapping[int, _Rounds]) -> dict[int, Likeness]:
    found = {}
    for number, leaves in small_parts(plan, MOST_PATCHES).items():
        like = likeness(number, plan.parts[number].outline, leaves)
        if like is not None:
            found[number] = like
    for number, built in cabins.items():
        found.setdefault(number, _cabin(plan, number, built))
    return found


_ROWS: tuple[UnitKind, ...] = ("rail", "diamond row")

_OF_ROWS: tuple[UnitKind, ...] = (
    "rail",
    "four-patch",
    "nine-patch",
    "checkerboard",
    "diamond row",
    "log cabin",
)
"""Kinds that are sewn from rows, or whose beginnings look like rows."""


def _rows_of_others(
    plan: PiecingPlan, likes: Mapping[int, Likeness], begun: AbstractSet[int]
) -> set[int]:
    """The rails, and rows of diamonds, that are sewn into nothing but units that have rows."""
    alone: set[int] = set()
    used: set[int] = set()
    for number, part in enumerate(plan.parts):
        match part.made:
            case Join(left, right):
                inner = {left.part, right.part}
            case Finish(of):
                inner = {of.part}
            case _:
                continue
        of_rows = number in begun or (number in likes and likes[number].unit.kind in _OF_ROWS)
        used |= inner
        alone |= set() if of_rows else inner
    rails = {number for number, like in likes.items() if like.unit.kind in _ROWS}
    return (rails & used) - alone


def likeness(part: int, outline: Polygon, leaves: tuple[PlacedLeaf, ...]) -> Likeness | None:
    """The pattern that a part shows, or None.

    Of several ways to see it (an hourglass can be turned) the one is taken whose fabrics, role by
    role, come first in the alphabet, and then the one that is turned least.
    """
    if len(outline) != 4 or not _halved(outline):
        return None
    if len(leaves) > _MOST_ANGLED and any(len(leaf.corners) != 4 for leaf in leaves):
        return None
    look = _seen_from if _right_angled(outline) else _row_from
    seen = [like for first in range(4) for like in look(first, part, outline, leaves)]
    return min(
        seen,
        key=lambda like: (_RANK[like.unit.kind], like.unit.roles, like.turn),
        default=None,
    )


_RANK = {kind: rank for rank, kind in enumerate(get_args(UnitKind))}
"""What could go by two names has the one that comes first in the list of kinds."""


def _seen_from(
    first: int, part: int, outline: Polygon, leaves: Sequence[PlacedLeaf]
) -> Iterator[Likeness]:
    """The likenesses with corner `first` at the pattern's upper left."""
    turn, width, height, lying = _laid(first, outline, leaves)
    for pattern in patterns(width, height, tuple(leaf.corners for leaf in lying)):
        order = _by_role(pattern, lying)
        if order is not None:
            ordered, roles = _in_roles(pattern, lying, order)
            unit = Unit(part, pattern.kind, width, height, roles)
            yield Likeness(unit, turn, outline[first], first, ordered, order)


def _row_from(
    first: int, part: int, outline: Polygon, leaves: Sequence[PlacedLeaf]
) -> Iterator[Likeness]:
    """The row of diamonds, one below the other, with corner `first` at the pattern's upper left."""
    if len(leaves) < 2:
        return
    turn, width, _, lying = _laid(first, outline, leaves)
    b, c = (outline[(first + k) % 4] for k in (1, 2))
    lean, height = (kept(x) for x in turned((c[0] - b[0], c[1] - b[1]), -turn % 1))
    rows = diamond_row(width, height, lean, len(leaves))
    pattern = Pattern(
        "diamond row", tuple((f"diamond {k}", corners) for k, corners in enumerate(rows, start=1))
    )
    order = _by_role(pattern, lying)
    if order is not None:
        ordered, roles = _in_roles(pattern, lying, order)
        unit = Unit(part, pattern.kind, width + abs(lean), height, roles)
        yield Likeness(unit, turn, outline[first], first, ordered, order, lean)


def _in_roles(
    pattern: Pattern, lying: Sequence[PlacedLeaf], order: Sequence[int]
) -> tuple[tuple[PlacedLeaf, ...], tuple[tuple[str, str], ...]]:
    """The patches in the order of the pattern's roles, and each role with its fabric."""
    ordered = tuple(lying[k] for k in order)
    roles = ((role, leaf.fabric) for (role, _), leaf in zip(pattern.patches, ordered, strict=True))
    return ordered, tuple(roles)


def _laid(
    first: int, outline: Polygon, leaves: Sequence[PlacedLeaf]
) -> tuple[Fraction, Fraction, Fraction, tuple[PlacedLeaf, ...]]:
    """The turn, width, height and patches of a rectangle seen with corner `first` at the upper
    left; the patches in that upright frame."""
    at, along = outline[first], outline[(first + 1) % 4]
    turn = _bearing(along[0] - at[0], along[1] - at[1])
    width = kept(distance(at, along))
    height = kept(distance(along, outline[(first + 2) % 4]))
    if turn in _EXACT:
        width, height = _along_axes(outline, first)
    lying = tuple(
        PlacedLeaf(
            leaf.part,
            leaf.fabric,
            tuple(turned((p[0] - at[0], p[1] - at[1]), -turn % 1) for p in leaf.corners),
        )
        for leaf in leaves
    )
    return turn, width, height, lying


_EXACT = tuple(Fraction(quarter, 4) for quarter in range(4))


def _along_axes(outline: Polygon, first: int) -> tuple[Fraction, Fraction]:
    a, b, c = (outline[(first + k) % 4] for k in range(3))
    return (
        max(abs(b[0] - a[0]), abs(b[1] - a[1])),
        max(abs(c[0] - b[0]), abs(c[1] - b[1])),
    )


def _by_role(pattern: Pattern, leaves: Sequence[PlacedLeaf]) -> tuple[int, ...] | None:
    left = list(range(len(leaves)))
    ordered = []
    for _, drawn in pattern.patches:
        match = next((k for k in left if alike(leaves[k].corners, drawn)), None)
        if match is None:
            return None
        left.remove(match)
        ordered.append(match)
    return tuple(ordered) if not left else None


def _bearing(dx: Fraction, dy: Fraction) -> Fraction:
    """The share of a full turn, clockwise as seen, that takes "to the right" to this direction."""
    share = (math.atan2(float(dy), float(dx)) / (2 * math.pi)) % 1.0
    near = round(share * _ROUND_TURNS)
    if abs(share * _ROUND_TURNS - near) <= _HAIR * _ROUND_TURNS:
        return Fraction(near % _ROUND_TURNS, _ROUND_TURNS)
    return Fraction(share)


def _right_angled(corners: Polygon) -> bool:
    """Whether four corners are a rectangle's: the diagonals halve each other and are as long."""
    a, b, c, d = corners
    return _halved(corners) and same_length(distance(a, c), distance(b, d))


def _halved(corners: Polygon) -> bool:
    """Whether four corners are a parallelogram's: the diagonals halve each other."""
    a, b, c, d = corners
    return same_point((a[0] + c[0], a[1] + c[1]), (b[0] + d[0], b[1] + d[1]))


def _joined(plan: PiecingPlan, number: int) -> bool:
    return isinstance(plan.parts[number].made, Join)


def _extent(outline: Polygon) -> tuple[Fraction, Fraction]:
    low, high = box(outline)
    return high[0] - low[0], high[1] - low[1]


# Log cabins --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Rounds:
    """A centre patch and the logs sewn on, in order: fabric, and the side as a share of a turn.
    `inner` is the part that the last log was sewn to, -1 for the centre alone. `order` says for
    the centre and each log which patch of the part it is, in sewing order."""

    centre: str
    logs: tuple[tuple[str, Fraction], ...]
    inner: int = -1
    order: tuple[int, ...] = (0,)


def _log_cabins(plan: PiecingPlan) -> tuple[dict[int, _Rounds], set[int]]:
    """Parts built from a centre by sewing on one log after another, with one on every side among
    any four that follow each other; and the parts that are only the beginning of such a one."""
    rounds: dict[int, list[_Rounds]] = {}
    inner_of: set[int] = set()
    for number, part in enumerate(plan.parts):
        if len(part.outline) != 4 or not _right_angled(part.outline):
            continue
        if isinstance(part.made, Leaf):
            rounds[number] = [_Rounds(part.made.fabric, ())]
        elif isinstance(part.made, Join):
            built = _one_more(plan, part.made, rounds)
            if built:
                rounds[number] = built
                inner_of.add(built[0].inner)
    whole = {
        number: built[0]
        for number, built in rounds.items()
        if number not in inner_of and len(built[0].logs) >= LOGS
    }
    begun: set[int] = set()
    for last in whole.values():
        inner = last.inner
        while inner >= 0:
            begun.add(inner)
            inner = rounds[inner][0].inner
    return whole, begun


def _one_more(plan: PiecingPlan, join: Join, rounds: dict[int, list[_Rounds]]) -> list[_Rounds]:
    """The log cabins that a join makes from a smaller one and a log, the likeliest first.

    Of two patches either can be the centre, the one that is more of a square sooner; of two equal
    squares only the logs that follow tell.
    """
    (ax, ay), (bx, by) = join.seam[0], join.seam[-1]
    # Out of the smaller one, to the right of the seam or to its left.
    ways = [
        (join.left, join.right, _bearing(-(by - ay), bx - ax)),
        (join.right, join.left, _bearing(by - ay, -(bx - ax))),
    ]
    ways.sort(key=lambda way: _slimness(plan.parts[way[0].part].outline))
    found = []
    for inner, log, way in ways:
        first = inner is join.left
        made = plan.parts[log.part].made
        if not isinstance(made, Leaf) or log.part not in rounds:
            continue
        for before in rounds.get(inner.part, ()):
            turned_logs = ((fabric, (side + inner.turn) % 1) for fabric, side in before.logs)
            logs = (*turned_logs, (made.fabric, way))
            if len({side for _, side in logs[-LOGS:]}) == min(len(logs), LOGS):
                size = len(before.order)
                order = (*before.order, size) if first else (*(k + 1 for k in before.order), 0)
                found.append(_Rounds(before.centre, logs, inner.part, order))
    return found


def _slimness(outline: Polygon) -> int:
    width, height = _extent(outline)
    return 0 if same_length(width, height) else 1


def _cabin(plan: PiecingPlan, number: int, built: _Rounds) -> Likeness:
    """The log cabin as it is turned least."""
    outline, leaves = plan.parts[number].outline, all_leaves(plan, number)
    first = min(range(4), key=lambda first: _laid(first, outline, ())[0])
    turn, width, height, lying = _laid(first, outline, leaves)
    patches = tuple(lying[k] for k in built.order)
    names = ("centre", *(f"log {i}" for i in range(1, len(patches))))
    roles = tuple((name, leaf.fabric) for name, leaf in zip(names, patches, strict=True))
    unit = Unit(number, "log cabin", width, height, roles)
    return Likeness(unit, turn, outline[first], first, patches, built.order)
