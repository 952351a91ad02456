"""What holds for every cutting list, whatever the block, the seam and the ruler."""

from __future__ import annotations

import functools
import math
from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamproof.cutting.model import CuttingList, CuttingSettings, Hand, Piece
from seamproof.draft.model import Block
from seamproof.draft.turning import mirrored, turned
from seamproof.length.exact import CM
from seamproof.length.rounding import SAME
from tests.cast import reference_blocks
from tests.cutting.drawn import EXACT, TRIMMED, block_of, geese, hourglass, hst, listed

SETTINGS = {
    "trimmed": TRIMMED,
    "exact": EXACT,
    "metric": CuttingSettings.metric(),
    "from triangles": replace(
        TRIMMED,
        methods={
            "half-square triangle": "from triangles",
            "hourglass": "from triangles",
            "flying geese": "from triangles",
        },
    ),
}

OTHER_HAND: dict[Hand, Hand] = {
    "left": "right",
    "right": "left",
    "either": "either",
    "pair": "pair",
}

KNOWN = {
    name: block
    for name, block in reference_blocks().items()
    if not block.name.startswith("tumbling") and len(block.patches) <= 24
}


@functools.cache
def lists() -> list[tuple[Block, CuttingSettings, CuttingList]]:
    """What is cut for two of each known block, in every way."""
    return [
        (block, chosen, listed(block, chosen, copies=2))
        for block in KNOWN.values()
        for chosen in SETTINGS.values()
    ]


def table(made: CuttingList, *, hands: bool = False) -> Counter[tuple[object, ...]]:
    """What is cut, without letters and part numbers; with `hands` exchanged if asked."""

    def row(piece: Piece) -> tuple[object, ...]:
        return (
            piece.fabric,
            piece.shape,
            piece.width.ruler,
            piece.height.ruler,
            piece.split,
            piece.unit,
            piece.method,
            piece.trim,
            piece.rounding,
            OTHER_HAND[piece.hand] if hands else piece.hand,
            piece.count,
        )

    return Counter(row(piece) for piece in made.pieces)


@pytest.mark.parametrize("name", sorted(KNOWN))
def test_a_turned_block_has_the_same_list(name: str) -> None:
    assert table(listed(turned(KNOWN[name], 1))) == table(listed(KNOWN[name]))


@pytest.mark.parametrize("name", sorted(KNOWN))
def test_a_mirrored_block_has_the_same_list_with_hands_exchanged(name: str) -> None:
    assert table(listed(mirrored(KNOWN[name])), hands=True) == table(listed(KNOWN[name]))


def test_what_is_trimmed_is_large_enough_and_not_much_larger() -> None:
    for _, chosen, made in lists():
        for piece in made.pieces:
            if piece.rounding == "trimmed":
                most = chosen.step + chosen.oversize.get(piece.unit, Fraction(0))
                for size in (piece.width, piece.height):
                    assert -SAME <= size.surplus < most


def test_what_is_sewn_as_cut_is_at_the_nearest_mark_or_just_above() -> None:
    for _, chosen, made in lists():
        for piece in made.pieces:
            if piece.shape == "template":
                continue
            sizes = (piece.width, piece.height)
            if piece.shape == "strip":  # a strip may well be a little long
                assert -SAME <= piece.height.surplus < chosen.step
                sizes = (piece.width,)
            for size in sizes:
                if piece.rounding == "on the ruler":
                    assert abs(size.surplus) <= SAME
                elif piece.rounding == "as cut" and piece.split == "whole":
                    assert abs(size.surplus) <= chosen.step / 2 + SAME
                elif piece.rounding == "as cut":
                    assert -SAME <= size.surplus < chosen.step


def test_exact_sizes_are_never_trimmed() -> None:
    for made in (made for _, chosen, made in lists() if chosen is EXACT):
        assert {piece.rounding for piece in made.pieces} <= {"on the ruler", "as cut"}
        assert {piece.trim for piece in made.pieces} == {None}
        assert "trim" not in {step.verb for step in made.steps}


def test_every_size_is_on_the_ruler() -> None:
    for _, chosen, made in lists():
        for piece in made.pieces:
            for size in (piece.width, piece.height):
                assert (size.ruler / chosen.step).denominator == 1


def test_letters_are_unlike_and_leave_out_what_looks_like_a_figure() -> None:
    for _, _, made in lists():
        letters = [piece.letter for piece in made.pieces]
        assert len(set(letters)) == len(letters)
        assert not set("".join(letter[1:] for letter in letters)) & set("ioqz")


def test_rows_stand_by_fabric_and_the_largest_first() -> None:
    for _, _, made in lists():
        order = [(p.fabric, -p.width.ruler * p.height.ruler) for p in made.pieces]
        assert order == sorted(order)


def test_no_part_of_the_account_is_overdrawn() -> None:
    """Counts alone: what steps take was cut or made before, and what is left is announced."""
    for _, _, made in lists():
        split = {"whole": 1, "once": 2, "twice": 4}
        table_: Counter[str] = Counter()
        for piece in made.pieces:
            table_[piece.letter] += piece.count * split[piece.split]
        for step in made.steps:
            for stock in step.takes:
                table_[stock.what] -= stock.count
                assert table_[stock.what] >= 0, (step.verb, stock.what)
            for stock in step.gives:
                table_[stock.what] += stock.count
        last = made.steps[-1].gives[0].what
        assert table_[last] >= 2
        for recipe in made.recipes:
            assert recipe.made - recipe.spare > 0
            if recipe.steps and recipe.unit != int(last.removeprefix("part ")):
                assert table_[recipe.steps[-1].gives[0].what] == recipe.spare


seams = st.sampled_from([Fraction(1, 8), Fraction(1, 4), Fraction(3, 8), CM * 3 / 4, CM / 2])
steps = st.sampled_from([Fraction(1, 16), Fraction(1, 8), Fraction(1, 4), CM / 4, CM / 10])
lengths = st.integers(8, 400).map(lambda n: Fraction(n, 16))


@settings(max_examples=20)
@given(lengths, seams, steps, st.sampled_from([Fraction(0), Fraction(1, 8), Fraction(1, 4)]))
def test_needs_follow_from_seam_and_size(
    finished: Fraction, seam: Fraction, step: Fraction, more: Fraction
) -> None:
    over = dict.fromkeys(TRIMMED.oversize, more)
    chosen = CuttingSettings(seam=seam, step=step, oversize=over)
    root = math.sqrt(2)
    for block, fabric, need in (
        (hst(finished), "a", float(finished) + float(seam) * (2 + root)),
        (hourglass(finished), "a", float(finished) + float(seam) * (2 + 2 * root)),
        (geese(2 * finished, finished), "b", float(2 * finished) + float(seam) * (2 + 2 * root)),
    ):
        (piece,) = [p for p in listed(block, chosen).pieces if p.fabric == fabric]
        assert piece.width.need == pytest.approx(need)
        assert -SAME <= piece.width.surplus < step + more


@settings(max_examples=30)
@given(lengths, seams, steps)
def test_geese_never_lose_their_points(finished: Fraction, seam: Fraction, step: Fraction) -> None:
    """Half of what the large square has too much moves the point down: the small squares, which
    reach above the point, must have at least as much."""
    chosen = CuttingSettings(seam=seam, step=step, oversize={})
    made = listed(geese(2 * finished, finished), chosen)
    (large,) = [p for p in made.pieces if p.fabric == "b"]
    (small,) = [p for p in made.pieces if p.fabric == "a"]
    assert 2 * small.width.surplus >= large.width.surplus - SAME


def test_hands_of_four_fabrics() -> None:
    left = listed(block_of("a.b.c.d", 4)).recipes[0].hand
    right = listed(block_of("a.d.c.b", 4)).recipes[0].hand
    assert {left, right} == {"left", "right"}
