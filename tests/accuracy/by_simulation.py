"""A pinwheel of half-square triangles sewn by exact geometry, maker by maker, sharing nothing with
the engine: true lines, true intersections, true turns, nothing reckoned to first order.

y points upwards here, outlines run counterclockwise, and a line is (nx, ny, d) with n.x = d, arrays
over makers. Nothing is trimmed; squares are cut F + 7/8.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from seamproof.accuracy.model import Maker

Values = NDArray[np.float64]
Pair = tuple[Values, Values]
Spot = tuple[float, float]
Side = Sequence[tuple[str, int]]
"""The pieces of a side: a patch, and which of its edges."""

Drifting = Literal["finished", "tips"]
"""Between which ends of a slanted seam a drift is counted: the finished ones, or the raw tips."""

SPARE = (7 / 8 - 1 / 2 - math.sqrt(2) / 4) / 2
ALLOWANCE = 0.25


class Line:
    """A straight line, of every maker's block."""

    def __init__(self, nx: Values, ny: Values, d: Values) -> None:
        self.nx, self.ny, self.d = nx, ny, d


def through(one: Pair, other: Pair) -> Line:
    """The line through two points, its normal to the right of the way from one to the other."""
    x, y = other[0] - one[0], other[1] - one[1]
    length = np.hypot(x, y)
    nx, ny = y / length, -x / length
    return Line(nx, ny, nx * one[0] + ny * one[1])


def meet(one: Line, other: Line) -> Pair:
    """Where two lines cross."""
    det = one.nx * other.ny - one.ny * other.nx
    x = (one.d * other.ny - one.ny * other.d) / det
    return x, (one.nx * other.d - one.d * other.nx) / det


class Room:
    """A sewing room with so many makers, each with a bias of her own."""

    def __init__(self, maker: Maker, count: int, seed: int, drifting: Drifting) -> None:
        self.maker, self.count, self.drifting = maker, count, drifting
        self.lots = np.random.default_rng(seed)
        self.bias = maker.seam + self.err(maker.between)
        self.corners: dict[str, list[Spot]] = {}
        self.lines: dict[str, list[Line]] = {}
        self.parts: dict[str, list[Line]] = {}

    def err(self, sd: float) -> Values:
        return self.lots.standard_normal(self.count) * sd

    def cut(self, name: str, corners: list[Spot], drawn: int, mark: Values) -> None:
        """A triangle, whose edge `drawn` was cut along a line that is off by `mark`."""
        lines = []
        for i, (x, y) in enumerate(corners):
            u, v = corners[(i + 1) % 3]
            length = math.hypot(u - x, v - y)
            nx, ny = (v - y) / length, (x - u) / length
            if i == drawn:
                start = end = ALLOWANCE + mark
            else:
                error, tilt = self.err(self.maker.cut / math.sqrt(2)), self.err(self.maker.tilt)
                start = ALLOWANCE + SPARE + error - tilt
                end = ALLOWANCE + SPARE + error + tilt
            first, last = (x + start * nx, y + start * ny), (u + end * nx, v + end * ny)
            lines.append(through(first, last))
        self.corners[name], self.lines[name], self.parts[name] = corners, lines, list(lines)

    def ends(self, patch: str, edge: int) -> tuple[Pair, Pair]:
        """The ends of a piece: where its raw line meets what bounds its patch on either hand."""
        lines = self.lines[patch]
        return meet(lines[edge], lines[edge - 1]), meet(lines[edge], lines[(edge + 1) % 3])

    def held(self, side: Side, a: Spot, b: Spot) -> tuple[Values, Values, Values, list[Pair]]:
        """The best straight line through the ends of all pieces of a side, in the frame of the seam
        from a to b: how far to its right it lies at a, its slope; where the pieces end along it,
        and the first and the last end."""
        length = math.dist(a, b)
        tx, ty = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        places, offs, weights, tips = [], [], [], []
        for patch, edge in side:
            for x, y in self.ends(patch, edge):
                places.append((x - a[0]) * tx + (y - a[1]) * ty)
                offs.append((x - a[0]) * ty - (y - a[1]) * tx)
                corners = self.corners[patch]
                weights.append(math.dist(corners[edge], corners[(edge + 1) % 3]))
                tips.append((x, y))
        where, off, heavy = np.array(places), np.array(offs), np.array(weights)[:, None]
        middle = (heavy * where).sum(0) / heavy.sum()
        level = (heavy * off).sum(0) / heavy.sum()
        away = where - middle
        slope = (heavy * away * (off - level)).sum(0) / (heavy * away**2).sum(0)
        order = np.argsort(where[:, 0])
        return level - slope * middle, slope, where, [tips[order[0]], tips[order[-1]]]

    def sew(
        self,
        left: str,
        right: str,
        sides: tuple[Side, Side],
        ends: tuple[Spot, Spot],
        folds: tuple[float, float],
        nests: tuple[Line, Line] | None = None,
    ) -> Line:
        """Sew the part on the right to that on the left of the way from one end to the other; the
        allowances take `folds` radii of either side. Triangles by a drawn line, as they are laid;
        others by both raw ends, or by the two seams that nest."""
        maker, (a, b) = self.maker, ends
        length = math.dist(a, b)
        tx, ty = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        slanted = min(abs(tx), abs(ty)) > 0.1
        scatter, drift = self.err(maker.scatter), self.err(maker.drift)
        gap = np.zeros(self.count) if slanted else self.err(maker.flush)
        stitched, tips = [], []
        for side, sign, fold in zip(sides, (1, -1), folds, strict=True):
            off, slope, where, raw = self.held(side, a, b)
            inner = slanted and self.drifting == "finished"
            spots = (0.0, length) if inner else (where.min(0), where.max(0))
            points = []
            for place, turn in zip(spots, (-1, 1), strict=True):
                taken = ALLOWANCE + self.bias + scatter + turn * drift - sign * gap / 2
                taken = sign * (taken + fold * maker.fold) / np.hypot(1, slope)
                along, right_of = place + taken * slope, off + slope * place - taken
                points.append(
                    (a[0] + along * tx + right_of * ty, a[1] + along * ty - right_of * tx)
                )
            stitched.append(through(points[0], points[1]))
            tips.append(raw)
        one, other = stitched
        turned = np.arctan2(one.ny, one.nx) - np.arctan2(other.ny, other.nx)
        cos, sin, shift = np.cos(turned), np.sin(turned), one.d - other.d

        def carried(point: Pair) -> Pair:
            x, y = point
            return cos * x - sin * y + shift * one.nx, sin * x + cos * y + shift * one.ny

        def apart(here: Pair, there: Pair) -> Values:
            moved = carried(there)
            return -one.ny * (here[0] - moved[0]) + one.nx * (here[1] - moved[1])

        if nests:
            slip = apart(meet(nests[0], one), meet(nests[1], other)) + self.err(maker.pin)
        elif slanted:
            middle = (
                np.full(self.count, (a[0] + b[0]) / 2),
                np.full(self.count, (a[1] + b[1]) / 2),
            )
            slip = apart(middle, middle)
        else:
            slip = (apart(tips[0][0], tips[1][0]) + apart(tips[0][1], tips[1][1])) / 2
        sx, sy = shift * one.nx - slip * one.ny, shift * one.ny + slip * one.nx
        for line in self.parts[right]:
            line.nx, line.ny = cos * line.nx - sin * line.ny, sin * line.nx + cos * line.ny
            line.d = line.d + line.nx * sx + line.ny * sy
        for patch, edge in (*sides[0], *sides[1]):
            self.lines[patch][edge] = one
        self.parts[left] += [*self.parts[right], one]
        return one

    def stretch(self, part: str, seam: Line) -> None:
        """The part grows along its bias seam, and shrinks across it by as much."""
        grown = 1 + self.maker.stretch + self.err(self.maker.stretch_scatter)
        nx, ny, x, y = seam.nx, seam.ny, seam.d * seam.nx, seam.d * seam.ny
        for line in self.parts[part]:
            rest = line.d - line.nx * x - line.ny * y
            along = (line.ny * nx - line.nx * ny) / grown
            across = (line.nx * nx + line.ny * ny) * grown
            size = np.hypot(along, across)
            line.nx, line.ny = (across * nx - along * ny) / size, (across * ny + along * nx) / size
            line.d = rest / size + line.nx * x + line.ny * y


def half_square(room: Room, name: str, put: Callable[[Spot], Spot]) -> Line:
    """A half-square triangle 3 in wide, its seam rising from its lower left corner, pressed toward
    the lower triangle; the seam that was sewn."""
    low, far, up = put((0, 0)), put((3, 3)), put((0, 3))
    mark = room.err(room.maker.mark)
    room.cut(name, [low, put((3, 0)), far], 2, mark)
    room.cut(name + "'", [low, far, up], 0, -mark)
    sides = [(name, 2)], [(name + "'", 0)]
    seam = room.sew(name, name + "'", sides, (far, low), (math.pi - 1, 1))
    room.stretch(name, seam)
    return seam


def pinwheel(
    maker: Maker, count: int, seed: int, drifting: Drifting = "finished"
) -> tuple[Values, Values]:
    """The largest error of a corner in degrees, shape (makers,), and how far the four points in the
    middle lie clear of the last seam, shape (4, makers). The seams between units are pressed so
    that they nest."""
    room = Room(maker, count, seed, drifting)
    turns = [(1, 0), (0, 1), (-1, 0), (0, -1)]
    slants = []
    for i, (c, s) in enumerate(turns):

        def put(p: Spot, c: int = c, s: int = s) -> Spot:
            return 3 + c * (p[0] - 3) - s * (p[1] - 3), 3 + s * (p[0] - 3) + c * (p[1] - 3)

        slants.append(half_square(room, str(i), put))
    toward, away = (math.pi - 1, 1.0), (1.0, math.pi - 1)
    low = room.sew("0", "1", ([("0", 1)], [("1'", 1)]), ((3, 0), (3, 3)), away)
    high = room.sew("3", "2", ([("3'", 1)], [("2", 1)]), ((3, 3), (3, 6)), toward)
    rows = [("1", 1), ("0'", 1)], [("2'", 1), ("3", 1)]
    level = room.sew("0", "3", rows, ((6, 3), (0, 3)), toward, (low, high))
    around: list[Spot] = [(0, 0), (6, 0), (6, 6), (0, 6)]
    sides = []
    for i in range(4):
        a, b = around[i], around[(i + 1) % 4]
        off, slope, _, _ = room.held([(str(i), 0), (f"{(i + 1) % 4}'", 2)], a, b)
        tx, ty = (b[0] - a[0]) / 6, (b[1] - a[1]) / 6
        last = off + 6 * slope
        start = (a[0] + off * ty, a[1] - off * tx)
        sides.append(through(start, (b[0] + last * ty, b[1] - last * tx)))
    leans = [
        np.arctan2(
            sides[i - 1].nx * sides[i].ny - sides[i - 1].ny * sides[i].nx,
            sides[i - 1].nx * sides[i].nx + sides[i - 1].ny * sides[i].ny,
        )
        for i in range(4)
    ]
    clear = []
    for slant, seam, sign in zip(slants, (low, low, high, high), (-1, -1, 1, 1), strict=True):
        x, y = meet(slant, seam)
        clear.append(sign * (level.nx * x + level.ny * y - level.d))
    return np.abs(90 - np.degrees(leans)).max(axis=0), np.array(clear)
