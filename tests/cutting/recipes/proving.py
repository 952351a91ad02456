"""A recipe is done when the proof is silent on it, whichever way the block lies."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from seamproof.cutting.listing import cutting_list
from seamproof.cutting.model import CuttingList, CuttingSettings, Recipe
from seamproof.draft.model import Block
from seamproof.draft.turning import mirrored, turned
from seamproof.length.exact import kept
from seamproof.piecing.planning import plan
from seamproof.plane.model import Point
from seamproof.plane.predicates import box
from seamproof.plane.predicates import turned as turned_point
from seamproof.proof.sizes import prove
from tests.cast import polygon_drawing, understood
from tests.cutting.drawn import EXACT, TRIMMED

SETTINGS = {
    "trimmed": TRIMMED,
    "exact": EXACT,
    "metric": CuttingSettings.metric(),
    "metric, exact": replace(CuttingSettings.metric(), sizes="exact"),
    "wide seams": replace(TRIMMED, seam=Fraction(3, 8), step=Fraction(1, 16)),
}

ROOT2 = math.sqrt(2)

Corners = Sequence[tuple[float | Fraction, float | Fraction]]


def drawn(patches: Sequence[tuple[str, Corners]], turn: Fraction = Fraction(0)) -> Block:
    """A block of patches, turned by a share of a full turn, as large as they reach."""
    lying = [
        (fabric, [turned_point((kept(x), kept(y)), turn) for x, y in corners])
        for fabric, corners in patches
    ]
    low, high = box([p for _, corners in lying for p in corners])

    def moved(p: Point) -> Point:
        return p[0] - low[0], p[1] - low[1]

    return understood(
        polygon_drawing(
            "drawn",
            (high[0] - low[0], high[1] - low[1]),
            [(fabric, [moved(p) for p in corners]) for fabric, corners in lying],
        )
    )


def ways_round(block: Block) -> Iterator[Block]:
    """The block at every quarter turn, and its mirror twin."""
    for quarters in range(4):
        yield turned(block, quarters)
    yield mirrored(block)


def proved(
    block: Block, kind: str, method: str, settings: CuttingSettings, copies: int = 1
) -> tuple[CuttingList, Recipe]:
    """The list of a block, with one method named, on which the proof is silent; and the recipe."""
    chosen = replace(settings, methods={kind: method})
    made = silent(block, chosen, copies)
    recipe = next(recipe for recipe in made.recipes if recipe.kind == kind)
    assert recipe.method == method
    return made, recipe


def silent(block: Block, settings: CuttingSettings, copies: int = 1) -> CuttingList:
    """The list of a block on which the proof is silent."""
    its_plan, _ = plan(block)
    assert its_plan is not None
    made, _ = cutting_list(block, its_plan, copies=copies, settings=settings)
    assert prove(block, its_plan, made, settings) == ()
    return made
