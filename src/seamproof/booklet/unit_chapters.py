"""The chapters on units: each recipe told step by step, with a picture of every step."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from seamproof.booklet import lying, press_wording, unit_wording, wording
from seamproof.booklet.model import Chapter, PrintedStep, Variant
from seamproof.booklet.pressing_chapter import Pressing, unit_shown
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
    unit_scene,
)
from seamproof.length.notation import Measure
from seamproof.length.rounding import SAME, nearest
from seamproof.plane.model import Point
from seamproof.plane.predicates import box


@dataclass(frozen=True, slots=True)
class Telling:
    """What every chapter on a unit needs to know."""

    paints: Paints
    settings: CuttingSettings
    measure: Measure
    pressing: Pressing | None = None


def unit_chapters(
    recipes: Sequence[Recipe], marks: Mapping[int, str], telling: Telling
) -> tuple[Chapter, ...]:
    """The recipes under their titles, for instance "Unit 1: make four half-square triangles".
    Recipes that differ only in their fabrics and numbers are told once, mirror twins too. `marks`
    names the units by part number."""
    return tuple(
        _one(some[0], marks[some[0].unit], telling)
        if len(some) == 1
        else _several(some, [marks[recipe.unit] for recipe in some], telling)
        for some in told_as_one(recipes)
    )


def told_as_one(recipes: Sequence[Recipe]) -> tuple[list[Recipe], ...]:
    """The recipes of a block, those in one list that are told in one chapter."""
    alike: dict[object, list[Recipe]] = {}
    for recipe in recipes:
        way = _way(recipe, mirrored=True)
        alike.setdefault(way if way in alike else _way(recipe), []).append(recipe)
    return tuple(alike.values())


def told_by_itself(recipe: Recipe, telling: Telling) -> tuple[PrintedStep, ...]:
    """The steps of one recipe without counts, as an example for others."""
    return _Teller(recipe, telling, counted=False).all()


def _bonuses(recipes: Sequence[Recipe], telling: Telling) -> list[str]:
    """What can be sewn besides of what is cut off; sizes that come out alike are told once."""
    counts: dict[Fraction, int] = {}
    for bonus in (bonus for recipe in recipes for bonus in recipe.bonus):
        counts[bonus.size.ruler] = counts.get(bonus.size.ruler, 0) + bonus.count
    seam, measure = telling.settings.seam, telling.measure
    return [unit_wording.bonus(counts[size], size, seam, measure) for size in sorted(counts)]


def _twins(recipes: Sequence[Recipe]) -> list[str]:
    """How many mirror twins come out besides, of all units that are told as one."""
    twins = [recipe.twin for recipe in recipes if recipe.twin is not None]
    if not twins:
        return []
    made, spare = sum(twin.made for twin in twins), sum(twin.spare for twin in twins)
    return [unit_wording.twins_made(made, spare)]


def called(recipe: Recipe) -> str:
    """The kind of unit, in print: a snowball has four equal corners and is a square, and what has
    other corners on it is named by them."""
    if recipe.kind != "snowball":
        return recipe.kind
    whole, *corners = recipe.pieces
    alike = len({corner.width.ruler for corner in corners}) == 1
    alike = alike and sum(corner.count for corner in corners) == 4 * whole.count
    return recipe.kind if alike and whole.shape == "square" else "flipped-corner unit"


def _way(recipe: Recipe, *, mirrored: bool = False) -> object:
    """What two recipes have in common that are told as one: everything but fabrics and counts, and
    where on the table things lie. With `mirrored`, as all of it is seen in a mirror."""
    return (recipe.kind, recipe.method, *(_lying(step, mirrored) for step in recipe.steps))


def _lying(step: Step, mirrored: bool) -> object:
    things = [stock.corners for stock in (*step.takes, *step.gives)]
    (left, top), (right, _) = box([p for corners in things for p in corners])

    def seen(points: Sequence[Point]) -> frozenset[tuple[int, int]]:
        across = ((right - x if mirrored else x - left, y - top) for x, y in points)
        return frozenset((round(x * _FINE), round(y * _FINE)) for x, y in across)

    return (
        step.verb,
        tuple((seen(stock.corners), stock.face) for stock in step.takes),
        tuple(seen(stock.corners) for stock in step.gives),
        *(frozenset(map(seen, some)) for some in (step.drawn, step.stitched, step.cuts)),
    )


_FINE = 1000
"""Parts of an inch to which things that are told as one must lie alike."""


def _one(recipe: Recipe, mark: str, telling: Telling) -> Chapter:
    teller = _Teller(recipe, telling, counted=True)
    letters = sorted({printed(piece.fabric) for piece in recipe.pieces})
    return Chapter(
        unit_wording.unit_title(mark, recipe.made, called(recipe)),
        " ".join(
            [
                unit_wording.unit_lead(
                    unit_wording.fabric_pair(letters), recipe.gives, recipe.spare
                ),
                *_twins([recipe]),
                *_bonuses([recipe], telling),
            ]
        ),
        teller.all(),
        _as_pressed(recipe, mark, telling),
    )


def _as_pressed(recipe: Recipe, mark: str, telling: Telling) -> tuple[Variant, ...]:
    """The unit with its press signs, and its mirror twin if the block has that."""
    if telling.pressing is None:
        return ()
    twin = None if recipe.twin is None else recipe.twin.unit
    named = [(recipe.unit, "" if twin is None else f"{mark.capitalize()}:")]
    if twin is not None:
        named.append((twin, f"{unit_wording.mirrored_mark(mark).capitalize()}:"))
    shown = (unit_shown(telling.pressing, part, telling.paints, name) for part, name in named)
    return tuple(variant for variant in shown if variant is not None)


def _several(recipes: Sequence[Recipe], marks: Sequence[str], telling: Telling) -> Chapter:
    first = recipes[0]
    variants = (
        _variant(recipe, mark, telling) for recipe, mark in zip(recipes, marks, strict=True)
    )
    return Chapter(
        unit_wording.units_title(marks, called(first)),
        " ".join(
            [
                unit_wording.units_lead(marks[0], first.gives),
                *_in_a_mirror(recipes, marks),
                *_twins(recipes),
                *_bonuses(recipes, telling),
            ]
        ),
        _Teller(first, telling, counted=False, units=[r.unit for r in recipes]).all(),
        tuple(variants),
    )


def _variant(recipe: Recipe, mark: str, telling: Telling) -> Variant:
    text = unit_wording.variant(mark, recipe.made, [piece.letter for piece in recipe.pieces])
    if telling.pressing is not None:
        shown = unit_shown(telling.pressing, recipe.unit, telling.paints, text)
        if shown is not None:
            return shown
    last = followed(recipe.steps, recipe.pieces)[-1].gives[0]
    return Variant(text, unit_scene(last, telling.paints))


def _in_a_mirror(recipes: Sequence[Recipe], marks: Sequence[str]) -> list[str]:
    """Which of several units are mirror twins of the first."""
    twins = [mark for r, mark in zip(recipes, marks, strict=True) if _way(r) != _way(recipes[0])]
    return [unit_wording.as_in_a_mirror(twins)] if twins else []


def between_marks(step: Step) -> bool:
    """Whether what a step gives measures something between two marks of the ruler."""
    return step.measure is not None and any(abs(size.surplus) > SAME for size in step.measure)


HALF_RECTANGLE = "half-rectangle triangle"
CORNER_SQUARE = "corner-square triangle"
DIAMOND_ROW = "diamond row"

_POINTED = ("square-in-a-square", "economy patch")
"""Units built round a square, side by side, whose points are kept when they are trimmed."""


def _how(units: Sequence[int], pressing: Pressing | None) -> str:
    """How the seams of all these units lie, in a word; "" if nothing is known about it."""
    if pressing is None:
        return ""
    found = {pressing.unit(unit) for unit in units}
    return found.pop() if len(found) == 1 else "shown"


class _Teller:
    """Tells the steps of one recipe, remembering which printed step made what."""

    def __init__(
        self, recipe: Recipe, telling: Telling, *, counted: bool, units: Sequence[int] = ()
    ) -> None:
        self.recipe = recipe
        self.how = _how(units or [recipe.unit], telling.pressing)
        self.telling = telling
        self.counted = counted
        self.pieces: Mapping[str, Piece] = {piece.letter: piece for piece in recipe.pieces}
        self.made_in: dict[str, int] = {}
        self.known: dict[tuple[str, ...], int] = {}
        self.told: list[PrintedStep] = []

    def all(self) -> tuple[PrintedStep, ...]:
        for looking in followed(self.recipe.steps, self.recipe.pieces):
            self._tell(looking)
        return tuple(self.told)

    def _tell(self, looking: Looking) -> None:
        verb = looking.step.verb
        if verb == "cut":
            self._cut(looking)
        elif verb == "sew":
            self._sew(looking)
        else:
            self._trim(looking)
        self.made_in.update((stock.what, len(self.told)) for stock in looking.step.gives)

    def _add(
        self, sentences: Sequence[str], figure: Scene, measure: str = "", *, shows: bool = False
    ) -> None:
        text = " ".join(sentence for sentence in sentences if sentence)
        self.told.append(PrintedStep(len(self.told) + 1, text, figure, measure, shows=shows))

    def _name(self, stock: Stock, count: int = 1) -> str:
        piece = self.pieces.get(stock.what)
        if piece is not None:
            return wording.piece(lying.shape_of(piece), piece.letter, count)
        return unit_wording.from_step(self.made_in.get(stock.what, 0))

    def _cut(self, looking: Looking) -> None:
        step = looking.step
        parts = sum(stock.count for stock in step.gives) // max(step.takes[0].count, 1)
        name, measure = self._name(step.takes[0]), self.telling.measure
        sentences = [name.capitalize() + ":", unit_wording.cut_step(parts)]
        if any(piece.shape == "strip" for piece in self.recipe.pieces):
            total = self._count(looking) if self.counted else None
            width = nearest(lying.apart(*step.cuts[:2]), self.telling.settings.step)
            angle = lying.slant(step.cuts[0])
            sentences = [
                unit_wording.sub_cut(name, parts, width, measure, total=total)
                if self.recipe.kind != DIAMOND_ROW
                else unit_wording.sub_cut_aslant(name, parts, width, angle, measure, total=total)
            ]
        figure = cutting_scene(looking, self.telling.paints)
        self._add(sentences, figure, self._measure(looking))

    def _sew(self, looking: Looking) -> None:
        """Laying and stitching, then cutting apart and opening: two printed steps for a unit that
        is sewn once, one for each seam of a unit that is sewn more often."""
        step, telling = looking.step, self.telling
        first, *others = step.takes
        laying = [self._laying(first, others), self._matching(looking)]
        sewing = [*self._drawing(looking), self._stitching(looking)]
        making = [unit_wording.make_pairs(first.count)] if first.count > 1 and self.counted else []
        opening = [self._parting(looking), self._pressing(looking)]
        measure = self._measure(looking)
        if step.cuts and self._sewn_once():
            self._add([*laying, *sewing, *making], sewing_scene(looking, telling.paints))
            self._add(opening, parting_scene(looking, telling.paints), measure)
        else:
            how = self._as_before([*sewing, *opening], drawn=bool(step.drawn), cut=bool(step.cuts))
            scene = parting_scene if step.cuts else sewing_scene
            self._add([*laying, *how, *making], scene(looking, telling.paints), measure)
        if self._is_last(looking):
            self._show(looking)

    def _laying(self, first: Stock, others: Sequence[Stock]) -> str:
        """One thing on another, or two that one step gave."""
        if [s.what for s in others] == [first.what] and (step := self.made_in.get(first.what)):
            return unit_wording.lay_on_another(step, turned=self.recipe.kind == "four-patch")
        return unit_wording.lay(self._alike(others), self._name(first))

    def _as_before(self, sentences: Sequence[str], *, drawn: bool, cut: bool) -> list[str]:
        """How to sew, at length the first time and then by the step that told it."""
        how = tuple(sentence for sentence in sentences if sentence)
        before = self.known.setdefault(how, len(self.told) + 1)
        if before > len(self.told) or len(how) == 1:
            return list(how)
        return [unit_wording.as_before(before, drawn=drawn, cut=cut)]

    def _sewn_once(self) -> bool:
        return sum(step.verb == "sew" for step in self.recipe.steps) == 1

    def _is_last(self, looking: Looking) -> bool:
        return looking.step is self.recipe.steps[-1]

    def _show(self, looking: Looking) -> None:
        """The unit as it is when nothing is trimmed."""
        telling = self.telling
        size = self._size(looking)
        figure = opened_scene(looking.gives[0], telling.paints, telling.measure, size)
        self._add([unit_wording.finished_unit(called(self.recipe))], figure, shows=True)

    def _pressing(self, looking: Looking) -> str:
        """At length for a unit that is sewn once, in short where there is more to tell."""
        if looking.step.left_in:
            return ""  # told with the folding
        if not self._sewn_once():
            return press_wording.open_briefly(self.how) if self.how else unit_wording.open_briefly()
        if self.how:
            return press_wording.set_and_open(self._count(looking), self.how)
        return unit_wording.open_and_press(self._count(looking))

    def _alike(self, stocks: Sequence[Stock]) -> list[str]:
        """Names of what lies on top; two of a kind are said once."""
        names = [stock.what for stock in stocks]
        return [
            self._name(stock, names.count(stock.what))
            for i, stock in enumerate(stocks)
            if stock.what not in names[:i]
        ]

    def _matching(self, looking: Looking) -> str:
        """How two pieces lie on each other that do not match edge for edge."""
        telling, step = self.telling, looking.step
        if self.recipe.kind == CORNER_SQUARE and step.takes[0].what == step.takes[1].what:
            return unit_wording.opposite_ways()
        if self.recipe.kind == DIAMOND_ROW:
            mark = nearest(lying.step_on(step), telling.settings.step)
            return unit_wording.step_on(mark, telling.measure)
        if self.recipe.kind != HALF_RECTANGLE:
            return ""
        if step.cuts:
            return unit_wording.lay_crosswise()
        mark = nearest(lying.tip_beyond(step), telling.settings.step)
        return unit_wording.tips_past(mark, telling.measure)

    def _drawing(self, looking: Looking) -> list[str]:
        step = looking.step
        if not step.drawn:
            return []
        lower, *uppers = step.takes
        alone = all(any(lying.is_diagonal(d, u.corners) for u in uppers) for d in step.drawn)
        across = all(lying.is_diagonal(d, lower.corners) for d in step.drawn)
        if self.recipe.kind == CORNER_SQUARE:
            return [unit_wording.draw_from_corners()]
        if len(step.drawn) > 1 and len(uppers) == 1 and across:
            return [unit_wording.draw_both_diagonals()]
        if len(step.drawn) == 1 and any(upper.what not in self.pieces for upper in uppers):
            return [unit_wording.draw_across_seam()]
        if alone or across:
            return [unit_wording.draw_diagonal(len(uppers) if alone else 1)]
        return [unit_wording.draw_lines(len(step.drawn))]

    def _stitching(self, looking: Looking) -> str:
        step, telling = looking.step, self.telling
        where = lying.stitching_side(step)
        seam = telling.settings.seam
        if where == "on":
            return unit_wording.sew_on_line(len(step.drawn))
        if where:
            lines = len(step.drawn)
            return unit_wording.sew_beside(seam, telling.measure, both=where == "both", lines=lines)
        if not step.cuts:
            sewing = unit_wording.sew_edge(seam, telling.measure, lying.edge_kind(step))
            if self.recipe.kind in _POINTED:
                return f"{sewing} {unit_wording.tips_stick_out()}"
            return sewing
        if len(step.stitched) == len(step.takes[0].corners):
            return unit_wording.sew_all_round(seam, telling.measure)
        return unit_wording.sew_as_shown()

    def _parting(self, looking: Looking) -> str:
        step = looking.step
        if step.left_in:
            return unit_wording.fold_over(len(step.drawn))
        if not step.cuts:
            return ""
        if self.recipe.kind == CORNER_SQUARE:
            return unit_wording.cut_between()
        if lying.stitching_side(step) == "on":
            telling = self.telling
            return unit_wording.cut_off(telling.settings.seam, telling.measure, len(step.cuts))
        if not step.drawn and len(step.stitched) == len(step.takes[0].corners):
            return unit_wording.cut_on_diagonals()
        if len(step.drawn) > 1 and len(step.cuts) > len(step.drawn):
            half = self.pieces[step.takes[0].what].width.ruler / 2
            return unit_wording.cut_in_eight(half, self.telling.measure)
        on_drawn = all(any(lying.same_line(d, c) for d in step.drawn) for c in step.cuts)
        return unit_wording.cut_apart(1 if on_drawn and len(step.cuts) == 1 else 2)

    def _trim(self, looking: Looking) -> None:
        telling = self.telling
        size = self._size(looking)
        if not lying.is_upright(looking.step.gives[0].corners):
            self._add([unit_wording.trim_tips()], cutting_scene(looking, telling.paints))
            return
        pattern = lying.seam_pattern(looking.gives[0].patches, looking.step.gives[0].corners)
        ruler = {
            "diagonal": unit_wording.ruler_on_diagonal(),
            "crossing": unit_wording.ruler_on_crossing(size, telling.measure),
            "point": unit_wording.ruler_beyond_point(telling.settings.seam, telling.measure),
        }.get(pattern, unit_wording.ruler_plain())
        if self.recipe.kind in _POINTED:
            ruler = unit_wording.ruler_beyond_points(telling.settings.seam, telling.measure)
        if self.recipe.kind == HALF_RECTANGLE:
            ruler = unit_wording.ruler_inside_corners(telling.settings.seam, telling.measure)
        figure = trimming_scene(looking, telling.paints, telling.measure, size)
        about = between_marks(looking.step)
        twin = self.recipe.twin
        others = twin is not None and looking.step.gives[0].what == twin.what
        whose = unit_wording.other_hand() if others else ""
        self._add([whose, unit_wording.trim_to(size, telling.measure, about=about), ruler], figure)

    def _size(self, looking: Looking) -> tuple[Fraction, Fraction]:
        measure = looking.step.measure
        if measure is not None:
            return (measure[0].ruler, measure[1].ruler)
        corners = looking.step.gives[0].corners
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        return (max(xs) - min(xs), max(ys) - min(ys))

    def _measure(self, looking: Looking) -> str:
        measure = looking.step.measure
        if measure is None:
            return ""
        size, about = self._size(looking), between_marks(looking.step)
        if self.recipe.kind == DIAMOND_ROW:
            if looking.step.verb == "cut":
                return ""  # its corners are no place to measure from
            about = abs(measure[1].surplus) > SAME
            return unit_wording.should_measure_across(size[1], self.telling.measure, about=about)
        return wording.should_measure(size, self.telling.measure, self._count(looking), about=about)

    def _count(self, looking: Looking) -> int:
        return sum(stock.count for stock in looking.step.gives)
