"""Letters for cut pieces: the fabric's capital and a small letter, largest first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from seamproof.cutting.model import Hand, Piece
from seamproof.cutting.recipes.shapes import signature

SMALL = "abcdefghjklmnprstuvwxy"
"""I, O, Q and Z are left out: they are taken for 1, 0, 0 and 2 beside figures."""

Key = tuple[Any, ...]


def key_of(piece: Piece) -> Key:
    """Equal for pieces that are cut alike and serve alike, so that one row of the table holds them.

    It begins with what rows are sorted by: the fabric, then the largest first.
    """
    width, height = piece.width.ruler, piece.height.ruler
    return (
        (len(piece.fabric), piece.fabric),
        -width * height,
        -height,
        ("whole", "once", "twice").index(piece.split),
        piece.shape,
        piece.unit,
        piece.method,
        piece.rounding,
        piece.trim or (),
        round(piece.width.need * _SAME_NEED),
        round(piece.height.need * _SAME_NEED),
        signature(piece.corners) if piece.corners else (),
        # Halves of a rectangle are mirror twins, by the diagonal they are cut on.
        piece.hand if piece.shape == "rectangle" and piece.split != "whole" else "",
    )


_SAME_NEED = 10_000
"""What is asked for agrees if it does to a ten-thousandth of an inch."""


def lettered(pieces: Iterable[Piece]) -> dict[Key, str]:
    """The letter of every kind of piece.

    >>> lettered([])
    {}
    """
    letters: dict[Key, str] = {}
    counts: dict[str, int] = {}
    for key, fabric in sorted({(key_of(piece), piece.fabric) for piece in pieces}):
        rank = counts.get(fabric, 0)
        counts[fabric] = rank + 1
        letters[key] = fabric.upper() + small(rank)
    return letters


def small(rank: int) -> str:
    """The small letter of a rank counted from 0; two letters when one is not enough.

    >>> small(0), small(8), small(21), small(22), small(23)
    ('a', 'j', 'y', 'aa', 'ab')
    """
    if rank < len(SMALL):
        return SMALL[rank]
    return small(rank // len(SMALL) - 1) + SMALL[rank % len(SMALL)]


def pooled(pieces: Iterable[Piece]) -> tuple[Piece, ...]:
    """One row for each letter, counts added up, sorted by fabric and then the largest first."""
    rows: dict[str, Piece] = {}
    keys: dict[str, Key] = {}
    for piece in pieces:
        if piece.letter in rows:
            row = rows[piece.letter]
            rows[piece.letter] = replace(
                row,
                count=row.count + piece.count,
                part=min(row.part, piece.part),
                hand=_both(row.hand, piece.hand),
            )
        else:
            rows[piece.letter] = piece
            keys[piece.letter] = key_of(piece)
    return tuple(rows[letter] for letter in sorted(rows, key=lambda letter: keys[letter]))


def _both(one: Hand, other: Hand) -> Hand:
    return one if one == other else "pair"
