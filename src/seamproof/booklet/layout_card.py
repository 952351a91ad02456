"""The layout card of a block: every unit numbered where it lies, with its turn."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from seamproof.booklet import book_wording, lying, unit_wording, wording
from seamproof.booklet.matter import BlockMatter
from seamproof.booklet.model import Beside, Heading, Part, Picture, Table, Words
from seamproof.cutting.model import Recipe
from seamproof.drawing.scene import Letter, Scene, Shape, Spot, Stroke
from seamproof.figures.cloth import Coloured, Paints, edge, filled, seams, spots
from seamproof.figures.steps import patches_of
from seamproof.piecing.leaves import in_its_frame, parts_in, put
from seamproof.piecing.model import Leaf
from seamproof.plane.model import Placed
from seamproof.plane.predicates import box

APART = 0.07
"""How far units are drawn apart, as a share of the block's longer side."""

WIDE, HIGH = 0.48, 2.1
"""Room for the picture: share of the text's width, and inches. The steps that begin under it have
room for two rows on the same page."""

INSET = 0.09
"""How far inside its edge the bar of a unit lies, as a share of the unit's shorter side."""


@dataclass(frozen=True, slots=True)
class Place:
    """One unit or single piece where it lies in the block; `turns` says whether its turn can be
    seen: a square of one fabric has none."""

    number: int
    mark: str
    placed: Placed
    turns: bool


def places(one: BlockMatter) -> tuple[Place, ...]:
    """Every unit and single piece of a block, row by row as they lie."""
    plan = one.piecing
    marks = marks_of(one.cutting.recipes)
    found: list[tuple[Placed, str, bool]] = []
    for placed in parts_in(plan, in_its_frame(plan.whole), closed=marks):
        made = plan.parts[placed.part].made
        if placed.part in marks:
            found.append((placed, marks[placed.part], True))
        elif isinstance(made, Leaf):
            found.append((placed, "", len(made.corners) != 4))
    letters = {
        piece.part: wording.piece(lying.shape_of(piece), piece.letter)
        for recipe in one.cutting.recipes
        if not recipe.steps
        for piece in recipe.pieces
    }

    def order(item: tuple[Placed, str, bool]) -> tuple[float, float]:
        (x0, y0), (x1, y1) = box(_outline(one, item[0]))
        return (round(float(y0 + y1), 3), round(float(x0 + x1), 3))

    return tuple(
        Place(i, mark or letters.get(placed.part, ""), placed, turns)
        for i, (placed, mark, turns) in enumerate(sorted(found, key=order), start=1)
    )


def marks_of(recipes: Iterable[Recipe]) -> dict[int, str]:
    """What the units of a block are called, by the number of their part."""
    made = [recipe for recipe in recipes if recipe.steps]
    marks = {recipe.unit: wording.unit_mark(i) for i, recipe in enumerate(made, start=1)}
    return marks | {
        recipe.twin.unit: unit_wording.mirrored_mark(marks[recipe.unit])
        for recipe in made
        if recipe.twin is not None and recipe.twin.unit is not None
    }


def layout_card(one: BlockMatter, paints: Paints) -> tuple[Part, ...]:
    """The heading, the picture beside its list, and a warning about mirror twins; nothing for a
    block that is one unit."""
    found = places(one)
    if len(found) < 2:
        return ()
    picture = Picture(_scene(one, found, paints), book_wording.LAYOUT_CAPTION, WIDE, HIGH)
    table = Table(
        f"layout-{one.slug}", book_wording.LAYOUT_COLUMNS, tuple(_lines(found)), (7, 11, 16)
    )
    heading = Heading(book_wording.LAYOUT_TITLE, book_wording.LAYOUT_LEAD)
    parts: list[Part] = [heading, Beside(picture, table)]
    twins = _twins(one)
    if twins:
        parts.append(Words((book_wording.twins_beware(twins),)))
    return tuple(parts)


def _lines(found: Sequence[Place]) -> list[tuple[str, ...]]:
    """Places of one unit and one turn on a line."""
    alike: dict[tuple[str, str], list[str]] = {}
    for place in found:
        turn = book_wording.turn_said(place.placed.turn) if place.turns else ""
        alike.setdefault((place.mark, turn), []).append(str(place.number))
    return [(wording.listed(numbers), mark, turn) for (mark, turn), numbers in alike.items()]


def _twins(one: BlockMatter) -> list[str]:
    """Units of which the block holds both hands."""
    marks = marks_of(one.cutting.recipes)
    found = [
        (marks[recipe.unit], marks[recipe.twin.unit])
        for recipe in one.cutting.recipes
        if recipe.steps and recipe.twin is not None and recipe.twin.unit is not None
    ]
    hands = {
        hand: [marks[r.unit] for r in one.cutting.recipes if r.steps and r.hand == hand]
        for hand in ("left", "right")
    }
    named = [name for pair in found for name in pair]
    if hands["left"] and hands["right"]:
        named += [*hands["left"], *hands["right"]]
    return list(dict.fromkeys(named))


def _outline(one: BlockMatter, placed: Placed) -> tuple[tuple[Fraction, Fraction], ...]:
    return put(one.piecing.parts[placed.part].outline, placed.turn, placed.at)


def _scene(one: BlockMatter, found: Sequence[Place], paints: Paints) -> Scene:
    """The block with its units drawn apart, numbered, each with a bar along the edge that lies
    uppermost in its own frame."""
    grow = 1 + APART * max(math.sqrt(len(found)) - 1, 1) / math.sqrt(len(found)) * 2
    shapes: list[Shape] = []
    numbers: list[Shape] = []
    for place in found:
        outline = spots(_outline(one, place.placed))
        xs, ys = [x for x, _ in outline], [y for _, y in outline]
        middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
        dx, dy = middle[0] * (grow - 1), middle[1] * (grow - 1)

        def moved(some: Iterable[Spot], dx: float = dx, dy: float = dy) -> tuple[Spot, ...]:
            return tuple((x + dx, y + dy) for x, y in some)

        patches = [
            Coloured(
                patch.fabric,
                moved(
                    spots(
                        put(
                            tuple((Fraction(x), Fraction(y)) for x, y in patch.corners),
                            place.placed.turn,
                            place.placed.at,
                        )
                    )
                ),
            )
            for patch in patches_of(one.piecing, place.placed.part)
        ]
        shapes += [*filled(patches, paints), *seams(patches), edge(moved(outline))]
        if place.turns:
            shapes.append(_bar(one, place, moved))
        at = moved([middle])[0]
        room = min(max(xs) - min(xs), max(ys) - min(ys)) / 2
        numbers.append(Letter(at, str(place.number), room, needed=True))
    return Scene((*shapes, *numbers), f"{one.name}: its units laid out, numbered")


def _bar(one: BlockMatter, place: Place, moved: object) -> Stroke:
    assert callable(moved)
    outline = one.piecing.parts[place.placed.part].outline
    (x0, y0), (x1, y1) = box(outline)
    inset = Fraction(INSET) * min(x1 - x0, y1 - y0)
    ends = ((x0 + 2 * inset, y0 + inset), (x1 - 2 * inset, y0 + inset))
    return Stroke("enlarged", moved(spots(put(ends, place.placed.turn, place.placed.at))))
