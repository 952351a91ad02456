"""Seams that are alike: worked out once, and placed wherever they are sewn.

A seam does something to the lines that it meets only. All others of the moving part are carried
along by its motion. So what it does is worked out in a frame of its own, over the lines that it
meets, and serves every seam that meets lines lying like these, turned or among others.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence

import numpy as np
from numpy.typing import NDArray

from seamproof.accuracy.lines import NEAR, Line, Putting
from seamproof.accuracy.sewing import COMMON, Mark, Matching, Run, Sewing, Worked, worked
from seamproof.pressing.model import Way

ALIKE = 1e-6
"""Lines lie alike if their ends do, to about the rounding of a coordinate, in inches."""


def sew(
    left: tuple[Line, ...],
    right: tuple[Line, ...],
    runs: Sequence[Run],
    ways: Sequence[Way],
    *,
    allowance: float,
    matching: Matching = "nest",
    marked: bool = False,
    tips: bool = False,
    looked: bool = True,
    known: dict[Hashable, Worked] | None = None,
) -> Sewing:
    """The weights of the seam that is sewn along `runs`, straight one by one, each pressed as
    `ways` says; `marked` if it is sewn beside a drawn line, `tips` if
    slanted tips are matched too. It has no marks unless it is `looked` at.

    `left` and `right` are the lines of the two parts in the frame of the joined one. If there are
    none on the right it is the second go of a partial seam: both sides belong to the left part, and
    nothing moves. Seams that meet lines that lie alike are worked out once, if `known` is the same
    for all of them; allowance, matching and looks must be the same too."""
    lines = (*left, *right)
    starts = np.array([line.start for line in lines])
    ends = np.array([line.end for line in lines])
    begin, turn = runs[0][0], (runs[0][1] - runs[0][0]) / abs(runs[0][1] - runs[0][0])
    back = Putting(1 / turn, -begin / turn)
    met = _met(starts, ends, runs)
    if right and not met[len(left) :].any():
        met[:] = True
    places = np.flatnonzero(met)
    corners = np.stack([(starts[places] - begin) / turn, (ends[places] - begin) / turn], axis=1)
    told = np.rint(corners.view(float) / ALIKE).astype(np.int64).tolist()
    # In which order lines come is no matter, nor from which end a seam is told.
    found = []
    for number, (x, y, u, v) in zip(places.tolist(), told, strict=True):
        line = lines[number]
        turned = not line.raw and (u, v) < (x, y)
        ends_at = (u, v, x, y) if turned else (x, y, u, v)
        found.append((number >= len(left), ends_at, line.raw, line.trimmed, number, turned))
    found.sort()
    laid = [(back(a), back(b)) for a, b in runs]
    at = np.rint(np.array(laid).view(float) / ALIKE).astype(np.int64).tobytes()
    key = (tuple(one[:4] for one in found), at, *ways, marked, tips)
    known = {} if known is None else known
    if key not in known:
        near = [lines[one[4]].turned() if one[5] else lines[one[4]] for one in found]
        local = [line.moved(back) for line in near]
        first = sum(not one[0] for one in found)
        sides = tuple(local[:first]), tuple(local[first:])
        known[key] = worked(
            *sides,
            laid,
            ways,
            allowance=allowance,
            matching=matching,
            marked=marked,
            tips=tips,
            looked=looked,
        )
    numbers = [(one[4], one[5]) for one in found]
    return _placed(known[key], lines, len(left), numbers, Putting(turn, begin))


def _met(
    starts: NDArray[np.complex128], ends: NDArray[np.complex128], runs: Sequence[Run]
) -> NDArray[np.bool_]:
    """The lines that end on one of the runs or lie along it."""
    met = np.zeros(len(starts), bool)
    for a, b in runs:
        length = abs(b - a)
        one, other = ((points - a) * (b - a).conjugate() / length for points in (starts, ends))
        on = [np.abs(at.imag) < NEAR for at in (one, other)]
        for at, flat in zip((one, other), on, strict=True):
            met |= flat & (np.abs(at.real - length / 2) < length / 2 + NEAR)
        over = np.maximum(one.real, other.real) > 0
        met |= on[0] & on[1] & over & (np.minimum(one.real, other.real) < length)
    return met


def _placed(
    seam: Worked,
    lines: Sequence[Line],
    first_right: int,
    met: Sequence[tuple[int, bool]],
    put: Putting,
) -> Sewing:
    """The weights of a seam over all the lines of both parts, where it lies. `met` are the numbers
    of those that it meets, and whether they are told from their other end."""
    inputs = 2 * len(lines)
    errors = seam.errors
    rest = range(inputs, inputs + COMMON + len(errors))
    columns = [2 * number + (end ^ turned) for number, turned in met for end in (0, 1)]
    columns += rest
    signs = np.array(
        [-1.0 if turned else 1.0 for _, turned in met for _ in (0, 1)] + [1.0] * len(rest)
    )
    gone = {number for number, _ in met}.difference(met[i][0] for i in seam.carried)
    carried = [(line, i) for i, line in enumerate(lines) if i not in gone]
    new = [(line.moved(put), start, end) for line, start, end in seam.new]
    stays = _outer([*(line for line, _ in carried), *(line for line, *_ in new)])
    carried = [item for item, stay in zip(carried, stays, strict=False) if stay]
    new = [item for item, stay in zip(new, stays[len(stays) - len(new) :], strict=True) if stay]
    rows = [row for _, start, end in new for row in (start, end)]
    rows += [row for _, row in seam.marks]
    wide = np.zeros((len(rows), inputs + COMMON + len(errors)))
    if rows:
        wide[:, columns] = np.stack(rows) * signs
    motion = np.zeros((3, wide.shape[1]))
    x, y, lean = seam.motion * signs
    motion[0, columns] = put.turn.real * x - put.turn.imag * y
    motion[1, columns] = put.turn.imag * x + put.turn.real * y
    motion[2, columns] = lean
    middle = put(seam.middle)
    normals = np.array([line.normal for line, _ in carried for _ in (0, 1)])
    points = np.array([end for line, _ in carried for end in (line.start, line.end)])
    away = points - middle
    arms = np.column_stack(
        [normals.real, normals.imag, normals.imag * away.real - normals.real * away.imag]
    )
    arms[[number < first_right for _, number in carried for _ in (0, 1)]] = 0.0
    return Sewing(
        (*(line for line, _ in carried), *(line for line, *_ in new)),
        tuple(Mark(mark.kind, put(mark.at)) for mark, _ in seam.marks),
        np.array([2 * n + k for _, n in carried for k in (0, 1)], dtype=np.intp),
        arms.reshape(-1, 3),
        motion,
        wide,
        errors,
    )


def _outer(lines: Sequence[Line]) -> list[bool]:
    """Which lines still matter: raw edges, and seams that end at one."""
    starts = np.array([line.start for line in lines])
    ends = np.array([line.end for line in lines])
    raw = np.array([line.raw for line in lines])
    tips = np.concatenate([starts[raw], ends[raw]])
    at_edge = [
        (np.abs(points[~raw, None] - tips[None, :]) < NEAR).any(axis=1) for points in (starts, ends)
    ]
    stays = raw.copy()
    stays[~raw] = at_edge[0] | at_edge[1]
    return [bool(stay) for stay in stays]
