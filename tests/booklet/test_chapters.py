"""Units made alike are told once; templates, corners and open seams are told as what they are."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from seamproof.booklet import lying
from seamproof.booklet.laying_out import rows_of
from seamproof.booklet.model import PrintedStep, SheetModel
from seamproof.booklet.sheets import sheet
from seamproof.booklet.unit_chapters import Telling, unit_chapters
from seamproof.cutting.model import CuttingList, CuttingSettings, Step, Stock
from seamproof.drawing.scene import Scene
from seamproof.figures.cloth import paints
from seamproof.findings import Finding, Where
from tests import by_hand
from tests.by_hand import size, square

PAINTS = paints(by_hand.FABRICS)
TELLING = Telling(PAINTS, CuttingSettings(), "in")


def made(cutting: CuttingList, findings: tuple[Finding, ...] = ()) -> SheetModel:
    return sheet(
        by_hand.block(),
        by_hand.FABRICS,
        by_hand.piecing(),
        cutting,
        settings=CuttingSettings(),
        proved=True,
        findings=findings,
    )


def other_colours(unit: int):  # type: ignore[no-untyped-def]
    """The recipe by hand once more, of fabrics c and b."""
    recipe = by_hand.cutting().recipes[0]
    swap = {"Aa": "Cb", "Ba": "Bb"}
    pieces = tuple(
        replace(p, letter=swap[p.letter], fabric=swap[p.letter][0].lower()) for p in recipe.pieces
    )
    first = recipe.steps[0]
    takes = tuple(replace(stock, what=swap[stock.what]) for stock in first.takes)
    return replace(
        recipe, unit=unit, pieces=pieces, steps=(replace(first, takes=takes), *recipe.steps[1:])
    )


def test_units_that_differ_in_fabrics_only_are_told_once() -> None:
    recipes = [by_hand.cutting().recipes[0], other_colours(99)]
    marks = {recipes[0].unit: "unit 1", 99: "unit 2"}
    (chapter,) = unit_chapters(recipes, marks, TELLING)
    assert chapter.title == "Units 1 and 2: half-square triangles"
    assert [variant.text for variant in chapter.variants] == [
        "Unit 1: make two from Aa and Ba.",
        "Unit 2: make two from Cb and Bb.",
    ]
    assert len(chapter.steps) == 3


def test_units_of_unlike_size_are_told_apart() -> None:
    recipe = by_hand.cutting().recipes[0]
    trimmed = replace(
        recipe.steps[1], gives=(Stock("smaller", square(Fraction(6), Fraction(1), Fraction(1)), 2),)
    )
    smaller = replace(recipe, unit=99, steps=(recipe.steps[0], trimmed))
    chapters = unit_chapters([recipe, smaller], {recipe.unit: "unit 1", 99: "unit 2"}, TELLING)
    assert len(chapters) == 2


def test_exact_units_are_shown_as_they_come_from_the_machine() -> None:
    recipe = by_hand.cutting().recipes[0]
    exact = replace(recipe, steps=recipe.steps[:1])
    (chapter,) = unit_chapters([exact], {recipe.unit: "unit 1"}, TELLING)
    assert "nothing is trimmed" in chapter.steps[-1].text


def test_sewing_that_was_told_is_told_by_its_step() -> None:
    recipe = by_hand.cutting().recipes[0]
    first = recipe.steps[0]
    again = replace(first, gives=(replace(first.gives[0], what="another"),))
    twice = replace(recipe, steps=(first, again, *recipe.steps[1:]))
    (chapter,) = unit_chapters([twice], {recipe.unit: "unit 1"}, TELLING)
    assert "Draw the diagonal" in chapter.steps[0].text
    assert chapter.steps[1].text == (
        "Lay square Ba on square Aa, right sides together. Draw, sew, cut and press as in step 1."
    )


def test_only_a_picture_of_the_unit_does_not_open_a_row() -> None:
    step = PrintedStep(1, "", Scene(()))
    shown = replace(step, shows=True)
    assert [len(row) for row in rows_of([step, step, shown])] == [3]
    assert [len(row) for row in rows_of([step, step, step, shown])] == [3]
    wide = replace(step, sewn=Scene(()))
    assert [len(row) for row in rows_of([step, wide, step])] == [1, 1, 1]


def test_a_template_is_printed_once_for_all_fabrics() -> None:
    cutting = by_hand.cutting()
    corners = ((Fraction(0),) * 2, (Fraction(3), Fraction(0)), (Fraction(2), Fraction(2)))
    moved = tuple((x + 5, y + 1) for x, y in corners)
    plain = cutting.pieces[-1]
    shapes = (
        replace(plain, letter="Cb", shape="template", corners=corners, count=4),
        replace(plain, letter="Ab", fabric="a", shape="template", corners=moved, count=1),
    )
    model = made(replace(cutting, pieces=(*cutting.pieces, *shapes)))
    (template,) = model.templates
    assert template.title == "Cb: cut four, Buoy. Ab: cut one, Sea mist."


def test_what_is_found_at_several_places_is_said_once() -> None:
    note = Finding(201, "note", Where(), "a corner must be set in", "sew up to the dot")
    model = made(by_hand.cutting(), (note, note, note))
    assert [(n.text, n.mend) for n in model.notes] == [
        ("at three places: a corner must be set in", "The steps show how.")
    ]


def test_sizes_between_two_marks_are_said_to_be_about_so_much() -> None:
    cutting = by_hand.cutting()
    sewn, trimmed, first, *rest = cutting.steps
    between = replace(first, measure=(size(Fraction(25, 2), 12.46), size(Fraction(13, 2))))
    model = made(replace(cutting, steps=(sewn, trimmed, between, *rest)))
    assert model.assembly is not None
    assert sorted("about" in step.measure for step in model.assembly.steps) == [False, False, True]


def test_how_stitching_lies_to_what_is_drawn() -> None:
    zero, four = Fraction(0), Fraction(4)
    diagonal = ((four, zero), (zero, four))
    beside = ((Fraction(3), zero), (zero, Fraction(3)))
    beyond = ((four, Fraction(1)), (Fraction(1), four))
    takes = (Stock("Aa", square(four), 1), Stock("Ba", square(four), 1, "down"))

    def step(*stitched: object) -> Step:
        return Step("sew", takes, (), drawn=(diagonal,), stitched=stitched)  # type: ignore[arg-type]

    assert lying.stitching_side(step(diagonal)) == "on"
    assert lying.stitching_side(step(beside, beyond)) == "both"
    assert lying.stitching_side(step(beside)) == "one"
    assert lying.stitching_side(Step("sew", takes, (), stitched=(beside,))) == ""
    assert lying.edge_kind(Step("sew", takes, (), stitched=(beside,))) == ""
