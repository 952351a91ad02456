"""The chapter on putting the block together: the seams above the units, in sets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from seamproof.booklet import lying, wording
from seamproof.booklet.model import Chapter, PrintedStep
from seamproof.booklet.unit_chapters import between_marks
from seamproof.cutting.model import CuttingList, Step
from seamproof.cutting.recipes.making import part_name
from seamproof.figures.cloth import Paints
from seamproof.figures.steps import finish_scene, join_scene
from seamproof.length.notation import Measure
from seamproof.piecing.model import Finish, Join, PiecingPlan


@dataclass(frozen=True, slots=True)
class Sewn:
    """A part that is sewn above the units, and the step that does it."""

    part: int
    step: Step


def sewn_sets(plan: PiecingPlan, cutting: CuttingList) -> tuple[tuple[Sewn, ...], ...]:
    """The seams above the units, in the plan's rounds; what can be sewn at once is one set.

    The list of steps holds the recipes' steps first, then these.
    """
    before = sum(len(recipe.steps) for recipe in cutting.recipes)
    steps = {step.gives[0].what: step for step in cutting.steps[before:]}
    sets = (
        tuple(Sewn(part, steps[part_name(part)]) for part in round_ if part_name(part) in steps)
        for round_ in plan.rounds
    )
    return tuple(some for some in sets if some)


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
    sets = sewn_sets(plan, cutting)
    for index, some in enumerate(sets, start=1):
        teller.tell_set(index, some)
    if not teller.told:
        return None
    lead = wording.assembly_lead(chained=len(teller.told) > len(sets))
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
        self.paints = paints
        self.measure = measure
        self.pieces = {piece.letter: piece for piece in cutting.pieces}
        self.names = {**_leaf_names(cutting), **marks}
        self.told: list[PrintedStep] = []

    def tell_set(self, index: int, some: Sequence[Sewn]) -> None:
        made = {}
        for i, sewn in enumerate(some):
            self._tell(sewn, wording.set_title(index) if i == 0 else "")
            made[sewn.part] = wording.step_name(len(self.told))
        self.names.update(made)

    def _tell(self, sewn: Sewn, begins: str) -> None:
        made = self.plan.parts[sewn.part].made
        if isinstance(made, Finish):
            text = wording.finish(self._called(made.of.part))
            figure = finish_scene(self.plan, sewn.part, self.paints)
        elif isinstance(made, Join):
            alike = made.left.part == made.right.part
            sides = [self._called(side.part, several=alike) for side in (made.left, made.right)]
            text = wording.join(*sides)
            figure = join_scene(self.plan, sewn.part, self.paints, self.names)
        else:
            raise TypeError(f"part {sewn.part} is not sewn")
        last = sewn.part == self.plan.whole
        count = sewn.step.gives[0].count
        sentences = [text, *self._seam(made)]
        if count > 1:
            sentences.append(wording.make(count))
        sentences.append(wording.press())
        measure = ""
        if sewn.step.measure is not None:
            width, height = sewn.step.measure
            tell = wording.block_measures if last else wording.should_measure
            about = between_marks(sewn.step)
            measure = tell((width.ruler, height.ruler), self.measure, count, about=about)
        number = len(self.told) + 1
        self.told.append(PrintedStep(number, " ".join(sentences), figure, measure, begins))

    def _seam(self, made: Join | Finish) -> list[str]:
        """What else there is to say about a seam that is not sewn straight from edge to edge."""
        if isinstance(made, Finish):
            return []
        said = [wording.set_in()] if made.set_in else []
        return [*said, wording.leave_open()] if made.partial else said

    def _called(self, part: int, *, several: bool = False) -> str:
        name = self.names.get(part, "")
        piece = self.pieces.get(name)
        if piece is not None:
            return wording.piece(lying.shape_of(piece), name)
        return wording.made_before(name, several=several)


def _leaf_names(cutting: CuttingList) -> dict[int, str]:
    """What patches that are sewn singly are called: by the mark of their piece. A recipe without
    steps holds such patches."""
    alone = [piece for recipe in cutting.recipes if not recipe.steps for piece in recipe.pieces]
    return {piece.part: piece.letter for piece in alone}
