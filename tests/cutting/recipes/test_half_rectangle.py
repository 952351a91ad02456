"""Half-rectangle triangles in both hands."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seamproof.cutting.model import CuttingSettings
from seamproof.draft.turning import mirrored
from seamproof.length.rounding import SAME
from seamproof.plane.predicates import box
from tests.cutting.drawn import EXACT, TRIMMED, block_of, listed
from tests.cutting.recipes.proving import SETTINGS, drawn, proved, ways_round

F = Fraction
KIND = "half-rectangle triangle"
METHODS = ["from triangles", "two at a time"]
UNITS = [
    block_of("a/b", 4, 2),
    block_of("a\\b", 4, 2),
    block_of("a/b", 1, F(5, 2)),
    block_of("a/b", 10, 8),
    block_of("a/b b\\a", 8, 3),
]


@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize("settings", SETTINGS.values(), ids=SETTINGS)
def test_the_proof_is_silent(method: str, settings: CuttingSettings) -> None:
    for unit in UNITS:
        for block in ways_round(unit):
            proved(block, KIND, method, settings, copies=3)


@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize("turn", [F(1, 8), F(1, 12)])
def test_aslant(method: str, turn: Fraction) -> None:
    unit = [("a", [(0, 0), (4, 0), (0, 2)]), ("b", [(4, 0), (4, 2), (0, 2)])]
    proved(drawn(unit, turn), KIND, method, TRIMMED)


lengths = st.integers(8, 80).map(lambda n: F(n, 8))


@given(lengths, lengths, st.sampled_from(METHODS))
def test_any_shape_can_be_trimmed(one: Fraction, other: Fraction, method: str) -> None:
    if one == other or max(one, other) > 5 * min(one, other):
        return
    made, _ = proved(block_of("a/b", one, other), KIND, method, TRIMMED)
    for piece in made.pieces:
        for size in (piece.width, piece.height):
            assert -SAME <= size.surplus < TRIMMED.step + TRIMMED.oversize[KIND]


@pytest.mark.parametrize("method", METHODS)
def test_hands(method: str) -> None:
    one, _ = proved(block_of("a/b", 4, 2), KIND, method, TRIMMED)
    twin, _ = proved(mirrored(block_of("a/b", 4, 2)), KIND, method, TRIMMED)
    assert {piece.hand for piece in one.pieces} == {"right"}
    assert {piece.hand for piece in twin.pieces} == {"left"}


def test_each_hand_is_cut_on_its_own_diagonal() -> None:
    made = listed(block_of("a/b b\\a", 8, 2))
    assert sorted((p.fabric, p.hand, p.count) for p in made.pieces) == [
        ("a", "left", 1),
        ("a", "right", 1),
        ("b", "left", 1),
        ("b", "right", 1),
    ]


@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize("cell", ["a/b", "a\\b"])
def test_the_seam_runs_through_the_points_inside_the_corners(method: str, cell: str) -> None:
    """Trimmed, the finished corners lie on the seam, and the raw corners do not."""
    _, recipe = proved(block_of(cell, 4, 2), KIND, method, TRIMMED)
    sew, trim = recipe.steps
    seam = sew.stitched[0]
    low, high = box(trim.gives[0].corners)
    assert (high[0] - low[0], high[1] - low[1]) == (F("4.5"), F("2.5"))
    # The seam slants as the diagonal of the finished unit does, but for the turn under the ruler.
    slope = abs(float(seam[1][1] - seam[0][1]) / float(seam[1][0] - seam[0][0]))
    assert math.degrees(abs(math.atan(slope) - math.atan(0.5))) < 3
    assert math.degrees(abs(math.atan(2.5 / 4.5) - math.atan(0.5))) > 2


def test_tips_stick_out_when_sizes_are_exact() -> None:
    """End for end: each tip beyond the other by s (cot of half one angle - cot of half the
    other)."""
    _, recipe = proved(block_of("a/b", 4, 2), KIND, "from triangles", EXACT)
    (sew,) = recipe.steps
    lower, upper = (stock.corners for stock in sew.takes)
    (ax, ay), (bx, by) = sew.stitched[0]
    long = math.dist((ax, ay), (bx, by))

    def along(p: tuple[Fraction, Fraction]) -> float:
        return float((p[0] - ax) * (bx - ax) + (p[1] - ay) * (by - ay)) / long

    beyond = [edge(along(p) for p in upper) - edge(along(p) for p in lower) for edge in (min, max)]
    assert [abs(b) for b in beyond] == pytest.approx([0.6545, 0.6545], abs=1e-4)
    assert beyond[0] * beyond[1] > 0


def test_four_of_each_hand() -> None:
    rows = "a/b b\\a a\\b b/a"
    made, _ = proved(block_of(rows, 16, 2), KIND, "from triangles", TRIMMED, copies=2)
    recipes = [recipe for recipe in made.recipes if recipe.kind == KIND]
    assert sum(recipe.made for recipe in recipes) == 8
    assert {recipe.spare for recipe in recipes} == {0}
