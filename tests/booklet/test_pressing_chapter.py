"""What the sheets of the demo say and show about pressing, held against the press plans."""

from __future__ import annotations

import functools
import re
from pathlib import Path

import pytest

import seamproof.project
from seamproof.booklet import press_wording
from seamproof.booklet.model import SheetModel
from seamproof.booklet.pressing_chapter import Pressing, legend
from seamproof.booklet.sheets import sheet
from seamproof.drawing.scene import Count, PressSign, Scene, SpinSign
from seamproof.pipeline.model import BlockWork
from seamproof.pipeline.pressing import PressedWork, press_block
from seamproof.pipeline.working import work_block
from seamproof.pressing.model import Press
from seamproof.project.reading import read_block, read_block_bytes
from tests.worked_out import memory

DEMO = Path(seamproof.project.__file__).parent / "demo" / "blocks"
NAMES = ("breakwater", "cardinal-mark", "dinghy", "lit-window")


@functools.cache
def pressed(name: str) -> PressedWork:
    kept = memory()
    return press_block(work_block(read_block(DEMO / f"{name}.yaml"), memory=kept), memory=kept)


def model_of(work: BlockWork, found: PressedWork | None) -> SheetModel:
    assert work.block is not None
    assert work.piecing is not None
    assert work.cutting is not None
    return sheet(
        *(work.block, work.fabrics, work.piecing, work.cutting),
        settings=work.settings,
        proved=True,
        pressed=None if found is None else found.pressed,
        pressing=None if found is None else found.settings,
    )


@functools.cache
def model(name: str) -> SheetModel:
    return model_of(pressed(name).work, pressed(name))


def signs(scene: Scene) -> list[PressSign | SpinSign]:
    return [shape for shape in scene.shapes if isinstance(shape, PressSign | SpinSign)]


@pytest.mark.parametrize("name", NAMES)
def test_every_seam_above_the_units_is_told_and_shown(name: str) -> None:
    assembly = model(name).assembly
    if name == "lit-window":
        assert assembly is None  # a log cabin is one unit
        return
    assert assembly is not None
    told = re.compile(r"Press it open\.|Press towards .+\.|Press as the arrows? shows?\.|Spin the ")
    for step in assembly.steps:
        assert told.search(step.text), step.text
        assert signs(step.figure) or (step.sewn is not None and signs(step.sewn))


@pytest.mark.parametrize("name", NAMES)
def test_the_back_bears_a_sign_for_every_seam_and_the_map_its_greatest_count(name: str) -> None:
    found, turned = pressed(name).pressed, model(name).turned
    assert found is not None
    assert turned is not None
    assert len(signs(turned.back)) >= len(found.plan.presses)
    assert turned.layers == found.layers.most
    counts = {shape.text for shape in turned.close.shapes if isinstance(shape, Count)}
    assert str(found.layers.most) in counts


def test_only_signs_that_are_used_are_explained() -> None:
    """Where they are met first."""
    first = model("breakwater").units[0]
    assert [sign.text for sign in first.signs] == [
        *(press_wording.OPEN, press_wording.SIDE, press_wording.SPUN)
    ]
    assert len(legend(open_=True, side=False, spun=False)) == 1
    assert legend(open_=False, side=False, spun=False) == ()


def test_a_seam_that_is_fixed_is_told_as_it_was_fixed() -> None:
    text = (
        "name: Pair\nfinished: [4, 2]\ncells:\n  - a b\n"
        "press:\n  - seam: [[2, 0], [2, 2]]\n    towards: [3, 1]\n"
    )
    work = work_block(read_block_bytes(text.encode(), "pair.yaml"))
    found = press_block(work)
    assembly = model_of(work, found).assembly
    assert assembly is not None
    assert "Press towards square Ba." in assembly.steps[0].text


def test_the_words_for_a_unit_name_the_fabric_only_if_all_its_seams_go_there() -> None:
    text = "name: Half\nfinished: 4\ncells:\n  - a/b\n"
    work = work_block(read_block_bytes(text.encode(), "half.yaml"))
    assert work.piecing is not None
    whole = work.piecing.whole

    def said(*presses: Press) -> str:
        assert work.piecing is not None
        return Pressing(work.piecing, presses).unit(whole)

    left = work.piecing.parts[whole].made
    fabric = {said(Press(whole, 0, "left")), said(Press(whole, 0, "right"))}
    assert fabric == {"A", "B"}, left
    assert said(Press(whole, 0, "open")) == "open"
    assert said(Press(whole, 0, "left"), Press(whole, 0, "open")) == "shown"
    assert said() == ""


def test_without_a_press_plan_a_sheet_says_to_press() -> None:
    plain = model_of(pressed("breakwater").work, None)
    assert plain.turned is None
    assert plain.units[0].signs == ()
    assert plain.assembly is not None
    assert plain.assembly.steps[0].text.endswith("Press.")
