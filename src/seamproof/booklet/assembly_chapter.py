"""The chapter on putting the block together: the seams above the units, in sets."""

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


def assembly_chapter(
    plan: PiecingPlan,
    cutting: CuttingList,
    marks: Mapping[int, str],
    paints: Paints,
    measure: Measure,
) -> Chapter | None:
    """The seams above the units, set by set; None if there are none. `marks` names the units by
    part number."""
    teller = _Teller(plan, cutting, marks, paints, measure)
    for index, round_ in enumerate(teller.rounds, start=1):
        teller.tell_set(index, round_)
    if not teller.told:
        return None
    lead = wording.assembly_lead(chained=len(teller.told) > len(teller.rounds))
    return Chapter(wording.ASSEMBLY_TITLE, lead, tuple(teller.told))


class _Teller:
    """Tells seam after seam, remembering which step made what."""

    def __init__(
        self,
        plan: PiecingPlan,
        cutting: CuttingList,
        marks: Mapping[int, str],
        paints: Paints,
        measure: Measure,
    ) -> None:
        self.plan = plan
        self.copies = cutting.copies
        self.paints = paints
        self.measure = measure
        self.rounds = sewn_above(plan, marks)
        self.sizes = _sizes(cutting, [part for round_ in self.rounds for part in round_])
        self.shapes = {piece.letter: piece.shape for piece in cutting.pieces}
        self.names = {**_leaf_names(plan, cutting), **marks}
        self.told: list[PrintedStep] = []

    def tell_set(self, index: int, round_: tuple[int, ...]) -> None:
        made = {}
        for i, part in enumerate(round_):
            self._tell(part, wording.set_title(index) if i == 0 else "")
            made[part] = wording.step_name(len(self.told))
        self.names.update(made)

    def _tell(self, part: int, begins: str) -> None:
        made = self.plan.parts[part].made
        if isinstance(made, Finish):
            text = wording.finish(self._called(made.of.part))
            figure = finish_scene(self.plan, part, self.paints)
        elif isinstance(made, Join):
            text = wording.join(self._called(made.left.part), self._called(made.right.part))
            figure = join_scene(self.plan, part, self.paints, self.names)
        else:
            raise TypeError(f"part {part} is not sewn")
        last = part == self.plan.whole
        count = self.plan.parts[part].uses * self.copies
        sentences = [text, wording.press()]
        if count > 1 and not last:
            sentences.insert(1, wording.make(count))
        size = self.sizes.get(part)
        told = ""
        if size is not None and last:
            told = wording.block_measures(size, self.measure)
        elif size is not None:
            told = wording.should_measure(size, self.measure, count)
        step = PrintedStep(len(self.told) + 1, " ".join(sentences), figure, told, begins)
        self.told.append(step)

    def _called(self, part: int) -> str:
        name = self.names.get(part, "")
        if name in self.shapes:
            return wording.piece(self.shapes[name], name)
        return wording.made_before(name)


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
