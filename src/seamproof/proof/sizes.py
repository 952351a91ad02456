"""The proof of a cutting list: every cut piece sews to the size that is stated.

The proof is independent of the code that made the list: it shares no geometry with it and knows
only the drawing, the plan's parts and the list itself. See `docs/explanation/proof.md`.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.cutting.model import CuttingList, CuttingSettings, Piece, Recipe
from seamproof.draft.model import Block
from seamproof.findings import Finding
from seamproof.length.exact import kept
from seamproof.piecing.model import Leaf, PiecingPlan
from seamproof.plane.model import Point
from seamproof.proof.checks import (
    COUNT,
    NEED,
    NOT_THE_BLOCK,
    RECIPE,
    SPARE,
    TRIM,
    faulty,
)
from seamproof.proof.cloth_geometry import HAIR, polygon, straightened
from seamproof.proof.described import bonus_faults, description_faults
from seamproof.proof.front import compare
from seamproof.proof.ledger import Outcome, run
from seamproof.proof.needs import angle_fault, need_fault, ruler_fault
from seamproof.proof.stock import MOST_COPIES, extent
from seamproof.proof.strips import strip_fault
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
        *_recipe_faults(plan, cutting, outcome, float(settings.seam)),
        *(fault for recipe in cutting.recipes for fault in bonus_faults(recipe, settings)),
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
    blocks = left.get(name, 0) - cutting.copies
    left[name] = blocks  # more than are wanted can only be the spare of a block that is one unit
    if blocks < 0:
        found.append(faulty(COUNT, f"{-blocks} blocks too few come out"))
    stated = {product(recipe): recipe.spare for recipe in cutting.recipes if recipe.steps}
    stated |= {r.twin.what: r.twin.spare for r in cutting.recipes if r.twin is not None}
    for what in sorted(left.keys() | stated.keys()):
        there, most = left.get(what, 0), _unavoidable(what, cutting)
        if what in stated:
            if there != stated[what]:
                text = f"{there} {what} are left over, and the recipe says {stated[what]}"
                found.append(faulty(SPARE, text))
        elif there > most:
            found.append(faulty(SPARE, f"{there} {what} are left over, and nothing says so"))
    return found


def _unavoidable(what: str, cutting: CuttingList) -> int:
    """How many things of a name may be left because they come several at a time: one fewer than
    come at once, of each recipe or step that makes them."""
    once = [MOST_COPIES[p.split] for r in cutting.recipes for p in r.pieces if p.letter == what]
    for step in cutting.steps:
        made = sum(stock.count for stock in step.gives if stock.what == what)
        once += [made // step.takes[0].count] if made else []
    return sum(each - 1 for each in once)


def product(recipe: Recipe) -> str:
    """The name of what a recipe makes."""
    return recipe.steps[-1].gives[0].what if recipe.steps else recipe.pieces[0].letter


def _recipe_faults(
    plan: PiecingPlan, cutting: CuttingList, outcome: Outcome, seam: float
) -> list[Finding]:
    """Whether recipes and list are one, and a recipe says what its steps do."""
    found = []
    pieces = [piece for recipe in cutting.recipes for piece in recipe.pieces]
    rows = {piece.letter: piece for piece in cutting.pieces}
    for letter in dict.fromkeys([*rows, *(piece.letter for piece in pieces)]):
        own = [piece for piece in pieces if piece.letter == letter]
        total = sum(piece.count for piece in own)
        if letter not in rows or total != rows[letter].count or _first(own) != rows[letter].part:
            text = f"the recipes use {total} {letter}, the list says otherwise"
            found.append(faulty(RECIPE, text))
        elif any(_cut_like(piece) != _cut_like(rows[letter]) for piece in own):
            found.append(faulty(RECIPE, f"{letter} is cut otherwise in a recipe than in the list"))
    steps = tuple(step for recipe in cutting.recipes for step in recipe.steps)
    if steps != cutting.steps[: len(steps)]:
        found.append(faulty(RECIPE, "the steps of the list do not begin with those of its recipes"))
    twins = [recipe.twin for recipe in cutting.recipes if recipe.twin is not None]
    if any(twin.unit is not None and twin.what != f"part {twin.unit}" for twin in twins):
        found.append(faulty(RECIPE, "the twins of a unit are called otherwise than their part"))
    if outcome.last is not None:
        counts = {piece.letter: piece.count for piece in cutting.pieces}
        faults = (_made_fault(recipe, outcome, counts, seam) for recipe in cutting.recipes)
        found += [fault for fault in faults if fault is not None]
        found += _patches_made(cutting, outcome)
        for recipe in cutting.recipes:
            thing = outcome.account.only(product(recipe))
            found += description_faults(recipe, plan, thing, seam)
    return found


def _first(pieces: Sequence[Piece]) -> int | None:
    return min((piece.part for piece in pieces), default=None)


def _cut_like(piece: Piece) -> Piece:
    """A piece without what rows of one letter may differ in."""
    return replace(piece, count=0, part=0, hand="either")


def _made_fault(
    recipe: Recipe, outcome: Outcome, rows: Mapping[str, int], seam: float
) -> Finding | None:
    """Whether a recipe with steps makes as many as it says, as many at a time as it says."""
    if not recipe.steps:
        return None
    made = sum(s.count for s in recipe.steps[-1].gives if s.what == product(recipe))
    thing = outcome.account.only(product(recipe))
    in_one = thing.patches(seam) if thing is not None else Counter()
    patches = outcome.account.patches(seam)
    at_once = 1
    if any(piece.shape == "strip" for piece in recipe.pieces):
        # Slices of one set go into many units: what the last step does is one round.
        at_once = made // max(recipe.steps[-1].takes[0].count, 1)
    for piece in (piece for piece in recipe.pieces if piece.shape != "strip"):
        # Patches that one cut piece, or one triangle of it, gives, over those that a unit shows.
        each = patches[piece.letter] // max(rows[piece.letter], 1) // MOST_COPIES[piece.split]
        at_once = math.lcm(at_once, Fraction(each, max(in_one[piece.letter], 1)).numerator)
    rounds = {at_once}
    if max(in_one.values(), default=0) > 1:
        # Where one fabric is there twice, a round may use up two of its pieces.
        rounds.add(-(-made // max(recipe.steps[0].takes[0].count, 1)))
    if recipe.made != made or recipe.gives not in rounds or not 0 <= recipe.spare < made:
        return faulty(
            RECIPE,
            f"the recipe for the {recipe.kind} says that it makes {recipe.made}, {recipe.gives} at "
            f"a time, {recipe.spare} to spare; its steps make {made}, {at_once} at a time",
        )
    return None


def _patches_made(cutting: CuttingList, outcome: Outcome) -> list[Finding]:
    """Whether patches that are cut and not sewn in a recipe are as many as their recipes say."""
    found = []
    # A block of one patch is not sewn: what is cut is the block.
    left = outcome.account.left() if cutting.steps else {}
    for piece in cutting.pieces:
        plain = [r for r in cutting.recipes if not r.steps and r.pieces[0].letter == piece.letter]
        used = piece.count * MOST_COPIES[piece.split] - left.get(piece.letter, 0)
        if not plain:
            continue
        if sum(recipe.made for recipe in plain) != used or any(r.spare for r in plain):
            text = f"{used} patches of {piece.letter} are sewn, and the recipe says otherwise"
            found.append(faulty(RECIPE, text))
        if any(recipe.gives != MOST_COPIES[piece.split] for recipe in plain):
            found.append(faulty(RECIPE, f"one {piece.letter} gives {MOST_COPIES[piece.split]}"))
    return found


def _piece_faults(
    plan: PiecingPlan, cutting: CuttingList, settings: CuttingSettings, outcome: Outcome
) -> list[Finding]:
    """Whether every piece is cut as large as its patch asks for, and to the marks of the ruler."""
    if outcome.last is None:
        return []  # how many patches a piece gives is seen in the account
    found: list[Finding | None] = []
    patches = outcome.account.patches(float(settings.seam))
    rows = {piece.letter: piece for piece in cutting.pieces}
    for piece in (piece for recipe in cutting.recipes for piece in recipe.pieces):
        leaf = plan.parts[piece.part].made if 0 <= piece.part < len(plan.parts) else None
        if not isinstance(leaf, Leaf) or leaf.fabric != piece.fabric:
            found.append(faulty(NEED, f"{piece.letter} is not of the fabric of its patch"))
            continue
        if piece.shape == "strip":
            # Slices look alike whichever strip they come from; the account counts them by set.
            found.append(strip_fault(piece, leaf.corners, settings))
            continue
        gives, odd = divmod(patches[piece.letter], max(rows[piece.letter].count, 1))
        if odd:
            found.append(faulty(COUNT, f"some {piece.letter} give more than others"))
        found.append(ruler_fault(piece, gives, settings))
        found.append(angle_fault(piece))
        found.append(need_fault(piece, leaf.corners, gives, float(settings.seam)))
    return [finding for finding in found if finding is not None]


def _trims(plan: PiecingPlan, cutting: CuttingList, settings: CuttingSettings) -> Sums:
    """Every trim size is the finished size and two seam allowances, and what the steps cut to."""
    total = Sums()
    for recipe in cutting.recipes:
        if not 0 <= recipe.unit < len(plan.parts):
            continue  # said elsewhere
        width, height = _sides(plan.parts[recipe.unit].outline)
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


def _sides(outline: Sequence[Point]) -> tuple[Fraction, Fraction]:
    """Width and height of a unit, however it lies: two sides of a rectangle, in fractions where
    they are level and upright; of anything else those of the upright box round it."""
    corners = straightened(polygon(outline))
    ways = [corners[i + 1] - corners[i] for i in range(len(corners) - 1)]
    level = any(min(abs(way.real), abs(way.imag)) <= HAIR for way in ways)
    if len(corners) != 4 or level:
        return extent(outline)
    return kept(abs(ways[0])), kept(abs(ways[1]))
