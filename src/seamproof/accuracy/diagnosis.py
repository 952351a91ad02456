"""Why a block came out too small or too large: the likely causes, told by where the seams lie.

Every measured size is a sum of the same few unknowns: what a seam takes up too much, what pressing
leaves in it, how much too small pieces were cut or units trimmed, and one fault of its own at each
place. Their usual spreads and the measured sizes give, by straight-line reckoning (a normal prior,
normal readings), how much of the difference each cause most likely brings. Units and pieces that
are measured too narrow it down. Lengths are in inches.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from seamproof.accuracy.across import Across, Way, across, trimmed_parts, units_across
from seamproof.accuracy.model import MAKERS, THREAD, Maker
from seamproof.accuracy.strip_test import READING, TAKES_UP, TAKES_UP_SPREAD
from seamproof.cutting.model import CuttingList
from seamproof.piecing.model import PiecingPlan

CauseName = Literal["seam", "pressing", "cutting", "trimming", "unit", "one place", "mistake"]
"""What may be wrong: the seam allowance everywhere, folds that are not pressed flat, pieces cut to
a wrong size, units trimmed to a wrong size, one kind of unit, one seam or piece somewhere, or a
plain mistake: a wrong piece, a seam forgotten, a ruler misread."""

RIGHT = 1 / 32
"""A block within this of its size is right: what hand and eye can do (common practice, no
source)."""

PRESSING = THREAD
"""How much more a seam takes up that is not pressed flat, as a standard deviation (assumption)."""

CUT_ALIKE = THREAD / 2
"""How much all pieces together are cut too large or small, as a standard deviation: half a line of
the ruler (assumption)."""

TRIM_ALIKE = THREAD
"""The same for trimmed units."""

BELIEVABLE = 1 / 8
"""No seam is this much wider than planned on each side without being seen: half its allowance. More
is a mistake of another kind (assumption)."""

STRANGE = 3.5
"""Standard deviations beyond which no usual cause is believed."""

LEAST_SHARE = 0.04
"""What brings less of the difference than this is not told."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """What was measured of a sewn block.

    `width` and `height` are raw edge to raw edge, before anything is sewn to it; None was not
    measured. `units` are sizes of sewn units, raw edge to raw edge, by trade name; `pieces` the
    narrower side of cut pieces by their letter. `allowances` were read on the back. `pressed_again`
    if the sizes are those after a second pressing.
    """

    width: float | None = None
    height: float | None = None
    units: tuple[tuple[str, float], ...] = ()
    pieces: tuple[tuple[str, float], ...] = ()
    allowances: tuple[float, ...] = ()
    pressed_again: bool = False


@dataclass(frozen=True, slots=True)
class Cause:
    """`brings` is what of the difference most likely comes of it, in inches, `share` the same as a
    share of what all causes bring. `what` names the unit, if it is one kind of unit."""

    name: CauseName
    brings: float
    share: float
    what: str = ""


@dataclass(frozen=True, slots=True)
class Reckoned:
    """How far a block is off, and why.

    `off` is (width, height): measured less planned; None was not measured. `way` is the one that
    is further off, `lies` what lies across there, and `planned` its unfinished size. `each` is what
    each seam across would take up too much if seams alone were the cause (negative: too little),
    on both sides together; None if no seam lies across. `causes` are the likeliest first; there are
    none if the block is right.
    """

    off: tuple[float | None, float | None]
    way: Way
    planned: float
    lies: Across
    each: float | None
    causes: tuple[Cause, ...]

    @property
    def most(self) -> float:
        """What it is off in the direction that is further off."""
        return self.off[0 if self.way == "width" else 1] or 0.0


def reckon(
    plan: PiecingPlan,
    cutting: CuttingList,
    sizes: Sizes,
    *,
    seam: float = 0.25,
    maker: Maker | None = None,
) -> Reckoned:
    """Why the block of a plan is off, from what was measured of it.

    `seam` is the planned allowance. If `maker` was measured, her seam is known. Raises ValueError
    if neither width nor height was measured, or for a unit or piece that the block does not have.
    """
    block = plan.parts[plan.whole].outline
    extent = {
        "width": float(max(x for x, _ in block) - min(x for x, _ in block)) + 2 * seam,
        "height": float(max(y for _, y in block) - min(y for _, y in block)) + 2 * seam,
    }
    got: Mapping[Way, float | None] = {"width": sizes.width, "height": sizes.height}
    off = {way: None if g is None else g - extent[way] for way, g in got.items()}
    measured: list[Way] = [way for way in got if off[way] is not None]
    if not measured:
        raise ValueError("measure the width or the height of the block")
    way = max(measured, key=lambda w: abs(off[w] or 0.0))
    trimmed = trimmed_parts(cutting)
    lies: dict[Way, Across] = {w: across(plan, w, trimmed=trimmed) for w in measured}
    seams = lies[way].seams
    found = Reckoned(
        off=(off["width"], off["height"]),
        way=way,
        planned=extent[way],
        lies=lies[way],
        each=-(off[way] or 0.0) / seams if seams else None,
        causes=(),
    )
    told = max(abs(off[w] or 0.0) for w in measured)
    unit_off = [size - _unit_size(plan, name, seam) for name, size in sizes.units]
    if told <= RIGHT and all(abs(one) <= RIGHT for one in unit_off):
        return found
    model = _Model(maker or MAKERS["everyday"], known=maker is not None)
    for w in measured:
        units = [
            (name, units_across(plan, w, _parts(plan, name), trimmed=trimmed))
            for name in dict(sizes.units)
        ]
        model.block(w, off[w] or 0.0, lies[w], units, plan, trimmed)
    for (name, _), size in zip(sizes.units, unit_off, strict=True):
        model.unit(name, size, plan, trimmed)
    for letter, size in sizes.pieces:
        model.piece(size - _piece_size(cutting, letter))
    if sizes.allowances:
        model.allowances([read - seam for read in sizes.allowances])
    causes = model.causes(way, pressed_again=sizes.pressed_again)
    alone = not sizes.units and not sizes.pieces
    unlikely = found.each is not None and abs(found.each) / 2 > BELIEVABLE
    if unlikely or (alone and model.strange > STRANGE):
        causes = (Cause("mistake", found.most, 1.0), *causes[:1])
    return replace(found, causes=causes)


def _parts(plan: PiecingPlan, name: str) -> frozenset[int]:
    found = frozenset(u.part for u in plan.units if u.kind == name and u.part != plan.whole)
    if not found:
        raise ValueError(f"the block has no {name}")
    return found


def _unit_size(plan: PiecingPlan, name: str, seam: float) -> float:
    part = min(_parts(plan, name))
    unit = next(unit for unit in plan.units if unit.part == part)
    return float(min(unit.width, unit.height)) + 2 * seam


def _piece_size(cutting: CuttingList, letter: str) -> float:
    for piece in cutting.pieces:
        if piece.letter.lower() == letter.lower():
            return float(min(piece.width.ruler, piece.height.ruler))
    raise ValueError(f"no piece of the block is lettered {letter}")


class _Model:
    """The unknowns with their spreads, and what was measured as sums of them."""

    def __init__(self, maker: Maker, *, known: bool) -> None:
        self.maker = maker
        mean, spread = TAKES_UP, TAKES_UP_SPREAD
        if known:
            mean, spread = 2 * maker.seam + maker.fold_side, max(2 * maker.between, READING)
        self.names: list[str] = list(_CAUSES)
        self.means = [mean, 0.0, 0.0, 0.0]
        self.spreads = [spread, PRESSING, CUT_ALIKE, TRIM_ALIKE]
        self.rows: list[dict[str, float]] = []
        self.seen: list[float] = []
        self.errors: list[float] = []
        self.strange = 0.0

    def block(
        self,
        way: Way,
        off: float,
        lies: Across,
        units: Collection[tuple[str, float]],
        plan: PiecingPlan,
        trimmed: Collection[int],
    ) -> None:
        """A width or height of the block; faults of the units measured are theirs."""
        variance = self._own(lies)
        row = self._sum(lies)
        for name, count in units:
            row[f"unit {name}"] = count
            variance -= count * self._own(_inside(plan, name, trimmed))
        place = f"one place {way}"
        self._unknown(place, math.sqrt(max(variance, READING**2)))
        self._saw(off, {**row, place: 1.0}, READING)

    def unit(self, name: str, off: float, plan: PiecingPlan, trimmed: Collection[int]) -> None:
        """The size of a unit."""
        inside = _inside(plan, name, trimmed)
        self._unknown(f"unit {name}", math.sqrt(self._own(inside)))
        self._saw(off, {**self._sum(inside), f"unit {name}": 1.0}, READING)

    def piece(self, off: float) -> None:
        """The width of a cut piece."""
        self._saw(off, {"cutting": 1.0}, math.hypot(self.maker.cut, READING))

    def allowances(self, off: Sequence[float]) -> None:
        """Allowances read on the back: half of what the seam takes up, less the fold."""
        fold = self.maker.fold_side / 2
        error = math.hypot(self.maker.scatter, READING) / math.sqrt(len(off))
        self._saw(sum(off) / len(off) + fold, {"seam": 0.5}, error)

    def causes(self, way: Way, *, pressed_again: bool) -> tuple[Cause, ...]:
        """What each unknown most likely brings to the block's `way`, most first."""
        spreads = [
            READING / 10 if pressed_again and name == "pressing" else spread
            for name, spread in zip(self.names, self.spreads, strict=True)
        ]
        design = np.array([[row.get(name, 0.0) for name in self.names] for row in self.rows])
        prior = np.diag(np.square(spreads))
        means = np.array(self.means)
        residual = np.array(self.seen) - design @ means
        spread = design @ prior @ design.T + np.diag(np.square(self.errors))
        solved: NDArray[np.float64] = np.linalg.solve(spread, residual)
        self.strange = math.sqrt(float(residual @ solved) / len(self.seen))
        likely = means + prior @ design.T @ solved
        row = 0 if f"one place {way}" in self.rows[0] else 1
        brings = dict(zip(self.names, design[row] * likely, strict=True))
        off = self.seen[row]
        # Seams that take up what they should are no cause: the fold of a true quarter is.
        helping = {n: b for n, b in brings.items() if b * off > 0}
        if off > 0:  # no pressing makes a block larger
            helping.pop("pressing", None)
        total = float(sum(abs(b) for b in helping.values())) or 1.0
        told = [
            Cause(_named(name), float(b), abs(float(b)) / total, _of(name))
            for name, b in helping.items()
            if abs(b) >= LEAST_SHARE * total
        ]
        return tuple(sorted(told, key=lambda cause: -cause.share))

    def _sum(self, lies: Across) -> dict[str, float]:
        return {
            "seam": -lies.seams,
            "pressing": -lies.seams,
            "cutting": lies.pieces,
            "trimming": lies.trimmed,
        }

    def _own(self, lies: Across) -> float:
        maker = self.maker
        return (
            4 * lies.seams * maker.scatter**2
            + lies.pieces * maker.cut**2
            + lies.trimmed * maker.trim**2
        )

    def _unknown(self, name: str, spread: float) -> None:
        if name not in self.names:
            self.names.append(name)
            self.means.append(0.0)
            self.spreads.append(spread)

    def _saw(self, off: float, row: dict[str, float], error: float) -> None:
        self.seen.append(off)
        self.rows.append(row)
        self.errors.append(error)


def _inside(plan: PiecingPlan, name: str, trimmed: Collection[int]) -> Across:
    return across(plan, "width", part=min(_parts(plan, name)), trimmed=trimmed)


def _named(name: str) -> CauseName:
    if name.startswith("unit "):
        return "unit"
    if name.startswith("one place"):
        return "one place"
    return next(common for common in _CAUSES if common == name)


_CAUSES: tuple[CauseName, ...] = ("seam", "pressing", "cutting", "trimming")


def _of(name: str) -> str:
    return name.removeprefix("unit ") if name.startswith("unit ") else ""
