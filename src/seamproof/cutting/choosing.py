"""Which parts are made as units, by which method, and what is left to be cut and sewn singly."""

from __future__ import annotations

from collections.abc import Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace

from seamproof.cutting.checks import METHOD_DOES_NOT_FIT, METHOD_UNUSED, UNKNOWN_METHOD
from seamproof.cutting.model import CuttingSettings
from seamproof.cutting.naming import method_named, names_of
from seamproof.cutting.recipes import METHODS, split_quarter, strip_sets
from seamproof.cutting.recipes.making import Method, Wanted, plain
from seamproof.cutting.recipes.patches import PATCH_METHODS
from seamproof.findings import Finding, Where
from seamproof.piecing.leaves import PlacedLeaf, in_its_frame, parts_in, put
from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan
from seamproof.piecing.units import likenesses

SINGLE_PATCHES = "single patches"
"""The method of a unit that is sewn patch by patch: each is cut by itself, and sewn as the plan
says. Units of whole rectangles are made so unless there are enough of them for strip sets."""


@dataclass(frozen=True)
class Chosen:
    """`units` are made by their method; `loose` are patches and `sewn` joins above the units, each
    a part number and how many."""

    units: tuple[tuple[Wanted, Method], ...]
    loose: dict[int, int]
    sewn: dict[int, int]


def choose(
    plan: PiecingPlan, copies: int, settings: CuttingSettings, block: str
) -> tuple[Chosen, tuple[Finding, ...]]:
    """Walks the plan from the whole block down. The outermost part for which there is a method is
    made by it; whatever holds no such part is sewn from patches."""
    likes = likenesses(plan)
    wanted = [0] * len(plan.parts)
    wanted[plan.whole] = copies
    singly = [0] * len(plan.parts)  # of those, how many are rows of units made of single patches
    units: list[tuple[Wanted, Method]] = []
    loose: dict[int, int] = {}
    sewn: dict[int, int] = {}
    found: dict[tuple[int, str], Finding] = {}
    for number in range(plan.whole, -1, -1):
        count = wanted[number]
        if not count:
            continue
        if number in likes and isinstance(plan.parts[number].made, Join):
            want = Wanted(likes[number], count, settings)
            rows_only = want.kind in strip_sets.KINDS and singly[number] == count
            method = None if rows_only else _method(want, settings, block, found)
            if method is not None:
                units.append((want, method))
                continue
            if want.kind in strip_sets.KINDS:
                singly[number] = count
        match plan.parts[number].made:
            case Join(left, right):
                sewn[number] = count
                for inner in (left.part, right.part):
                    wanted[inner] += count
                    singly[inner] += singly[number]
            case Finish(of):
                sewn[number] = count
                wanted[of.part] += count
            case _:
                loose[number] = count
    used = {
        name for number, like in likes.items() if wanted[number] for name in names_of(like.unit)
    }
    for kind in settings.methods:
        if kind not in used:
            found[0, kind] = METHOD_UNUSED.found(
                f"a method is named for {kind}, and the block has none",
                mend="leave it out, or look whether another unit was meant",
                where=Where(block=block),
            )
    found.update(_unknown_to_patches(used, settings, block))
    units.reverse()
    return Chosen(_with_twins(units, settings), loose, sewn), tuple(found.values())


def _with_twins(
    units: Sequence[tuple[Wanted, Method]], settings: CuttingSettings
) -> tuple[tuple[Wanted, Method], ...]:
    """Units of either hand brought together where the method makes both at a time."""
    both = next(method for method in METHODS if isinstance(method, split_quarter.TwoAtATime))
    left = list(units)
    found = []
    while left:
        want, method = left.pop(0)
        others = (unit for unit in left if unit[0].kind == want.kind == split_quarter.KIND)
        other = next((unit for unit in others if split_quarter.twins(want, unit[0])), None)
        if other is not None:
            pair = replace(want, twin=other[0])
            named = method_named(want.like.unit, settings)
            if method is both or (named is None and both.suits(pair)):
                left.remove(other)
                want, method = pair, both
        found.append((want, method))
    return tuple(found)


def _unknown_to_patches(
    used: AbstractSet[str], settings: CuttingSettings, block: str
) -> dict[tuple[int, str], Finding]:
    """Methods named for single patches that nobody knows."""
    found = {}
    for units, named in settings.methods.items():
        kind = units.partition(" ")[0]
        single = kind in ("square", "rectangle")
        if single and units in used and plain(named) not in PATCH_METHODS:
            found[0, units] = UNKNOWN_METHOD.found(
                f'"{named}" is not a way to cut a {kind}',
                mend=f"write one of: {', '.join(PATCH_METHODS)}",
                where=Where(block=block),
            )
    return found


def _method(
    want: Wanted, settings: CuttingSettings, block: str, found: dict[tuple[int, str], Finding]
) -> Method | None:
    every = [method for method in METHODS if method.kind == want.kind]
    fitting = [method for method in every if method.fits(want)]
    named = method_named(want.like.unit, settings)
    if named is not None and plain(named) == SINGLE_PATCHES:
        return None
    if named is not None:
        chosen = [method for method in every if plain(method.name) == plain(named)]
        if chosen and chosen[0] in fitting:
            return chosen[0]
        ways = ", ".join([*(method.name for method in fitting), SINGLE_PATCHES])
        if chosen:
            found[want.part, want.kind] = METHOD_DOES_NOT_FIT.found(
                f"this {want.kind} cannot be made {named}",
                mend=f"it can be made: {ways}",
                where=Where(block=block),
            )
        elif plain(named) not in map(plain, PATCH_METHODS):
            found[want.part, want.kind] = UNKNOWN_METHOD.found(
                f'"{named}" is not a way to make a {want.kind}',
                mend=f"write one of: {ways}",
                where=Where(block=block),
            )
    suited = next((method for method in fitting if method.suits(want)), None)
    if suited is None and want.kind not in strip_sets.KINDS:
        return fitting[0] if fitting else None
    return suited


def loose_places(plan: PiecingPlan, chosen: Chosen) -> list[tuple[int, PlacedLeaf]]:
    """Where the patches that no unit holds lie in the block."""
    made = {want.part for want, _ in chosen.units}
    made |= {want.twin.part for want, _ in chosen.units if want.twin is not None}
    found = []
    for here in parts_in(plan, in_its_frame(plan.whole), closed=made):
        leaf = plan.parts[here.part].made
        if here.part not in made and isinstance(leaf, Leaf):
            lying = PlacedLeaf(here.part, leaf.fabric, put(leaf.corners, here.turn, here.at))
            found.append((here.part, lying))
    return found
