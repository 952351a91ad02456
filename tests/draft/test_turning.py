from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from seamproof.draft.model import Fixing
from seamproof.draft.turning import mirrored, recoloured, turned
from tests import cast


def test_a_quarter_turn_is_clockwise() -> None:
    block = cast.understood(cast.cells_drawing("strip", (4, 2), ["a b"]))
    up = turned(block, 1)
    assert (up.width, up.height) == (2, 4)
    assert [p.fabric for p in up.patches] == ["a", "b"]
    assert up.corners_of(up.patches[0])[0] == (0, 0)


def test_a_mirror_exchanges_left_and_right() -> None:
    block = mirrored(cast.half_square())
    plain = cast.understood(cast.cells_drawing("half square", (3, 3), ["b\\a"]))
    assert {(p.fabric, p.corners) for p in block.patches} == {
        (p.fabric, p.corners) for p in plain.patches
    }


def test_fixings_go_along() -> None:
    zero, three, six = Fraction(0), Fraction(3), Fraction(6)
    spin = Fixing(None, (three, three), "spin", clockwise=True)
    side = Fixing(((three, zero), (three, six)), None, "towards", towards=(zero, three))
    block = replace(cast.four_patch(), fixings=(spin, side))
    quarter, mirror = turned(block, 1), mirrored(block)
    assert quarter.fixings[0].clockwise is True
    assert mirror.fixings[0].clockwise is False
    assert quarter.fixings[1].line == ((six, three), (zero, three))
    assert quarter.fixings[1].towards == (three, zero)
    assert mirror.fixings[1].towards == (six, three)


def test_bulges_stay_on_their_sides() -> None:
    block = cast.half_square()
    bent = replace(block.patches[0], bulges=(0.0, 0.25, 0.0))
    block = replace(block, patches=(bent, block.patches[1]))
    a, b = (block.vertices[v] for v in (bent.corners[1], bent.corners[2]))
    for block_now, sign, ends in (
        (turned(block, 1), 1, [(3 - p[1], p[0]) for p in (a, b)]),
        (mirrored(block), -1, [(3 - p[0], p[1]) for p in (a, b)]),
    ):
        patch = block_now.patches[0]
        k = next(i for i, bulge in enumerate(patch.bulges) if bulge)
        side = {block_now.vertices[patch.corners[i % 3]] for i in (k, k + 1)}
        assert side == set(ends)
        assert patch.bulges[k] == sign * 0.25


@pytest.mark.parametrize("name", sorted(cast.CAST))
def test_letters_are_exchanged(name: str) -> None:
    block = cast.CAST[name]()
    swapped = recoloured(block, {"a": "b", "b": "a"})
    assert [p.corners for p in swapped.patches] == [p.corners for p in block.patches]
    assert recoloured(swapped, {"a": "b", "b": "a"}) == block
