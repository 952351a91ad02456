"""The chapters on units: each recipe told step by step, with a picture of every step."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from seamproof.booklet import lying, wording
from seamproof.booklet.model import Chapter, PrintedStep
from seamproof.cutting.model import CuttingSettings, Piece, Recipe, Step, Stock
from seamproof.drawing.lettering import printed
from seamproof.drawing.scene import Scene
from seamproof.figures.cloth import Paints
from seamproof.figures.looks import Looking, followed
from seamproof.figures.recipe import (
    cutting_scene,
    opened_scene,
    parting_scene,
    sewing_scene,
    trimming_scene,
)
from seamproof.length.notation import Measure
from seamproof.length.rounding import SAME


@dataclass(frozen=True, slots=True)
class Telling:
    """What every chapter on a unit needs to know."""

    paints: Paints
    settings: CuttingSettings
    measure: Measure


def unit_chapter(recipe: Recipe, mark: str, telling: Telling) -> Chapter:
    """One recipe under its title, for instance "Unit 1: make four half-square triangles"."""
    teller = _Teller(recipe, telling)
    for looking in followed(recipe.steps, recipe.pieces):
        teller.tell(looking)
    letters = sorted({printed(piece.fabric) for piece in recipe.pieces})
    return Chapter(
        wording.unit_title(mark, recipe.made, recipe.kind),
        wording.unit_lead(
            [wording.fabric_pair(letters)], recipe.gives, recipe.spare, None, telling.measure
        ),
        tuple(teller.told),
    )


def between_marks(step: Step) -> bool:
    """Whether what a step gives measures something between two marks of the ruler."""
    return step.measure is not None and any(abs(size.surplus) > SAME for size in step.measure)


class _Teller:
    """Tells the steps of one recipe, remembering which printed step made what."""

    def __init__(self, recipe: Recipe, telling: Telling) -> None:
        self.telling = telling
        self.pieces: Mapping[str, Piece] = {piece.letter: piece for piece in recipe.pieces}
        self.made_in: dict[str, int] = {}
        self.told: list[PrintedStep] = []

    def tell(self, looking: Looking) -> None:
        verb = looking.step.verb
        if verb == "cut":
            self._cut(looking)
        elif verb == "sew":
            self._sew(looking)
        else:
            self._trim(looking)
        self.made_in.update((stock.what, len(self.told)) for stock in looking.step.gives)

    def _add(self, sentences: Sequence[str], figure: Scene, measure: str = "") -> None:
        text = " ".join(sentence for sentence in sentences if sentence)
        self.told.append(PrintedStep(len(self.told) + 1, text, figure, measure))

    def _name(self, stock: Stock) -> str:
        piece = self.pieces.get(stock.what)
        if piece is not None:
            shape = "triangle" if len(stock.corners) == 3 else piece.shape
            return wording.piece(shape, piece.letter)
        return wording.from_step(self.made_in.get(stock.what, 0))

    def _cut(self, looking: Looking) -> None:
        step = looking.step
        parts = sum(stock.count for stock in step.gives) // max(step.takes[0].count, 1)
        sentences = [self._name(step.takes[0]).capitalize() + ":", wording.cut_step(parts)]
        self._add(sentences, cutting_scene(looking, self.telling.paints))

    def _sew(self, looking: Looking) -> None:
        step, telling = looking.step, self.telling
        first, *others = step.takes
        sentences = [wording.lay(self._alike(others), self._name(first))]
        sentences += [*self._drawing(looking), self._stitching(looking)]
        if first.count > 1:
            sentences.append(wording.make(first.count))
        self._add(sentences, sewing_scene(looking, telling.paints))
        result = [self._parting(looking), wording.open_and_press(self._count(looking))]
        if step.cuts:
            self._add(result, parting_scene(looking, telling.paints), self._measure(looking))
            return
        size = self._size(looking)
        opened = opened_scene(looking.gives[0], telling.paints, telling.measure, size)
        self._add(result, opened, self._measure(looking))

    def _alike(self, stocks: Sequence[Stock]) -> list[str]:
        """Names of what lies on top; two of a kind are said once."""
        names = [self._name(stock) for stock in stocks]
        return [
            name if names.count(name) == 1 else f"{wording.count_word(names.count(name))} × {name}"
            for i, name in enumerate(names)
            if name not in names[:i]
        ]

    def _drawing(self, looking: Looking) -> list[str]:
        step = looking.step
        if not step.drawn:
            return []
        uppers = step.takes[1:]
        if all(any(lying.is_diagonal(d, u.corners) for u in uppers) for d in step.drawn):
            return [wording.draw_diagonal(self._name(uppers[0]))]
        return [wording.draw_lines(len(step.drawn))]

    def _stitching(self, looking: Looking) -> str:
        step, telling = looking.step, self.telling
        where = lying.stitching_side(step)
        seam = telling.settings.seam
        if where == "on":
            return wording.sew_on_line(len(step.drawn))
        if where:
            return wording.sew_beside(seam, telling.measure, both=where == "both")
        if len(step.stitched) == 1 and not step.cuts:
            return wording.sew_edge(seam, telling.measure, lying.edge_kind(step))
        return wording.sew_as_shown()

    def _parting(self, looking: Looking) -> str:
        step = looking.step
        if not step.cuts:
            return ""
        if lying.stitching_side(step) == "on":
            return wording.cut_off(self.telling.settings.seam, self.telling.measure)
        on_drawn = all(any(lying.same_line(d, c) for d in step.drawn) for c in step.cuts)
        return wording.cut_apart(1 if on_drawn and len(step.cuts) == 1 else 2)

    def _trim(self, looking: Looking) -> None:
        telling = self.telling
        size = self._size(looking)
        pattern = lying.seam_pattern(looking.takes[0].patches, looking.step.gives[0].corners)
        ruler = {
            "diagonal": wording.ruler_on_diagonal(),
            "crossing": wording.ruler_on_crossing(size, telling.measure),
            "point": wording.ruler_beyond_point(telling.settings.seam, telling.measure),
        }.get(pattern, wording.ruler_plain())
        figure = trimming_scene(looking, telling.paints, telling.measure, size)
        self._add([wording.trim_to(size, telling.measure), ruler], figure)

    def _size(self, looking: Looking) -> tuple[Fraction, Fraction]:
        measure = looking.step.measure
        if measure is not None:
            return (measure[0].ruler, measure[1].ruler)
        corners = looking.step.gives[0].corners
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        return (max(xs) - min(xs), max(ys) - min(ys))

    def _measure(self, looking: Looking) -> str:
        if looking.step.measure is None:
            return ""
        return wording.should_measure(
            self._size(looking),
            self.telling.measure,
            self._count(looking),
            about=between_marks(looking.step),
        )

    def _count(self, looking: Looking) -> int:
        return sum(stock.count for stock in looking.step.gives)
