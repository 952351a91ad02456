"""The proof is silent about sound lists and sees what is wrong with others."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamproof.cutting.listing import cutting_list
from seamproof.cutting.model import CuttingList, CuttingSettings
from seamproof.draft.model import Block, Drawing
from seamproof.draft.turning import mirrored, turned
from seamproof.draft.understanding import understand
from seamproof.findings import Finding
from seamproof.piecing.model import PiecingPlan
from seamproof.piecing.planning import plan
from seamproof.proof import checks
from seamproof.proof.sizes import prove, proved
from tests import cast, strategies
from tests.drawings import polygon_drawing
from tests.proof.lists import DEMO_NAMES, SETTINGS, Made, demo, made

FEW = settings(max_examples=12)
SOUND = {
    **{name: make() for name, make in cast.CAST.items()},
    # 136 patches take long, and are like the eight-pointed star.
    **{n: b for n, b in cast.reference_blocks().items() if n != "star_of_bethlehem_4"},
}


def listed(
    block: Block, copies: int = 1, how: CuttingSettings = SETTINGS["trimmed"]
) -> tuple[PiecingPlan, CuttingList]:
    its_plan, _ = plan(block)
    return its_plan, cutting_list(block, its_plan, copies=copies, settings=how)[0]


def errors(findings: tuple[Finding, ...]) -> list[str]:
    return [finding.what for finding in findings if finding.severity == "error"]


@pytest.mark.parametrize("name", SOUND)
def test_a_sound_list_proves(name: str) -> None:
    for copies, how in zip((1, 12, 3), SETTINGS.values(), strict=True):
        its_plan, cutting = listed(SOUND[name], copies, how)
        assert prove(SOUND[name], its_plan, cutting, how) == ()


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


@pytest.mark.parametrize("name", DEMO_NAMES)
def test_lists_of_the_demo_are_proved(name: str) -> None:
    found = demo(name)
    done = proved(found.block, found.plan, found.cutting, found.settings)
    assert done.findings == ()
    assert done.steps == len(found.cutting.steps)
    assert done.pieces == sum(piece.count for piece in found.cutting.pieces)
    assert done.sums > 0


def check_drawing(drawing: Drawing, how: str, copies: int) -> None:
    block, _ = understand(drawing)
    found = made(block, SETTINGS[how], copies) if block is not None else None
    if found is not None:
        assert found.doubts() == ()


hows, several = st.sampled_from(sorted(SETTINGS)), st.integers(1, 4)


@FEW
@given(strategies.cell_drawings(), hows, several)
def test_lists_of_cells_are_proved(drawing: Drawing, how: str, copies: int) -> None:
    check_drawing(drawing, how, copies)


@FEW
@given(strategies.planted(lattice=False, most=10), hows, several)
def test_lists_of_partitions_at_any_angle_are_proved(
    drawing: Drawing, how: str, copies: int
) -> None:
    check_drawing(drawing, how, copies)


@FEW
@given(strategies.merged(), hows, several)
def test_lists_with_corners_to_set_in_are_proved(drawing: Drawing, how: str, copies: int) -> None:
    check_drawing(drawing, how, copies)


@FEW
@given(strategies.windmills(), hows, several)
def test_lists_with_seams_in_two_goes_are_proved(drawing: Drawing, how: str, copies: int) -> None:
    check_drawing(drawing, how, copies)


def sound(name: str, copies: int = 2) -> Made:
    found = made(SOUND[name], SETTINGS["trimmed"], copies)
    assert found is not None
    assert found.doubts() == ()
    return found


def test_bent_patches_set_in_at_sharp_corners() -> None:
    """Allowances of three patches cross at (6, 4); each is folded with its own seam."""
    big = [(2, 0), (8, 0), (8, 4), (6, 2), (6, 4), (4, 4), (4, 2), (0, 2)]
    drawing = polygon_drawing(
        "sharp",
        (8, 6),
        [
            ("c", [(0, 0), (2, 0), (0, 2)]),
            ("a", [(0, 2), (4, 2), (4, 4), (6, 4), (4, 6), (0, 6)]),
            ("c", big),
            ("d", [(6, 2), (8, 4), (8, 6), (4, 6), (6, 4)]),
        ],
    )
    check_drawing(drawing, "trimmed", 1)


def test_sums_on_the_grid_are_exact_and_others_to_a_hair() -> None:
    found = sound("nine_patch")
    done = proved(found.block, found.plan, found.cutting, found.settings)
    assert done.sums_exact > 0
    assert done.sums_near == 0
    aslant = sound("kaleidoscope")
    done = proved(aslant.block, aslant.plan, aslant.cutting, aslant.settings)
    assert done.sums_near > 0


# Lists for something else -------------------------------------------------------------------------


def test_a_list_for_another_seam_allowance_is_found() -> None:
    wide = replace(SETTINGS["trimmed"], seam=Fraction(3, 8))
    for name in ("nine_patch", "pinwheel", "sawtooth_star", "kaleidoscope"):
        found = made(SOUND[name], wide)
        assert found is not None
        assert prove(found.block, found.plan, found.cutting, SETTINGS["trimmed"]) != ()


def test_a_list_with_another_oversize_is_found() -> None:
    more = {kind: by + Fraction(1, 8) for kind, by in SETTINGS["trimmed"].oversize.items()}
    found = made(SOUND["ohio_star"], replace(SETTINGS["trimmed"], oversize=more))
    assert found is not None
    codes = {f.code for f in prove(found.block, found.plan, found.cutting, SETTINGS["trimmed"])}
    assert codes == {checks.RULER.code}


def test_a_unit_turned_before_it_is_joined_is_found() -> None:
    """The half-square triangles of a star, each a quarter turn farther: everything fits."""
    found = sound("friendship_star")
    steps = found.cutting.steps
    trimmed = next(i for i, step in enumerate(steps) if step.verb == "trim")
    (unit,) = steps[trimmed].gives
    turned = replace(unit, corners=unit.corners[1:] + unit.corners[:1])
    other = replace(steps[trimmed], gives=(turned,))
    changed = (*steps[:trimmed], other, *steps[trimmed + 1 :])
    recipes = tuple(
        replace(r, steps=tuple(other if step == steps[trimmed] else step for step in r.steps))
        for r in found.cutting.recipes
    )
    cutting = replace(found.cutting, steps=changed, recipes=recipes)
    assert {finding.code for finding in found.doubts(cutting)} == {checks.NOT_THE_BLOCK.code}


def test_every_finding_of_the_proof_says_not_to_cut() -> None:
    found = sound("nine_patch")
    for finding in found.doubts(replace(found.cutting, steps=found.cutting.steps[1:])):
        assert finding.severity == "error"
        assert "do not cut" in finding.mend


def test_one_patch() -> None:
    found = sound("one_patch", 3)
    assert found.doubts(replace(found.cutting, copies=4)) != ()
