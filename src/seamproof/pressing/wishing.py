"""The wishes that are no matter of layers: seams that nest, dark cloth, the usual rules, the next
block. Each is a sum of terms over the choices."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from seamproof.piecing.model import PiecingPlan
from seamproof.pressing.choices import Run, seen_along
from seamproof.pressing.choosing import Term
from seamproof.pressing.meetings import Crossing, Meeting, Rim, Stem
from seamproof.pressing.tables import LEFT, OPEN, RIGHT, SPUN, SPUN_BACK

SHADES = {
    "light": 0,
    "light-medium": 1,
    "medium-light": 1,
    "medium": 2,
    "medium-dark": 3,
    "dark": 4,
}
"""How dark a cloth is."""


@dataclass(frozen=True, slots=True)
class Seams:
    """What wishes look at: the runs of a plan, what meets along each, the block's edge, and the
    ways that each choice may take."""

    plan: PiecingPlan
    runs: tuple[Run, ...]
    meetings: tuple[Meeting, ...]
    rim: Rim
    ways: tuple[tuple[int, ...], ...]

    def copies(self, k: int) -> int:
        """How often run k is in a block."""
        return self.plan.parts[self.runs[k].part].uses

    def turns(self, k: int) -> int:
        """How many crossings of run k can be spun."""
        return len(spinnable(self.meetings[k]))


def spinnable(meeting: Meeting) -> tuple[Crossing, ...]:
    """The crossings of a run at which its allowances may change over: seams end on both sides and
    the run goes on."""
    return tuple(c for c in meeting.crossings if c.inside and c.left and c.right)


def lying(seams: Seams, stem: Stem, way: int) -> int:
    """How the allowances of a stem lie at its end, under a way of its choice: 0 open, -1 left and
    1 right as seen by somebody who walks away from that end."""
    if way == OPEN:
        return 0
    run = seams.runs[stem.run]
    if way in (LEFT, RIGHT):
        return -1 if seen_along(way, run.against != (not stem.outbound)) == LEFT else 1
    # Clockwise from the back, the vanes lie left of whoever walks away from the crossing, so right
    # of whoever walks up to it. From crossing to crossing the turn changes.
    turn = 1 if way == SPUN else -1
    outbound = stem.outbound != run.against
    if not outbound and seams.turns(stem.run) % 2 == 0:
        turn = -turn
    return turn


def _term(seams: Seams, choices: Sequence[int], cost: Callable[[Mapping[int, int]], float]) -> Term:
    """A term over some choices from what each combination of their ways costs."""
    scope = tuple(sorted(set(choices)))
    ways = tuple(seams.ways[c] for c in scope)
    costs = [cost(dict(zip(scope, plan, strict=True))) for plan in itertools.product(*ways)]
    return Term(scope, ways, np.array(costs, dtype=float))


def matched(meeting: Meeting) -> tuple[Crossing, ...]:
    """The crossings of a run at which seams on both sides must match."""
    return tuple(c for c in meeting.crossings if c.inside and c.pairs)


def nests(
    seams: Seams,
    crossing: Crossing,
    along: tuple[float, float],
    plan: Mapping[int, int] | Sequence[int],
) -> bool:
    """Whether all seams that must match at a crossing lock: their allowances lie opposite ways
    along the seam that is sewn over them."""
    return all(_locked(seams, one, other, along, plan) for one, other in crossing.pairs)


def _locked(
    seams: Seams,
    one: Stem,
    other: Stem,
    along: tuple[float, float],
    plan: Mapping[int, int] | Sequence[int],
) -> bool:
    sides = []
    for stem in (one, other):
        lies = lying(seams, stem, plan[seams.runs[stem.run].choice])
        # To the right of somebody who walks along (x, y) is (-y, x).
        sides.append(lies * (-stem.away[1] * along[0] + stem.away[0] * along[1]))
    return sides[0] * sides[1] < 0


def direction(run: Run) -> tuple[float, float]:
    """Where a run is stitched to (not of unit length)."""
    (ax, ay), (bx, by) = run.line
    return float(bx - ax), float(by - ay)


def nesting(seams: Seams) -> tuple[Term, ...]:
    """Costs 1 for every crossing of the block that does not nest."""
    found = []
    for k, meeting in enumerate(seams.meetings):
        along = direction(seams.runs[k])
        for crossing in matched(meeting):
            choices = [seams.runs[s.run].choice for pair in crossing.pairs for s in pair]

            def cost(
                plan: Mapping[int, int],
                crossing: Crossing = crossing,
                along: tuple[float, float] = along,
                copies: int = seams.copies(k),
            ) -> float:
                return 0 if nests(seams, crossing, along, plan) else copies

            found.append(_term(seams, choices, cost))
    return tuple(found)


def spinning(seams: Seams) -> tuple[Term, ...]:
    """Costs 1 where a crossing shall be spun but the seams that end there do not lie round it the
    same way; such plans cannot be pressed."""
    found = []
    for k, meeting in enumerate(seams.meetings):
        run = seams.runs[k]
        if SPUN not in seams.ways[run.choice]:
            continue
        for number, crossing in enumerate(spinnable(meeting)):
            stems = (*crossing.left, *crossing.right)

            def cost(
                plan: Mapping[int, int],
                stems: tuple[Stem, ...] = stems,
                run: Run = run,
                number: int = number,
                count: int = seams.turns(k),
            ) -> float:
                way = plan[run.choice]
                if way not in (SPUN, SPUN_BACK):
                    return 0
                clockwise = (way == SPUN) == (
                    (count - 1 - number if run.against else number) % 2 == 0
                )
                want = -1 if clockwise else 1
                return 0 if all(_lies(seams, s, plan) == want for s in stems) else 1

            choices = [run.choice, *(seams.runs[s.run].choice for s in stems)]
            found.append(_term(seams, choices, cost))
    return tuple(found)


def _lies(seams: Seams, stem: Stem, plan: Mapping[int, int]) -> int:
    return lying(seams, stem, plan[seams.runs[stem.run].choice])


def darkness(seams: Seams, values: Mapping[str, str]) -> tuple[Term, ...]:
    """Costs the inches of seam at which darker cloth lies behind lighter; cloth without a value is
    neither."""
    found = []
    for k, meeting in enumerate(seams.meetings):
        shadow = {OPEN: 0.0, **dict(zip((LEFT, RIGHT), shadows(meeting, values), strict=True))}
        shadow[SPUN] = shadow[SPUN_BACK] = (shadow[LEFT] + shadow[RIGHT]) / 2
        run = seams.runs[k]
        if shadow[LEFT] or shadow[RIGHT]:

            def cost(
                plan: Mapping[int, int],
                run: Run = run,
                shadow: Mapping[int, float] = shadow,
                copies: int = seams.copies(k),
            ) -> float:
                return copies * shadow[seen_along(plan[run.choice], run.against)]

            found.append(_term(seams, [run.choice], cost))
    return tuple(found)


def shadows(meeting: Meeting, values: Mapping[str, str]) -> tuple[float, float]:
    """The inches of a run at which darker cloth would lie behind lighter if it were pressed to the
    left, and to the right."""
    left = right = 0.0
    for stretch in meeting.stretches:
        one, other = values.get(stretch.left), values.get(stretch.right)
        if one is None or other is None:
            continue
        if SHADES[other] > SHADES[one]:
            left += stretch.length
        elif SHADES[one] > SHADES[other]:
            right += stretch.length
    return left, right


def departures(seams: Seams, usual: Sequence[int]) -> tuple[Term, ...]:
    """Costs 1 for every choice that departs from the usual rule."""
    return tuple(
        Term((c,), (ways,), np.array([float(way != usual[c]) for way in ways]))
        for c, ways in enumerate(seams.ways)
    )


def neighbours(seams: Seams) -> tuple[Term, ...]:
    """Costs 1 for every seam that meets its like across the edge to the next block, all blocks
    alike and the same way up, and does not nest with it."""
    xs = [x for side in seams.rim.sides for x, _ in (side.start, side.end)]
    ys = [y for side in seams.rim.sides for _, y in (side.start, side.end)]
    if not xs:
        return ()
    found = []
    for axis, low, high in ((0, min(xs), max(xs)), (1, min(ys), max(ys))):
        along = (0.0, 1.0) if axis == 0 else (1.0, 0.0)
        before = [s for s in seams.rim.stems if abs(s.at[axis] - low) < 1e-4]
        after = [s for s in seams.rim.stems if abs(s.at[axis] - high) < 1e-4]
        places = sorted({round(s.at[1 - axis], 4) for s in (*before, *after)})
        for place in places:
            crossing = Crossing(
                (0.0, 0.0),
                tuple(s for s in after if abs(s.at[1 - axis] - place) < 1e-3),
                tuple(s for s in before if abs(s.at[1 - axis] - place) < 1e-3),
                True,
            )
            for one, other in crossing.pairs:

                def cost(
                    plan: Mapping[int, int],
                    pair: tuple[Stem, Stem] = (one, other),
                    along: tuple[float, float] = along,
                ) -> float:
                    return 0 if _locked(seams, *pair, along, plan) else 1

                choices = [seams.runs[s.run].choice for s in (one, other)]
                found.append(_term(seams, choices, cost))
    return tuple(found)
