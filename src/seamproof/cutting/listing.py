"""The cutting list of a block: what is cut, how its units are made, how they are sewn together."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from seamproof.cutting.choosing import choose, loose_places
from seamproof.cutting.joining import joining_steps
from seamproof.cutting.lettering import key_of, lettered, pooled
from seamproof.cutting.model import CuttingList, CuttingSettings, Recipe
from seamproof.cutting.outside import long_side_outside
from seamproof.cutting.recipes.making import MOST_PIECES, Method, Wanted, part_name
from seamproof.cutting.recipes.patches import LoosePatch, patch_recipe
from seamproof.cutting.remarks import remarks
from seamproof.draft.model import Block
from seamproof.findings import Finding
from seamproof.piecing.leaves import PlacedLeaf
from seamproof.piecing.model import Leaf, PiecingPlan


def cutting_list(
    block: Block,
    plan: PiecingPlan,
    *,
    copies: int = 1,
    settings: CuttingSettings | None = None,
) -> tuple[CuttingList, tuple[Finding, ...]]:
    """What is cut and done for `copies` of a block, and what there is to say about it.

    `plan` is the block's own. Equal pieces are pooled into one row with one letter. Raises
    ValueError if `copies` is less than one.
    """
    if copies < 1:
        raise ValueError(f"{copies} copies of a block cannot be cut")
    settings = settings or CuttingSettings()
    chosen, findings = choose(plan, copies, settings, block.name)
    places = loose_places(plan, chosen)
    makers = [
        *((want.part, _unit(want, method, settings)) for want, method in chosen.units),
        *(
            (number, _patch(block, plan, number, count, places, settings))
            for number, count in sorted(chosen.loose.items())
        ),
    ]
    # Letters go by size over all recipes, so every recipe is made twice: to see, and to name.
    blanks = [str(k) for k in range(MOST_PIECES)]
    drafts = [make(blanks) for _, make in makers]
    letters = lettered(piece for draft in drafts for piece in draft.pieces)
    recipes = tuple(
        make([letters[key_of(piece)] for piece in draft.pieces])
        for (_, make), draft in zip(makers, drafts, strict=True)
    )
    letter_of = {
        recipe.unit: recipe.pieces[0].letter for recipe in recipes if recipe.unit in chosen.loose
    }
    steps = [step for recipe in recipes for step in recipe.steps]
    steps += joining_steps(
        plan, chosen.sewn, lambda number: letter_of.get(number, part_name(number)), settings
    )
    made = CuttingList(
        copies=copies,
        pieces=pooled(piece for recipe in recipes for piece in recipe.pieces),
        recipes=recipes,
        steps=tuple(steps),
    )
    return made, findings + remarks(block, made, places, settings)


Make = Callable[[Sequence[str]], Recipe]
"""Makes a recipe once it is told the letters of its pieces."""


def _unit(want: Wanted, method: Method, settings: CuttingSettings) -> Make:
    return lambda letters: method.make(want, settings, letters)


def _patch(
    block: Block,
    plan: PiecingPlan,
    number: int,
    count: int,
    places: Sequence[tuple[int, PlacedLeaf]],
    settings: CuttingSettings,
) -> Make:
    leaf = plan.parts[number].made
    assert isinstance(leaf, Leaf)
    patch = LoosePatch(
        number,
        leaf.fabric,
        leaf.corners,
        count,
        len(leaf.corners) == 3
        and any(long_side_outside(block, at.corners) for part, at in places if part == number),
    )
    return lambda letters: patch_recipe(patch, settings, letters[0])
