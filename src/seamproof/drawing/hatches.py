"""Twelve hatches that tell fabrics apart in grey.

A hatch is fixed on the paper: it neither grows with the scale nor turns with the patch. Its lines
run only at 22.5, 67.5, 112.5 and 157.5 degrees (clockwise from pointing right), where no usual
seam lies. From the 13th fabric the set begins again, closer.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from seamproof.drawing.lettering import hatch_number

CLOSER = 0.6
"""Pitch of the second dozen as a share of the first."""

Path = tuple[tuple[float, float], ...]
Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""


@dataclass(frozen=True, slots=True)
class Row:
    """A straight row from `start` to `end`: drawn for `on`, left out for `off`, and so on. With a
    `radius` it is a row of dots instead, `off` apart, the first at `start`."""

    start: tuple[float, float]
    end: tuple[float, float]
    on: float
    off: float
    radius: float = 0.0

    @property
    def period(self) -> float:
        """After how much it begins again."""
        return self.on + self.off

    @property
    def length(self) -> float:
        """From start to end."""
        return math.dist(self.start, self.end)


@dataclass(frozen=True, slots=True)
class Marks:
    """What a hatch puts on paper, drawn with the hatch pen: `lines`, `rows` of dashes or dots, and
    `rings` (x, y, radius)."""

    lines: tuple[Path, ...] = ()
    rows: tuple[Row, ...] = ()
    rings: tuple[tuple[float, float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class _Family:
    """`draw` makes the marks of one row at height v between two u, with pitch 1; rows are `row`
    apart. Both are in a frame turned by `angle` degrees."""

    angle: float
    row: float
    draw: Callable[[int, float, float, float], Marks]


def hatch_name(letter: str) -> str:
    """What the hatch of a printed fabric letter is called.

    >>> hatch_name("A"), hatch_name("M"), hatch_name("N")
    ('lines', 'bricks', 'close lines')
    """
    round_, number = divmod(hatch_number(letter), len(_HATCHES))
    return ("close " if round_ else "") + _HATCHES[number][0]


def marks(letter: str, box: Box, pitch: float) -> Marks:
    """The hatch of a printed fabric letter over a box, in the units of the box. It starts from the
    origin, whatever the box, so two patches of one fabric fit together.

    >>> len(marks("A", (0, 0, 30, 30), 10).lines), len(marks("B", (0, 0, 0, 0), 10).lines)
    (7, 0)
    """
    round_, number = divmod(hatch_number(letter), len(_HATCHES))
    p = pitch * (CLOSER if round_ else 1.0)
    found = [_family(family, box, p) for family in _HATCHES[number][1]]
    return Marks(
        tuple(line for part in found for line in part.lines),
        tuple(row for part in found for row in part.rows),
        tuple(ring for part in found for ring in part.rings),
    )


def _family(family: _Family, box: Box, p: float) -> Marks:
    angle = math.radians(family.angle)
    cos, sin = math.cos(angle), math.sin(angle)
    corners = [(x, y) for x in box[::2] for y in box[1::2]]
    us = [(x * cos + y * sin) / p for x, y in corners]
    vs = [(y * cos - x * sin) / p for x, y in corners]
    lines: list[Path] = []
    rows: list[Row] = []
    rings: list[tuple[float, float, float]] = []

    def turned(u: float, v: float) -> tuple[float, float]:
        return ((u * cos - v * sin) * p, (u * sin + v * cos) * p)

    first = math.floor(min(vs) / family.row)
    for number in range(first, math.ceil(max(vs) / family.row) + 1):
        part = family.draw(number, number * family.row, min(us), max(us))
        lines += [tuple(turned(u, v) for u, v in path) for path in part.lines]
        rings += [(*turned(u, v), r * p) for u, v, r in part.rings]
        rows += [
            Row(turned(*r.start), turned(*r.end), r.on * p, r.off * p, r.radius * p)
            for r in part.rows
        ]
    return Marks(
        tuple(path for path in lines if _touches(path, box, 0.0)),
        tuple(row for row in rows if _touches((row.start, row.end), box, row.radius)),
        tuple(ring for ring in rings if _touches((ring[:2],), box, ring[2])),
    )


def _touches(path: Path, box: Box, more: float) -> bool:
    xs, ys = [x for x, _ in path], [y for _, y in path]
    return (
        min(xs) - more <= box[2]
        and max(xs) + more >= box[0]
        and min(ys) - more <= box[3]
        and max(ys) + more >= box[1]
    )


def _along(start: float, end: float, step: float, shift: float = 0.0) -> Iterator[float]:
    """Places `step` apart that cover the way from start to end, in step with 0 + shift."""
    first = math.floor((start - shift) / step)
    for n in range(first, math.ceil((end - shift) / step) + 1):
        yield n * step + shift


def _row(
    v: float, ends: tuple[float, float], on: float, off: float, shift: float, radius: float = 0.0
) -> Row:
    """A row that covers the way between two u, in step with 0 + shift."""
    places = list(_along(*ends, on + off, shift))
    return Row((places[0], v), (places[-1] + on, v), on, off, radius)


def _dot_row(v: float, ends: tuple[float, float], step: float, shift: float = 0.0) -> Row:
    return _row(v, ends, 0.0, step, shift, _DOT)


_DOT = 0.1  # radius


def _lines(_number: int, v: float, u0: float, u1: float) -> Marks:
    return Marks(lines=(((u0, v), (u1, v)),))


def _dots(number: int, v: float, u0: float, u1: float) -> Marks:
    return Marks(rows=(_dot_row(v, (u0, u1), 1.0, 0.5 * (number % 2)),))


def _pairs(_number: int, v: float, u0: float, u1: float) -> Marks:
    return Marks(lines=(((u0, v), (u1, v)), ((u0, v + 0.3), (u1, v + 0.3))))


_ARM = 0.21  # of a cross


def _level_arms(number: int, v: float, u0: float, u1: float) -> Marks:
    return Marks(rows=(_row(v, (u0, u1), 2 * _ARM, 1.1 - 2 * _ARM, 0.55 * (number % 2) - _ARM),))


def _upright_arms(number: int, v: float, u0: float, u1: float) -> Marks:
    return Marks(rows=(_row(v, (u0, u1), 2 * _ARM, 2.0 - 2 * _ARM, number % 2 - _ARM),))


def _dashes(number: int, v: float, u0: float, u1: float) -> Marks:
    return Marks(rows=(_row(v, (u0, u1), 0.8, 0.5, 0.65 * (number % 2)),))


def _rings(number: int, v: float, u0: float, u1: float) -> Marks:
    return Marks(rings=tuple((u, v, 0.24) for u in _along(u0, u1, 1.2, 0.6 * (number % 2))))


def _lines_and_dots(_number: int, v: float, u0: float, u1: float) -> Marks:
    return Marks(lines=(((u0, v), (u1, v)),), rows=(_dot_row(v + 0.55, (u0, u1), 0.8),))


def _chevrons(number: int, v: float, u0: float, u1: float) -> Marks:
    places = _along(u0, u1, 1.35, 0.675 * (number % 2))
    return Marks(lines=tuple(((u - 0.36, v + 0.3), (u, v), (u + 0.36, v + 0.3)) for u in places))


def _threes(number: int, v: float, u0: float, u1: float) -> Marks:
    shift = 0.75 * (number % 2)
    upper = (_dot_row(v, (u0, u1), 1.5, shift + more) for more in (0.0, 0.34))
    return Marks(rows=(*upper, _dot_row(v + 0.3, (u0, u1), 1.5, shift + 0.17)))


def _waves(_number: int, v: float, u0: float, u1: float) -> Marks:
    places = _along(u0, u1, _WAVE / 8)
    return Marks(lines=(tuple((u, v + 0.17 * math.sin(2 * math.pi * u / _WAVE)) for u in places),))


_WAVE = 1.2  # length of one wave, drawn in eight


def _brick_ends(number: int, v: float, u0: float, u1: float) -> Marks:
    return Marks(rows=(_row(v, (u0, u1), 0.65, 0.65, 0.65 * (number % 2)),))


_HATCHES: tuple[tuple[str, tuple[_Family, ...]], ...] = (
    ("lines", (_Family(22.5, 0.8, _lines),)),
    ("dots", (_Family(22.5, 0.75, _dots),)),
    ("pairs of lines", (_Family(112.5, 1.15, _pairs),)),
    ("crosses", (_Family(22.5, 1.0, _level_arms), _Family(112.5, 0.55, _upright_arms))),
    ("running dashes", (_Family(67.5, 0.6, _dashes),)),
    ("rings", (_Family(22.5, 0.95, _rings),)),
    ("lines with dots", (_Family(157.5, 1.1, _lines_and_dots),)),
    ("lattice", (_Family(22.5, 0.95, _lines), _Family(112.5, 0.95, _lines))),
    ("chevrons", (_Family(157.5, 0.85, _chevrons),)),
    ("dots in threes", (_Family(22.5, 1.05, _threes),)),
    ("waves", (_Family(157.5, 0.7, _waves),)),
    ("bricks", (_Family(112.5, 0.65, _lines), _Family(202.5, 0.65, _brick_ends))),
)
"""Name and families of rows. Where a second family is turned by a quarter, its `v` runs against the
first one's `u`."""
