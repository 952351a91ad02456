"""The top as a piecing plan: strips and blocks laid side by side and sewn, equal parts once.

Everything is laid in one *field*: x to the right, y downwards. What lies in it is a part, put in
its place, with its outline there. Two neighbours are sewn along the whole edge that they share.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import pairwise
from typing import TypeVar

from seamproof.length.rounding import SAME
from seamproof.piecing.leaves import in_its_frame, parts_in
from seamproof.piecing.model import Finish, Join, Leaf, Part, PiecingPlan, Whole
from seamproof.plane.model import Placed, Point, Polygon
from seamproof.plane.predicates import box, corners_only, placed, same_point, side, turned
from seamproof.setting.model import Role

NO_TURN = Fraction(0)
ORIGIN: Point = (Fraction(0), Fraction(0))
QUARTERS = tuple(Fraction(n, 4) for n in range(4))
EIGHTH = Fraction(1, 8)

Made = Leaf | Whole | Join
Item = TypeVar("Item")


@dataclass(frozen=True, slots=True)
class Lying:
    """A part where it lies in the field, with its outline there, clockwise as seen."""

    placed: Placed
    outline: Polygon


@dataclass
class Builder:
    """Collects the parts of a top. Leaves that are equal up to quarter turns, of one fabric and one
    role, are one part; so are joins of the same parts in the same way."""

    _made: list[Made] = field(default_factory=list)
    _outlines: list[Polygon] = field(default_factory=list)
    _roles: dict[int, Role] = field(default_factory=dict)
    _known: dict[object, int] = field(default_factory=dict)

    def leaf(self, fabric: str, corners: Sequence[Point], role: Role) -> Lying:
        """A cut piece of cloth with these corners in the field, clockwise as seen."""
        outline = tuple(corners)
        for turn in QUARTERS:
            own = tuple(turned(p, -turn % 1) for p in outline)
            low = box(own)[0]
            plain = _from_start(tuple((x - low[0], y - low[1]) for x, y in own))
            number = self._known.get((role, fabric, plain))
            if number is not None:
                return Lying(Placed(number, turn, turned(low, turn)), outline)
        low = box(outline)[0]
        plain = _from_start(tuple((x - low[0], y - low[1]) for x, y in outline))
        number = self._add(Leaf(fabric, plain), plain, (role, fabric, plain))
        self._roles[number] = role
        return Lying(Placed(number, NO_TURN, low), outline)

    def rectangle(self, fabric: str, low: Point, high: Point, role: Role) -> Lying:
        """A rectangle between two corners."""
        return self.leaf(fabric, upright(low, high), role)

    def whole(self, name: str, size: Point) -> int:
        """The number of a finished block of this size."""
        key = ("block", name, size)
        known = self._known.get(key)
        return self._add(Whole(name), upright(ORIGIN, size), key) if known is None else known

    def lay(self, number: int, turn: Fraction, low: Point) -> Lying:
        """A part turned by quarters, its bounding box at `low`."""
        own = tuple(turned(p, turn) for p in self._outlines[number])
        first = box(own)[0]
        at = (low[0] - first[0], low[1] - first[1])
        return Lying(
            Placed(number, turn, at), _from_start(tuple((x + at[0], y + at[1]) for x, y in own))
        )

    def join(self, one: Lying, other: Lying, *, outline: Polygon | None = None) -> Lying:
        """Two neighbours sewn along all of the edge they share.

        `outline` is what comes out, if the caller knows it more exactly. Raises ValueError if they
        share none: whoever laid them made a mistake.
        """
        seam, merged = merge(one.outline, other.outline)
        # `one` lies right of the seam. By custom a seam runs to the right, or straight up.
        left, right = other, one
        dx, dy = seam[-1][0] - seam[0][0], seam[-1][1] - seam[0][1]
        if not (dx > SAME or (abs(dx) <= SAME and dy < 0)):
            seam, left, right = tuple(reversed(seam)), one, other
        shown = outline or merged
        low = box(shown)[0]

        def here(p: Point) -> Point:
            return (p[0] - low[0], p[1] - low[1])

        own = tuple(map(here, seam))
        made = Join(
            replace(left.placed, at=here(left.placed.at)),
            replace(right.placed, at=here(right.placed.at)),
            own,
            tuple(pairwise(own)),
            own[1:-1],
        )
        number = self._known.get(made)
        if number is None:
            number = self._add(made, tuple(map(here, shown)), made)
        return Lying(Placed(number, NO_TURN, low), shown)

    def chain(self, row: Sequence[Lying], *, last_outline: Polygon | None = None) -> Lying:
        """A row of neighbours sewn together: pairs first, then pairs of pairs, so that no seam is
        longer than it must be for long and pairs can be chain pieced."""
        left = list(row)
        while len(left) > 1:
            ends = len(left) <= 2
            left = [
                self.join(left[i], left[i + 1], outline=last_outline if ends else None)
                if i + 1 < len(left)
                else left[i]
                for i in range(0, len(left), 2)
            ]
        return left[0]

    def turned_whole(self, lying: Lying, turn: Fraction, outline: Polygon) -> Lying:
        """The field turned as a whole: its last join is made in the turned field, with `outline`,
        whose bounding box begins at (0, 0)."""
        made = self._made.pop()
        self._outlines.pop()
        del self._known[made]
        assert isinstance(made, Join)
        assert lying.placed.part == len(self._made)
        shift = lying.placed.at

        def there(p: Point) -> Point:
            return turned((p[0] + shift[0], p[1] + shift[1]), turn)

        corners = [turned(p, turn) for p in lying.outline]
        low = box(corners)[0]

        def moved(p: Point) -> Point:
            x, y = there(p)
            return (x - low[0], y - low[1])

        def side_of(p: Placed) -> Placed:
            return Placed(p.part, (p.turn + turn) % 1, moved(p.at))

        seam = tuple(map(moved, made.seam))
        left, right = side_of(made.left), side_of(made.right)
        dx, dy = seam[-1][0] - seam[0][0], seam[-1][1] - seam[0][1]
        if not (dx > SAME or (abs(dx) <= SAME and dy < 0)):
            seam, left, right = tuple(reversed(seam)), right, left
        again = Join(left, right, seam, tuple(pairwise(seam)), seam[1:-1])
        return Lying(Placed(self._add(again, outline, again), NO_TURN, ORIGIN), outline)

    def role(self, number: int) -> Role | None:
        """What a leaf is for; None for blocks and joins."""
        return self._roles.get(number)

    def plan(self, top: Lying, rows: Sequence[Sequence[int]] = ()) -> PiecingPlan:
        """The plan of everything that the top is made of; nothing else may have been joined."""
        uses = [0] * len(self._made)
        uses[top.placed.part] = 1
        for number in range(len(self._made) - 1, -1, -1):
            made = self._made[number]
            if isinstance(made, Join):
                for child in (made.left, made.right):
                    uses[child.part] += uses[number]
        parts = tuple(
            Part(made, outline, count)
            for made, outline, count in zip(self._made, self._outlines, uses, strict=True)
        )
        leaves = sum(part.uses for part in parts if not isinstance(part.made, Join))
        kinds = sum(not isinstance(part.made, Join) for part in parts)
        return PiecingPlan(
            parts=parts,
            units=(),
            rows=tuple(map(tuple, rows)),
            rounds=rounds_of(parts, self._framing(parts)),
            patches=leaves,
            sessions_bound=kinds - 1,
            set_in_points=sum(
                len(part.made.set_in) * part.uses for part in parts if isinstance(part.made, Join)
            ),
        )

    def _framing(self, parts: Sequence[Part]) -> frozenset[int]:
        """The joins that put coping on a block."""
        found: set[int] = set()
        for number, part in enumerate(parts):
            if isinstance(part.made, Join):
                sides = [side.part for side in (part.made.left, part.made.right)]
                if all(
                    side in found
                    or isinstance(parts[side].made, Whole)
                    or self._roles.get(side) == "coping"
                    for side in sides
                ) and any(self._roles.get(side) == "coping" for side in sides):
                    found.add(number)
        return frozenset(found)

    def _add(self, made: Made, outline: Polygon, key: object) -> int:
        number = len(self._made)
        self._made.append(made)
        self._outlines.append(outline)
        self._known[key] = number
        return number


def upright(low: Point, high: Point) -> Polygon:
    """The corners of an upright rectangle, clockwise as seen from its upper left one."""
    return (low, (high[0], low[1]), high, (low[0], high[1]))


def merge(one: Polygon, other: Polygon) -> tuple[Polygon, Polygon]:
    """The edge that two neighbours share, and the outline of both together.

    The edge is a polyline in the order of the first one's outline, which lies right of it. Raises
    ValueError if they share no edge, or more than one stretch.

    >>> def square(x: int) -> Polygon:
    ...     return upright((Fraction(x), Fraction(0)), (Fraction(x + 1), Fraction(1)))
    >>> seam, outline = merge(square(0), square(1))
    >>> [(int(x), int(y)) for x, y in seam], len(outline)
    ([(1, 0), (1, 1)], 4)
    """
    boxes = _merged_boxes(one, other)
    if boxes is not None:
        return boxes
    a, b = _with_points(one, other), _with_points(other, one)
    count = len(a)
    meets = [_index(b, p) for p in a]
    # Edge i of a is shared if it runs the other way in b.
    shared = [
        meets[i] is not None
        and meets[(i + 1) % count] is not None
        and meets[i] == (meets[(i + 1) % count] + 1) % len(b)  # type: ignore[operator]
        for i in range(count)
    ]
    starts = [i for i in range(count) if shared[i] and not shared[i - 1]]
    if len(starts) != 1:
        raise ValueError(f"neighbours share {len(starts)} edges")
    start = starts[0]
    length = next(n for n in range(count) if not shared[(start + n) % count])
    seam = [a[(start + n) % count] for n in range(length + 1)]
    end = (start + length) % count
    rest_a = [a[(end + n) % count] for n in range(count - length)]
    first_b = meets[start]
    assert first_b is not None
    rest_b = [b[(first_b + n) % len(b)] for n in range(len(b) - length)]
    outline = corners_only([*rest_a, *rest_b])
    return _straightened(seam), _from_start(outline)


def _merged_boxes(one: Polygon, other: Polygon) -> tuple[Polygon, Polygon] | None:
    """The same for two upright rectangles that share a whole side, as nearly everything in a
    straight setting does; None for others."""
    if not (len(one) == len(other) == 4):
        return None
    (a, b), (_, _), (c, d), _ = one
    (e, f), (_, _), (g, h), _ = other
    if one != upright((a, b), (c, d)) or other != upright((e, f), (g, h)):
        return None
    outline = upright((min(a, e), min(b, f)), (max(c, g), max(d, h)))
    if (b, d) == (f, h):
        if c == e:
            return ((c, b), (c, d)), outline
        if g == a:
            return ((a, d), (a, b)), outline
    if (a, c) == (e, g):
        if d == f:
            return ((c, d), (a, d)), outline
        if h == b:
            return ((a, b), (c, b)), outline
    return None


def _straightened(line: Sequence[Point]) -> Polygon:
    """A polyline without the points at which it runs straight on."""
    inner = (b for a, b, c in zip(line, line[1:], line[2:], strict=False) if side(a, c, b) != 0)
    return (line[0], *inner, line[-1])


def _index(points: Sequence[Point], p: Point) -> int | None:
    return next((i for i, q in enumerate(points) if same_point(p, q)), None)


def _with_points(outline: Polygon, points: Polygon) -> list[Point]:
    """The outline with those of the points that lie on its sides."""
    found: list[Point] = []
    for a, b in zip(outline, (*outline[1:], outline[0]), strict=True):
        found.append(a)
        along = [p for p in points if _between(a, b, p)]
        found += sorted(along, key=lambda p: abs(p[0] - a[0]) + abs(p[1] - a[1]))
    return found


def _between(a: Point, b: Point, p: Point) -> bool:
    if same_point(a, p) or same_point(b, p) or side(a, b, p) != 0:
        return False
    ahead = (p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])
    return 0 < ahead < (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2


def _from_start(outline: Polygon) -> Polygon:
    """The same outline beginning at its upper left corner."""
    start = min(range(len(outline)), key=lambda i: (outline[i][1], outline[i][0]))
    return (*outline[start:], *outline[:start])


def rounds_of(
    parts: Sequence[Part], first: frozenset[int] = frozenset()
) -> tuple[tuple[int, ...], ...]:
    """What can be chain pieced together: the joins by how many are inside one another. The joins in
    `first` are all done before any other."""
    height: list[int] = []
    base = 0
    if first:
        alone = rounds_of([part for i, part in enumerate(parts) if i <= max(first)])
        base = max(n for n, level in enumerate(alone, start=1) if first & set(level))
    for number, part in enumerate(parts):
        match part.made:
            case Join(left, right):
                least = 0 if number in first else base
                height.append(1 + max(height[left.part], height[right.part], least))
            case Finish(of):
                height.append(1 + height[of.part])
            case _:
                height.append(0)
    return tuple(
        tuple(i for i, h in enumerate(height) if h == level)
        for level in range(1, max(height, default=0) + 1)
    )


def leaves_of(plan: PiecingPlan, top: Placed | None = None) -> tuple[tuple[int, Placed], ...]:
    """Every leaf of the plan, strips and blocks, with its number and its place in the top.

    `top` is how the plan's whole lies there, if it is turned: a single block that was.
    """
    sewn = (Join, Finish)
    found = [
        (here.part, here)
        for here in parts_in(plan, top or in_its_frame(plan.whole))
        if not isinstance(plan.parts[here.part].made, sewn)
    ]
    return tuple(found)


def outline_at(plan: PiecingPlan, lying: Placed) -> Polygon:
    """The outline of a part where it lies."""
    return tuple(placed(p, lying.turn, lying.at) for p in plan.parts[lying.part].outline)


def expanded(plan: PiecingPlan, blocks: Mapping[str, PiecingPlan]) -> PiecingPlan:
    """The top with every block's own plan in the place of its `Whole`: one plan from the patches to
    the top, as pressing takes it.

    Parts of different blocks stay apart, for their makers may have fixed different things. A block
    that is not in `blocks` stays a `Whole`; one that was measured keeps its drawn size inside, so
    such a plan is right for press signs, not for sizes.
    """
    parts: list[Part] = []
    number: dict[int, int] = {}

    def again(p: Placed, names: Mapping[int, int]) -> Placed:
        return replace(p, part=names[p.part])

    def taken(part: Part, names: Mapping[int, int], times: int) -> Part:
        made = part.made
        if isinstance(made, Join):
            made = replace(made, left=again(made.left, names), right=again(made.right, names))
        elif isinstance(made, Finish):
            made = replace(made, of=again(made.of, names))
        return Part(made, part.outline, part.uses * times)

    for i, part in enumerate(plan.parts):
        inner = blocks.get(part.made.block) if isinstance(part.made, Whole) else None
        if inner is None:
            parts.append(taken(part, number, 1))
        else:
            names: dict[int, int] = {}
            for j, own in enumerate(inner.parts):
                parts.append(taken(own, names, part.uses))
                names[j] = len(parts) - 1
        number[i] = len(parts) - 1
    whole = tuple(parts)
    return replace(
        plan,
        parts=whole,
        rows=tuple(tuple(number[cell] for cell in row) for row in plan.rows),
        rounds=rounds_of(whole),
        patches=sum(part.uses for part in whole if isinstance(part.made, Leaf | Whole)),
        sessions_bound=sum(isinstance(part.made, Leaf | Whole) for part in whole) - 1,
    )
