"""How the seams that run to a block's edge lie there: what its neighbour must nest with."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from seamproof.piecing.model import PiecingPlan
from seamproof.pressing.plans import seams_of
from seamproof.pressing.tables import LEFT, RIGHT, SPUN, SPUN_BACK
from seamproof.pressing.wishing import Seams, lying

Spot = tuple[float, float]


def edge_ends(plan: PiecingPlan, ways: Sequence[int]) -> Iterator[tuple[Spot, Spot]]:
    """Where seams end on the block's edge, and the direction in which their allowances lie there:
    a unit vector across the seam, (0, 0) if they lie open. `ways`: one per choice."""
    seams = seams_of(plan, ())
    for stem in seams.rim.stems:
        lies = lying(seams, stem, ways[seams.runs[stem.run].choice])
        # To the right of somebody who walks along (x, y) is (-y, x).
        yield stem.at, (-stem.away[1] * lies + 0.0, stem.away[0] * lies + 0.0)


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
