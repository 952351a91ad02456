"""Seams in two goes: where the one that is finished was begun."""

from __future__ import annotations

from seamproof.piecing.leaves import parts_in
from seamproof.piecing.model import Finish, Join, PiecingPlan
from seamproof.plane.predicates import placed, same_point


def begun(plan: PiecingPlan, part: int) -> int | None:
    """The number of the join in which the seam that part `part` finishes was begun: the one that
    was stopped where this one goes on.

    None if nothing of it was sewn before: where a seam is stopped twice and finished in its middle,
    another one is sewn whole between patches that hang together already. Raises ValueError if the
    part finishes no seam.
    """
    made = plan.parts[part].made
    if not isinstance(made, Finish):
        raise ValueError(f"part {part} finishes no seam")
    ends = (made.seam[0][0], made.seam[-1][1])
    for here in parts_in(plan, made.of):
        join = plan.parts[here.part].made
        if isinstance(join, Join) and join.partial:
            stops = (join.sewn[0][0], join.sewn[-1][1])
            there = [placed(p, here.turn, here.at) for p in stops]
            if any(same_point(p, q) for p in there for q in ends):
                return here.part
    return None
