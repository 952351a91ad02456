"""How rows of diamonds are told: strips one step on, slices at the ruler's angle."""

from __future__ import annotations

from dataclasses import replace

from seamproof.booklet import lying
from seamproof.booklet.model import SheetModel
from seamproof.booklet.sheets import sheet
from seamproof.cutting.listing import cutting_list
from seamproof.cutting.model import CuttingSettings
from seamproof.draft.model import Block
from seamproof.piecing.planning import plan
from seamproof.project.palette import fabrics_from_palette
from tests.cutting.drawn import TRIMMED, cut, listed
from tests.cutting.recipes.diamonds import row, star
from tests.cutting.recipes.proving import ROOT2


def told(block: Block, copies: int, settings: CuttingSettings = TRIMMED) -> SheetModel:
    piecing, _ = plan(block)
    assert piecing is not None
    cutting, findings = cutting_list(block, piecing, copies=copies, settings=settings)
    fabrics = fabrics_from_palette("abcyz")
    return sheet(
        block, fabrics, piecing, cutting, settings=settings, proved=True, findings=findings
    )


def test_strips_are_laid_one_step_on_and_cut_at_the_angle() -> None:
    made = told(row("abc", 45, width=2 * ROOT2), copies=4)
    chapter = made.units[0]
    assert chapter.title == "Unit 1: make four rows of diamonds"
    first, second, last = chapter.steps
    assert "Let it begin 2 in farther along, as shown." in first.text
    assert first.measure == "Across the strips it should measure 4 1/2 in."
    assert "Let it begin 2 in farther along, as shown." in second.text
    assert second.measure == "Across the strips it should measure 6 1/2 in."
    assert "Lay the ruler's 45° line on a seam" in last.text
    assert "cut four slices, 2 1/2 in wide each" in last.text
    assert last.measure == ""


def test_sixty_degrees_in_either_direction() -> None:
    for lean in (1, -1):
        steps = told(row("abc", 60, lean=lean), copies=4).units[0].steps
        assert all("Let it begin 1 in farther along" in step.text for step in steps[:2])
        assert "60° line" in steps[-1].text


def test_the_rows_of_a_star_are_told_once() -> None:
    (chapter,) = told(star(["abb", "bca", "cab"]), copies=1).units
    assert chapter.title == "Units 1, 2 and 3: rows of diamonds"
    assert len(chapter.variants) == 3


def test_what_slices_are_off_the_ruler_is_measured_across_the_cuts() -> None:
    _, findings = cut(star(["ab", "ba"], size=12), copies=1)
    (slices,) = {f.what for f in findings if "slices" in f.what}
    wide = 12 / (2 + ROOT2) / 2 / ROOT2 + 0.5
    assert f"should be {wide:.3f} in wide" in slices


def test_step_on_of_cut_strips() -> None:
    (recipe,) = [r for r in listed(row("ab", 30), copies=4).recipes if r.method == "strip sets"]
    step = recipe.steps[0]
    assert round(lying.step_on(step), 3) == round(3**0.5, 3)
    other = replace(step, takes=(step.takes[0], replace(step.takes[0], face="down")))
    assert lying.step_on(other) == 0
