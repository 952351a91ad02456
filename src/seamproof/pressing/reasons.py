"""Why a seam lies as it does, in one sentence that a student can follow."""

from __future__ import annotations

from collections.abc import Sequence

from seamproof.pressing.choosing import Aim, Worst, value
from seamproof.pressing.tables import OPEN, SPUN, SPUN_BACK
from seamproof.pressing.usual import Usual
from seamproof.pressing.wishing import Seams

COUNTED = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
"""Small numbers in words."""

BY_AREA = ("limit", "thick area")
"""Aims in square inches, whose gain is told in layers if there is one."""

FIXED = "As you fixed it."


def reasons(
    seams: Seams,
    aims: Sequence[Aim],
    usual: Sequence[Usual],
    plan: Sequence[int],
    fixed: frozenset[int] = frozenset(),
) -> tuple[str, ...]:
    """One sentence for every run.

    A seam that follows the usual rule says so; any other says what the usual way would cost, tried
    out with all other seams left as they are, and what the rule is.
    """
    by_choice = [
        FIXED if c in fixed else _reason(seams, aims, usual[c], plan, c)
        for c in range(len(seams.ways))
    ]
    return tuple(by_choice[run.choice] for run in seams.runs)


def points_meeting(seams: Seams, choice: int) -> int:
    """The most patches that meet at a place that the seam runs through or to."""
    most = 0
    for k, meeting in enumerate(seams.meetings):
        for crossing in meeting.crossings:
            stems = (*crossing.left, *crossing.right)
            known = {seams.runs[s.run].choice for s in stems} | {seams.runs[k].choice}
            if choice in known:
                # Where a seam runs on, it counts as two: one to the place and one from it.
                most = max(most, len(stems) + (2 if crossing.inside else 1))
    return most


def _reason(
    seams: Seams, aims: Sequence[Aim], usual: Usual, plan: Sequence[int], choice: int
) -> str:
    way = plan[choice]
    how = "Open" if way == OPEN else "Spun" if way in (SPUN, SPUN_BACK) else "To one side"
    if way == usual.way:
        says = usual.rule.says
        return f"{says[0].upper()}{says[1:]}."
    instead = f"the usual way is {usual.rule.says.split(',')[0]}"
    if way in (SPUN, SPUN_BACK):
        why = "so that the crossing lies flat"
    else:
        why = _gain(seams, aims, usual, plan, choice)
    return f"{how}, {why}; {instead}."


def _gain(seams: Seams, aims: Sequence[Aim], usual: Usual, plan: Sequence[int], choice: int) -> str:
    """What the first wish that minds would lose by the usual way."""
    other = list(plan)
    other[choice] = usual.way
    for aim in aims:
        mine = _about(aim, choice)
        now, then = value(mine, plan), value(mine, other)
        if isinstance(mine, Worst) and value(aim, plan) >= value(aim, other):
            continue
        if then > now:
            layers = _layers(aims, choice)
            if aim.name not in BY_AREA or layers is None:
                return _sentence(seams, aim, (now, then), plan, choice)
            fewer = value(layers, plan), value(layers, other)
            if fewer[0] < fewer[1]:
                return _sentence(seams, layers, fewer, plan, choice)
            return _sentence(seams, aim, (now, then), plan, choice)
    return "to go with the seams beside it: changed alone it would gain nothing"


def _layers(aims: Sequence[Aim], choice: int) -> Aim | None:
    """What a choice has to say in how many layers lie at the worst place."""
    flat = next((aim for aim in aims if isinstance(aim, Worst)), None)
    return None if flat is None else _about(flat, choice)


def _about(aim: Aim, choice: int) -> Aim:
    """What of an aim a choice has a say in."""
    if isinstance(aim, Worst):
        return Worst(aim.name, tuple(t for t in aim.tables if choice in t.seams))
    kept = tuple(t for t in aim.terms if choice in t.seams)
    return type(aim)(aim.name, kept, aim.parts)


def _sentence(
    seams: Seams,
    aim: Aim,
    values: tuple[float, float],
    plan: Sequence[int],
    choice: int,
) -> str:
    now, then = values
    if aim.name == "flat":
        points = points_meeting(seams, choice)
        if plan[choice] == OPEN and points >= 6:
            many = COUNTED[points] if points < len(COUNTED) else str(points)
            return f"because {many} points meet here: {now:.0f} layers instead of {then:.0f}"
        return f"so that {now:.0f} layers lie there instead of {then:.0f}"
    if aim.name == "nest":
        return "opposite to its neighbour, so that the two nest"
    if aim.name == "to-the-dark-side":
        return "so that dark cloth does not lie behind light"
    if aim.name == "neighbour":
        return "so that it nests with the next block"
    if aim.name == "few-rules":
        return "so that there are fewer exceptions to remember"
    what = "above the limit" if aim.name == "limit" else "thick"
    return f"so that {then - now:.3f} sq in less of the block are {what}"
