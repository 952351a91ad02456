"""What there is to say about a cutting list: roundings, spares, templates, bias edges."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from seamproof.cutting.checks import (
    ALL_ON_THE_BIAS,
    CUT_FULL,
    OFF_THE_RULER,
    SPARES,
    TEMPLATE,
    USUAL_SHORT,
)
from seamproof.cutting.model import CuttingList, CuttingSettings, Piece, Recipe, Step
from seamproof.cutting.outside import at_corners
from seamproof.cutting.recipes import corner_square, half_square, hourglass
from seamproof.cutting.recipes.making import as_cut
from seamproof.cutting.recipes.shapes import strip_of
from seamproof.draft.model import Block
from seamproof.draft.ruler import FINEST_GRID, fitting_widths
from seamproof.findings import Finding, Where
from seamproof.length.exact import CM
from seamproof.length.notation import Measure, number, with_unit
from seamproof.length.rounding import SAME, Size, up
from seamproof.piecing.leaves import PlacedLeaf
from seamproof.plane.predicates import box

MOST_SUMMED = 400
"""In blocks with more loose patches than this, errors are not added up across the block."""


def remarks(
    block: Block,
    made: CuttingList,
    places: Sequence[tuple[int, PlacedLeaf]],
    settings: CuttingSettings,
) -> tuple[Finding, ...]:
    """Notes and warnings about a finished list. `places` are its loose patches in the block."""
    measure = measure_of(settings)
    where = Where(block=block.name)
    found: list[Finding] = []
    loose = {recipe.unit: recipe for recipe in made.recipes if not recipe.steps}
    for piece in made.pieces:
        if piece.shape == "template":
            found.append(
                TEMPLATE.found(
                    f"{piece.letter} has sides that no line of a ruler cuts",
                    mend="cut it round a template of its outline",
                    where=where,
                )
            )
        elif piece.rounding == "as cut" and not _cut_full(piece, settings):
            found.append(_off_ruler(block, piece, loose, places, settings, measure))
        elif piece.rounding == "as cut":
            more = max(piece.width.surplus, piece.height.surplus)
            found.append(
                CUT_FULL.found(
                    f"{piece.letter} is cut up to {_plain(more, measure)} larger than the sewing "
                    "needs",
                    mend="let the surplus lie on the outside, and trim it when the seam is sewn",
                    where=where,
                )
            )
    found += [
        _slices_off_ruler(recipe, width, where, measure)
        for recipe in made.recipes
        for step in recipe.steps
        if step.verb == "cut" and abs((width := _slice(step, settings)).surplus) > SAME
    ]
    found += [_spare(recipe, where) for recipe in made.recipes if recipe.spare]
    found += [_stretching(r, where) for r in made.recipes if r.steps and r.bias_edges >= _ALL]
    found += _usual_short(made, settings, measure, where)
    return tuple(found)


_USUAL = (
    (half_square.KIND, CM * 5 / 2, half_square.need),
    (hourglass.KIND, CM * 7 / 2, hourglass.need),
)
"""What metric patterns add to the finished side of the squares for these units (common practice, no
source), and what the geometry asks for."""


def _usual_short(
    made: CuttingList, settings: CuttingSettings, measure: Measure, where: Where
) -> list[Finding]:
    """What the usual metric sizes lack, once for each kind of unit."""
    found = []
    for kind, more, need in _USUAL if measure == "cm" else ():
        short = need(Fraction(0), settings.seam) - float(more)
        if short > SAME and any(recipe.kind == kind for recipe in made.recipes):
            added = with_unit(up(need(Fraction(0), settings.seam), settings.step), measure)
            found.append(
                USUAL_SHORT.found(
                    f"the usual {with_unit(more, measure)} more than the finished size are "
                    f"{_plain(short, measure)} short for {kind}s",
                    mend=f"without anything to trim, add {added}; or add the usual and sew a "
                    "thread narrower",
                    where=where,
                )
            )
    return found


_ALL = 4  # edges of a unit


def _stretching(recipe: Recipe, where: Where) -> Finding:
    letters = sorted({piece.fabric.upper() for piece in recipe.pieces})
    return ALL_ON_THE_BIAS.found(
        f"{recipe.kind} of {' and '.join(letters)}: made {recipe.method}, every edge is on the "
        "bias and stretches",
        mend="starch the cloth first, press without pushing, or make them two or eight at a time",
        where=where,
    )


def _cut_full(piece: Piece, settings: CuttingSettings) -> bool:
    """Whether a piece went up to the next mark: squares for triangles, those of units that would be
    trimmed if sizes were not exact, and what is cut apart between two seams."""
    exact = settings.sizes == "exact" and piece.unit in settings.oversize
    up = exact or piece.unit == corner_square.KIND
    return piece.split != "whole" or (up and piece.height.surplus > 0)


def measure_of(settings: CuttingSettings) -> Measure:
    """The measure of the ruler: a step that is a plain part of an inch means inches.

    >>> measure_of(CuttingSettings()), measure_of(CuttingSettings.metric())
    ('in', 'cm')
    """
    metric = (settings.step / CM).denominator < settings.step.denominator
    return "cm" if metric else "in"


def _plain(length: float, measure: Measure) -> str:
    """A small length for a sentence, in thousandths of an inch or hundredths of a centimetre."""
    if measure == "cm":
        return f"{length / float(CM):.2f} cm"
    return f"{length:.3f} in"


def _off_ruler(
    block: Block,
    piece: Piece,
    loose: dict[int, Recipe],
    places: Sequence[tuple[int, PlacedLeaf]],
    settings: CuttingSettings,
    measure: Measure,
) -> Finding:
    sizes = [size for size in (piece.width, piece.height) if abs(size.surplus) > float(SAME)]
    worst = max(sizes, key=lambda size: abs(size.surplus))
    way = "large" if worst.surplus > 0 else "small"
    what = (
        f"{piece.letter} should be {_plain(worst.need, measure)} and no mark shows that; cut "
        f"{with_unit(worst.ruler, measure)} it is {_plain(abs(worst.surplus), measure)} too {way}"
    )
    total, at = _summed(piece, loose, places)
    if abs(total) > abs(worst.surplus) + float(SAME):
        way = "large" if total > 0 else "small"
        what += f", and across the block that adds up to {_plain(abs(total), measure)} too {way}"
    near = _nearby(block, settings)
    mend = "cut between the marks, or round a template"
    mine = [lying.corners for part, lying in places if _letter(loose, part) == piece.letter]
    if worst.surplus < 0 and piece.shape == "square" and at_corners(block, mine):
        larger = with_unit(up(worst.need, settings.step), measure)
        mend += (
            f"; or cut {larger}, match the inner corner, and cut off what lies outside when the "
            "block is squared up"
        )
    if near:
        shown = ", ".join(number(width, measure) for width in near)
        mend += f"; blocks {shown} {measure} wide have all their sides on the marks"
    return OFF_THE_RULER.found(what, mend=mend, where=Where(block=block.name, at=at))


def _letter(loose: dict[int, Recipe], part: int) -> str:
    return loose[part].pieces[0].letter if part in loose else ""


def _slice(step: Step, settings: CuttingSettings) -> Size:
    """How wide the slices of a strip set are, across the cuts."""
    (a, b), (c, d) = step.cuts[:2]
    return as_cut(strip_of((a, b, d, c), 0), settings).size


def _slices_off_ruler(recipe: Recipe, width: Size, where: Where, measure: Measure) -> Finding:
    way = "large" if width.surplus > 0 else "small"
    return OFF_THE_RULER.found(
        f"slices for the {recipe.kind} should be {_plain(width.need, measure)} wide and no mark "
        f"shows that; cut {with_unit(width.ruler, measure)} they are "
        f"{_plain(abs(width.surplus), measure)} too {way}",
        mend="cut between the marks, or choose a block size that lies on them",
        where=where,
    )


def _summed(
    piece: Piece, loose: dict[int, Recipe], places: Sequence[tuple[int, PlacedLeaf]]
) -> tuple[float, tuple[Fraction, Fraction] | None]:
    """The largest error that patches of all letters add up to along one level or upright line
    through a patch of this letter; and the middle of one such patch."""
    mine = [
        lying
        for part, lying in places
        if part in loose and loose[part].pieces[0].letter == piece.letter
    ]
    if not mine:
        return 0.0, None
    low, high = box(mine[0].corners)
    at = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    if len(places) > MOST_SUMMED or piece.shape not in ("square", "rectangle"):
        return 0.0, at
    boxes = [(box(lying.corners), loose[part].pieces[0]) for part, lying in places if part in loose]
    worst = 0.0
    for lying in mine:
        (left, top), (right, bottom) = box(lying.corners)
        middle = ((left + right) / 2, (top + bottom) / 2)
        for axis in (0, 1):
            total = sum(
                _error(other, high[axis] - low[axis])
                for (low, high), other in boxes
                if low[1 - axis] < middle[1 - axis] < high[1 - axis]
            )
            if abs(total) > abs(worst):
                worst = total
    return worst, at


def _error(piece: Piece, finished: Fraction) -> float:
    """By how much a patch that is `finished` long in one direction comes out too long there."""
    if piece.shape not in ("square", "rectangle") or piece.split != "whole":
        return 0.0
    sizes = (piece.width, piece.height)
    return min(sizes, key=lambda size: abs(size.need - float(finished))).surplus


def _nearby(block: Block, settings: CuttingSettings) -> tuple[Fraction, ...]:
    """Widths of the block near its own at which every side of its grid is on the ruler; () if it
    has sides that lie on no grid."""
    lengths: set[Fraction] = set()
    for patch in block.patches:
        corners = block.corners_of(patch)
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
            if a[0] == b[0] or a[1] == b[1]:
                lengths.add(abs(a[0] - b[0]) + abs(a[1] - b[1]))
    shares = {length / block.width for length in lengths}
    if not shares or any(share.denominator > FINEST_GRID for share in shares):
        return ()
    near = fitting_widths(block.width, sorted(shares), settings.step)
    # If its own width is among them, what is off the ruler lies aslant.
    return () if block.width in near else near


def _spare(recipe: Recipe, where: Where) -> Finding:
    letters = sorted({piece.fabric.upper() for piece in recipe.pieces})
    needed = recipe.made - recipe.spare
    return SPARES.found(
        f"{recipe.kind} of {' and '.join(letters)}: {recipe.made} are made {recipe.method}, and "
        f"{needed} {'is' if needed == 1 else 'are'} needed",
        mend="keep the rest for a test, or name another method",
        where=where,
    )
