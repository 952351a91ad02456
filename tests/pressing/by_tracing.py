"""Layers at a point: it is traced back through the folds of every sheet, the last fold first.

An independent judge of folding; it divides no cloth and lays nothing over anything. Only the words
are shared: a fold keeps what lies left of its line and mirrors the rest, if its condition holds.
"""

from __future__ import annotations

from collections.abc import Sequence

from seamproof.pressing.folding import Fold, Sheet, Spot


def sources(p: Spot, folds: Sequence[Fold], plan: Sequence[int]) -> list[Spot]:
    """Where the cloth at a point came from, before any fold was made."""
    if not folds:
        return [p]
    *earlier, last = folds
    if any(plan[choice] not in ways for choice, ways in last.when):
        return sources(p, earlier, plan)
    (x, y), (ux, uy), (dx, dy) = last.at, last.along, (p[0] - last.at[0], p[1] - last.at[1])
    along, right = dx * ux + dy * uy, dy * ux - dx * uy
    if right > 0:
        return []  # the cloth beyond the line was turned away
    over = (x + along * ux + right * uy, y + along * uy - right * ux)
    return sources(p, earlier, plan) + sources(over, earlier, plan)


def inside(p: Spot, outline: Sequence[Spot]) -> bool:
    crossed = False
    for (ax, ay), (bx, by) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (ay > p[1]) != (by > p[1]) and p[0] < ax + (p[1] - ay) * (bx - ax) / (by - ay):
            crossed = not crossed
    return crossed


def layers_at(p: Spot, sheets: Sequence[Sheet], plan: Sequence[int]) -> int:
    return sum(
        any(inside(source, piece) for piece in sheet.pieces)
        for sheet in sheets
        for source in sources(p, sheet.folds, plan)
    )
