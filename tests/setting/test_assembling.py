"""Strips and blocks sewn together: shared edges, equal parts, and the plan down to the patches."""

from __future__ import annotations

from fractions import Fraction

import pytest

from seamproof.piecing.model import Finish, Join, Leaf, Whole
from seamproof.piecing.planning import plan as plan_block
from seamproof.plane.predicates import area
from seamproof.setting.assembling import Builder, expanded, merge, upright
from tests.cast import nine_patch
from tests.setting import tops
from tests.setting.tops import block, top_of


def box(x0: int, y0: int, x1: int, y1: int) -> tuple[tuple[Fraction, Fraction], ...]:
    return upright((Fraction(x0), Fraction(y0)), (Fraction(x1), Fraction(y1)))


def test_a_seam_that_turns_is_one_seam() -> None:
    corner = tuple(
        (Fraction(x), Fraction(y)) for x, y in ((0, 0), (3, 0), (3, 1), (1, 1), (1, 3), (0, 3))
    )
    seam, outline = merge(corner, box(1, 1, 3, 3))
    assert [(int(x), int(y)) for x, y in seam] == [(3, 1), (1, 1), (1, 3)]
    assert outline == box(0, 0, 3, 3)


@pytest.mark.parametrize("other", [box(5, 0, 6, 1), box(1, 1, 2, 2)])
def test_neighbours_without_an_edge_are_refused(
    other: tuple[tuple[Fraction, Fraction], ...],
) -> None:
    with pytest.raises(ValueError, match="share 0 edges"):
        merge(box(0, 0, 1, 1), other)


def test_a_leaf_turned_by_quarters_is_the_same_part() -> None:
    builder = Builder()
    lying = [
        builder.rectangle("a", (Fraction(0), Fraction(0)), (Fraction(2), Fraction(12)), "sash"),
        builder.rectangle("a", (Fraction(5), Fraction(1)), (Fraction(17), Fraction(3)), "sash"),
        builder.rectangle("b", (Fraction(5), Fraction(1)), (Fraction(17), Fraction(3)), "sash"),
        builder.rectangle("a", (Fraction(5), Fraction(1)), (Fraction(17), Fraction(3)), "coping"),
    ]
    assert [one.placed.part for one in lying] == [0, 0, 1, 2]
    assert lying[1].placed.turn in (Fraction(1, 4), Fraction(3, 4))


def test_the_whole_plan_goes_down_to_the_patches() -> None:
    setting = tops.straight("Nine Nine'", "Nine Nine", sash=2)
    top = top_of(setting, block("Nine", 9))
    plans = {"Nine": plan_block(nine_patch())[0]}
    whole = expanded(top.plan, plans)
    assert not any(isinstance(part.made, Whole) for part in whole.parts)
    assert whole.sessions == top.plan.sessions + plans["Nine"].sessions
    for number, part in enumerate(whole.parts):
        made = part.made
        if isinstance(made, Join):
            assert max(made.left.part, made.right.part) < number
        elif isinstance(made, Finish):
            assert made.of.part < number
    sewn = sum(
        (area(part.outline) * part.uses for part in whole.parts if isinstance(part.made, Leaf)),
        Fraction(0),
    )
    assert sewn == top.width * top.height
    assert whole.patches == 4 * 9 + len(top.leaves)


def test_a_block_without_a_plan_stays_whole() -> None:
    top = top_of(tops.straight("Star Star", sash=2), block("Star"))
    assert expanded(top.plan, {}).parts == top.plan.parts
