"""The chapters on putting the block together: seams above the units, in sets."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from seamproof.booklet import wording
from seamproof.booklet.model import Chapter, Extent, PrintedStep
from seamproof.cutting.model import CuttingList
from seamproof.figures.cloth import Paints
from seamproof.figures.steps import finish_scene, join_scene
from seamproof.length.notation import Measure
from seamproof.piecing.model import Finish, Join, Leaf, PiecingPlan


def inside_units(plan: PiecingPlan, units: Iterable[int]) -> frozenset[int]:
    """Parts that recipes make: the units and everything they are joined of."""
    left, found = list(units), set[int]()
    while left:
        part = left.pop()
        if part in found:
            continue
        found.add(part)
        made = plan.parts[part].made
        if isinstance(made, Join):
            left += [made.left.part, made.right.part]
        elif isinstance(made, Finish):
            left.append(made.of.part)
    return frozenset(found)


def sewn_above(plan: PiecingPlan, units: Iterable[int]) -> tuple[tuple[int, ...], ...]:
    """The joins and finishes above the units, in the plan's rounds; empty rounds left out."""
    inside = inside_units(plan, units)
    rounds = (
        tuple(
            part
            for part in round_
            if part not in inside and isinstance(plan.parts[part].made, Join | Finish)
        )
        for round_ in plan.rounds
    )
    return tuple(round_ for round_ in rounds if round_)


def set_chapters(
    plan: PiecingPlan,
    cutting: CuttingList,
    marks: Mapping[int, str],
    paints: Paints,
    measure: Measure,
) -> tuple[Chapter, ...]:
    """The sets at the machine, one chapter each. `marks` names the units by part number."""
    rounds = sewn_above(plan, marks)
    sizes = _sizes(cutting, [part for round_ in rounds for part in round_])
    names = {**_leaf_names(plan, cutting), **marks}
    shapes = {piece.letter: piece.shape for piece in cutting.pieces}
    chapters, number = [], 0
    for index, round_ in enumerate(rounds, start=1):
        steps = []
        for part in round_:
            number += 1
            steps.append(_step(plan, part, number, names, shapes, sizes, cutting, paints, measure))
        names.update(
            (part, f"step {number - len(round_) + i}") for i, part in enumerate(round_, start=1)
        )
        chapters.append(
            Chapter(wording.set_title(index), wording.set_lead(len(round_)), tuple(steps))
        )
    return tuple(chapters)


def _step(
    plan: PiecingPlan,
    part: int,
    number: int,
    names: Mapping[int, str],
    shapes: Mapping[str, str],
    sizes: Mapping[int, Extent],
    cutting: CuttingList,
    paints: Paints,
    measure: Measure,
) -> PrintedStep:
    made = plan.parts[part].made
    count = plan.parts[part].uses * cutting.copies

    def called(child: int) -> str:
        name = names.get(child, "")
        if name in shapes:
            return wording.piece(shapes[name], name)
        return wording.made_before(name)

    if isinstance(made, Finish):
        text = wording.finish(called(made.of.part))
        figure = finish_scene(plan, part, paints)
    elif isinstance(made, Join):
        text = wording.join(called(made.left.part), called(made.right.part))
        figure = join_scene(plan, part, paints, names)
    else:
        raise TypeError(f"part {part} is not sewn")
    last = part == plan.whole
    if count > 1 and not last:
        text += f" {wording.make(count)}"
    text += f" {wording.press()}"
    size = sizes.get(part)
    if size is None:
        return PrintedStep(number, text, figure)
    told = (
        wording.block_measures(size, measure)
        if last
        else wording.should_measure(size, measure, count)
    )
    return PrintedStep(number, text, figure, told)


def _leaf_names(plan: PiecingPlan, cutting: CuttingList) -> dict[int, str]:
    """What patches that no recipe makes are called: by the mark of their piece."""
    alone = {
        piece.part: piece.letter
        for piece in cutting.pieces
        if piece.part < len(plan.parts) and isinstance(plan.parts[piece.part].made, Leaf)
    }
    inside = {piece.letter for recipe in cutting.recipes for piece in recipe.pieces}
    return {part: letter for part, letter in alone.items() if letter not in inside}


def _sizes(cutting: CuttingList, parts: list[int]) -> dict[int, Extent]:
    """The size after each join above the units. The list of steps holds the recipes' steps first
    and then these joins, in the same order."""
    before = sum(len(recipe.steps) for recipe in cutting.recipes)
    steps = cutting.steps[before:]
    if len(steps) != len(parts):
        return {}
    return {
        part: (step.measure[0].ruler, step.measure[1].ruler)
        for part, step in zip(parts, steps, strict=True)
        if step.measure is not None
    }
