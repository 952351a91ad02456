"""Press signs on the seams of a part, wherever its parts lie."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from fractions import Fraction

from seamproof.drawing.scene import PressSign, SpinSign, Spot
from seamproof.figures.cloth import spots
from seamproof.piecing.leaves import all_leaves, within
from seamproof.piecing.model import Finish, Join, PiecingPlan
from seamproof.plane.model import Placed
from seamproof.plane.predicates import placed
from seamproof.pressing.model import Press, Way

NEAR = 1e-4
"""Inches; far less than any cloth is apart."""

Sign = PressSign | SpinSign

_OTHER: dict[Way, Way] = {"open": "open", "left": "right", "right": "left"}


def press_signs(plan: PiecingPlan, part: int, presses: Sequence[Press]) -> tuple[Sign, ...]:
    """The signs of every seam within a part, in its own frame, seen from the front: one on each
    stretch between two crossings, and a hook round each spun crossing.

    The longest stretch of a run bears its sign however small it is drawn. Presses of other parts
    are passed over.
    """
    here = Placed(part, Fraction(0), (Fraction(0), Fraction(0)))
    corners = [p for leaf in all_leaves(plan, part) for p in spots(leaf.corners)]
    return tuple(_gone_on(_all_within(plan, here, presses), corners))


def own_signs(plan: PiecingPlan, part: int, presses: Sequence[Press]) -> tuple[Sign, ...]:
    """The signs of the seam that gives a part, in the part's frame, seen from the front: one for
    each run, or for each stretch of it that lies differently."""
    found: list[Sign] = []
    for press in presses:
        if press.part == part:
            line = spots(_lines(plan, part)[press.run])
            found += _signs(line, spots(press.spun), press.way, spots(press.spun))
    return tuple(found)


def meeting_signs(
    plan: PiecingPlan, child: Placed, presses: Sequence[Press], seam: Sequence[tuple[Spot, Spot]]
) -> tuple[PressSign, ...]:
    """The signs within a placed part that stand next to a seam: those of the seams that end on it
    and must nest or match there."""
    return tuple(
        sign
        for sign in _all_within(plan, child, presses)
        if isinstance(sign, PressSign)
        and any(_on(line, end) for line in seam for end in (sign.start, sign.end))
    )


def from_the_back(sign: Sign, mirrored: Callable[[Spot], Spot]) -> Sign:
    """A sign as it is seen from the back; `mirrored` changes left and right over.

    >>> from_the_back(PressSign((0, 0), (0, 4), "left"), lambda p: (-p[0], p[1])).way
    'right'
    """
    if isinstance(sign, SpinSign):
        return SpinSign(mirrored(sign.at), not sign.clockwise)
    return PressSign(mirrored(sign.start), mirrored(sign.end), _OTHER[sign.way], sign.needed)


def _all_within(plan: PiecingPlan, outer: Placed, presses: Sequence[Press]) -> Iterator[Sign]:
    of_part: dict[int, list[Press]] = {}
    for press in presses:
        of_part.setdefault(press.part, []).append(press)
    todo = [outer]
    while todo:
        here = todo.pop()
        made = plan.parts[here.part].made
        if isinstance(made, Join):
            todo += [within(made.right, here), within(made.left, here)]
        elif isinstance(made, Finish):
            todo.append(within(made.of, here))
        else:
            continue
        corners = [p for leaf in all_leaves(plan, here.part) for p in spots(leaf.corners)]
        for press in of_part.get(here.part, ()):
            line = spots(_lines(plan, here.part)[press.run])
            for sign in _signs(line, corners, press.way, spots(press.spun)):
                yield _put(sign, here)


def _gone_on(signs: Iterable[Sign], corners: Sequence[Spot]) -> Iterator[Sign]:
    """One sign for a stretch that is sewn in two goes: the first stops where no patch ends."""
    waiting: list[PressSign] = []
    for sign in signs:
        if isinstance(sign, SpinSign):
            yield sign
            continue
        for other in waiting:
            if (found := _joined(other, sign, corners)) is not None:
                waiting.remove(other)
                yield found
                break
        else:
            if all(_a_corner(end, corners) for end in (sign.start, sign.end)):
                yield sign
            else:
                waiting.append(sign)
    yield from waiting


def _joined(one: PressSign, other: PressSign, corners: Sequence[Spot]) -> PressSign | None:
    """Both as one if they go on from each other."""
    for a, b in ((one.start, one.end), (one.end, one.start)):
        for c, d in ((other.start, other.end), (other.end, other.start)):
            if math.dist(b, c) <= NEAR and not _a_corner(b, corners):
                way = one.way if b == one.end else _OTHER[one.way]
                return PressSign(a, d, way, one.needed or other.needed)
    return None


def _a_corner(p: Spot, corners: Sequence[Spot]) -> bool:
    return any(math.dist(p, corner) <= NEAR for corner in corners)


def _lines(plan: PiecingPlan, part: int) -> Sequence[tuple[tuple[Fraction, Fraction], ...]]:
    made = plan.parts[part].made
    if isinstance(made, Join):
        return made.sewn
    if isinstance(made, Finish):
        return made.seam
    raise TypeError(f"part {part} is not sewn")


def _signs(
    line: Sequence[Spot], corners: Sequence[Spot], way: Way, spun: Sequence[Spot]
) -> Iterator[Sign]:
    """The signs of one run, parted at the corners on it; its allowances change over at `spun`."""
    a, b = line[0], line[-1]
    ends = [a]
    for p in sorted(
        (p for p in (*corners, *spun) if _on((a, b), p)), key=lambda p: math.dist(a, p)
    ):
        # Corners that meet are the same but for their last digits.
        if math.dist(ends[-1], p) > NEAR and math.dist(p, b) > NEAR:
            ends.append(p)
    ends.append(b)
    lengths = [math.dist(p, q) for p, q in itertools.pairwise(ends)]
    longest = lengths.index(max(lengths))
    for k, (p, q) in enumerate(itertools.pairwise(ends)):
        if any(math.dist(p, at) <= NEAR for at in spun):
            way = _OTHER[way]
        yield PressSign(p, q, way, needed=k == longest)
        if any(math.dist(q, at) <= NEAR for at in spun):
            # Who walks up to a crossing that is spun clockwise, as seen from the front, has the
            # vane on the left.
            yield SpinSign(q, way == "left")


def _on(line: Sequence[Spot], p: Spot) -> bool:
    (ax, ay), (bx, by) = line
    length = math.dist(line[0], line[-1])
    along = ((p[0] - ax) * (bx - ax) + (p[1] - ay) * (by - ay)) / length
    off = ((bx - ax) * (p[1] - ay) - (by - ay) * (p[0] - ax)) / length
    return abs(off) <= NEAR and -NEAR <= along <= length + NEAR


def _put(sign: Sign, here: Placed) -> Sign:
    def to(spot: Spot) -> Spot:
        x, y = placed((Fraction(spot[0]), Fraction(spot[1])), here.turn, here.at)
        return (float(x), float(y))

    if isinstance(sign, SpinSign):
        return SpinSign(to(sign.at), sign.clockwise)
    return PressSign(to(sign.start), to(sign.end), sign.way, sign.needed)
