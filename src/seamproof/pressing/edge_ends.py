"""How the seams that run to a block's edge lie there: what its neighbour must nest with."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from seamproof.piecing.model import PiecingPlan
from seamproof.pressing.meetings import NEAR
from seamproof.pressing.plans import seams_of
from seamproof.pressing.tables import LEFT, RIGHT, SPUN, SPUN_BACK
from seamproof.pressing.wishing import Seams, lying

Spot = tuple[float, float]


def edge_ends(plan: PiecingPlan, ways: Sequence[int]) -> Iterator[tuple[Spot, Spot, Spot]]:
    """Where seams end on the sides of a block, not at its corners; the direction in which each goes
    away from there, and that in which its allowances lie, across the seam: unit vectors, (0, 0) if
    they lie open. `ways`: one per choice."""
    seams = seams_of(plan, ())
    corners = [(float(x), float(y)) for x, y in plan.parts[plan.whole].outline]
    for stem in seams.rim.stems:
        if any(math.dist(stem.at, corner) <= NEAR for corner in corners):
            continue
        lies = lying(seams, stem, ways[seams.runs[stem.run].choice])
        # To the right of somebody who walks along (x, y) is (-y, x).
        yield stem.at, stem.away, (-stem.away[1] * lies + 0.0, stem.away[0] * lies + 0.0)


def other_way(
    seams: Seams, ways: Sequence[Sequence[int]], plan: Sequence[int]
) -> tuple[tuple[int, ...], ...]:
    """The ways that are left once every seam at the block's edge has to lie the other way than in a
    plan; what may not, or lies open, stays as it is."""
    turn = {LEFT: RIGHT, RIGHT: LEFT, SPUN: SPUN_BACK, SPUN_BACK: SPUN}
    edge = {seams.runs[stem.run].choice for stem in seams.rim.stems}
    found = []
    for choice, known in enumerate(ways):
        other = turn.get(plan[choice], plan[choice])
        found.append((other if other in known else plan[choice],) if choice in edge else (*known,))
    return tuple(found)
