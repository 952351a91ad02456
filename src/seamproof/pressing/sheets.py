"""Every sheet of a block with the folds that its seams lay into it.

Which sheets a seam catches: those of the side its allowances go to, from raw edge to raw edge. At
an end where the seam stops (a set-in point, the stop of a seam sewn in two goes) it catches only
the patches that lie along it; nor does it catch others at a crossing that is spun. How far a fold
reaches is never cut short: cloth does not tear.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from seamproof.cutting.model import CuttingList
from seamproof.piecing.leaves import all_leaves, put, within
from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan
from seamproof.plane.model import Placed, Polygon
from seamproof.plane.offsets import offset
from seamproof.plane.predicates import placed
from seamproof.pressing.choices import Run, runs, seen_along
from seamproof.pressing.folding import Convex, Fold, Sheet, Spot, When
from seamproof.pressing.meetings import NEAR, meetings
from seamproof.pressing.model import PressSettings
from seamproof.pressing.snipping import snipped
from seamproof.pressing.tables import LEFT, OPEN, RIGHT, SPUN, SPUN_BACK
from seamproof.pressing.wishing import spinnable

REACH = 4
"""Seam allowances. No cloth of a patch farther from a seam than this is caught by it: the long
point of a corner of 30 degrees reaches 3.9."""


@dataclass(frozen=True, slots=True)
class Cloth:
    """All sheets of a block (several of a patch that is snipped at inner corners), its finished
    patches, and the ways that each choice may take."""

    sheets: tuple[Sheet, ...]
    patches: tuple[Convex, ...]
    ways: tuple[tuple[int, ...], ...]
    outline: tuple[Spot, ...]
    raw: tuple[Spot, ...]


@dataclass(frozen=True, slots=True)
class Seam:
    """A run where it lies, in the frame of the whole. `raw` tells of its two ends whether they run
    to a raw edge. `crossings` are how far along it can be spun."""

    run: Run
    a: Spot
    b: Spot
    raw: tuple[bool, bool]
    crossings: tuple[float, ...]

    @property
    def length(self) -> float:
        """Inches."""
        return math.dist(self.a, self.b)

    @property
    def along(self) -> Spot:
        """The direction it is stitched in, a unit vector."""
        length = self.length
        return ((self.b[0] - self.a[0]) / length, (self.b[1] - self.a[1]) / length)

    def seen(self, p: Spot) -> tuple[float, float]:
        """How far along the run a point lies, and how far right of it."""
        (ux, uy), dx, dy = self.along, p[0] - self.a[0], p[1] - self.a[1]
        return dx * ux + dy * uy, ux * dy - uy * dx

    def at(self, t: float) -> Spot:
        """The point so far along it."""
        ux, uy = self.along
        return (self.a[0] + t * ux, self.a[1] + t * uy)


Above = tuple[tuple[Seam, int], ...]
"""Seams with the side (`LEFT`, `RIGHT`) on which something lies, `OPEN` for both sides of a second
go; what is sewn first comes first."""


def cloth_of(plan: PiecingPlan, cutting: CuttingList | None, settings: PressSettings) -> Cloth:
    """The cloth of a whole block.

    Pieces end as their recipes trim them; without a cutting list every patch is pushed out by the
    seam allowance, its corners mitred.
    """
    listed = runs(plan)
    met, _ = meetings(plan, listed)
    count = 1 + max((run.choice for run in listed), default=-1)
    ways: list[tuple[int, ...]] = [(OPEN, LEFT, RIGHT)] * count
    turns: list[tuple[Spot, ...]] = []
    for run, meeting in zip(listed, met, strict=True):
        turns.append(tuple(c.at for c in spinnable(meeting)))
        if turns[-1]:
            ways[run.choice] = (OPEN, LEFT, RIGHT, SPUN, SPUN_BACK)
    walk = _Walk(plan, cutting, settings, listed, tuple(turns))
    whole = plan.parts[plan.whole].outline
    found = list(walk.leaves())
    return Cloth(
        tuple(sheet for sheets, _ in found for sheet in sheets),
        tuple(patch for _, patch in found),
        tuple(ways),
        _spots(whole),
        _spots(offset(whole, settings.seam)),
    )


def leaves_above(plan: PiecingPlan, settings: PressSettings) -> Iterator[tuple[Placed, Above]]:
    """Every leaf of a plan where it lies, whole blocks among them, with the seams above it. None of
    these is taken to be spun."""
    listed = runs(plan)
    walk = _Walk(plan, None, settings, listed, ((),) * len(listed))
    return ((here, above) for here, above, _ in walk.placed())


def _spots(polygon: Polygon) -> Convex:
    return tuple((float(x), float(y)) for x, y in polygon)


class _Walk:
    """From the block down to its patches, with the seams above each."""

    def __init__(
        self,
        plan: PiecingPlan,
        cutting: CuttingList | None,
        settings: PressSettings,
        listed: Sequence[Run],
        turns: Sequence[tuple[Spot, ...]],
    ) -> None:
        self.plan, self.settings = plan, settings
        self.of_part: dict[int, list[int]] = {}
        for k, run in enumerate(listed):
            self.of_part.setdefault(run.part, []).append(k)
        self.runs, self.turns = listed, turns
        self.cut = {r.unit: r.sheets for r in cutting.recipes} if cutting else {}

    def leaves(self) -> Iterator[tuple[list[Sheet], Convex]]:
        """The sheets of every patch: one, or more if it is snipped at inner corners."""
        for here, above, cut in self.placed():
            made = self.plan.parts[here.part].made
            if not isinstance(made, Leaf):
                continue
            lying = put(made.corners, here.turn, here.at)
            outline = next(cut) if cut else offset(lying, self.settings.seam)
            patch = _spots(lying)
            sheets = [
                Sheet(made.fabric, (piece,), tuple(self._folds(part, above)), part)
                for part, piece in snipped(patch, _spots(outline))
            ]
            yield sheets, patch

    def placed(self) -> Iterator[tuple[Placed, Above, Iterator[Polygon] | None]]:
        """Every leaf where it lies, the seams above it from the inside out, and its sheets as a
        recipe cuts them."""
        o = Fraction(0)
        todo: list[tuple[Placed, Above, Iterator[Polygon] | None]] = [
            (Placed(self.plan.whole, o, (o, o)), (), None)
        ]
        while todo:
            here, above, cut = todo.pop()
            if cut is None:
                cut = self._as_cut(here)
            match self.plan.parts[here.part].made:
                case Join(left, right):
                    seams = self._seams(here)
                    for side, number in ((right, RIGHT), (left, LEFT)):
                        stitched = tuple((seam, number) for seam in seams)
                        # What is sewn first is folded first: the outer seams come last.
                        todo.append((within(side, here), (*stitched, *above), cut))
                case Finish(of):
                    stitched = tuple((seam, OPEN) for seam in self._seams(here))
                    todo.append((within(of, here), (*stitched, *above), cut))
                case _:
                    yield here, above, cut

    def _folds(self, part: Convex, above: Sequence[tuple[Seam, int]]) -> Iterator[Fold]:
        return folds_of(part, above, float(self.settings.seam))

    def _as_cut(self, here: Placed) -> Iterator[Polygon] | None:
        """The sheets of a part that has a recipe, one after the other as its patches come up."""
        sheets = self.cut.get(here.part, ())
        if not sheets or len(sheets) != len(all_leaves(self.plan, here.part)):
            return None
        return iter([put(sheet, here.turn, here.at) for sheet in sheets])

    def _seams(self, here: Placed) -> list[Seam]:
        outline = self.plan.parts[here.part].outline
        found = []
        for k in self.of_part[here.part]:
            line = self.runs[k].line
            a, b = (placed(p, here.turn, here.at) for p in line)
            start = (float(line[0][0]), float(line[0][1]))
            found.append(
                Seam(
                    self.runs[k],
                    (float(a[0]), float(a[1])),
                    (float(b[0]), float(b[1])),
                    (
                        _runs_out(_spots(outline), start),
                        _runs_out(_spots(outline), _spots(line)[1]),
                    ),
                    tuple(math.dist(start, at) for at in self.turns[k]),
                )
            )
        return found


def _runs_out(outline: Convex, p: Spot) -> bool:
    """Whether a seam that ends at p runs to the raw edge: p lies on the outline, and not in an
    inner corner of it, where something is set in later."""
    for i, a in enumerate(outline):
        b, c = outline[(i + 1) % len(outline)], outline[i - 1]
        if math.dist(a, p) <= NEAR:
            return (a[0] - c[0]) * (b[1] - a[1]) - (a[1] - c[1]) * (b[0] - a[0]) > -NEAR
        length = math.dist(a, b)
        t = ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / length
        off = ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / length
        if abs(off) <= NEAR < t < length - NEAR:
            return True
    return False


def folds_of(
    patch: Convex, above: Sequence[tuple[Seam, int]], seam_allowance: float
) -> Iterator[Fold]:
    """The folds that seams lay into the cloth of a finished patch, in their order."""
    for number, (seam, given) in enumerate(above):
        offs = [seam.seen(p) for p in patch]
        # In a second go the side of the line that a patch lies on tells whose side it is.
        lying = LEFT if max(off for _, off in offs) <= NEAR else RIGHT
        side = lying if given == OPEN else given
        sign = 1.0 if side == LEFT else -1.0
        if max(sign * off for _, off in offs) > NEAR:
            continue  # it reaches across the line, so the seam does not run along its side
        caught = _caught(patch, seam, seam_allowance)
        if caught is None:
            continue
        t, along_it = caught
        when: list[tuple[int, frozenset[int]]] = [(seam.run.choice, _ways(seam, side, t, along_it))]
        if not along_it:
            when += _released(seam, t, [outer for outer, _ in above[number + 1 :]])
        along = seam.along if side == LEFT else (-seam.along[0], -seam.along[1])
        yield Fold(seam.a, along, tuple(sorted(when)), seam.run.part)


def _caught(patch: Convex, seam: Seam, allowance: float) -> tuple[float, bool] | None:
    """Where along a seam it catches a patch, and whether the patch lies along it; None if not."""
    length = seam.length
    best = (math.inf, 0.0)
    for i, p in enumerate(patch):
        (t0, off0), (t1, off1) = seam.seen(patch[i - 1]), seam.seen(p)
        low, high = max(min(t0, t1), 0.0), min(max(t0, t1), length)
        if abs(off0) <= NEAR and abs(off1) <= NEAR and high - low > NEAR:
            return (low + high) / 2, True
        t = min(max(t1, 0.0), length)
        best = min(best, (math.hypot(t1 - t, off1), t))
        for end in (0.0, length):
            # The end of the seam against the side of the patch.
            wide = math.hypot(t1 - t0, off1 - off0)
            share = ((end - t0) * (t1 - t0) - off0 * (off1 - off0)) / (wide * wide)
            if 0 < share < 1:
                off = math.hypot(t0 + share * (t1 - t0) - end, off0 + share * (off1 - off0))
                best = min(best, (off, end))
    off, t = best
    if off > REACH * allowance:
        return None
    if (t <= NEAR and not seam.raw[0]) or (t >= length - NEAR and not seam.raw[1]):
        return None
    return t, False


def _ways(seam: Seam, side: int, t: float, along_it: bool) -> frozenset[int]:
    """The ways of a seam's choice under which it folds what it catches at t on one side."""
    ways = {OPEN, seen_along(side, seam.run.against)}
    turns = seam.crossings
    if turns and (along_it or all(abs(t - at) > NEAR for at in turns)):
        stretch = sum(at < t for at in turns)
        for way in (SPUN, SPUN_BACK):
            clockwise = (way == SPUN) == (not seam.run.against or len(turns) % 2 == 1)
            # Whoever walks up to a crossing that turns clockwise from the back has the vane right.
            if (side == RIGHT) == (clockwise == (stretch % 2 == 0)):
                ways.add(way)
    return frozenset(ways)


def _released(seam: Seam, t: float, outer: Sequence[Seam]) -> When:
    """What must not be spun for a seam to catch a patch at one of its ends: the crossing there."""
    if NEAR < t < seam.length - NEAR:
        return ()
    p = seam.at(t)
    return tuple(
        (other.run.choice, frozenset({OPEN, LEFT, RIGHT}))
        for other in outer
        if any(math.dist(other.at(at), p) <= 2 * NEAR for at in other.crossings)
    )
