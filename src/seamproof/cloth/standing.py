"""Prints with a direction: which pieces are cut along the selvage so that the print stands upright.

A print stands along the selvage (common practice, no source). A rectangle that stands in the block
is cut with its longer side along the selvage, one that lies there across it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace

from seamproof.cutting.model import Piece
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
    standing: dict[int, list[bool]] = {}
    for leaf in all_leaves(plan, plan.whole):
        if leaf.fabric in directional:
            low, high = box(leaf.corners)
            taller = (high[1] - low[1]) - (high[0] - low[0])
            if abs(taller) > SAME:
                standing.setdefault(leaf.part, []).append(taller > 0)
    found: list[Piece] = []
    for piece in pieces:
        places = standing.get(piece.part, [])
        turned = piece.shape == "rectangle" and piece.grain == "either"
        if piece.fabric not in directional or not turned or not places:
            found.append(piece)
            continue
        tall = round(piece.count * sum(places) / len(places))
        if tall:
            found.append(replace(piece, count=tall, grain="length"))
        if piece.count - tall:
            found.append(replace(piece, count=piece.count - tall, grain="cross"))
    return tuple(found)
