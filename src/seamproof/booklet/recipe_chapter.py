"""The recipes of a quilt: each way to make a unit is told once, and the blocks refer to it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamproof.booklet import book_wording, unit_wording, wording
from seamproof.booklet.layout_card import marks_of
from seamproof.booklet.matter import BlockMatter, Matter
from seamproof.booklet.model import Caution, Cautions, Chapter, Part, PrintedStep, Section, Variant
from seamproof.booklet.pressing_chapter import Pressing
from seamproof.booklet.unit_chapters import Telling, called, told_as_one, told_by_itself
from seamproof.cutting.model import Recipe, Step
from seamproof.figures.cloth import paints as paints_of
from seamproof.figures.looks import followed
from seamproof.figures.recipe import unit_scene
from seamproof.length.notation import Measure, with_unit
from seamproof.plane.predicates import box

Way = tuple[object, ...]
"""What recipes have in common that are told once for the whole quilt: the unit, the method, what is
done in each step, and which way the drawn lines run. Sizes, fabrics and counts may differ."""

_SENTENCE = re.compile(r"(?<=\.)\s+(?=[A-Z])")
_SAME = Fraction(1, 1_000_000)
"""Inches: what is closer to the middle than this lies in the middle."""


@dataclass(frozen=True, slots=True)
class ToldOnce:
    """A recipe as it is told for all blocks, with its number."""

    number: int
    chapter: Chapter


def way_of(recipe: Recipe) -> Way:
    """By which recipe of the quilt a unit is made."""
    hands = tuple(piece.hand for piece in recipe.pieces)
    return (called(recipe), recipe.method, hands, *map(_doing, recipe.steps))


def _doing(step: Step) -> tuple[object, ...]:
    corners = [corner for stock in (*step.takes, *step.gives) for corner in stock.corners]
    (left, top), (right, bottom) = box(corners)
    middle = ((left + right) / 2, (top + bottom) / 2)
    lines = frozenset(
        (
            _sign((b[0] - a[0]) * (b[1] - a[1])),
            _sign((a[0] + b[0]) / 2 - middle[0]),
            _sign((a[1] + b[1]) / 2 - middle[1]),
        )
        for a, b in step.drawn
    )
    counts = (len(step.takes), len(step.drawn), len(step.stitched) if step.drawn else 0)
    return (step.verb, *counts, lines)


def _sign(value: Fraction) -> int:
    return 0 if abs(value) < _SAME else 1 if value > 0 else -1


def told_once(matter: Matter) -> dict[Way, ToldOnce]:
    """Every recipe of a quilt in the order in which blocks need it. The first unit made by it is
    its example."""
    found: dict[Way, ToldOnce] = {}
    for one in matter.blocks:
        marks = marks_of(one.cutting.recipes)
        telling = Telling(paints_of(one.fabrics), one.settings, matter.measure)
        for recipe, *_ in _told_together(one):
            if (way := way_of(recipe)) in found:
                continue
            number = len(found) + 1
            kind = wording.named(called(recipe))
            chapter = Chapter(
                book_wording.method_title(number, kind, recipe.method),
                book_wording.method_lead(marks[recipe.unit], one.name),
                told_by_itself(recipe, telling),
                recipe=number,
            )
            found[way] = ToldOnce(number, chapter)
    return found


def recipes(matter: Matter, told: Mapping[Way, ToldOnce]) -> Section | None:
    """The chapter of recipes, before them the press signs of all blocks; None without units."""
    if not told:
        return None
    cautions = Cautions(
        (Caution(wording.CUTTER_TITLE, wording.CUTTER), Caution(wording.IRON_TITLE, wording.IRON))
    )
    signs = dict.fromkeys(
        sign
        for one in matter.blocks
        if one.pressed is not None
        for sign in Pressing(one.piecing, one.pressed.plan.presses).signs()
    )
    parts: list[Part] = [cautions]
    if signs:
        title, lead = book_wording.PRESS_SIGNS, book_wording.PRESS_SIGNS_LEAD
        parts.append(Chapter(title, lead, (), signs=tuple(signs)))
    parts += (one.chapter for one in told.values())
    title, lead = book_wording.METHODS, book_wording.METHODS_LEAD
    return Section("recipes", title, tuple(parts), lead=lead, opens=True, rule=True)


def used_by(one: BlockMatter, told: Mapping[Way, ToldOnce]) -> tuple[ToldOnce, ...]:
    """The recipes that the chapters on a block's units go by, chapter by chapter."""
    return tuple(told[way_of(first)] for first, *_ in _told_together(one))


def _told_together(one: BlockMatter) -> tuple[list[Recipe], ...]:
    return told_as_one([recipe for recipe in one.cutting.recipes if recipe.steps])


def by_recipe(
    chapters: Sequence[Chapter], one: BlockMatter, used: Sequence[ToldOnce], measure: Measure
) -> Iterator[Chapter]:
    """The chapters on a block's units, each by its recipe: what the steps of it have of their own,
    pieces, counts, sizes, how it is pressed, and what the unit looks like."""
    marks = marks_of(one.cutting.recipes)
    allowance = with_unit(one.settings.seam, measure)
    for chapter, some, known in zip(chapters, _told_together(one), used, strict=True):
        letters = {piece.letter for recipe in some for piece in recipe.pieces}
        lead = f"{book_wording.go_by(known.number)} {chapter.lead}"
        if len(some) > 1:
            mark = marks[some[0].unit]
            shown = unit_wording.units_lead(mark, 1)
            lead = lead.replace(shown, book_wording.steps_name(mark))
        yield replace(
            chapter,
            lead=lead,
            steps=tuple(_own(chapter.steps, known.chapter.steps, letters, allowance)),
            variants=chapter.variants or (_seen(some[0], one),),
            signs=(),
            by=known.number,
        )


def _own(
    steps: Sequence[PrintedStep], known: Sequence[PrintedStep], letters: set[str], allowance: str
) -> Iterator[PrintedStep]:
    """What each step says that its recipe does not, and whatever names a piece or a number other
    than the seam allowance. A step that has nothing of its own is left out, unless others follow
    it: a number that is missing looks like a misprint."""
    left_out: list[PrintedStep] = []
    for i, step in enumerate(steps):
        before = _SENTENCE.split(known[i].text) if i < len(known) else []
        text = " ".join(
            sentence
            for sentence in _SENTENCE.split(step.text)
            if sentence not in before
            or re.search(r"\d", sentence.replace(allowance, ""))
            or letters & {*re.findall(r"\w+", sentence)}
        )
        if text or step.measure:
            yield from left_out
            left_out = []
            yield replace(step, text=text)
        else:
            left_out.append(step)


def _seen(recipe: Recipe, one: BlockMatter) -> Variant:
    last = followed(recipe.steps, recipe.pieces)[-1].gives[0]
    return Variant("", unit_scene(last, paints_of(one.fabrics)))
