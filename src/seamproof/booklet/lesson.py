"""A lesson sheet for one block: aims, supplies, time, step-outs with what is cut for them, and what
to say about pressing."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from seamproof.booklet import book_wording, lesson_wording, wording
from seamproof.booklet.block_chapters import sheet_of
from seamproof.booklet.layout_card import marks_of
from seamproof.booklet.matter import BlockMatter, Matter
from seamproof.booklet.model import (
    BookletModel,
    Caution,
    Cautions,
    Chapter,
    Fact,
    Facts,
    Listed,
    Part,
    Picture,
    Pictures,
    Section,
    SheetModel,
    Table,
    Words,
)
from seamproof.cutting.model import Recipe
from seamproof.figures.bulk import close_scene, scale_scene
from seamproof.piecing.leaves import in_its_frame, parts_in
from seamproof.piecing.model import Leaf
from seamproof.pressing.model import Pressed, limit_of

WELCOME_MINUTES = Fraction(10)
CLOSING_MINUTES = Fraction(10)
CUT_MINUTES = Fraction(1, 2)
SEW_MINUTES = Fraction(3, 2)
TRIM_MINUTES = Fraction(1)
SHOW_MINUTES = Fraction(4)
"""Minutes: at the beginning and end; for one piece to cut, one seam with its pressing, one unit to
trim; and to show a step (all from memory; a teacher's own times replace them)."""

SPARE_SETS = 1
"""Sets of pieces that are cut for step-outs besides, since something always goes wrong (common
practice, no source)."""


@dataclass(frozen=True, slots=True)
class Timed:
    """One thing of a lesson, and how many minutes it takes; `own` are the teacher's."""

    name: str
    minutes: Fraction
    own: bool


def lesson(matter: Matter, one: BlockMatter) -> BookletModel:
    """The lesson sheet of a block."""
    made = sheet_of(matter, one)
    times = timed(matter, one, made)
    sections = [
        _aims(matter, one, times),
        _times(times),
        _step_outs(one, made, matter),
    ]
    talk = _talk(one, made)
    if talk is not None:
        sections.append(talk)
    return BookletModel(
        title=lesson_wording.title(one.name),
        version=book_wording.version_said(matter.own.version) if matter.own.version else "",
        measure=matter.measure,
        cover=None,
        sections=tuple(sections),
    )


def timed(matter: Matter, one: BlockMatter, made: SheetModel) -> tuple[Timed, ...]:
    """Everything of the lesson in order with its minutes: the teacher's where she gave some."""
    own = {what.casefold(): minutes for what, minutes in matter.own.block(one.name).minutes}

    def of(name: str, minutes: Fraction) -> Timed:
        key = name.casefold()
        return Timed(name, own.get(key, minutes), key in own)

    pieces = sum(piece.count for piece in one.cutting.pieces)
    found = [of(lesson_wording.WELCOME, WELCOME_MINUTES)]
    found.append(of(wording.CUTTING_TITLE, CUT_MINUTES * pieces))
    recipes = [recipe for recipe in one.cutting.recipes if recipe.steps]
    marks = marks_of(recipes)
    for recipe in recipes:
        minutes = SHOW_MINUTES + sum(
            (
                {"sew": SEW_MINUTES, "trim": TRIM_MINUTES}.get(step.verb, CUT_MINUTES)
                * sum(stock.count for stock in step.takes[:1])
                for step in recipe.steps
            ),
            Fraction(0),
        )
        found.append(of(marks[recipe.unit].capitalize(), minutes))
    if made.assembly is not None:
        before = sum(len(recipe.steps) for recipe in one.cutting.recipes)
        for printed, step in zip(made.assembly.steps, one.cutting.steps[before:], strict=False):
            name = lesson_wording.step_name(made.assembly.title, printed.number)
            count = step.gives[0].count
            found.append(of(name, SHOW_MINUTES / 2 + SEW_MINUTES * count))
    found.append(of(lesson_wording.CLOSING, CLOSING_MINUTES))
    return tuple(found)


def _aims(matter: Matter, one: BlockMatter, times: tuple[Timed, ...]) -> Section:
    own = matter.own.block(one.name)
    plan = one.piecing
    aims = [
        lesson_wording.make_aim(recipe.kind, recipe.method)
        for recipe in one.cutting.recipes
        if recipe.steps
    ]
    if plan.set_in_points:
        aims.append(lesson_wording.corners_aim(plan.set_in_points))
    if one.pressed is not None and one.pressed.here.crossings:
        aims.append(lesson_wording.crossings_aim(one.pressed.here.crossings))
        aims.append(lesson_wording.layers_aim(one.pressed.layers.most))
    total = sum((line.minutes for line in times), Fraction(0))
    hours = f"about {math.ceil(total / 5) * 5} minutes"
    supplies = []
    for fabric in one.fabrics:
        count = sum(p.count for p in one.cutting.pieces if p.fabric == fabric.letter)
        if count:
            supplies.append(lesson_wording.cloth_brought(count, fabric.letter.upper(), fabric.name))
    parts: list[Part] = [
        Facts(
            (
                Fact(
                    "Finished", wording.extent((one.block.width, one.block.height), matter.measure)
                ),
                Fact("Steps at the machine", str(plan.sessions)),
                Fact("Time", hours),
            )
        ),
        Listed(own.aims or tuple(dict.fromkeys(aims))),
        Cautions(
            (
                Caution(wording.CUTTER_TITLE, wording.CUTTER),
                Caution(wording.IRON_TITLE, wording.IRON),
            )
        ),
        Words((lesson_wording.SUPPLIES + ": " + lesson_wording.BROUGHT, *supplies)),
    ]
    return Section(
        "aims", lesson_wording.title(one.name), tuple(parts), lead=lesson_wording.AIMS, opens=True
    )


def _times(times: tuple[Timed, ...]) -> Section:
    rows = []
    gone = Fraction(0)
    for line in times:
        rows.append(
            (
                clock(gone),
                line.name,
                lesson_wording.minutes_said(line.minutes),
                "yours" if line.own else "estimate",
            )
        )
        gone += line.minutes
    rows.append((clock(gone), "End", "", ""))
    table = Table(
        "times", ("At", "What", "Minutes", "From"), tuple(rows), (3, 12, 3, 4), right=(2,)
    )
    return Section("times", lesson_wording.TIMES, (table,), lead=lesson_wording.TIMES_LEAD)


def clock(minutes: Fraction) -> str:
    """Minutes from the beginning, as a clock shows them.

    >>> clock(Fraction(0)), clock(Fraction(187, 2))
    ('0:00', '1:33')
    """
    whole = int(minutes)
    return f"{whole // 60}:{whole % 60:02}"


@dataclass(frozen=True, slots=True)
class Stage:
    """One sample that is passed round: what it shows, and the pieces it takes, by letter."""

    name: str
    pieces: tuple[tuple[str, int], ...]


def stages(one: BlockMatter, made: SheetModel) -> tuple[Stage, ...]:
    """The samples of a block: one after each step of a unit, and one after each seam above them."""
    found: list[Stage] = []
    marks = marks_of(one.cutting.recipes)
    chapters = {chapter.title: chapter for chapter in made.units}
    for recipe in one.cutting.recipes:
        if not recipe.steps:
            continue
        mark = marks[recipe.unit].capitalize()
        steps = _printed(chapters, mark) or len(recipe.steps)
        round_ = tuple((p.letter, _a_round(recipe, p.count)) for p in recipe.pieces)
        found += [Stage(f"{mark}, after step {i}", round_) for i in range(1, steps + 1)]
    if made.assembly is not None:
        before = sum(len(recipe.steps) for recipe in one.cutting.recipes)
        for printed, step in zip(made.assembly.steps, one.cutting.steps[before:], strict=False):
            part = int(step.gives[0].what.rpartition(" ")[2])
            name = f"{made.assembly.title}, after step {printed.number}"
            found.append(Stage(name, tuple(sorted(_within(one, part).items()))))
    return tuple(found)


def _printed(chapters: dict[str, Chapter], mark: str) -> int:
    """How many steps are printed for a unit: the pictures that a sample can be laid on."""
    for title, chapter in chapters.items():
        head = title.partition(":")[0]
        numbers = {word.strip(",") for word in head.split()}
        if mark.rpartition(" ")[2] in numbers:
            return len(chapter.steps)
    return 0


def _a_round(recipe: Recipe, count: int) -> int:
    return math.ceil(Fraction(count * recipe.gives, recipe.made + recipe.spare))


def _within(one: BlockMatter, part: int) -> dict[str, int]:
    """The pieces that are in a sewn part, those of its units round by round."""
    units: dict[int, int] = {}
    singles: dict[int, int] = {}
    recipes = {recipe.unit: recipe for recipe in one.cutting.recipes if recipe.steps}
    twins = {
        recipe.twin.unit: recipe
        for recipe in recipes.values()
        if recipe.twin is not None and recipe.twin.unit is not None
    }
    closed = {*recipes, *twins}
    for placed in parts_in(one.piecing, in_its_frame(part), closed=closed):
        if placed.part in closed:
            units[placed.part] = units.get(placed.part, 0) + 1
        elif isinstance(one.piecing.parts[placed.part].made, Leaf):
            singles[placed.part] = singles.get(placed.part, 0) + 1
    found: dict[str, int] = {}
    for unit, count in units.items():
        recipe = recipes.get(unit) or twins[unit]
        rounds = math.ceil(count / recipe.gives)
        for piece in recipe.pieces:
            more = _a_round(recipe, piece.count) * rounds
            found[piece.letter] = found.get(piece.letter, 0) + more
    for recipe in one.cutting.recipes:
        if recipe.steps:
            continue
        for piece in recipe.pieces:
            if piece.part in singles:
                found[piece.letter] = found.get(piece.letter, 0) + singles[piece.part]
    return found


def _step_outs(one: BlockMatter, made: SheetModel, matter: Matter) -> Section:
    samples = stages(one, made)
    listed = Table(
        "step-outs",
        ("Sample", "Takes"),
        tuple(
            (stage.name, wording.listed(f"{count} {letter}" for letter, count in stage.pieces))
            for stage in samples
        ),
        (4, 7),
    )
    cut = Table(
        "step-outs-cutting",
        ("Mark", "Size", "For samples", "Spare", "Cut"),
        tuple(_cut_for(one, samples, matter)),
        (3, 12, 5, 4, 3),
        right=(2, 3, 4),
    )
    return Section(
        "step-outs",
        lesson_wording.STEP_OUTS,
        (listed, cut),
        lead=lesson_wording.STEP_OUTS_LEAD,
        opens=True,
        rule=True,
    )


def _cut_for(
    one: BlockMatter, samples: tuple[Stage, ...], matter: Matter
) -> Iterator[tuple[str, ...]]:
    for piece in one.cutting.pieces:
        counts = [dict(stage.pieces).get(piece.letter, 0) for stage in samples]
        spare = SPARE_SETS * max(counts, default=0)
        size = wording.extent((piece.width.ruler, piece.height.ruler), matter.measure)
        name = wording.named(piece.shape, 2)
        total = sum(counts)
        yield (piece.letter, f"{name}, {size}", str(total), str(spare), str(total + spare))


def _talk(one: BlockMatter, made: SheetModel) -> Section | None:
    """The two maps side by side with what there is to say; None without a press plan."""
    pressed, usual = one.pressed, one.usual
    if pressed is None or not pressed.runs:
        return None
    most = max(plan.layers.most for plan in (pressed, *([usual] if usual else [])))
    shown = [_map(one, pressed, lesson_wording.HERE, most)]
    said = []
    if usual is not None:
        shown.append(_map(one, usual, lesson_wording.USUALLY, most))
        said.append(lesson_wording.plans_compared(pressed.layers.most, usual.layers.most))
    scale = Picture(scale_scene(most, limit_of(one.pressing)), width=0.48)
    reasons = made.turned.reasons if made.turned is not None else ()
    return Section(
        "talk",
        lesson_wording.TALK,
        (Pictures(tuple(shown)), scale, Words((*said, *map(_whole, reasons)), small=True)),
        lead=lesson_wording.TALK_LEAD,
    )


def _whole(text: str) -> str:
    return f"{text[:1].upper()}{text[1:].rstrip('.')}."


def _map(one: BlockMatter, pressed: Pressed, caption: str, most: int) -> Picture:
    size = (float(one.block.width), float(one.block.height))
    layers = pressed.layers
    scene = close_scene(layers, size, limit_of(one.pressing), most)
    return Picture(scene, f"{caption}: {layers.most} layers at most.", width=0.36)
