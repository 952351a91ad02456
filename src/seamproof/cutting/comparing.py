"""The ways in which the units of a block can be made, side by side."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from seamproof.cutting.choosing import SINGLE_PATCHES, Chosen, choose
from seamproof.cutting.model import CuttingSettings, Hand, Recipe, Step
from seamproof.cutting.recipes import METHODS, strip_sets
from seamproof.cutting.recipes.making import MOST_PIECES, Method, Wanted
from seamproof.cutting.recipes.patches import LoosePatch, patch_recipe
from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan
from seamproof.piecing.units import likenesses


@dataclass(frozen=True, slots=True)
class Trips:
    """How often one goes to the machine, to the iron and to the cutting mat, if everything that can
    be done at one place is done there before one leaves it. The first cutting is not counted."""

    machine: int
    iron: int
    mat: int


@dataclass(frozen=True, slots=True)
class Way:
    """What one method asks for all units of a kind together.

    `cloth` is the square inches of the pieces as cut, `pieces` how many are cut, `steps` how many
    things there are to do after that, each for all units at once, and `seams` how many runs of
    stitching that makes. `bias_edges` counts outer edges
    of one unit that are on the bias, `spare` what is left over. `chosen` marks the way that the
    cutting list takes.
    """

    method: str
    cloth: float
    pieces: int
    steps: int
    seams: int
    trips: Trips
    bias_edges: int
    hand: Hand
    spare: int
    chosen: bool


@dataclass(frozen=True, slots=True)
class UnitWays:
    """The ways to make `count` of a unit, part number `part`; the chosen one is among them."""

    part: int
    kind: str
    fabrics: tuple[str, ...]
    count: int
    ways: tuple[Way, ...]


def compare(plan: PiecingPlan, copies: int, settings: CuttingSettings) -> tuple[UnitWays, ...]:
    """For each unit of the plan, in its order, the methods that fit it: those for `copies` of the
    block, with these settings. A plan whose patches are all sewn singly, for want of any unit, has
    none."""
    chosen, _ = choose(plan, copies, settings, "")
    found = [_of_unit(plan, want, method, settings) for want, method in chosen.units]
    found += [_of_unit(plan, want, None, settings) for want in _singly(plan, chosen, settings)]
    return tuple(sorted(found, key=lambda unit: unit.part))


def _singly(plan: PiecingPlan, chosen: Chosen, settings: CuttingSettings) -> list[Wanted]:
    """The units of whole rectangles that are sewn from single patches, without their rows."""
    likes = likenesses(plan)
    inside: set[int] = set()
    found = []
    for number in sorted(chosen.sewn, reverse=True):
        like = likes.get(number)
        grid = like is not None and like.unit.kind in strip_sets.KINDS
        if like is not None and grid and number not in inside:
            found.append(Wanted(like, chosen.sewn[number], settings))
        made = plan.parts[number].made
        if isinstance(made, Join) and (grid or number in inside):
            inside |= {made.left.part, made.right.part}
    return found


def _of_unit(
    plan: PiecingPlan, want: Wanted, chosen: Method | None, settings: CuttingSettings
) -> UnitWays:
    ways = []
    for method in METHODS:
        if method.kind != want.kind:
            continue
        wants = [want] if want.twin is None or method is chosen else [want, want.twin]
        alone = [one if method is chosen else replace(one, twin=None) for one in wants]
        if all(method.fits(one) for one in alone):
            recipes = [method.make(one, settings, _BLANKS) for one in alone]
            ways.append(_way(method.name, recipes, chosen=method is chosen))
    if want.kind in strip_sets.KINDS:
        ways.append(_from_patches(plan, want, settings, chosen=chosen is None))
    count = want.count + (0 if want.twin is None else want.twin.count)
    fabrics = tuple(sorted(set(want.fabrics), key=lambda letter: (len(letter), letter)))
    return UnitWays(want.part, want.kind, fabrics, count, tuple(ways))


_BLANKS = tuple(str(k) for k in range(MOST_PIECES))


def _way(method: str, recipes: Sequence[Recipe], *, chosen: bool) -> Way:
    hands = {recipe.hand for recipe in recipes}
    return Way(
        method=method,
        cloth=_cloth(recipes),
        pieces=sum(piece.count for recipe in recipes for piece in recipe.pieces),
        steps=sum(len(recipe.steps) for recipe in recipes),
        seams=sum(
            len(step.stitched) * step.takes[0].count for recipe in recipes for step in recipe.steps
        ),
        trips=trips([step for recipe in recipes for step in recipe.steps]),
        bias_edges=max(recipe.bias_edges for recipe in recipes),
        hand=hands.pop() if len(hands) == 1 else "pair",
        spare=sum(recipe.spare for recipe in recipes),
        chosen=chosen,
    )


def _cloth(recipes: Sequence[Recipe]) -> float:
    pieces = [piece for recipe in recipes for piece in recipe.pieces]
    return float(sum(piece.count * piece.width.ruler * piece.height.ruler for piece in pieces))


def trips(steps: Sequence[Step]) -> Trips:
    """How often one goes where for some steps: along the longest way from a cut piece to what the
    steps make, every seam is one trip to the machine and one to the iron, and cutting apart,
    sub-cutting and trimming is one to the mat.

    >>> trips([])
    Trips(machine=0, iron=0, mat=0)
    """
    before: dict[str, Trips] = {}
    most = Trips(0, 0, 0)
    for step in steps:
        reached = _furthest(before.get(stock.what, Trips(0, 0, 0)) for stock in step.takes)
        sewn, cut = int(step.verb == "sew"), int(bool(step.cuts) or step.verb != "sew")
        now = Trips(reached.machine + sewn, reached.iron + sewn, reached.mat + cut)
        before.update((stock.what, now) for stock in step.gives)
        most = _furthest((most, now))
    return most


def _furthest(some: Iterable[Trips]) -> Trips:
    every = list(some)
    return Trips(
        max(trip.machine for trip in every),
        max(trip.iron for trip in every),
        max(trip.mat for trip in every),
    )


def _from_patches(
    plan: PiecingPlan, want: Wanted, settings: CuttingSettings, *, chosen: bool
) -> Way:
    """A unit of whole rectangles, each cut by itself, sewn as the plan says."""
    wanted = {want.part: want.count}
    deep: dict[int, int] = {want.part: 0}
    recipes = []
    steps = seams = 0
    for number in range(want.part, -1, -1):
        if number not in wanted:
            continue
        made = plan.parts[number].made
        match made:
            case Join(left, right):
                inner = [left.part, right.part]
            case Finish(of):
                inner = [of.part]
            case Leaf(fabric, corners):
                patch = LoosePatch(number, fabric, corners, wanted[number], long_outside=False)
                recipes.append(patch_recipe(patch, settings, ""))
                continue
            case _:
                continue
        steps += 1
        seams += wanted[number]
        for part in inner:
            wanted[part] = wanted.get(part, 0) + wanted[number]
            deep[part] = max(deep.get(part, 0), deep[number] + 1)
    most = max(deep.values())
    return Way(
        method=SINGLE_PATCHES,
        cloth=_cloth(recipes),
        pieces=sum(recipe.pieces[0].count for recipe in recipes),
        steps=steps,
        seams=seams,
        trips=Trips(most, most, 0),
        bias_edges=0,
        hand="either",
        spare=0,
        chosen=chosen,
    )
