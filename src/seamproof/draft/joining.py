"""Cells of one fabric that are one patch.

A letter marked with = or ^ continues the patch of its fabric that touches at the left or above.
Touching means sharing a stretch of side, not a corner.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from seamproof.draft.checks import (
    CROSSES_ITSELF,
    ENCLOSED,
    NOTHING_TO_CONTINUE,
    OTHER_FABRIC,
    at,
    place_name,
)
from seamproof.draft.loops import Loop, rings_of
from seamproof.findings import Finding, Where
from seamproof.length.rounding import SAME
from seamproof.plane.model import Point, Polygon
from seamproof.plane.predicates import area
from seamproof.plane.snapping import snapped

Mark = Literal["left", "above"]

_SIGN: dict[Mark, str] = {"left": "=", "above": "^"}
_SIDE: dict[Mark, str] = {"left": "at the left", "above": "above"}


@dataclass(frozen=True, slots=True)
class Piece:
    """What one letter of one cell fills: convex, clockwise. Pieces with the same `patch` number
    are one patch; `marks` say on which sides it still has to be joined to its neighbour."""

    fabric: str
    corners: Polygon
    marks: frozenset[Mark]
    patch: int
    where: Where


def join_marked(name: str, pieces: Sequence[Piece]) -> tuple[list[Piece], list[Finding]]:
    """The pieces with all marks carried out: joined pieces share the lowest patch number."""
    findings: list[Finding] = []
    root: dict[int, int] = {piece.patch: piece.patch for piece in pieces}

    def find(patch: int) -> int:
        while root[patch] != patch:
            patch = root[patch]
        return patch

    facing = {mark: _facing(pieces, mark) for mark in _SIGN}
    for piece in pieces:
        for mark in sorted(piece.marks):
            level, low, high = _own_side(piece, mark)
            if low == high:
                findings.append(_no_side(name, piece, mark))
                continue
            there = [
                other
                for other_low, other_high, other in facing[mark].get(level, ())
                if min(high, other_high) > max(low, other_low)
            ]
            alike = [other for other in there if other.fabric == piece.fabric]
            if not alike:
                findings.append(_nothing_alike(name, piece, mark, there))
            for other in alike:
                a, b = find(piece.patch), find(other.patch)
                root[max(a, b)] = min(a, b)
    done: frozenset[Mark] = frozenset()
    return [replace(p, patch=find(p.patch), marks=done) for p in pieces], findings


def loops_of(
    name: str, pieces: Sequence[Piece]
) -> tuple[tuple[Point, ...], list[Loop], list[Finding]]:
    """The outlines of the patches that the pieces make, in order of their first piece."""
    together = snapped([piece.corners for piece in pieces], tolerance=SAME)
    vertices = together.vertices
    darts: dict[int, dict[tuple[int, int], None]] = {}
    first: dict[int, Piece] = {}
    for piece, string in zip(pieces, together.strings, strict=True):
        first.setdefault(piece.patch, piece)
        mine = darts.setdefault(piece.patch, {})
        for a, b in zip(string, (*string[1:], string[0]), strict=True):
            if (b, a) in mine:
                del mine[(b, a)]
            else:
                mine[(a, b)] = None
    loops: list[Loop] = []
    findings: list[Finding] = []
    for patch, piece in first.items():
        ahead = dict(darts[patch])
        starts = [a for a, _ in ahead]
        if len(set(starts)) < len(starts):
            point = vertices[next(a for a in starts if starts.count(a) > 1)]
            findings.append(
                CROSSES_ITSELF.found(
                    f"the patch of fabric {piece.fabric} touches itself at {place_name(point)}",
                    mend="leave out one of the joining marks so that it is two patches",
                    where=at(piece.where, name, point),
                )
            )
            continue
        rings = rings_of(ahead.keys())
        inner = [ring for ring in rings if area([vertices[v] for v in ring]) < 0]
        if inner:
            point = vertices[inner[0][0]]
            findings.append(
                ENCLOSED.found(
                    f"the patch of fabric {piece.fabric} goes all round what lies at "
                    f"{place_name(point)}",
                    mend="leave out one of its joining marks: "
                    "no seam can be sewn all round a patch",
                    where=at(piece.where, name, point),
                )
            )
            continue
        loops.append(Loop(piece.fabric, tuple(rings[0]), piece.where))
    return vertices, loops, findings


def _facing(
    pieces: Sequence[Piece], mark: Mark
) -> dict[Fraction, list[tuple[Fraction, Fraction, Piece]]]:
    """Right sides of pieces by x ("left") or lower sides by y ("above"), as stretches."""
    along = 1 if mark == "left" else 0
    found: dict[Fraction, list[tuple[Fraction, Fraction, Piece]]] = {}
    for piece in pieces:
        for p, q in zip(piece.corners, (*piece.corners[1:], piece.corners[0]), strict=True):
            # Clockwise, y downwards: right sides run down, lower sides run left.
            outwards = q[1] > p[1] if mark == "left" else q[0] < p[0]
            if p[1 - along] == q[1 - along] and outwards:
                stretch = sorted((p[along], q[along]))
                found.setdefault(p[1 - along], []).append((stretch[0], stretch[1], piece))
    return found


def _own_side(piece: Piece, mark: Mark) -> tuple[Fraction, Fraction, Fraction]:
    """The left or upper side of a piece: its x or y, and from where to where it runs."""
    across, along = (0, 1) if mark == "left" else (1, 0)
    level = min(p[across] for p in piece.corners)
    on = [p[along] for p in piece.corners if p[across] == level]
    return level, min(on), max(on)


def _centre(piece: Piece) -> Point:
    count = len(piece.corners)
    return (
        sum((p[0] for p in piece.corners), Fraction(0)) / count,
        sum((p[1] for p in piece.corners), Fraction(0)) / count,
    )


def _no_side(name: str, piece: Piece, mark: Mark) -> Finding:
    return NOTHING_TO_CONTINUE.found(
        f"{piece.fabric}{_SIGN[mark]} stands for a triangle that reaches its cell's edge "
        f"{_SIDE[mark]} only with a corner",
        mend=f"leave out the {_SIGN[mark]}, or turn the split the other way",
        where=at(piece.where, name, _centre(piece)),
    )


def _nothing_alike(name: str, piece: Piece, mark: Mark, there: Sequence[Piece]) -> Finding:
    sign, side = f"{piece.fabric}{_SIGN[mark]}", _SIDE[mark]
    where = at(piece.where, name, _centre(piece))
    if not there:
        return NOTHING_TO_CONTINUE.found(
            f"{sign} continues a patch {side}, but there is nothing {side}",
            mend=f"leave out the {_SIGN[mark]}",
            where=where,
        )
    others = " and ".join(sorted({other.fabric for other in there}))
    return OTHER_FABRIC.found(
        f"{sign} continues a patch of fabric {piece.fabric} {side}, but {others} lies there",
        mend=f"leave out the {_SIGN[mark]}, or change one of the letters",
        where=where,
    )
