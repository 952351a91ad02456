"""Seams that are alike are worked out once, and the answer is the same."""

from __future__ import annotations

import numpy as np
import pytest

from seamproof.accuracy import workshop as workshops
from seamproof.accuracy.alike import sew
from seamproof.accuracy.forecasting import Linear, linear
from seamproof.accuracy.lines import Line, Putting
from seamproof.accuracy.workshop import Setup
from tests.accuracy.reference_blocks import HALF_SQUARE, STAR, planned, workshop

MIXED = "a/b b\\a a/b\nc\\a a/c b/a\na b/c c\\b"


def by_itself(shop: workshops.Workshop) -> Linear:
    """The same with every seam worked out anew."""

    def alone(*sides: object, **asked: object) -> object:
        return sew(*sides, **asked | {"known": None})  # type: ignore[arg-type]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(workshops, "sew", alone)
        return linear(shop)


def same(one: Linear, other: Linear) -> None:
    assert one.shared == pytest.approx(other.shared, abs=1e-9)
    assert set(one.squares) == set(other.squares)
    for source, square in one.squares.items():
        assert square == pytest.approx(other.squares[source], abs=1e-9), source
    for source, total in one.sums.items():
        assert total == pytest.approx(other.sums[source], abs=1e-9), source


@pytest.mark.parametrize("cells", [HALF_SQUARE, MIXED, STAR])
def test_what_is_shared_is_what_each_seam_would_be(cells: str) -> None:
    size = 12 if cells == STAR else 9
    alone = by_itself(workshop(cells, size, size))
    same(linear(workshop(cells, size, size)), alone)
    if cells == MIXED:  # and something was shared
        shop = workshop(cells, size, size)
        linear(shop)
        assert len(shop._seams) < len(shop._sewings)


def test_nobody_looking_changes_no_size() -> None:
    setup = Setup(planned(MIXED, 9, 9))
    same(linear(setup.workshop(looked=False)), linear(setup.workshop()))


def test_a_seam_that_is_turned_and_told_in_another_order_is_known() -> None:
    """Two squares, side by side, then the same turned and moved, their edges told from another
    corner: found under the same key, and its weights are those of the seam itself."""
    left = [0j, 3 + 0j, 3 + 3j, 3j]
    right = [3 + 0j, 6 + 0j, 6 + 3j, 3 + 3j]
    put = Putting(np.exp(0.3j), 5 - 2j)
    known: dict[object, object] = {}

    def sewn(shift: int, put: Putting, known: dict[object, object] | None) -> object:
        sides = [
            tuple(
                Line(put(a), put(b), True)
                for a, b in zip(
                    corners[shift:] + corners[:shift],
                    corners[shift + 1 :] + corners[: shift + 1],
                    strict=True,
                )
            )
            for corners in (left, right)
        ]
        run = (put(3 + 3j), put(3 + 0j))
        return sew(*sides, [run], ["left"], allowance=0.25, known=known)  # type: ignore[arg-type]

    sewn(0, Putting(1 + 0j, 0j), known)
    shared, own = sewn(2, put, known), sewn(2, put, None)
    assert len(known) == 1
    for name in ("arms", "motion", "new", "carried"):
        assert getattr(shared, name) == pytest.approx(getattr(own, name), abs=1e-9), name  # type: ignore[attr-defined]
