"""Which way the seams of the setting are pressed: by the usual rules of the trade.

A seam goes where there is less bulk: to the sashing, away from the blocks and the cornerstones;
to the setting triangles, to the plain blocks, out to coping and borders. What is alike on both
sides is pressed so that it nests: blocks in one row to the right, in the next to the left; long
seams between rows all one way. Mitres lie open. All of it is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from seamproof.piecing.model import Join, PiecingPlan, Whole
from seamproof.pressing.choices import runs
from seamproof.pressing.meetings import Stretch, meetings
from seamproof.pressing.tables import LEFT, OPEN, RIGHT
from seamproof.setting.model import Role

Rule = Literal["less bulk", "rows alternate", "one way", "mitre", "open"]
"""Why a seam is pressed as it is. "open": the usual rules lay too many layers somewhere."""

BULK: Mapping[Role | Literal["block"], int] = {
    "corner square": 0,
    "cornerstone": 0,
    "block": 1,
    "border unit": 1,
    "plain block": 2,
    "coping": 3,
    "setting triangle": 4,
    "corner triangle": 4,
    "end piece": 4,
    "sash": 5,
    "spacer": 6,
    "border": 7,
}
"""A seam between two of these is pressed to the one with the greater number."""


@dataclass(frozen=True, slots=True)
class SetPress:
    """How one run of the setting is pressed: `way` as in :mod:`seamproof.pressing.tables`, seen
    along the run. `towards` says it in words: what it lies on, a direction, or open. `ditch` says
    on which side nothing lies; None if it lies open."""

    part: int
    way: int
    towards: str
    rule: Rule
    ditch: str | None = None


def presses(
    plan: PiecingPlan, roles: Mapping[int, Role], odd: frozenset[str] = frozenset()
) -> tuple[SetPress, ...]:
    """One press for every run of a top's plan, in its order. `odd` are the names of blocks that are
    set in every other row only."""
    listed = runs(plan)
    met, _ = meetings(plan, listed)
    holds = _rows(plan, odd)
    found = []
    for run, meeting in zip(listed, met, strict=True):
        made = plan.parts[run.part].made
        assert isinstance(made, Join)
        sides = (holds[made.left.part], holds[made.right.part])
        more = sum(stretch.length * _sign(stretch, roles) for stretch in meeting.stretches)
        if not more and not made.set_in and bool(sides[0]) != bool(sides[1]):
            more = 1.0 if sides[0] else -1.0
        if more:
            to_right = more > 0
            said = f"to the {_most(meeting.stretches, roles, right=to_right)}"
            low = f"the {_most(meeting.stretches, roles, right=not to_right)}"
            way = RIGHT if to_right else LEFT
            found.append(SetPress(run.part, way, said, "less bulk", low))
        elif made.set_in:
            found.append(SetPress(run.part, OPEN, "mitre open", "mitre"))
        else:
            (ax, ay), (bx, by) = run.line
            level = abs(bx - ax) > abs(by - ay)
            in_rows = sides[0] | sides[1]
            back = in_rows == {True}
            words = ("up", "down") if level else ("to the left", "to the right")
            # Of a seam from left to right, or straight up, the left side is the upper or the left.
            sides_ = ("the upper row", "the lower row") if level else ("the left", "the right")
            rule: Rule = "one way" if level or not in_rows else "rows alternate"
            way = LEFT if back and not level else RIGHT
            low = sides_[way == LEFT]
            found.append(SetPress(run.part, way, words[way == RIGHT], rule, low))
    return tuple(found)


def alternating(plan: PiecingPlan, roles: Mapping[int, Role]) -> bool:
    """Whether rows of blocks have to be pressed in turn."""
    return any(press.rule == "rows alternate" for press in presses(plan, roles))


def _rows(plan: PiecingPlan, odd: frozenset[str]) -> list[set[bool]]:
    """Per part whether it has blocks of odd rows in it, of even ones, of both, or none."""
    found: list[set[bool]] = []
    for part in plan.parts:
        match part.made:
            case Join(left, right):
                found.append(found[left.part] | found[right.part])
            case Whole(block):
                found.append({block in odd})
            case _:
                found.append(set())
    return found


def _role(leaf: int, roles: Mapping[int, Role]) -> Role | Literal["block"]:
    return roles.get(leaf, "block")


def _sign(stretch: Stretch, roles: Mapping[int, Role]) -> int:
    """1 if the right side has less bulk, -1 if the left has, 0 if they are alike."""
    left, right = (BULK[_role(leaf, roles)] for leaf in stretch.leaves)
    return (right > left) - (right < left)


def _most(stretches: tuple[Stretch, ...], roles: Mapping[int, Role], *, right: bool) -> str:
    """The name of what lies along most of one side of a seam."""
    length: dict[str, float] = {}
    for stretch in stretches:
        role = _role(stretch.leaves[right], roles)
        length[role] = length.get(role, 0.0) + stretch.length
    return max(length, key=lambda role: length[role])
