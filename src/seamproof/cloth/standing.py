"""Prints with a direction: which pieces are cut along the selvage so that the print stands upright.

A print stands along the selvage (common practice, no source). A rectangle that stands in the block
is cut with its longer side along the selvage, one that lies there across it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace
from fractions import Fraction

from seamproof.cutting.model import Grain, Piece
from seamproof.length.rounding import SAME
from seamproof.piecing.leaves import all_leaves
from seamproof.piecing.model import PiecingPlan
from seamproof.plane.predicates import box


def stood(
    pieces: Iterable[Piece], plan: PiecingPlan, directional: Collection[str]
) -> tuple[Piece, ...]:
    """The pieces of a block, rectangles of directional fabrics parted into those that stand (their
    grain is "length") and those that lie ("cross").

    What becomes of a piece is told by the patch it is cut for: in the block that stands or lies.
    """
    if not directional:
        return tuple(pieces)
    standing = standing_shares(plan, directional)
    found: list[Piece] = []
    for piece in pieces:
        share = standing.get(piece.part)
        turned = piece.shape == "rectangle" and piece.grain == "either"
        if piece.fabric not in directional or not turned or share is None:
            found.append(piece)
        else:
            found += parted(piece, share)
    return tuple(found)


def standing_shares(plan: PiecingPlan, directional: Collection[str]) -> dict[int, Fraction]:
    """Which share of the copies of each leaf of directional fabrics stands; squares are left
    out."""
    standing: dict[int, list[bool]] = {}
    for leaf in all_leaves(plan, plan.whole):
        if leaf.fabric in directional:
            low, high = box(leaf.corners)
            taller = (high[1] - low[1]) - (high[0] - low[0])
            if abs(taller) > SAME:
                standing.setdefault(leaf.part, []).append(taller > 0)
    return {part: Fraction(sum(places), len(places)) for part, places in standing.items()}


def parted(piece: Piece, share: Fraction) -> tuple[Piece, ...]:
    """The pieces of a kind that stand, a `share` of them, and those that lie."""
    tall = round(piece.count * share)
    ways: tuple[tuple[int, Grain], ...] = ((tall, "length"), (piece.count - tall, "cross"))
    return tuple(replace(piece, count=count, grain=grain) for count, grain in ways if count)
