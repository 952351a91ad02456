"""What meets along a seam when it is sewn: patches on either side, and seams that end there.

Each part is looked at once. It shows the next one its *rim*: the sides of patches along its edge,
and the *stems*, seams that run to its edge. Sewing a run uses up what lies along it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from seamproof.length.rounding import SAME
from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan, Whole
from seamproof.plane.model import Placed
from seamproof.pressing.choices import Run

Spot = tuple[float, float]

NEAR = 4 * float(SAME)
"""Points of turned parts are one if they lie no farther apart, in inches."""


@dataclass(frozen=True, slots=True)
class Side:
    """A stretch of a patch's side on the rim, the patch lying right of it: from `start` to `end`,
    of which `fabric`, and the number of its leaf."""

    start: Spot
    end: Spot
    fabric: str
    leaf: int


@dataclass(frozen=True, slots=True)
class Stem:
    """A seam that ends on the rim at `at` and goes `away` from there (a unit vector). `run` numbers
    its run among all runs; `outbound` tells that the run is stitched away from here."""

    at: Spot
    away: Spot
    run: int
    outbound: bool


@dataclass(frozen=True, slots=True)
class Crossing:
    """A place on a run at which seams end: `left` and `right` of it, in its direction. `at` is in
    the frame of the part, `inside` tells that it is not an end of the run."""

    at: Spot
    left: tuple[Stem, ...]
    right: tuple[Stem, ...]
    inside: bool

    @property
    def pairs(self) -> tuple[tuple[Stem, Stem], ...]:
        """The seams that must match, one from each side: those that run straight on into each
        other; or the only one on either side."""
        straight = tuple(
            (one, other)
            for one in self.left
            for other in self.right
            if one.away[0] * other.away[0] + one.away[1] * other.away[1] < -1 + NEAR
        )
        if not straight and len(self.left) == len(self.right) == 1:
            return ((self.left[0], self.right[0]),)
        return straight


@dataclass(frozen=True, slots=True)
class Stretch:
    """Inches of a run with the fabrics (and leaves) left and right of it."""

    length: float
    left: str
    right: str
    leaves: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Meeting:
    """What meets along one run, in its direction."""

    stretches: tuple[Stretch, ...]
    crossings: tuple[Crossing, ...]


@dataclass(frozen=True, slots=True)
class Rim:
    """What a part shows along its edge."""

    sides: tuple[Side, ...]
    stems: tuple[Stem, ...]


def meetings(plan: PiecingPlan, runs: Sequence[Run]) -> tuple[tuple[Meeting, ...], Rim]:
    """What meets along every run, and the rim of the last part: the block's edge."""
    of_part: dict[int, list[int]] = {}
    for k, run in enumerate(runs):
        of_part.setdefault(run.part, []).append(k)
    rims: list[Rim] = []
    found: dict[int, Meeting] = {}
    for number, part in enumerate(plan.parts):
        match part.made:
            case Leaf(fabric, corners):
                spots = [(float(x), float(y)) for x, y in corners]
                sides = tuple(
                    Side(a, b, fabric, number)
                    for a, b in zip(spots, [*spots[1:], spots[0]], strict=True)
                )
                rims.append(Rim(sides, ()))
            case Join(left, right):
                before = _together([_moved(rims[p.part], p) for p in (left, right)])
                rims.append(_sewn(number, plan, before, of_part, runs, found))
            case Finish(of):
                before = _moved(rims[of.part], of)
                rims.append(_sewn(number, plan, before, of_part, runs, found))
            case Whole():
                # A block is one side after the other; what its own seams do there is not looked at.
                spots = [(float(x), float(y)) for x, y in part.outline]
                sides = tuple(
                    Side(a, b, "", number)
                    for a, b in zip(spots, [*spots[1:], spots[0]], strict=True)
                )
                rims.append(Rim(sides, ()))
    return tuple(found[k] for k in range(len(runs))), rims[-1] if rims else Rim((), ())


def _together(rims: Iterable[Rim]) -> Rim:
    listed = list(rims)
    return Rim(tuple(s for r in listed for s in r.sides), tuple(s for r in listed for s in r.stems))


def _moved(rim: Rim, to: Placed) -> Rim:
    turn = float(to.turn) * 2 * math.pi
    # Quarter turns are exact.
    c, s = (
        (math.cos(turn), math.sin(turn))
        if (to.turn * 4).denominator != 1
        else ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(to.turn * 4)]
    )
    dx, dy = float(to.at[0]), float(to.at[1])

    def moved(p: Spot) -> Spot:
        return (p[0] * c - p[1] * s + dx, p[0] * s + p[1] * c + dy)

    return Rim(
        tuple(Side(moved(a.start), moved(a.end), a.fabric, a.leaf) for a in rim.sides),
        tuple(
            Stem(
                moved(a.at),
                (a.away[0] * c - a.away[1] * s, a.away[0] * s + a.away[1] * c),
                a.run,
                a.outbound,
            )
            for a in rim.stems
        ),
    )


def _sewn(
    number: int,
    plan: PiecingPlan,
    before: Rim,
    of_part: dict[int, list[int]],
    runs: Sequence[Run],
    found: dict[int, Meeting],
) -> Rim:
    """The rim of a part; notes what met along its runs."""
    sides, stems = list(before.sides), list(before.stems)
    outline = [(float(x), float(y)) for x, y in plan.parts[number].outline]
    fresh: list[Stem] = []
    for k in of_part[number]:
        a, b = ((float(x), float(y)) for x, y in runs[k].line)
        length = math.dist(a, b)
        along = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
        lying: list[tuple[float, float, bool, Side]] = []
        left_over: list[Side] = []
        for side in sides:
            (t0, off0), (t1, off1) = _seen(a, along, side.start), _seen(a, along, side.end)
            low, high = max(min(t0, t1), 0.0), min(max(t0, t1), length)
            if abs(off0) > NEAR or abs(off1) > NEAR or high - low <= NEAR:
                left_over.append(side)
                continue
            lying.append((low, high, t1 > t0, side))
            left_over += _rest(side, a, along, (t0, t1), (low, high))
        sides = left_over
        found[k] = Meeting(_stretches(lying), _crossings(a, along, length, stems))
        fresh.append(Stem(a, along, k, True))
        fresh.append(Stem(b, (-along[0], -along[1]), k, False))
    on_edge = [stem for stem in [*stems, *fresh] if _on(outline, stem.at)]
    return Rim(tuple(sides), tuple(on_edge))


def _seen(a: Spot, along: Spot, p: Spot) -> tuple[float, float]:
    """How far along a line a point lies, and how far right of it."""
    dx, dy = p[0] - a[0], p[1] - a[1]
    return dx * along[0] + dy * along[1], along[0] * dy - along[1] * dx


def _rest(
    side: Side, a: Spot, along: Spot, ends: tuple[float, float], used: tuple[float, float]
) -> list[Side]:
    """What is left of a side when a stretch of it is sewn."""

    def at(t: float) -> Spot:
        return (a[0] + along[0] * t, a[1] + along[1] * t)

    low, high = min(ends), max(ends)
    left = [(s, e) for s, e in ((low, used[0]), (used[1], high)) if e - s > NEAR]
    if ends[0] > ends[1]:
        left = [(e, s) for s, e in left]
    return [Side(at(s), at(e), side.fabric, side.leaf) for s, e in left]


def _stretches(lying: Sequence[tuple[float, float, bool, Side]]) -> tuple[Stretch, ...]:
    """Where two patches lie against each other. A side that runs with the seam has its patch on
    the right."""
    right = sorted((low, high, s) for low, high, with_it, s in lying if with_it)
    left = sorted((low, high, s) for low, high, with_it, s in lying if not with_it)
    found = []
    i = j = 0
    while i < len(left) and j < len(right):
        low, high = max(left[i][0], right[j][0]), min(left[i][1], right[j][1])
        if high - low > NEAR:
            one, other = left[i][2], right[j][2]
            found.append(Stretch(high - low, one.fabric, other.fabric, (one.leaf, other.leaf)))
        if left[i][1] < right[j][1]:
            i += 1
        else:
            j += 1
    return tuple(found)


def _crossings(a: Spot, along: Spot, length: float, stems: Sequence[Stem]) -> tuple[Crossing, ...]:
    at: list[tuple[float, Stem]] = []
    for stem in stems:
        t, off = _seen(a, along, stem.at)
        if abs(off) <= NEAR and -NEAR <= t <= length + NEAR:
            at.append((t, stem))
    at.sort(key=lambda pair: pair[0])
    groups: list[list[tuple[float, Stem]]] = []
    for t, stem in at:
        if groups and t - groups[-1][0][0] <= 2 * NEAR:
            groups[-1].append((t, stem))
        else:
            groups.append([(t, stem)])
    found = []
    for group in groups:
        t = group[0][0]
        turns = [(along[0] * s.away[1] - along[1] * s.away[0], s) for _, s in group]
        found.append(
            Crossing(
                (a[0] + along[0] * t, a[1] + along[1] * t),
                tuple(s for turn, s in turns if turn < -NEAR),
                tuple(s for turn, s in turns if turn > NEAR),
                NEAR < t < length - NEAR,
            )
        )
    return tuple(found)


def _on(outline: Sequence[Spot], p: Spot) -> bool:
    for i, a in enumerate(outline):
        b = outline[(i + 1) % len(outline)]
        length = math.dist(a, b)
        t, off = _seen(a, ((b[0] - a[0]) / length, (b[1] - a[1]) / length), p)
        if abs(off) <= NEAR and -NEAR <= t <= length + NEAR:
            return True
    return False
