"""What a recipe says about its unit beside the steps: where the cut pieces lie, how much cloth is
wasted, how many edges are on the bias."""

from __future__ import annotations

import cmath
import math
from collections import Counter
from collections.abc import Iterator

from seamproof.cutting.model import CuttingSettings, Recipe
from seamproof.findings import Finding
from seamproof.length.rounding import SAME
from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan
from seamproof.plane.model import Placed
from seamproof.proof.checks import BIAS, RECIPE, SHEETS, WASTE, faulty, long
from seamproof.proof.cloth_geometry import (
    HAIR,
    Motion,
    Polygon,
    Ray,
    area,
    common,
    convex_faces,
    point,
    polygon,
    pushed_out,
    straightened,
)
from seamproof.proof.stock import Thing, shared

SHARE = 0.005
"""A wasted share is given in whole parts of a hundred; half of one is the rounding."""

OFF_GRAIN = math.sin(math.radians(3))
"""An edge that leaves the thread by less than three degrees is on the grain: so much cloth that was
pulled straight by hand may be off."""


def description_faults(
    recipe: Recipe, plan: PiecingPlan, product: Thing | None, seam: float
) -> Iterator[Finding]:
    """What is wrong in a recipe's description. `product` is what the account made of it."""
    if not 0 <= recipe.unit < len(plan.parts):
        yield faulty(SHEETS, f"there is no part for the {recipe.kind} recipe")
        return
    if not recipe.steps and recipe.unit != recipe.pieces[0].part:
        yield faulty(SHEETS, f"the {recipe.kind} recipe is for another patch than its piece")
    if product is not None and _fabrics(plan, recipe.unit) != product.fabrics(seam):
        yield faulty(SHEETS, f"the {recipe.kind} recipe makes a unit of other fabrics than it says")
    pieces = list(cut_pieces(plan, recipe.unit, seam))
    if any(step.left_in for step in recipe.steps):
        pieces = list(_left_in(plan, recipe.unit, seam))
    if len(pieces) != len(recipe.sheets) or not all(
        _same_place(polygon(said), true) for said, true in zip(recipe.sheets, pieces, strict=True)
    ):
        yield faulty(SHEETS, f"the cut pieces do not lie in the {recipe.kind} as its recipe says")
    wasted = _wasted(recipe, pieces)
    if abs(wasted - recipe.waste) > SHARE:
        yield faulty(
            WASTE,
            f"the {recipe.kind} recipe trims off {wasted:.0%} of the cut cloth, not "
            f"{recipe.waste:.0%}",
        )
    if product is not None:
        edges = bias_edges(product, seam)
        if edges != recipe.bias_edges:
            yield faulty(
                BIAS,
                f"{edges} edges of the {recipe.kind} are on the bias, not {recipe.bias_edges}",
            )


BONUS_MARKS = 4
"""Units sewn of what is cut off finish on every fourth mark of the ruler: half inches, whole
centimetres (common practice, no source)."""


def bonus_faults(recipe: Recipe, settings: CuttingSettings) -> Iterator[Finding]:
    """What is wrong in what a recipe says of units that can be sewn of its waste: the corner of a
    square, from the raw corner to a second seam that lies two allowances outside the first."""
    seam, mark = float(settings.seam), float(BONUS_MARKS * settings.step)
    pieces = {piece.letter: piece for piece in recipe.pieces}
    for bonus in recipe.bonus:
        base, corner = pieces.get(bonus.base), pieces.get(bonus.corner)
        if base is None or corner is None or base is corner or bonus.count != corner.count:
            yield faulty(RECIPE, f"the {recipe.kind} recipe cuts off no such corners")
            continue
        # The first seam runs from corner to corner; the second is nearer to the raw corner.
        size = float(corner.width.ruler) - 2 * math.sqrt(2) * seam
        marks = (float(bonus.size.ruler) - 2 * seam) / mark
        loose = size - float(bonus.size.ruler)
        if abs(bonus.size.need - size) > SAME or abs(marks - round(marks)) > SAME:
            text = f"units sewn of the waste of {bonus.corner} measure {long(size)}"
            yield faulty(RECIPE, text)
        elif not -SAME <= loose < mark:
            text = f"units of {long(size)} can be trimmed to another size than is stated"
            yield faulty(RECIPE, text)


def cut_pieces(plan: PiecingPlan, number: int, seam: float) -> Iterator[Polygon]:
    """Each patch of a part with its allowance, in the part's own frame, as far as the part reaches
    from raw edge to raw edge; in sewing order, those of a join's left side first."""
    edge = convex_faces(pushed_out(straightened(polygon(plan.parts[number].outline)), seam))
    for _, patch in _patches(plan, number, Motion(1 + 0j, 0j)):
        grown = pushed_out(straightened(patch), seam)
        if len(edge) == 1 and len(faces := convex_faces(grown)) == 1:
            yield common(faces[0], edge[0])
        else:
            yield grown


def _left_in(plan: PiecingPlan, number: int, seam: float) -> Iterator[Polygon]:
    """The same for a unit whose corners are folded over with their backs left in: each as the
    square that it was before, and the whole as if it had no corners on it."""
    edge = straightened(polygon(plan.parts[number].outline))
    for _, patch in _patches(plan, number, Motion(1 + 0j, 0j)):
        shape = straightened(patch)
        yield pushed_out(_square_of(shape, edge) or edge, seam)


def _square_of(patch: Polygon, edge: Polygon) -> Polygon:
    """The square of which a triangle is half that fills a corner of an outline; () for any other
    patch."""
    for i, p in enumerate(patch if len(patch) == 3 else ()):
        one, other = patch[(i + 1) % 3] - p, patch[i - 1] - p
        right = abs((one * other.conjugate()).real) <= HAIR * abs(one)
        if right and min(abs(p - q) for q in edge) <= HAIR:
            return (p, p + one, p + one + other, p + other)
    return ()


def _patches(plan: PiecingPlan, number: int, where: Motion) -> Iterator[tuple[str, Polygon]]:
    match plan.parts[number].made:
        case Leaf(fabric, corners):
            yield fabric, where.shape(polygon(corners))
        case Join(left=left, right=right):
            for side in (left, right):
                yield from _patches(plan, side.part, where.after(_lying(side)))
        case Finish(of=of):
            yield from _patches(plan, of.part, where.after(_lying(of)))
        case _:
            pass


def _fabrics(plan: PiecingPlan, number: int) -> Counter[str]:
    return Counter(fabric for fabric, _ in _patches(plan, number, Motion(1 + 0j, 0j)))


def _lying(placed: Placed) -> Motion:
    return Motion(cmath.exp(2j * math.pi * float(placed.turn)), point(placed.at))


def _same_place(said: Polygon, true: Polygon) -> bool:
    """Whether two outlines are one, but for a hair."""
    both = shared(convex_faces(said), convex_faces(true))
    around = sum(abs(p - true[i - 1]) for i, p in enumerate(true))
    return area(said) + area(true) - 2 * both <= HAIR * around


def _wasted(recipe: Recipe, pieces: list[Polygon]) -> float:
    """The share of what is cut for a recipe that is in none of its trimmed units. Patches that are
    cut one by one, undivided, waste nothing."""
    if not recipe.steps and all(piece.split == "whole" for piece in recipe.pieces):
        return 0.0
    cloth = sum(float(p.width.ruler * p.height.ruler) * p.count for p in recipe.pieces)
    made = recipe.made + (recipe.twin.made if recipe.twin is not None else 0)
    return 1 - made * sum(area(piece) for piece in pieces) / cloth if cloth else 0.0


def bias_edges(thing: Thing, seam: float) -> int:
    """Sides of a thing along which some patch is cut neither along nor across the thread."""
    shape = straightened(thing.outline)
    count = 0
    for i, b in enumerate(shape):
        side = Ray.through(shape[i - 1], b)
        count += any(
            sheet.grain != 0
            and abs(math.sin(2 * cmath.phase(sheet.grain / side.ahead))) > 2 * OFF_GRAIN
            and any(_along(face, side) > 2 * seam for face in sheet.faces)
            for sheet in thing.sheets
        )
    return count


def _along(face: Polygon, side: Ray) -> float:
    """How far a face lies on a line with one of its sides."""
    return max(
        (
            abs(p - face[i - 1])
            for i, p in enumerate(face)
            if abs(side.off(p)) <= HAIR and abs(side.off(face[i - 1])) <= HAIR
        ),
        default=0.0,
    )
