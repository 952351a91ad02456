"""Why a seam lies as it does, in one sentence that a student can follow."""

from __future__ import annotations

from collections.abc import Sequence

from seamproof.pressing.choosing import Aim, Sum, Term, Worst, value
from seamproof.pressing.tables import OPEN, SPUN, SPUN_BACK, Table
from seamproof.pressing.usual import Usual
from seamproof.pressing.wishing import Seams

COUNTED = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
"""Small numbers in words."""

BY_AREA = ("limit", "thick area")
"""Aims in square inches, whose gain is told in layers if there is one."""

MANY = 6
"""From so many points on, the points are the reason that is named."""

SAID = {
    "nest": "opposite to its neighbour, so that the two nest",
    "to-the-dark-side": "so that dark cloth does not lie behind light",
    "neighbour": "so that it nests with the next block",
    "few-rules": "so that there are fewer exceptions to remember",
}
"""What a seam gains for a wish that is no matter of layers."""

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
    shares = [_shared(aim) for aim in aims]
    points = points_meeting(seams)
    by_choice = []
    for choice in range(len(seams.ways)):
        if choice in fixed:
            by_choice.append(FIXED)
        elif plan[choice] == usual[choice].way:
            says = usual[choice].rule.says
            by_choice.append(f"{says[0].upper()}{says[1:]}.")
        else:
            mine = [share.get(choice) for share in shares]
            many = points.get(choice, 0)
            by_choice.append(_departure(aims, mine, usual[choice], plan, choice, many))
    return tuple(by_choice[run.choice] for run in seams.runs)


def points_meeting(seams: Seams) -> dict[int, int]:
    """Per choice the most patches that meet at a place that its seam runs through or to."""
    most: dict[int, int] = {}
    for k, meeting in enumerate(seams.meetings):
        for crossing in meeting.crossings:
            stems = (*crossing.left, *crossing.right)
            # Where a seam runs on, it counts as two: one to the place and one from it.
            count = len(stems) + (2 if crossing.inside else 1)
            for choice in {seams.runs[k].choice, *(seams.runs[s.run].choice for s in stems)}:
                most[choice] = max(most.get(choice, 0), count)
    return most


def _shared(aim: Aim) -> dict[int, Aim]:
    """Per choice what of an aim it has a say in."""
    if isinstance(aim, Worst):
        tables: dict[int, list[Table]] = {}
        for table in aim.tables:
            for choice in table.seams:
                tables.setdefault(choice, []).append(table)
        return {choice: Worst(aim.name, tuple(mine)) for choice, mine in tables.items()}
    terms: dict[int, list[Term]] = {}
    for term in aim.terms:
        for choice in term.seams:
            terms.setdefault(choice, []).append(term)
    return {choice: Sum(aim.name, tuple(mine), aim.parts) for choice, mine in terms.items()}


def _departure(
    aims: Sequence[Aim],
    mine: Sequence[Aim | None],
    usual: Usual,
    plan: Sequence[int],
    choice: int,
    points: int,
) -> str:
    way = plan[choice]
    how = "Open" if way == OPEN else "Spun" if way in (SPUN, SPUN_BACK) else "To one side"
    instead = f"the usual way is {usual.rule.says.split(',', maxsplit=1)[0]}"
    if how == "Spun":
        return f"{how}, so that the crossing lies flat; {instead}."
    return f"{how}, {_gain(aims, mine, usual, plan, choice, points)}; {instead}."


def _gain(
    aims: Sequence[Aim],
    mine: Sequence[Aim | None],
    usual: Usual,
    plan: Sequence[int],
    choice: int,
    points: int,
) -> str:
    """What the first wish that minds would lose by the usual way."""
    other = list(plan)
    other[choice] = usual.way
    flat = next((share for share in mine if isinstance(share, Worst)), None)
    for aim, share in zip(aims, mine, strict=True):
        if share is None:
            continue
        now, then = value(share, plan), value(share, other)
        if then <= now or (isinstance(aim, Worst) and value(aim, plan) >= value(aim, other)):
            continue
        if aim.name in BY_AREA and flat is not None:
            layers = value(flat, plan), value(flat, other)
            if layers[0] < layers[1]:
                return _layers(layers, plan[choice] == OPEN, points)
        if isinstance(aim, Worst):
            return _layers((now, then), plan[choice] == OPEN, points)
        if aim.name in SAID:
            return SAID[aim.name]
        what = "above the limit" if aim.name == "limit" else "thick"
        return f"so that {then - now:.3f} sq in less of the block are {what}"
    return "to go with the seams beside it: changed alone it would gain nothing"


def _layers(layers: tuple[float, float], is_open: bool, points: int) -> str:
    now, then = layers
    if is_open and points >= MANY:
        many = COUNTED[points] if points < len(COUNTED) else str(points)
        return f"because {many} points meet here: {now:.0f} layers instead of {then:.0f}"
    return f"so that {now:.0f} layers lie there instead of {then:.0f}"
