"""Parts as they lie on the table: how far each line of one is off, as a weighted sum of errors.

A :class:`Made` part holds the weights for every error that went into it, so that a maker profile,
or a draw of ten thousand makers, has only to be multiplied with them. Copies of a part have the
same weights and errors of their own.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from seamproof.accuracy.lines import Array, Line, Putting, dot
from seamproof.accuracy.model import Source
from seamproof.accuracy.sewing import COMMON, CUT, PLAN, Mark, Sewing

BOTH_EDGES = math.sqrt(0.5)
"""Weight of the error of one cut edge, in the error of the width between two."""


@dataclass(frozen=True, slots=True)
class Made:
    """A part, or a unit on its way to one. `table` has two rows for each of `lines`; its columns
    are the common ones and then one for each of `errors`. `marks` has a row each in `marked`, over
    the same columns."""

    lines: tuple[Line, ...]
    table: Array
    errors: tuple[Source, ...]
    marks: tuple[Mark, ...]
    marked: Array


def cut_patch(
    corners: Sequence[complex], planned: Sequence[float], *, halved: Sequence[bool] = ()
) -> Made:
    """A patch as it was cut: every edge is off by an error of its own, and tilted.

    `planned` is how far the raw edge lies outside its place on purpose, edge by edge. If `halved`
    is given, the edges for which it is true are those of what it was cut from; the others were cut
    along a line that was sewn beside, and are exact.

    >>> corners = [0j, 3 + 0j, 3 + 3j, 3j]
    >>> patch = cut_patch(corners, [0, 0, 0, 0])
    >>> patch.table.shape, patch.errors[:2]
    ((8, 13), ('cut', 'tilt'))
    """
    count = len(corners)
    errors: list[Source] = []
    columns: list[Array] = []
    table = np.zeros((2 * count, COMMON))
    for i in range(count):
        table[2 * i : 2 * i + 2, PLAN] = planned[i]
        if halved and not halved[i]:
            continue
        table[2 * i : 2 * i + 2, CUT] = 0.5
        errors += ["cut", "tilt"]
        width, tilt = np.zeros(2 * count), np.zeros(2 * count)
        width[2 * i : 2 * i + 2] = BOTH_EDGES
        tilt[2 * i : 2 * i + 2] = (-1, 1)
        columns += [width, tilt]
    lines = tuple(Line(corners[i], corners[(i + 1) % count], True) for i in range(count))
    table = np.column_stack([table, *columns])
    return Made(lines, table, tuple(errors), (), np.zeros((0, table.shape[1])))


def joined(sewing: Sewing, left: Made, right: Made | None) -> Made:
    """The part that a seam makes of two, or of one when it is a second go. It has the marks of
    both, which are to lie in its frame already, and those of the seam."""
    sides = [left] if right is None else [left, right]
    own = len(sewing.errors)
    errors = (*(error for made in sides for error in made.errors), *sewing.errors)
    values: list[Array] = []
    marked: list[Array] = []
    before = COMMON
    for made in sides:
        for rows, into in ((made.table, values), (made.marked, marked)):
            wide = np.zeros((len(rows), COMMON + len(errors)))
            wide[:, :COMMON] = rows[:, :COMMON]
            wide[:, before : before + len(made.errors)] = rows[:, COMMON:]
            into.append(wide)
        before += len(made.errors)
    shared = np.eye(COMMON, COMMON + len(errors))
    values += [shared, np.eye(own, COMMON + len(errors), COMMON + len(errors) - own)]
    table, new = sewing.of(np.concatenate(values))
    marks = (*(mark for made in sides for mark in made.marks), *sewing.marks)
    return Made(sewing.lines, table, errors, marks, np.concatenate([*marked, new]))


def stretched(made: Made, seam: Line, allowance: float) -> Made:
    """The same after a bias seam has grown along its length by a share e and shrunk across it by a
    share e', the two last of its errors, so that every thread keeps its length to first order."""
    middle = (seam.start + seam.end) / 2
    columns = np.zeros((len(made.table), 2))
    for i, line in enumerate(made.lines):
        for row, point in ((2 * i, line.start), (2 * i + 1, line.end)):
            out = (allowance if line.raw else 0.0) + made.table[row, PLAN]
            away = point + out * line.normal - middle
            columns[row, 0] = dot(line.normal, seam.along) * dot(away, seam.along)
            columns[row, 1] = dot(line.normal, seam.normal) * dot(away, seam.normal)
    return Made(
        made.lines,
        np.column_stack([made.table, columns]),
        (*made.errors, "stretch", "shrink"),
        made.marks,
        np.column_stack([made.marked, np.zeros((len(made.marks), 2))]),
    )


def in_order(made: Made, lines: Sequence[Line]) -> Made:
    """The same with its lines in another order."""
    places = [made.lines.index(line) for line in lines]
    rows = [2 * place + end for place in places for end in (0, 1)]
    return replace(made, lines=tuple(made.lines[i] for i in places), table=made.table[rows])


def moved(made: Made, put: Putting) -> Made:
    """The same where it is placed. How far its lines are off does not change by that."""
    return replace(
        made,
        lines=tuple(line.moved(put) for line in made.lines),
        marks=tuple(Mark(mark.kind, put(mark.at)) for mark in made.marks),
    )
