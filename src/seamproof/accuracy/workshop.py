"""A plan as it is worked through: every part once, with the weights of all that goes wrong in it.

Named units are worked out in a frame of their own, because what is trimmed and which edges were cut
from cloth depends on where a patch lies in its unit. Above them every part is its seam's table of
weights, over those of the parts it joins.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from seamproof.accuracy.alike import sew
from seamproof.accuracy.edges import Edges, edges
from seamproof.accuracy.lines import Line, Putting, dot, putting, spot
from seamproof.accuracy.parts import Made, cut_patch, in_order, joined, moved, stretched
from seamproof.accuracy.sewing import PLAN, Mark, Matching, Run, Sewing, Worked
from seamproof.accuracy.trimming import Overhang, trimmed
from seamproof.cutting.model import CuttingList, Recipe
from seamproof.errors import SeamproofError
from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan, Whole
from seamproof.plane.model import Placed
from seamproof.pressing.model import PressPlan, Way

USUAL: Way = "left"
"""How a seam lies if no press plan says: to one side. It decides which side is a hundredth of an
inch smaller, and nothing else."""


@dataclass(frozen=True, slots=True)
class Squaring:
    """How one unit is squared up: `planned` is how far it sticks out on purpose on each side of its
    outline, `oversize` what was added to what geometry asks for, taken up to the ruler."""

    unit: int
    kind: str
    planned: tuple[float, ...]
    oversize: Fraction = Fraction(0)


class Workshop:
    """What one way of making a block brings, part by part.

    `presses` give the way of run r of part p under ``(p, r)``. Units in `squarings` are trimmed
    before they meet anything, or, with `trim` False, sewn as large as they came out. Units in
    `cut_apart` are sewn beside a drawn line before they are cut apart, or cut off, along it: the
    edge inside a unit of one seam is not cut by ruler, and has no error of that kind. Unless
    crossings and points are `looked` at, only the lines of parts are worked out.

    Raises SeamproofError for a plan with cores, which is no whole block.
    """

    def __init__(
        self,
        plan: PiecingPlan,
        *,
        squarings: Mapping[int, Squaring] | None = None,
        cut_apart: frozenset[int] = frozenset(),
        presses: Mapping[tuple[int, int], Way] | None = None,
        allowance: float = 0.25,
        matching: Matching = "nest",
        trim: bool = True,
        looked: bool = True,
    ) -> None:
        if plan.cores:
            raise SeamproofError("a plan with cores cannot be rehearsed")
        self.plan, self.allowance, self.matching = plan, allowance, matching
        self.trim, self.looked = trim, looked
        self.squarings = dict(squarings or {})
        self.presses = dict(presses or {})
        self.cut_apart = cut_apart
        self.units = cut_apart | set(self.squarings)
        self._made: dict[int, Made] = {}
        self._children: dict[int, list[tuple[int, Putting]]] = {}
        self._sewings: dict[int, Sewing] = {}
        self._seams: dict[Hashable, Worked] = {}
        self._units: dict[Hashable, tuple[Made, Overhang | None]] = {}
        self._overhangs: dict[int, Overhang] = {}
        self._edges: Edges | None = None

    def untrimmed(self, squarings: Mapping[int, Squaring]) -> Workshop:
        """The same with nothing squared up, and its units cut as `squarings` say."""
        loose = Workshop(
            self.plan,
            squarings=squarings,
            cut_apart=self.cut_apart,
            presses=self.presses,
            allowance=self.allowance,
            matching=self.matching,
            trim=False,
            looked=False,
        )
        loose._edges = self._edges  # a matter of where lines lie, which is the same
        return loose

    # Parts -----------------------------------------------------------------------------------

    def small(self, part: int) -> bool:
        """Whether a part is worked out at once: a patch, or a named unit."""
        return part in self.units or isinstance(self.plan.parts[part].made, Leaf | Whole)

    def made(self, part: int) -> Made:
        """The weights of a part over all the errors that go into it."""
        if part not in self._made:
            if part in self.units:
                self._made[part] = self._unit(part)
            elif isinstance(self.plan.parts[part].made, Leaf | Whole):
                corners = [spot(p) for p in self.plan.parts[part].outline]
                self._made[part] = cut_patch(corners, [0.0] * len(corners))
            else:
                sides = [moved(self.made(child), put) for child, put in self.children(part)]
                other = sides[1] if len(sides) > 1 else None
                self._made[part] = joined(self.sewing(part), sides[0], other)
        return self._made[part]

    def forget(self) -> None:
        """Let go of the weights of parts above units, which are large and soon made again."""
        self._made = {part: made for part, made in self._made.items() if self.small(part)}

    def lines(self, part: int) -> tuple[Line, ...]:
        """The lines of a part, in its frame."""
        return self.made(part).lines if self.small(part) else self.sewing(part).lines

    def children(self, part: int) -> list[tuple[int, Putting]]:
        """The parts that a part is sewn of, the one on the left of the seam first."""
        if part not in self._children:
            made = self.plan.parts[part].made
            sides: tuple[Placed, ...] = ()
            if isinstance(made, Join):
                sides = made.left, made.right
            elif isinstance(made, Finish):
                sides = (made.of,)
            self._children[part] = [(p.part, putting(p)) for p in sides]
        return self._children[part]

    def sewing(self, part: int) -> Sewing:
        """The weights of the last seam of a part."""
        if part not in self._sewings:
            sides = [
                tuple(line.moved(put) for line in self.lines(child))
                for child, put in self.children(part)
            ]
            self._sewings[part] = self._sewn(part, sides, Putting(1 + 0j, 0j))
        return self._sewings[part]

    def overhang(self, unit: int) -> Overhang:
        """What there is to cut off a unit that is squared up."""
        self.made(unit)
        return self._overhangs[unit]

    def edges(self) -> Edges:
        """The block's own edges."""
        if self._edges is None:
            outline = [spot(p) for p in self.plan.parts[self.plan.whole].outline]
            all_open = bool(self.presses) and set(self.presses.values()) == {"open"}
            beyond: Way = "open" if all_open else USUAL
            self._edges = edges(
                self.lines(self.plan.whole), outline, self.allowance, beyond, looked=self.looked
            )
        return self._edges

    def marks(self, part: int, put: Putting) -> Iterator[Mark]:
        """The marks of a part and of all that it is made of, where it is put: those of its left
        side, of its right side, of its seam."""
        if self.small(part):
            yield from moved(self.made(part), put).marks
            return
        for child, inner in self.children(part):
            yield from self.marks(child, put.after(inner))
        for mark in self.sewing(part).marks:
            yield Mark(mark.kind, put(mark.at))

    # Units -----------------------------------------------------------------------------------

    def _sewn(
        self, part: int, sides: list[tuple[Line, ...]], put: Putting, tips: bool = False
    ) -> Sewing:
        made = self.plan.parts[part].made
        assert isinstance(made, Join | Finish)
        runs = made.sewn if isinstance(made, Join) else made.seam
        placed: list[Run] = [(put(spot(a)), put(spot(b))) for a, b in runs]
        ways = [self.presses.get((part, number), USUAL) for number in range(len(placed))]
        marked = part in self.cut_apart and self.single(part)
        return sew(
            sides[0],
            sides[1] if len(sides) > 1 else (),
            placed,
            ways,
            allowance=self.allowance,
            matching=self.matching,
            marked=marked,
            tips=tips,
            looked=self.looked,
            known=self._seams,
        )

    def single(self, unit: int) -> bool:
        """Whether a unit has one seam only."""
        return all(
            isinstance(self.plan.parts[child].made, Leaf) for child, _ in self.children(unit)
        )

    def _unit(self, unit: int) -> Made:
        squaring = self.squarings.get(unit)
        outline = self.plan.parts[unit].outline
        key = (
            self._figure(unit, Putting(1 + 0j, 0j)),
            tuple(spot(p) for p in outline),
            squaring and squaring.planned,
            unit in self.cut_apart,
        )
        if key not in self._units:
            made = self._new_unit(unit)
            self._units[key] = made, self._overhangs.get(unit)
        made, overhang = self._units[key]
        if overhang is not None:
            self._overhangs[unit] = overhang
        return made

    def _figure(self, part: int, put: Putting) -> Hashable:
        """Where the patches of a unit lie and how they are sewn, whatever their fabrics."""
        made = self.plan.parts[part].made
        if isinstance(made, Leaf):
            return tuple(put(spot(p)) for p in made.corners)
        assert isinstance(made, Join | Finish)
        inner = [self._figure(child, put.after(place)) for child, place in self.children(part)]
        runs = made.sewn if isinstance(made, Join) else made.seam
        sewn = [(put(spot(a)), put(spot(b))) for a, b in runs]
        return (*inner, *sewn, *(self.presses.get((part, n), USUAL) for n in range(len(runs))))

    def _new_unit(self, unit: int) -> Made:
        outline = [spot(p) for p in self.plan.parts[unit].outline]
        squaring = self.squarings.get(unit)
        planned = squaring.planned if squaring else (0.0,) * len(outline)
        sides = [
            (Line(a, b, True), out)
            for a, b, out in zip(outline, [*outline[1:], outline[0]], planned, strict=True)
        ]
        apart = unit in self.cut_apart
        # Triangles sewn to a corner are laid by their tips, and their sewn edges err as any.
        tips = apart and not self.single(unit)
        whole = self._inside(unit, Putting(1 + 0j, 0j), sides, apart, tips)
        if self.single(unit):
            seam = next((line for line in whole.lines if not line.raw), None)
            if seam is not None and _on_the_bias(seam):
                whole = stretched(whole, seam, self.allowance)
        if squaring is None:
            return whole
        square, self._overhangs[unit] = trimmed(whole, outline, self.allowance)
        return square if self.trim else in_order(whole, square.lines)

    def _inside(
        self, part: int, put: Putting, sides: list[tuple[Line, float]], cut_apart: bool, tips: bool
    ) -> Made:
        """A part inside a unit, in the unit's frame."""
        made = self.plan.parts[part].made
        if isinstance(made, Leaf):
            corners = [put(spot(p)) for p in made.corners]
            planned, outer = [], []
            for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
                out = next((out for side, out in sides if side.has(a) and side.has(b)), None)
                planned.append(out or 0.0)
                outer.append(out is not None)
            return cut_patch(corners, planned, halved=outer if cut_apart and not tips else ())
        inner = [
            self._inside(child, put.after(place), sides, cut_apart, tips)
            for child, place in self.children(part)
        ]
        sewing = self._sewn(part, [made.lines for made in inner], put, tips)
        other = inner[1] if len(inner) > 1 else None
        whole = joined(sewing, inner[0], other)
        if tips:  # tips are laid as they should lie for pieces of that size
            plain = joined(self._sewn(part, [made.lines for made in inner], put), inner[0], other)
            whole.table[:, PLAN] = plain.table[:, PLAN]
            whole.marked[:, PLAN] = plain.marked[:, PLAN]
        return whole


def _on_the_bias(seam: Line) -> bool:
    """Whether a seam runs neither along nor across the threads of its patches."""
    return min(abs(seam.along.real), abs(seam.along.imag)) > 0.05


@dataclass(frozen=True, slots=True)
class Setup:
    """How a block is to be made: everything a :class:`Workshop` asks for."""

    plan: PiecingPlan
    squarings: Mapping[int, Squaring] = field(default_factory=dict)
    cut_apart: frozenset[int] = frozenset()
    presses: Mapping[tuple[int, int], Way] = field(default_factory=dict)
    allowance: float = 0.25

    def workshop(
        self, *, matching: Matching = "nest", trim: bool = True, looked: bool = True
    ) -> Workshop:
        """A workshop for it."""
        return Workshop(
            self.plan,
            squarings=self.squarings,
            cut_apart=self.cut_apart,
            presses=self.presses,
            allowance=self.allowance,
            matching=matching,
            trim=trim,
            looked=looked,
        )


def presses_of(press: PressPlan | None) -> dict[tuple[int, int], Way]:
    """The way of each run, by part and run."""
    return {} if press is None else {(p.part, p.run): p.way for p in press.presses}


def cut_apart_of(cutting: CuttingList) -> frozenset[int]:
    """The units of a cutting list that are cut apart, or from which something is cut off, along a
    seam, by the number of their part."""
    found = set()
    for recipe in cutting.recipes:
        if any(step.verb == "sew" and (step.cuts or step.left_in) for step in recipe.steps):
            found.add(recipe.unit)
            if recipe.twin is not None and recipe.twin.unit is not None:
                found.add(recipe.twin.unit)
    return frozenset(found)


def squarings_of(
    plan: PiecingPlan, cutting: CuttingList, oversize: Mapping[str, Fraction]
) -> dict[int, Squaring]:
    """The units that a cutting list trims, by the number of their part. `oversize` is what the
    project's settings add, by kind of unit."""
    found = {}
    for recipe in cutting.recipes:
        planned = _planned(plan, recipe)
        if planned is None:
            continue
        extra = oversize.get(recipe.kind, Fraction(0))
        found[recipe.unit] = Squaring(recipe.unit, recipe.kind, planned, extra)
        twin = recipe.twin.unit if recipe.twin is not None else None
        if twin is not None:
            least = (min(planned),) * len(plan.parts[twin].outline)
            found.setdefault(twin, Squaring(twin, recipe.kind, least, extra))
    return found


def _planned(plan: PiecingPlan, recipe: Recipe) -> tuple[float, ...] | None:
    """How far a unit sticks out before it is trimmed, on each side of its outline; None if it is
    not trimmed. Corner 0 of what a step gives is corner 0 of the part's outline."""
    steps = [step for step in recipe.steps if step.verb == "trim"]
    if recipe.trim is None or not steps:
        return None
    before = [spot(p) for p in steps[-1].takes[0].corners]
    after = [spot(p) for p in steps[-1].gives[0].corners]
    sides = [Line(a, b, True) for a, b in zip(after, [*after[1:], after[0]], strict=True)]
    out = [max(dot(side.normal, corner - side.start) for corner in before) for side in sides]
    outline = [spot(p) for p in plan.parts[recipe.unit].outline]
    if len(outline) != len(out):
        return (min(out),) * len(outline)
    return tuple(out)
