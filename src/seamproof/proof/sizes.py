"""The proof of a cutting list: every cut piece sews to the size that is stated.

The proof is independent of the code that made the list: it shares no geometry with it and knows
only the drawing, the plan's parts and the list itself. See `docs/explanation/proof.md`.
"""

from __future__ import annotations

from dataclasses import dataclass

from seamproof.cutting.model import CuttingList, CuttingSettings, Recipe
from seamproof.draft.model import Block
from seamproof.findings import Finding
from seamproof.piecing.model import Leaf, PiecingPlan
from seamproof.proof.checks import (
    COUNT,
    NEED,
    NOT_THE_BLOCK,
    RECIPE,
    SPARE,
    TRIM,
    faulty,
)
from seamproof.proof.front import compare
from seamproof.proof.ledger import Outcome, run
from seamproof.proof.needs import need_fault, ruler_fault
from seamproof.proof.stock import extent
from seamproof.proof.sums import Sums, across_seams, compared


@dataclass(frozen=True, slots=True)
class Proved:
    """What a proof came to: how many pieces and steps it followed, how many sizes added up exactly
    in fractions, how many to `SAME`, and what does not add up."""

    pieces: int
    steps: int
    sums_exact: int
    sums_near: int
    findings: tuple[Finding, ...]

    @property
    def sums(self) -> int:
        """Sizes that add up."""
        return self.sums_exact + self.sums_near


def prove(
    block: Block, plan: PiecingPlan, cutting: CuttingList, settings: CuttingSettings
) -> tuple[Finding, ...]:
    """Everything in a cutting list that does not add up; () if every piece sews to its size."""
    return proved(block, plan, cutting, settings).findings


def proved(
    block: Block, plan: PiecingPlan, cutting: CuttingList, settings: CuttingSettings
) -> Proved:
    """The proof with its numbers, for a sentence such as "all 148 sizes add up"."""
    outcome = run(cutting, settings)
    sums = across_seams(cutting, settings) + _trims(plan, cutting, settings)
    findings = [
        *outcome.findings,
        *_block_faults(block, cutting, settings, outcome),
        *_recipe_faults(cutting),
        *_piece_faults(plan, cutting, settings, outcome),
        *sums.findings,
    ]
    return Proved(
        pieces=sum(piece.count for piece in cutting.pieces),
        steps=len(cutting.steps),
        sums_exact=sums.exact,
        sums_near=sums.near,
        findings=tuple(findings),
    )


def _block_faults(
    block: Block, cutting: CuttingList, settings: CuttingSettings, outcome: Outcome
) -> list[Finding]:
    """Whether as many blocks as are wanted come out, as drawn, and nothing else but spares."""
    if outcome.last is None:
        if outcome.findings:
            return []  # the account stopped before there was a block
        return [faulty(NOT_THE_BLOCK, "the cutting list does not come to a block")]
    found = list(compare(block, outcome.last, float(settings.seam)))
    name = cutting.steps[-1].gives[0].what if cutting.steps else cutting.pieces[0].letter
    left = outcome.account.left()
    blocks = left.pop(name, 0)
    if blocks != cutting.copies:
        found.append(faulty(COUNT, f"{blocks} blocks come out, and {cutting.copies} are wanted"))
    spare = {product(recipe): recipe.spare for recipe in cutting.recipes if recipe.spare}
    return found + [
        faulty(
            SPARE,
            f"{left.get(what, 0)} {what} are left over, and the recipe says {spare.get(what, 0)}",
        )
        for what in sorted(left.keys() | spare.keys())
        if left.get(what, 0) != spare.get(what, 0)
    ]


def product(recipe: Recipe) -> str:
    """The name of what a recipe makes."""
    return recipe.steps[-1].gives[0].what if recipe.steps else recipe.pieces[0].letter


def _recipe_faults(cutting: CuttingList) -> list[Finding]:
    """Whether recipes and list are one, and a recipe says what its steps do."""
    found = []
    if tuple(piece for recipe in cutting.recipes for piece in recipe.pieces) != cutting.pieces:
        found.append(faulty(RECIPE, "the pieces of the list are not those of its recipes"))
    steps = tuple(step for recipe in cutting.recipes for step in recipe.steps)
    if steps != cutting.steps[: len(steps)]:
        found.append(faulty(RECIPE, "the steps of the list do not begin with those of its recipes"))
    for recipe in cutting.recipes:
        if not recipe.steps:
            continue
        made = sum(s.count for s in recipe.steps[-1].gives if s.what == product(recipe))
        rounds = recipe.steps[0].takes[0].count
        if recipe.made != made or recipe.gives * rounds != made:
            found.append(
                faulty(
                    RECIPE,
                    f"the recipe for the {recipe.kind} says that it makes {recipe.made}, "
                    f"{recipe.gives} at a time; its steps make {made} in {rounds} rounds",
                )
            )
        if not 0 <= recipe.spare < recipe.made:
            found.append(faulty(RECIPE, f"the {recipe.kind} recipe makes only spares"))
    return found


def _piece_faults(
    plan: PiecingPlan, cutting: CuttingList, settings: CuttingSettings, outcome: Outcome
) -> list[Finding]:
    """Whether every piece is cut as large as its patch asks for, and to the marks of the ruler."""
    found: list[Finding | None] = []
    patches = outcome.account.patches()
    for recipe in cutting.recipes:
        for piece in recipe.pieces:
            leaf = plan.parts[piece.part].made
            if not isinstance(leaf, Leaf) or leaf.fabric != piece.fabric:
                found.append(faulty(NEED, f"{piece.letter} is not of the fabric of its patch"))
                continue
            found.append(ruler_fault(piece, recipe.kind, settings))
            if outcome.last is not None and piece.count > 0:
                gives, odd = divmod(patches[piece.letter], piece.count)
                if odd:
                    found.append(faulty(COUNT, f"some {piece.letter} give more than others"))
                found.append(need_fault(piece, leaf.corners, gives, float(settings.seam)))
    return [finding for finding in found if finding is not None]


def _trims(plan: PiecingPlan, cutting: CuttingList, settings: CuttingSettings) -> Sums:
    """Every trim size is the finished size and two seam allowances, and what the steps cut to."""
    total = Sums()
    for recipe in cutting.recipes:
        width, height = extent(plan.parts[recipe.unit].outline)
        right = (width + 2 * settings.seam, height + 2 * settings.seam)
        steps = [step for step in recipe.steps if step.verb == "trim"]
        last = [extent(step.gives[0].corners) for step in steps][-1:]
        said = [recipe.trim, *(piece.trim for piece in recipe.pieces)]
        if (recipe.trim is None) != (not last):
            text = f"the {recipe.kind} recipe and its steps do not agree whether to trim"
            total += Sums(findings=(faulty(TRIM, text),))
        for trim in said:
            if trim != recipe.trim:
                text = f"a piece and its {recipe.kind} recipe have other trim sizes"
                total += Sums(findings=(faulty(TRIM, text),))
        for trim in [*last, *([recipe.trim] if recipe.trim else [])]:
            for one, true in zip(sorted(trim), sorted(right), strict=True):
                total += compared(one, true, f"the trimmed {recipe.kind}")
    return total
