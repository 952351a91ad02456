"""The chapter on putting the block together: the seams above the units, in sets."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from seamproof.booklet import lying, seam_wording, wording
from seamproof.booklet.model import Chapter, PrintedStep
from seamproof.booklet.pressing_chapter import Pressing
from seamproof.booklet.unit_chapters import between_marks
from seamproof.cutting.model import CuttingList, Step
from seamproof.cutting.recipes.making import part_name
from seamproof.figures.cloth import Paints
from seamproof.figures.runs import (
    Run,
    clipped,
    dots_of,
    open_behind,
    runs_of,
    stop_length,
    stops_of,
    turns_of,
)
from seamproof.figures.steps import join_scene, marked_scene, sewn_scene
from seamproof.length.notation import Measure
from seamproof.piecing.finishing import begun
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
    seam: Fraction,
    measure: Measure,
    pressing: Pressing | None = None,
) -> Chapter | None:
    """The seams above the units, set by set; None if there are none. `marks` names the units by
    part number, `seam` is the seam allowance."""
    sets = sewn_sets(plan, cutting)
    numbers = {sewn.part: i for i, sewn in enumerate(itertools.chain(*sets), start=1)}
    teller = _Teller(plan, cutting, marks, paints, seam, measure, numbers, pressing)
    chained = any(len(some) > 1 for some in sets)
    for index, some in enumerate(sets, start=1):
        teller.tell_set(index, some, titled=chained)
    if not teller.told:
        return None
    lead = seam_wording.assembly_lead(chained=chained, marked=teller.marked)
    return Chapter(wording.ASSEMBLY_TITLE, lead, tuple(teller.told))


class _Teller:
    """Tells seam after seam, remembering which step made what."""

    def __init__(
        self,
        plan: PiecingPlan,
        cutting: CuttingList,
        marks: Mapping[int, str],
        paints: Paints,
        seam: Fraction,
        measure: Measure,
        numbers: Mapping[int, int],
        pressing: Pressing | None,
    ) -> None:
        self.plan = plan
        self.paints = paints
        self.seam = seam
        self.measure = measure
        self.numbers = numbers
        self.pressing = pressing
        self.presses = None if pressing is None else pressing.presses
        self.marked = False
        self.pieces = {piece.letter: piece for piece in cutting.pieces}
        self.names = {**_leaf_names(cutting), **marks}
        self.told: list[PrintedStep] = []

    def tell_set(self, index: int, some: Sequence[Sewn], *, titled: bool) -> None:
        """Told in one go; if no set is of more than one step, their titles would say nothing."""
        made = {}
        for i, sewn in enumerate(some):
            self._tell(sewn, index, seam_wording.set_title(index) if titled and i == 0 else "")
            made[sewn.part] = wording.step_name(len(self.told))
        self.names.update(made)

    def _tell(self, sewn: Sewn, index: int, begins: str) -> None:
        plan = self.plan
        made = plan.parts[sewn.part].made
        runs = runs_of(plan, sewn.part, sewn.step)
        second = None
        if isinstance(made, Finish):
            sentences = self._finishing(sewn.part, runs)
            figure = sewn_scene(plan, sewn.part, self.paints, runs, self.seam, self.presses)
        elif isinstance(made, Join):
            alike = made.left.part == made.right.part
            sides = [self._called(side.part, several=alike) for side in (made.left, made.right)]
            sentences = [seam_wording.join(*sides), *self._marking(sewn.part, runs)]
            if not dots_of(runs) and not stops_of(runs):
                figure = join_scene(plan, sewn.part, self.paints, self.names, self.presses)
            else:
                self.marked = True
                figure = marked_scene(
                    *(plan, sewn.part, self.paints, self.names, runs, self.seam),
                    self.measure,
                    self.presses,
                )
            if turns_of(runs):
                second = sewn_scene(plan, sewn.part, self.paints, runs, self.seam, self.presses)
        else:
            raise TypeError(f"part {sewn.part} is not sewn")
        last = sewn.part == plan.whole
        count = sewn.step.gives[0].count
        if count > 1:
            sentences.append(wording.make(count))
        sentences.append(self._pressing(sewn.part, made))
        measure = ""
        if sewn.step.measure is not None:
            width, height = sewn.step.measure
            tell = seam_wording.block_measures if last else wording.should_measure
            about = between_marks(sewn.step)
            measure = tell((width.ruler, height.ruler), self.measure, count, about=about)
        number = len(self.told) + 1
        text = " ".join(sentences)
        self.told.append(PrintedStep(number, text, figure, measure, begins, second, index))

    def _pressing(self, part: int, made: Join | Finish) -> str:
        if self.pressing is None:
            return wording.press()
        if isinstance(made, Finish) or made.left.part == made.right.part:
            return self.pressing.seam(part, "", "")
        left, right = (self._called(side.part) for side in (made.left, made.right))
        return self.pressing.seam(part, left, right)

    def _finishing(self, part: int, runs: Sequence[Run]) -> list[str]:
        first = begun(self.plan, part)
        if first is None:
            return [seam_wording.sew_open(), seam_wording.sew_run(runs[0].begins, runs[-1].ends)]
        begun_in = wording.step_name(self.numbers[first])
        return [seam_wording.finish(begun_in), seam_wording.go_on(runs[0].begins, runs[-1].ends)]

    def _marking(self, part: int, runs: Sequence[Run]) -> list[str]:
        """What else there is to say about a seam that is not sewn straight from edge to edge."""
        dots = dots_of(runs)
        said = [seam_wording.mark_dots(len(dots), self.seam, self.measure)] if dots else []
        if clipped(self.plan, part, runs):
            said.append(seam_wording.clip_corner())
        if open_behind(self.plan, part, runs):
            said.append(seam_wording.fold_back())
        if len(runs) > 1:
            last = len(runs)
            said.append(seam_wording.first_run(runs[0].begins, runs[0].ends))
            said += [
                seam_wording.next_run(i, run.begins, run.ends, last=i == last)
                for i, run in enumerate(runs[1:], start=2)
            ]
        elif dots:
            said.append(seam_wording.sew_run(runs[0].begins, runs[0].ends))
        said += [self._stop(run) for run in runs if run.ends == "stop"]
        if stops_of(runs):
            said.append(seam_wording.left_open(self._finished_in(part)))
        return said

    def _stop(self, run: Run) -> str:
        length = stop_length(run, self.measure)
        since: Literal["edge", "dot", "crossing"] = "dot" if run.begins == "dot" else "edge"
        return seam_wording.stop_at(
            length, self.measure, "crossing" if run.last_crossing else since
        )

    def _finished_in(self, part: int) -> str:
        """The name of the step that finishes the seam begun in `part`, "" if none does."""
        finishes = (
            number
            for other, number in self.numbers.items()
            if isinstance(self.plan.parts[other].made, Finish) and begun(self.plan, other) == part
        )
        number = next(finishes, None)
        return "" if number is None else wording.step_name(number)

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
