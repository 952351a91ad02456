"""Pieces cut and turned over many at once, held to one at a time."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import settings as running
from hypothesis import strategies as st

from seamproof.pressing.convexes import Convexes, joined
from seamproof.pressing.folding import Convex, Fold, divided
from tests.pressing.test_slabs import CORNERS, hull

PIECES = st.lists(
    st.lists(CORNERS, min_size=3, max_size=6)
    .map(hull)
    .filter(bool)
    .map(lambda ring: tuple((float(x), float(y)) for x, y in ring)),
    max_size=5,
)
ANGLES = st.sampled_from([0.0, math.pi / 4, math.pi / 2, 2.0, 3.0])


def told(pieces: Convexes) -> list[Convex]:
    cuts = zip(pieces.first[:-1].tolist(), pieces.first[1:].tolist(), strict=True)
    return [tuple(map(tuple, pieces.points[a:b].tolist())) for a, b in cuts]


def area(piece: Convex) -> float:
    twice = 0.0
    for i, (x, y) in enumerate(piece):
        u, v = piece[i - 1]
        twice += u * y - x * v
    return twice / 2


@given(pieces=PIECES, angle=ANGLES, at=CORNERS)
@running(max_examples=60)
def test_cut_as_one_at_a_time(pieces: list[Convex], angle: float, at: tuple[int, int]) -> None:
    fold = Fold((float(at[0]), float(at[1])), (math.cos(angle), math.sin(angle)), ())
    together = Convexes.of(pieces)
    heights = np.array([fold.beyond(p) for piece in pieces for p in piece])
    found, of = together.below(heights)
    want = [divided(piece, fold.beyond)[0] for piece in pieces]
    assert of.tolist() == [k for k, piece in enumerate(want) if piece]
    for got, piece in zip(told(found), filter(None, want), strict=True):
        assert area(got) == pytest.approx(area(piece), abs=1e-12)
        assert len(got) == len(piece)
        assert all(min(math.dist(p, q) for q in piece) < 1e-9 for p in got)


@given(pieces=PIECES, angle=ANGLES, at=CORNERS)
@running(max_examples=60)
def test_folded_cloth_is_kept_and_lies_on_one_side(
    pieces: list[Convex], angle: float, at: tuple[int, int]
) -> None:
    fold = Fold((float(at[0]), float(at[1])), (math.cos(angle), math.sin(angle)), ())
    (u, v), (x, y) = fold.along, fold.at
    lines = np.array([fold.along] * len(pieces)).reshape(-1, 2)
    found, of = Convexes.of(pieces).folded(lines, np.full(len(pieces), u * y - v * x))
    for k, piece in enumerate(pieces):
        mine = [got for got, number in zip(told(found), of.tolist(), strict=True) if number == k]
        assert sum(map(area, mine)) == pytest.approx(area(piece))
        assert all(area(got) > 0 for got in mine)  # still clockwise as seen
        assert max(fold.beyond(p) for got in mine for p in got) <= 1e-8
        goes = divided(piece, fold.beyond)[1]
        for p in goes:
            over = fold.turned(p)
            assert min(math.dist(over, q) for got in mine for q in got) < 1e-8


def test_a_crease_of_no_direction_turns_nothing_over() -> None:
    square = Convexes.of([((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))])
    found, of = square.folded(np.zeros((1, 2)), np.ones(1))
    assert told(found) == told(square)
    assert of.tolist() == [0]


def test_within_cuts_every_piece_to_its_own_box() -> None:
    square = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))
    boxes = np.array([[1.0, 1.0, 3.0, 3.0], [2.0, 0.0, 4.0, 2.0], [-1.0, 0.5, 9.0, 1.0]])
    found, of = Convexes.of([square] * 3).within(boxes)
    assert of.tolist() == [0, 2]
    assert [area(piece) for piece in told(found)] == [1.0, 1.0]


def test_nothing_is_cut_into_nothing() -> None:
    none = Convexes.of([])
    assert told(none.within(np.empty((0, 4)))[0]) == []
    assert told(joined([none, none])) == []
    assert told(none.reversed()) == []
