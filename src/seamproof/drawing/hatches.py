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
class Marks:
    """What a hatch puts on paper: `lines` to be drawn with the hatch pen, `dots` (x, y, radius) to
    be filled and `rings` (x, y, radius) to be drawn round."""

    lines: tuple[Path, ...] = ()
    dots: tuple[tuple[float, float, float], ...] = ()
    rings: tuple[tuple[float, float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class _Hatch:
    """`draw` makes the marks of one row at height v between two u, with pitch 1; rows are `row`
    apart. Both are in a frame turned by `angle` degrees."""

    name: str
    angle: float
    row: float
    draw: Callable[[int, float, float, float], Iterator[Marks]]


def hatch_name(letter: str) -> str:
    """What the hatch of a printed fabric letter is called.

    >>> hatch_name("A"), hatch_name("M"), hatch_name("N")
    ('lines', 'bricks', 'close lines')
    """
    round_, number = divmod(hatch_number(letter), len(_HATCHES))
    return ("close " if round_ else "") + _HATCHES[number].name


def marks(letter: str, box: Box, pitch: float) -> Marks:
    """The hatch of a printed fabric letter over a box, in the units of the box. It starts from the
    origin, whatever the box, so two patches of one fabric fit together.

    >>> len(marks("A", (0, 0, 30, 30), 10).lines), len(marks("B", (0, 0, 0, 0), 10).lines)
    (7, 0)
    """
    round_, number = divmod(hatch_number(letter), len(_HATCHES))
    hatch = _HATCHES[number]
    p = pitch * (CLOSER if round_ else 1.0)
    angle = math.radians(hatch.angle)
    cos, sin = math.cos(angle), math.sin(angle)
    corners = [(x, y) for x in box[::2] for y in box[1::2]]
    us = [(x * cos + y * sin) / p for x, y in corners]
    vs = [(y * cos - x * sin) / p for x, y in corners]
    lines: list[Path] = []
    dots: list[tuple[float, float, float]] = []
    rings: list[tuple[float, float, float]] = []

    def turned(u: float, v: float) -> tuple[float, float]:
        return ((u * cos - v * sin) * p, (u * sin + v * cos) * p)

    first = math.floor(min(vs) / hatch.row)
    for row in range(first, math.ceil(max(vs) / hatch.row) + 1):
        for part in hatch.draw(row, row * hatch.row, min(us), max(us)):
            lines += [tuple(turned(u, v) for u, v in path) for path in part.lines]
            dots += [(*turned(u, v), r * p) for u, v, r in part.dots]
            rings += [(*turned(u, v), r * p) for u, v, r in part.rings]
    return Marks(
        tuple(path for path in lines if _touches(path, box, 0.0)),
        tuple(dot for dot in dots if _touches((dot[:2],), box, dot[2])),
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


def _lines(_row: int, v: float, u0: float, u1: float) -> Iterator[Marks]:
    yield Marks(lines=(((u0, v), (u1, v)),))


def _dots(row: int, v: float, u0: float, u1: float) -> Iterator[Marks]:
    for u in _along(u0, u1, 1.0, 0.5 * (row % 2)):
        yield Marks(dots=((u, v, 0.1),))


def _pairs(_row: int, v: float, u0: float, u1: float) -> Iterator[Marks]:
    yield Marks(lines=(((u0, v), (u1, v)), ((u0, v + 0.3), (u1, v + 0.3))))


def _crosses(row: int, v: float, u0: float, u1: float) -> Iterator[Marks]:
    arm = 0.21
    for u in _along(u0, u1, 1.1, 0.55 * (row % 2)):
        yield Marks(lines=(((u - arm, v), (u + arm, v)), ((u, v - arm), (u, v + arm))))


def _dashes(row: int, v: float, u0: float, u1: float) -> Iterator[Marks]:
    for u in _along(u0, u1, 1.3, 0.65 * (row % 2)):
        yield Marks(lines=(((u, v), (u + 0.8, v)),))


def _rings(row: int, v: float, u0: float, u1: float) -> Iterator[Marks]:
    for u in _along(u0, u1, 1.2, 0.6 * (row % 2)):
        yield Marks(rings=((u, v, 0.24),))


def _lines_and_dots(_row: int, v: float, u0: float, u1: float) -> Iterator[Marks]:
    yield Marks(lines=(((u0, v), (u1, v)),))
    for u in _along(u0, u1, 0.8):
        yield Marks(dots=((u, v + 0.55, 0.1),))


def _lattice(_row: int, v: float, u0: float, u1: float) -> Iterator[Marks]:
    yield Marks(lines=(((u0, v), (u1, v)),))
    for u in _along(u0, u1, 0.95):
        yield Marks(lines=(((u, v), (u, v + 0.95)),))


def _chevrons(row: int, v: float, u0: float, u1: float) -> Iterator[Marks]:
    for u in _along(u0, u1, 1.35, 0.675 * (row % 2)):
        yield Marks(lines=(((u - 0.36, v + 0.3), (u, v), (u + 0.36, v + 0.3)),))


def _threes(row: int, v: float, u0: float, u1: float) -> Iterator[Marks]:
    for u in _along(u0, u1, 1.5, 0.75 * (row % 2)):
        yield Marks(dots=((u, v, 0.1), (u + 0.34, v, 0.1), (u + 0.17, v + 0.3, 0.1)))


def _waves(_row: int, v: float, u0: float, u1: float) -> Iterator[Marks]:
    crest = tuple((u, v + 0.17 * math.sin(2 * math.pi * u / 1.2)) for u in _along(u0, u1, 0.1))
    yield Marks(lines=(crest,))


def _bricks(row: int, v: float, u0: float, u1: float) -> Iterator[Marks]:
    yield Marks(lines=(((u0, v), (u1, v)),))
    for u in _along(u0, u1, 1.3, 0.65 * (row % 2)):
        yield Marks(lines=(((u, v), (u, v + 0.65)),))


_HATCHES = (
    _Hatch("lines", 22.5, 0.8, _lines),
    _Hatch("dots", 22.5, 0.75, _dots),
    _Hatch("pairs of lines", 112.5, 1.15, _pairs),
    _Hatch("crosses", 22.5, 1.0, _crosses),
    _Hatch("running dashes", 67.5, 0.6, _dashes),
    _Hatch("rings", 22.5, 0.95, _rings),
    _Hatch("lines with dots", 157.5, 1.1, _lines_and_dots),
    _Hatch("lattice", 22.5, 0.95, _lattice),
    _Hatch("chevrons", 157.5, 0.85, _chevrons),
    _Hatch("dots in threes", 22.5, 1.05, _threes),
    _Hatch("waves", 157.5, 0.7, _waves),
    _Hatch("bricks", 112.5, 0.65, _bricks),
)
