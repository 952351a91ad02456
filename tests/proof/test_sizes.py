"""The proof is silent about sound lists and sees what is wrong with others."""

from __future__ import annotations

from dataclasses import replace

import pytest

from seamproof.cutting.listing import cutting_list
from seamproof.cutting.model import CuttingList, CuttingSettings
from seamproof.draft.model import Block
from seamproof.draft.turning import mirrored, turned
from seamproof.findings import Finding
from seamproof.piecing.model import PiecingPlan
from seamproof.piecing.planning import plan
from seamproof.proof.sizes import prove
from tests import cast

SETTINGS = {
    "trimmed": CuttingSettings(),
    "exact": CuttingSettings(sizes="exact"),
    "metric": CuttingSettings.metric(),
}
SOUND = {
    **{name: make() for name, make in cast.CAST.items()},
    # 136 patches take long, and are like the eight-pointed star.
    **{n: b for n, b in cast.reference_blocks().items() if n != "star_of_bethlehem_4"},
}


def listed(
    block: Block, copies: int = 1, settings: CuttingSettings = SETTINGS["trimmed"]
) -> tuple[PiecingPlan, CuttingList]:
    its_plan, _ = plan(block)
    return its_plan, cutting_list(block, its_plan, copies=copies, settings=settings)[0]


def errors(findings: tuple[Finding, ...]) -> list[str]:
    return [finding.what for finding in findings if finding.severity == "error"]


@pytest.mark.parametrize("name", SOUND)
def test_a_sound_list_proves(name: str) -> None:
    for copies, settings in zip((1, 12, 3), SETTINGS.values(), strict=True):
        its_plan, cutting = listed(SOUND[name], copies, settings)
        assert errors(prove(SOUND[name], its_plan, cutting, settings)) == []


@pytest.mark.parametrize("name", ["lamp_room", "friendship_star", "log_cabin", "hourglass"])
def test_turned_and_mirrored_blocks_prove(name: str) -> None:
    for block in (turned(SOUND[name], 1), mirrored(SOUND[name])):
        its_plan, cutting = listed(block)
        assert errors(prove(block, its_plan, cutting, SETTINGS["trimmed"])) == []


def test_a_list_for_another_block_does_not_prove() -> None:
    block = cast.lamp_room()
    its_plan, cutting = listed(block)
    swapped = tuple(
        replace(patch, fabric={"a": "e", "e": "a"}.get(patch.fabric, patch.fabric))
        for patch in block.patches
    )
    for other in (replace(block, patches=swapped), mirrored(block)):
        assert errors(prove(other, its_plan, cutting, SETTINGS["trimmed"]))


def test_missing_doubled_and_disordered_steps_are_found() -> None:
    block = cast.lamp_room()
    its_plan, cutting = listed(block)
    for number in range(len(cutting.steps)):
        steps = cutting.steps
        for wrong in (
            steps[:number] + steps[number + 1 :],
            steps[:number] + steps[number : number + 1] + steps[number:],
            steps[number:] + steps[:number],
        ):
            if wrong == steps:
                continue
            other = replace(cutting, steps=wrong)
            assert errors(prove(block, its_plan, other, SETTINGS["trimmed"])), number


def test_pieces_of_other_fabrics_are_found() -> None:
    block = cast.friendship_star()
    its_plan, cutting = listed(block)
    letters = sorted({piece.fabric for piece in cutting.pieces})
    other = {letters[0]: letters[-1], letters[-1]: letters[0]}
    pieces = tuple(replace(p, fabric=other.get(p.fabric, p.fabric)) for p in cutting.pieces)
    recipes = tuple(
        replace(
            recipe,
            pieces=tuple(replace(p, fabric=other.get(p.fabric, p.fabric)) for p in recipe.pieces),
        )
        for recipe in cutting.recipes
    )
    swapped = replace(cutting, pieces=pieces, recipes=recipes)
    assert errors(prove(block, its_plan, swapped, SETTINGS["trimmed"]))
