"""The top taken apart in its order of sewing, with every press sign.

Wherever two things are sewn together they are drawn a little apart; the more is sewn together, the
wider the gap. So what is sewn first lies closest: frames round blocks, then rows, then row to row,
and borders last.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from seamproof.draft.model import Block
from seamproof.drawing.scene import Label, PressSign, Scene, Shape, Spot, Stroke
from seamproof.figures.block import seam_lines
from seamproof.figures.cloth import Coloured, Paints, edge, filled, spots
from seamproof.figures.press_signs import NEAR, Sign
from seamproof.piecing.leaves import within
from seamproof.piecing.model import Join, Leaf, PiecingPlan, Whole
from seamproof.plane.model import Placed, Point
from seamproof.plane.predicates import placed
from seamproof.pressing.choices import runs
from seamproof.pressing.tables import LEFT, RIGHT
from seamproof.setting.model import Top
from seamproof.setting.seams import SetPress

WIDER = 0.25
"""How much wider the last gap is than the narrowest."""

ROOM = 12.5 / 72
"""The narrowest gap in inches of the picture: it has to hold a sign and a number of two figures."""

TRIES = 6
"""How often a scale is looked for at which such gaps fit: after these it hardly changes."""

LONG = 0.45
"""A seam longer than this share of the longer side of the top has its number outside."""

WAYS: dict[int, Literal["left", "right"]] = {LEFT: "left", RIGHT: "right"}

BESIDE = 0.17
"""Inches of the picture from the middle of a press sign to the middle of the number of its step."""

CROWDED = 0.17
"""Inches of the picture: press signs within a block whose middles lie closer run into each other.
The first is drawn; the chapter of the block shows them all."""

_FIGURE, _HIGH = 0.085, 0.16  # inches of the picture that a figure and a line take up


@dataclass(frozen=True, slots=True)
class Sewn:
    """A block as it is set: its drawing, and the press signs of its own seams, in its frame."""

    block: Block
    signs: tuple[Sign, ...] = ()


@dataclass(slots=True)
class _Piece:
    """A leaf where it lies in the top, and how far it is drawn from there."""

    here: Placed
    outline: tuple[Spot, ...]
    x: float = 0.0
    y: float = 0.0

    def corners(self) -> list[Spot]:
        return [(x + self.x, y + self.y) for x, y in self.outline]


@dataclass(slots=True)
class _Gap:
    """A run of stitching between two things that are drawn apart, and how it is pressed. `alone`:
    it is all of its step; `main`: it is the longest run of it and bears the number."""

    start: Spot
    end: Spot
    step: int
    way: int
    alone: bool = True
    main: bool = True
    x: float = 0.0
    y: float = 0.0

    def ends(self) -> tuple[Spot, Spot]:
        """Where it is drawn."""
        (ax, ay), (bx, by) = self.start, self.end
        return (ax + self.x, ay + self.y), (bx + self.x, by + self.y)

    def sign(self) -> Iterator[PressSign]:
        """Its press sign, if it is known."""
        if self.way >= 0:
            yield PressSign(*self.ends(), WAYS.get(self.way, "open"), needed=True)


@dataclass(slots=True)
class _Group:
    """Everything that is sewn to one part."""

    pieces: list[_Piece]
    gaps: list[_Gap] = field(default_factory=list)

    def move(self, x: float, y: float) -> None:
        for piece in self.pieces:
            piece.x += x
            piece.y += y
        for gap in self.gaps:
            gap.x += x
            gap.y += y

    def reach(self, along: Spot) -> tuple[float, float]:
        """From where to where it is drawn in a direction."""
        return _reach((p for piece in self.pieces for p in piece.corners()), along)


def top_order_scene(
    top: Top,
    presses: Sequence[SetPress],
    blocks: Mapping[str, Sewn],
    paints: Paints,
    *,
    scale: float,
) -> Scene:
    """The top, front view, its parts apart, each gap with the number of its step and the sign of
    how the seam is pressed. `presses` are those of the top's plan, one per run, none if nothing is
    known; `blocks` by the names under which they are set, with the signs that end at their edges.
    `scale` is inches of the picture to the inch of cloth.
    """
    apart = _Apart(top, presses, ROOM / scale)
    whole = apart.group(top.lying)
    shapes: list[Shape] = []
    for piece in whole.pieces:
        shapes += _drawn(top, piece, blocks, paints, CROWDED / scale)
    far = LONG * float(max(top.width, top.height))
    shapes += [sign for gap in whole.gaps for sign in gap.sign()]
    shapes += _numbers(whole.gaps, far, scale)
    return Scene(tuple(shapes), f"The top in its order of sewing, {len(apart.step)} steps")


def fitting_scale(top: Top, width: float, height: float) -> float:
    """Inches of the picture to the inch of cloth at which the top, its parts apart, is no larger
    than so many inches; smaller gaps are taken if it would be all gaps."""
    scale = min(width / float(top.width), height / float(top.height)) / 2
    for _ in range(TRIES):
        pieces = _Apart(top, (), ROOM / scale).group(top.lying).pieces
        corners = [p for piece in pieces for p in piece.corners()]
        wide, high = (max(p[n] for p in corners) - min(p[n] for p in corners) for n in (0, 1))
        scale = min(width / wide, height / high)
    return scale


class _Apart:
    def __init__(self, top: Top, presses: Sequence[SetPress], least: float) -> None:
        self.plan: PiecingPlan = top.plan
        self.least, self.longest = least, float(max(top.width, top.height))
        self.step: dict[int, int] = {}
        for parts in top.plan.rounds:
            for part in parts:
                self.step[part] = len(self.step) + 1
        self.ways: dict[tuple[int, int], int] = {}
        for run, press in zip(runs(top.plan), presses, strict=False):
            self.ways[run.part, run.run] = press.way

    def group(self, here: Placed) -> _Group:
        """A part with everything in it, drawn apart."""
        made = self.plan.parts[here.part].made
        if not isinstance(made, Join):
            outline = self.plan.parts[here.part].outline
            return _Group([_Piece(here, spots(_there(outline, here)))])
        left, right = self.group(within(made.left, here)), self.group(within(made.right, here))
        lines = [spots(_there(line, here)) for line in made.sewn]
        longest = max(lines, key=lambda line: math.dist(*line))
        (ax, ay), (bx, by) = longest
        long = math.dist(*longest)
        along = ((bx - ax) / long, (by - ay) / long)
        out = (along[1], -along[0])  # to the left of the seam, as seen
        sides = [left, right]
        low, high = _reach((p for one in sides for p in _all(one)), out)
        half = self.least * (1 + WIDER * (high - low) / self.longest) / 2
        for one, sign in zip(sides, (1, -1), strict=True):
            near = [p for p in one.pieces if _along_it(p, longest)]
            # What lies left of the seam is moved further left, as far as its own parts were moved
            # back to the seam.
            more = max((-sign * (p.x * out[0] + p.y * out[1]) for p in near), default=0.0)
            aside = sum(_reach(_all(one), along)) / 2 - sum(one.reach(along)) / 2
            far = sign * (half + more)
            one.move(out[0] * far + along[0] * aside, out[1] * far + along[1] * aside)
        gaps = [
            self._gap(here.part, number, line, sides, line is longest)
            for number, line in enumerate(lines)
        ]
        return _Group([*left.pieces, *right.pieces], [*left.gaps, *right.gaps, *gaps])

    def _gap(
        self, part: int, number: int, line: Sequence[Spot], sides: Sequence[_Group], main: bool
    ) -> _Gap:
        """A run between two groups that were moved apart: the longest as long as both of them are
        by now, a shorter one moved as far as what lies nearest on either side."""
        start, end = line[0], line[-1]
        step, way = self.step[part], self.ways.get((part, number), -1)
        if not main:
            middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
            near = [min(one.pieces, key=_from(middle)) for one in sides]
            x, y = sum(p.x for p in near) / 2, sum(p.y for p in near) / 2
            return _Gap(start, end, step, way, False, False, x, y)
        long = math.dist(start, end)
        along = ((end[0] - start[0]) / long, (end[1] - start[1]) / long)
        reaches = [
            _Group([p for p in one.pieces if _along_it(p, line)] or one.pieces).reach(along)
            for one in sides
        ]
        low, high = max(a for a, _ in reaches), min(b for _, b in reaches)
        first = start[0] * along[0] + start[1] * along[1]

        def at(far: float) -> Spot:
            return start[0] + along[0] * (far - first), start[1] + along[1] * (far - first)

        alone = len(self.plan.parts[part].made.sewn) == 1  # type: ignore[union-attr]
        return _Gap(at(low), at(high), step, way, alone)


def _there(points: Sequence[Point], here: Placed) -> tuple[Point, ...]:
    return tuple(placed(p, here.turn, here.at) for p in points)


def _all(group: _Group) -> Iterator[Spot]:
    return (p for piece in group.pieces for p in piece.outline)


def _reach(points: Iterator[Spot], along: Spot) -> tuple[float, float]:
    far = [x * along[0] + y * along[1] for x, y in points]
    return min(far), max(far)


def _from(spot: Spot) -> Callable[[_Piece], float]:
    """How far a piece lies from a spot, by its nearest side."""

    def far(piece: _Piece) -> float:
        corners = piece.outline
        return min(
            _to_side(spot, a, b) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
        )

    return far


def _along_it(piece: _Piece, line: Sequence[Spot]) -> bool:
    """Whether a side of a piece, as it lies in the top, is on the line of a run."""
    (ax, ay), (bx, by) = line
    long = math.dist(*line)
    off = [abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / long for x, y in piece.outline]
    return sum(far <= NEAR for far in off) > 1


def _to_side(p: Spot, a: Spot, b: Spot) -> float:
    long = math.dist(a, b)
    share = ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / long**2
    share = min(1.0, max(0.0, share))
    return math.dist(p, (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share))


def _drawn(
    top: Top, piece: _Piece, blocks: Mapping[str, Sewn], paints: Paints, crowded: float
) -> Iterator[Shape]:
    made = top.plan.parts[piece.here.part].made
    outline = tuple(piece.corners())
    if isinstance(made, Leaf):
        yield from filled([Coloured(made.fabric, outline)], paints)
    elif isinstance(made, Whole) and made.block in blocks:
        yield from _block(top, piece, blocks[made.block], paints, crowded)
    yield edge(outline, kind="raw edge")


def _block(top: Top, piece: _Piece, sewn: Sewn, paints: Paints, crowded: float) -> Iterator[Shape]:
    block, here = sewn.block, piece.here
    (width, height) = top.plan.parts[here.part].outline[2]
    across, down = float(width / block.width), float(height / block.height)
    angle = 2 * math.pi * float(here.turn)
    cos, sin = math.cos(angle), math.sin(angle)
    x0, y0 = float(here.at[0]) + piece.x, float(here.at[1]) + piece.y

    def to(p: Spot) -> Spot:
        x, y = p[0] * across, p[1] * down
        return x * cos - y * sin + x0, x * sin + y * cos + y0

    def lying(points: Sequence[Spot]) -> tuple[Spot, ...]:
        return tuple(map(to, points))

    patches = [Coloured(p.fabric, lying(spots(block.corners_of(p)))) for p in block.patches]
    yield from filled(patches, paints)
    for start, end in seam_lines(block):
        yield Stroke("seam", lying((start, end)))
    rim = spots(tuple(block.vertices[v] for v in block.outline))
    shown: list[Spot] = []
    for sign in sewn.signs:
        if isinstance(sign, PressSign) and (_on_rim(sign.start, rim) or _on_rim(sign.end, rim)):
            (ax, ay), (bx, by) = to(sign.start), to(sign.end)
            middle = ((ax + bx) / 2, (ay + by) / 2)
            if all(math.dist(middle, other) >= crowded for other in shown):
                shown.append(middle)
                yield PressSign((ax, ay), (bx, by), sign.way)


def _on_rim(p: Spot, rim: Sequence[Spot]) -> bool:
    return any(_to_side(p, a, b) <= NEAR for a, b in zip(rim, (*rim[1:], rim[0]), strict=True))


_HALF_LINE = 3.0  # points from where a label hangs to the middle of its figures


def _numbers(gaps: Sequence[_Gap], far: float, scale: float) -> Iterator[Label]:
    """The number of every step beside its sign; that of a seam longer than `far` before the end of
    it that lies further left or further up. One that would stand on another stands on the other
    side of the sign, or is left out: the table has them all."""
    taken: list[tuple[Spot, float]] = []
    for gap in sorted(gaps, key=lambda gap: gap.step):
        if not gap.main:
            continue
        wide = _FIGURE * len(str(gap.step)) / 2
        for x, y in _beside(gap, far, scale):
            if all(
                abs(x - u) * scale > wide + other or abs(y - v) * scale > _HIGH
                for (u, v), other in taken
            ):
                taken.append(((x, y), wide))
                yield Label((x, y), str(gap.step), below=-_HALF_LINE)
                break


def _beside(gap: _Gap, far: float, scale: float) -> Iterator[Spot]:
    """Where the number of a gap may stand, the best place first."""
    start, end = gap.ends()
    long = math.dist(start, end)
    along = ((end[0] - start[0]) / long, (end[1] - start[1]) / long)
    first, last = sorted((start, end), key=lambda p: (round(p[0], 3), p[1]))
    if first == end:
        along = (-along[0], -along[1])
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    places = [(middle, 1), (middle, -1)]
    if gap.alone and long > far:
        places = [(first, -1), (last, 1)]
    for (x, y), sign in places:
        yield x + sign * along[0] * BESIDE / scale, y + sign * along[1] * BESIDE / scale
