"""Log cabins: logs in the order of sewing, cut to length, every round proved."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.cutting.model import CuttingSettings
from seamproof.draft.model import Block
from seamproof.draft.turning import mirrored, turned
from seamproof.piecing.planning import plan
from seamproof.proof.sizes import prove
from tests.cast import cells_drawing, polygon_drawing, understood
from tests.cutting.drawn import TRIMMED, cut, listed, recipe_for

F = Fraction

Corner = tuple[Fraction, Fraction]


def rectangle(left: Fraction, top: Fraction, right: Fraction, bottom: Fraction) -> list[Corner]:
    return [(left, top), (right, top), (right, bottom), (left, bottom)]


def cabin(
    rounds: int = 2,
    centre: Fraction | int = 3,
    log: Fraction = F(3, 2),
    sides: str = "trbl",
    height: Fraction | int | None = None,
) -> Block:
    """A centre and rounds of logs, on the top, right, bottom and left in the order of `sides`."""
    left = top = F(0)
    right, bottom = F(centre), F(centre if height is None else height)
    patches = [("a", rectangle(left, top, right, bottom))]
    for fabrics in ("bcde", "fghk")[:rounds]:
        for fabric, side in zip(fabrics, sides, strict=True):
            if side == "t":
                patches.append((fabric, rectangle(left, top - log, right, top)))
                top -= log
            elif side == "b":
                patches.append((fabric, rectangle(left, bottom, right, bottom + log)))
                bottom += log
            elif side == "r":
                patches.append((fabric, rectangle(right, top, right + log, bottom)))
                right += log
            else:
                patches.append((fabric, rectangle(left - log, top, left, bottom)))
                left -= log
    drawing = polygon_drawing(
        "cabin",
        (right - left, bottom - top),
        [(fabric, [(x - left, y - top) for x, y in corners]) for fabric, corners in patches],
    )
    return understood(drawing)


def proved(block: Block, chosen: CuttingSettings = TRIMMED, copies: int = 1) -> tuple[object, ...]:
    its_plan, _ = plan(block)
    assert its_plan is not None
    return prove(block, its_plan, listed(block, chosen, copies), chosen)


CABINS = {
    "log cabin": cabin(),
    "the other way round": cabin(sides="tlbr"),
    "courthouse steps": cabin(sides="tblr"),
    "one round": cabin(rounds=1),
    "oblong": cabin(centre=2, height=5),
    "off the ruler": cabin(centre=F(10, 3), log=F(4, 3)),
}


@pytest.mark.parametrize("name", CABINS)
def test_it_is_sewn_log_by_log(name: str) -> None:
    block = CABINS[name]
    recipe = recipe_for(listed(block, copies=3), "log cabin")
    logs = len(block.patches) - 1
    assert [step.verb for step in recipe.steps] == ["sew"] * logs
    assert {step.takes[0].count for step in recipe.steps} == {3}
    letters = {piece.letter: piece.fabric for piece in recipe.pieces}
    sewn = [letters[step.takes[1].what] for step in recipe.steps]
    assert sorted(sewn) == sorted(patch.fabric for patch in block.patches if patch.fabric != "a")
    # From the centre outwards: no step makes it smaller, and each says what it should measure.
    measures = [step.measure for step in recipe.steps if step.measure is not None]
    areas = [width.need * height.need for width, height in measures]
    assert areas == sorted(areas)
    assert len(areas) == logs


@pytest.mark.parametrize("name", CABINS)
@pytest.mark.parametrize("chosen", [TRIMMED, CuttingSettings.metric()], ids=["inch", "metric"])
def test_the_proof_has_nothing_to_say(name: str, chosen: CuttingSettings) -> None:
    block = CABINS[name]
    for other in (block, turned(block, 1), turned(block, 2), mirrored(block)):
        assert proved(other, chosen, 2) == ()


def test_the_order_of_sewing_and_the_lengths() -> None:
    """Centre 3 in, logs 1 1/2 in: each log is as long as the side it is sewn to."""
    recipe = recipe_for(listed(cabin()), "log cabin")
    sizes = {piece.letter: (piece.width.ruler, piece.height.ruler) for piece in recipe.pieces}
    assert [sizes[step.takes[1].what] for step in recipe.steps] == [
        (F(2), F(length)) for length in ("7/2", "5", "5", "13/2", "13/2", "8", "8", "19/2")
    ]
    measures = [tuple(size.ruler for size in step.measure or ()) for step in recipe.steps]
    assert sorted(measures[-1]) == [F(19, 2), F(19, 2)]
    assert recipe.pieces[0].fabric == "a"
    assert recipe.pieces[0].shape == "square"


def test_equal_logs_have_one_letter() -> None:
    rows = ["b b= b=", "c a d", "b b= b="]
    block = understood(cells_drawing("steps", (6, 6), rows))
    recipe = recipe_for(listed(block, copies=2), "log cabin")
    assert {piece.fabric: piece.count for piece in recipe.pieces} == {
        "a": 2,
        "b": 4,
        "c": 2,
        "d": 2,
    }


def test_sizes_off_the_ruler_are_told() -> None:
    _, findings = cut(CABINS["off the ruler"])
    assert {finding.code for finding in findings} == {301}


def test_a_maker_may_have_it_sewn_as_the_plan_says() -> None:
    singly = replace(TRIMMED, methods={"log cabin": "single patches"})
    made = listed(cabin(), singly)
    assert {recipe.kind for recipe in made.recipes} == {"square", "rectangle"}
    assert proved(cabin(), singly) == ()
