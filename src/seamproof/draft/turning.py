"""A block turned, mirrored, or in other fabrics. All exact."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from seamproof.draft.model import Block, Fixing, Patch
from seamproof.plane.model import Point
from seamproof.plane.predicates import reading_order


def turned(block: Block, quarters: int) -> Block:
    """The block turned by quarters clockwise as seen, its bounding box again at (0, 0).

    Patches keep their order; vertices are numbered anew, from the top down. An upright block stays
    marked as one, so that whoever turns it can say so.
    """
    for _ in range(quarters % 4):
        block = _quarter_turned(block)
    return block


def _quarter_turned(block: Block) -> Block:
    def move(point: Point) -> Point:
        return (block.height - point[1], point[0])

    return _moved(replace(block, width=block.height, height=block.width), move, flips=False)


def mirrored(block: Block) -> Block:
    """The block as in a mirror beside it: left and right exchanged."""
    return _moved(block, lambda p: (block.width - p[0], p[1]), flips=True)


def recoloured(block: Block, letters: Mapping[str, str]) -> Block:
    """The block with fabric letters exchanged; letters that are not in `letters` stay."""
    return replace(
        block,
        patches=tuple(
            replace(patch, fabric=letters.get(patch.fabric, patch.fabric))
            for patch in block.patches
        ),
    )


def _moved(block: Block, move: Callable[[Point], Point], flips: bool) -> Block:
    points = [move(p) for p in block.vertices]
    order = reading_order(points)
    number = {v: i for i, v in enumerate(order)}

    def loop(corners: tuple[int, ...]) -> tuple[int, ...]:
        fresh = [number[v] for v in corners]
        if flips:
            fresh.reverse()
        start = fresh.index(min(fresh))
        return (*fresh[start:], *fresh[:start])

    def patch(old: Patch) -> Patch:
        if not old.bulges:
            return replace(old, corners=loop(old.corners))
        # A side's bulge goes with the side: pair them before the loop is turned round.
        ends = zip(old.corners, (*old.corners[1:], old.corners[0]), strict=True)
        bulge = {
            frozenset((number[a], number[b])): -value if flips else value
            for (a, b), value in zip(ends, old.bulges, strict=True)
        }
        corners = loop(old.corners)
        sides = zip(corners, (*corners[1:], corners[0]), strict=True)
        return replace(old, corners=corners, bulges=tuple(bulge[frozenset(side)] for side in sides))

    def fixing(old: Fixing) -> Fixing:
        return replace(
            old,
            line=None if old.line is None else (move(old.line[0]), move(old.line[1])),
            crossing=None if old.crossing is None else move(old.crossing),
            towards=None if old.towards is None else move(old.towards),
            clockwise=(not old.clockwise) if flips and old.clockwise is not None else old.clockwise,
        )

    return replace(
        block,
        vertices=tuple(points[v] for v in order),
        patches=tuple(patch(p) for p in block.patches),
        outline=loop(block.outline),
        fixings=tuple(fixing(f) for f in block.fixings),
    )
