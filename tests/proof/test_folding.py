"""Corners folded over with their backs left in, worked out with paper and pencil."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.cutting.model import CuttingList, CuttingSettings, Step, Stock
from seamproof.proof.ledger import run
from tests.proof.hand_made import line, listed, piece, points, upright

F = Fraction


def snowball_corner() -> CuttingList:
    """A 4 in square of a, 4 1/2 in as cut; on its upper left corner b, 1 1/2 in finished, of a 2 in
    square. What stays in sight of b lies right of the stitching, and is folded to the left."""
    whole = upright(0, 0, "9/2", "9/2")
    seam = line((0, 2), (2, 0))
    step = Step(
        "sew",
        takes=(Stock("Aa", whole, 1), Stock("Ba", upright(0, 0, 2, 2), 1, "down")),
        gives=(Stock("unit", whole, 1),),
        drawn=(seam,),
        stitched=(seam,),
        left_in=True,
    )
    return listed([piece("Aa", "a", F(9, 2), 1), piece("Ba", "b", F(2), 1)], [step])


def changed(change: Callable[[Step], Step]) -> CuttingList:
    made = snowball_corner()
    return replace(made, steps=(change(made.steps[0]),))


def codes(made: CuttingList) -> list[int]:
    return [finding.code for finding in run(made, CuttingSettings()).findings]


def test_the_folded_half_shows_and_the_whole_stays_flat() -> None:
    outcome = run(snowball_corner(), CuttingSettings())
    assert outcome.findings == ()
    assert outcome.last is not None
    assert {sheet.fabric: sheet.size for sheet in outcome.last.sheets} == pytest.approx(
        {"a": 4.5**2 - 2, "b": 2}
    )


def test_stitched_the_other_way_the_other_half_is_folded() -> None:
    """Then the half at the raw corner would be folded over the middle, which is not shown."""
    backwards = line((2, 0), (0, 2))
    outcome = run(
        changed(lambda step: replace(step, stitched=(backwards,), drawn=(backwards,))),
        CuttingSettings(),
    )
    assert outcome.last is not None
    (b,) = [sheet for sheet in outcome.last.sheets if sheet.fabric == "b"]
    assert all(min(p.real + p.imag for p in face) >= 2 - 1e-6 for face in b.faces)


def test_what_is_left_in_is_not_cut() -> None:
    cut = line((0, "13/8"), ("13/8", 0))
    assert codes(changed(lambda step: replace(step, cuts=(cut,)))) == [909]


def test_it_lies_face_down() -> None:
    def up(step: Step) -> Step:
        return replace(step, takes=(step.takes[0], replace(step.takes[1], face="up")))

    assert codes(changed(up)) == [909]


def test_only_a_sewn_step_leaves_in() -> None:
    made = snowball_corner()
    trim = Step("trim", made.steps[0].gives, made.steps[0].gives, left_in=True)
    assert codes(replace(made, steps=(*made.steps, trim))) == [909]


def test_each_square_is_stitched_once() -> None:
    second = line((0, 1), (1, 0))
    assert codes(
        changed(lambda s: replace(s, stitched=(*s.stitched, second), drawn=(*s.drawn, second)))
    ) == [909]


def test_stitching_too_near_to_the_raw_edge_is_found() -> None:
    """A square laid so that hardly any cloth of it lies beyond the stitching."""
    laid = points(("7/8", "7/8"), ("23/8", "7/8"), ("23/8", "23/8"), ("7/8", "23/8"))

    def moved(step: Step) -> Step:
        return replace(step, takes=(step.takes[0], replace(step.takes[1], corners=laid)))

    assert codes(changed(moved))[0] in (903, 909)


def test_a_square_that_does_not_fill_its_corner_leaves_the_whole_in_sight() -> None:
    small = piece("Ba", "b", F(2), 1)
    made = changed(lambda step: step)
    laid = upright("1/8", "1/8", "17/8", "17/8")
    seam = line(("1/8", "17/8"), ("17/8", "1/8"))
    step = replace(
        made.steps[0],
        takes=(made.steps[0].takes[0], Stock("Ba", laid, 1, "down")),
        drawn=(seam,),
        stitched=(seam,),
    )
    outcome = run(listed([made.pieces[0], small], [step]), CuttingSettings())
    assert outcome.last is not None
    (a,) = [sheet for sheet in outcome.last.sheets if sheet.fabric == "a"]
    assert a.size == pytest.approx(4.5**2 - 2)
    assert any(min(abs(p) for p in face) < 1e-6 for face in a.faces)
