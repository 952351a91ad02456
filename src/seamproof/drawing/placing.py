"""A scene set on paper or screen: at a scale, with everything that has a fixed size put on.

The result holds paths and texts in the medium's unit, its upper left corner at (0, 0); nothing is
left to decide for whoever writes it out.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from seamproof.drawing import signs
from seamproof.drawing.hatches import Box, Path
from seamproof.drawing.inks import INK, INK2, PRINT, SIGN, WHITE, Medium, Pen, veiled, wrong_side
from seamproof.drawing.lettering import ASCENT, DESCENT, Line, line
from seamproof.drawing.scene import (
    Arrow,
    Cloth,
    Count,
    Cross,
    Dimension,
    Dot,
    Grain,
    Label,
    Letter,
    Numeral,
    Paint,
    PressSign,
    Scene,
    Shape,
    SpinSign,
    Spot,
    Stroke,
    Tone,
)


@dataclass(frozen=True, slots=True)
class Area:
    """Cloth of one colour: the closed `paths`, filled, and hatched if `paint` is given."""

    paths: tuple[Path, ...]
    colour: str
    paint: Paint | None = None


@dataclass(frozen=True, slots=True)
class Drawn:
    """Lines of one pen. `filled` closed paths are filled with the pen's colour instead."""

    paths: tuple[Path, ...]
    pen: Pen
    closed: bool = False
    filled: bool = False


@dataclass(frozen=True, slots=True)
class Disc:
    """The white disc under a letter; or a dot."""

    at: Spot
    radius: float
    colour: str = WHITE
    opacity: float = 0.94


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text with its start on the base line at `at`; `box` is what it covers."""

    line: Line
    at: Spot
    colour: str
    box: Box


Mark = Area | Drawn | Disc | Text


@dataclass(frozen=True, slots=True)
class Placed:
    """A picture ready to be written out: `width` and `height` in the medium's unit. `zero` is where
    (0, 0) of the scene lies in it, `factor` how many units an inch of the scene is long."""

    marks: tuple[Mark, ...]
    width: float
    height: float
    medium: Medium
    says: str
    zero: Spot = (0.0, 0.0)
    factor: float = 1.0

    @property
    def texts(self) -> tuple[Text, ...]:
        """Its texts in the order in which they are drawn."""
        return tuple(mark for mark in self.marks if isinstance(mark, Text))


def place(scene: Scene, scale: float, medium: Medium = PRINT) -> Placed:
    """The scene with one inch of cloth drawn `scale` inches long.

    >>> square = Scene((Stroke("outline", ((0, 0), (4, 0), (4, 4), (0, 4)), closed=True),))
    >>> placed = place(square, 0.5)
    >>> round(placed.width, 1), round(place(Scene(()), 1).width, 1)
    (146.2, 1.2)
    """
    setter = _Setter(scale * medium.per_inch, medium)
    marks = [mark for run in _runs(scene.shapes) for mark in setter.marks(run)]
    left, top, right, bottom = _around(map(_box_of, marks), medium.margin)
    return Placed(
        tuple(_shifted(mark, -left, -top) for mark in marks),
        right - left,
        bottom - top,
        medium,
        scene.says,
        (-left, -top),
        setter.factor,
    )


def fitting(
    scenes: Iterable[Scene], width: float, height: float, medium: Medium = PRINT, most: float = 1.0
) -> float:
    """The largest scale, up to `most`, at which each scene fits into `width` and `height` (in the
    medium's unit), what has a fixed size included.

    >>> strip = Scene((Stroke("raw edge", ((0, 0), (10, 0))),))
    >>> round(fitting([strip], 100, 100), 3), fitting([], 100, 100)
    (0.137, 1.0)
    """
    scale = most
    for scene in scenes:
        measured = _Measured(scene, medium)
        for _ in range(_ROUNDS):
            wide, high = measured.size(scale)
            if wide <= width + _HAIR and high <= height + _HAIR:
                break
            scale *= min(_next(wide, width), _next(high, height))
    return scale


class _Measured:
    """How large a scene becomes. Of what only grows with the scale, the box is found once: it is
    the same as that of all its points, for to scale and to move keeps their order."""

    def __init__(self, scene: Scene, medium: Medium) -> None:
        self.medium = medium
        self.grown: list[tuple[Box, float, float]] = []  # box, slip, half a pen
        self.others: list[list[Shape]] = []
        for run in _runs(scene.shapes):
            if isinstance(run[0], Cloth):
                spots = [p for shape in run if isinstance(shape, Cloth) for p in shape.corners]
                self.grown.append((_bounds(spots), run[0].slip, 0.0))
            elif isinstance(run[0], Stroke) and run[0].kind != "cut":
                spots = [p for shape in run if isinstance(shape, Stroke) for p in shape.points]
                half = max(medium.pens[run[0].kind].width, 0.0) / 2
                self.grown.append((_bounds(spots), run[0].slip, half))
            else:
                self.others.append(run)

    def size(self, scale: float) -> Spot:
        """Width and height, as :func:`place` gives them."""
        setter = _Setter(scale * self.medium.per_inch, self.medium)
        boxes = [_box_of(mark) for run in self.others for mark in setter.marks(run)]
        for (x0, y0, x1, y1), points, half in self.grown:
            slip = setter.slip(points)
            (left, top), (right, bottom) = setter.at((x0, y0), slip), setter.at((x1, y1), slip)
            boxes.append((left - half, top - half, right + half, bottom + half))
        left, top, right, bottom = _around(boxes, self.medium.margin)
        return right - left, bottom - top


_ROUNDS = 40
_HAIR = 0.01


def _next(has: float, may: float) -> float:
    """How much smaller to try. What has a fixed size makes one division fall a little short, so
    that trying again comes down to the bound from above."""
    return 1.0 if has <= may else max(may / has, 0.5)


class _Setter:
    """Turns shapes into marks at one scale."""

    def __init__(self, factor: float, medium: Medium) -> None:
        self.factor = factor
        self.medium = medium

    def marks(self, run: Sequence[Shape]) -> list[Mark]:
        first = run[0]
        if isinstance(first, Cloth):
            return [self._cloth([s for s in run if isinstance(s, Cloth)])]
        if isinstance(first, Stroke):
            return self._strokes([s for s in run if isinstance(s, Stroke)])
        return [mark for shape in run for mark in self._other(shape)]

    def _other(self, shape: Shape) -> list[Mark]:
        if isinstance(shape, Dimension):
            return self._dimension(shape)
        if isinstance(shape, Letter):
            return self._letter(shape)
        if isinstance(shape, Label):
            return [self._label(shape)]
        if isinstance(shape, Grain):
            return self._grain(shape)
        if isinstance(shape, Arrow):
            return self._arrow(shape)
        if isinstance(shape, Dot):
            return self._dot(shape)
        if isinstance(shape, Cross):
            return self._cross(shape)
        if isinstance(shape, Numeral):
            return self._numeral(shape)
        if isinstance(shape, Tone):
            paths = tuple(tuple(self.at(spot) for spot in ring) for ring in shape.rings)
            return [Area(paths, shape.colour)]
        if isinstance(shape, Count):
            return self._count(shape)
        if isinstance(shape, PressSign):
            a, b, long = self.at(shape.start), self.at(shape.end), self.medium.sign
            found = signs.across(a, b, shape.way, long, needed=shape.needed)
            return [mark for sign in found for mark in _signed(sign)]
        if isinstance(shape, SpinSign):
            at = self.at(shape.at)
            return _signed(signs.hook(at, self.medium.sign, clockwise=shape.clockwise))
        return []

    def at(self, spot: Spot, slip: float = 0.0) -> Spot:
        return (spot[0] * self.factor + slip, spot[1] * self.factor + slip)

    def _cloth(self, run: Sequence[Cloth]) -> Area:
        first = run[0]
        slip = self.slip(first.slip)
        paths = tuple(tuple(self.at(spot, slip) for spot in cloth.corners) for cloth in run)
        colour = WHITE if self.medium.plain else first.paint.colour
        if first.side == "wrong":
            return Area(paths, wrong_side(colour))
        if first.veiled and self.medium.plain:
            return Area(paths, WHITE)
        return Area(paths, veiled(colour)) if first.veiled else Area(paths, colour, first.paint)

    def slip(self, points: float) -> float:
        return points * self.medium.per_inch / PRINT.per_inch

    def _strokes(self, run: Sequence[Stroke]) -> list[Mark]:
        first = run[0]
        pen = self.medium.pens[first.kind]
        slip = self.slip(first.slip)
        paths = tuple(tuple(self.at(spot, slip) for spot in stroke.points) for stroke in run)
        if first.kind != "cut":
            return [Drawn(paths, pen, first.closed)]
        return [Drawn(tuple(part for path in paths for part in self._cut(path)), pen)]

    def _cut(self, path: Path) -> tuple[Path, ...]:
        """A cut runs past the cloth and ends in bars."""
        start = _beyond(path[1], path[0], self.medium.past)
        end = _beyond(path[-2], path[-1], self.medium.past)
        bars = (_bar(path[1], start, self.medium.bar), _bar(path[-2], end, self.medium.bar))
        return ((start, *path[1:-1], end), *bars)

    def _dimension(self, shape: Dimension) -> list[Mark]:
        a, b = self.at(shape.start), self.at(shape.end)
        length = math.hypot(b[0] - a[0], b[1] - a[1]) or 1.0
        along = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
        out = (along[1], -along[0])  # left of the way, as seen
        medium = self.medium
        clear = medium.clear + self.slip(shape.out)
        a, b = (_away(end, out, clear) for end in (a, b))
        bars = tuple(
            (_away(end, out, medium.tick), _away(end, out, -medium.tick)) for end in (a, b)
        )
        text = line(shape.text, medium.small, 600)
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        high = ASCENT * medium.small
        # The label's nearest point lies `gap` clear of the line, whichever way the line runs.
        reach = medium.gap + abs(out[0]) * text.width / 2 + abs(out[1]) * high / 2
        centre = _away(middle, out, reach)
        at = (centre[0] - text.width / 2, centre[1] + high / 2)
        return [
            Drawn(((a, b), *bars), medium.dimension),
            self._text(text, at, INK2),
        ]

    def _letter(self, shape: Letter) -> list[Mark]:
        medium = self.medium
        text = line(shape.text, medium.large, 700)
        radius = max(medium.disc, text.width / 2 + 2.2)
        if shape.room * self.factor < radius + 0.4:
            if not shape.needed:
                return []
            text = line(shape.text, medium.small, 700)
            radius = max(medium.small * _TIGHT, text.width / 2 + 1.0)
        x, y = self.at(shape.at)
        at = (x - text.width / 2, y + _CAP * medium.large / 2)
        return [Disc((x, y), radius), self._text(text, at, INK)]

    def _label(self, shape: Label) -> Text:
        text = line(shape.text, self.medium.small, 400)
        x, y = self.at(shape.at)
        shift = {"start": 0.0, "middle": text.width / 2, "end": text.width}[shape.anchor]
        x += self.slip(shape.aside) - shift
        at = (x, y + self.slip(shape.below) + ASCENT * self.medium.small)
        return self._text(text, at, INK2)

    def _dot(self, shape: Dot) -> list[Mark]:
        at, medium = self.at(shape.at), self.medium
        return [Disc(at, medium.dot + medium.rim, opacity=1.0), Disc(at, medium.dot, INK, 1.0)]

    def _cross(self, shape: Cross) -> list[Mark]:
        (x, y), medium = self.at(shape.at), self.medium
        r = medium.dot * _CROSS
        arms = (((x - r, y - r), (x + r, y + r)), ((x - r, y + r), (x + r, y - r)))
        return [Drawn(arms, Pen(medium.dot * 0.75, INK, casing=medium.dot * 0.75 + 2 * medium.rim))]

    def _numeral(self, shape: Numeral) -> list[Mark]:
        medium = self.medium
        a, b = self.at(shape.start), self.at(shape.end)
        length = math.hypot(b[0] - a[0], b[1] - a[1]) or 1.0
        out = ((b[1] - a[1]) / length, (a[0] - b[0]) / length)  # to the left, as seen
        text = line(shape.text, medium.small, 700)
        radius = max(medium.small * 0.56, text.width / 2 + 1.5)
        reach = (radius + medium.dot) * (-1 if shape.right else 1)
        x, y = _away(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), out, reach)
        at = (x - text.width / 2, y + _CAP * medium.small / 2)
        return [Disc((x, y), radius), self._text(text, at, INK)]

    def _count(self, shape: Count) -> list[Mark]:
        text = line(shape.text, self.medium.small, 700)
        high = _CAP * self.medium.small
        if shape.room * self.factor < math.hypot(text.width, high) / 2 + 0.5:
            return []
        x, y = self.at(shape.at)
        return [self._text(text, (x - text.width / 2, y + high / 2), shape.colour)]

    def _text(self, text: Line, at: Spot, colour: str) -> Text:
        x, y = at
        box = (x, y - ASCENT * text.size, x + text.width, y + DESCENT * text.size)
        return Text(text, at, colour, box)

    def _grain(self, shape: Grain) -> list[Mark]:
        x, y = self.at(shape.at)
        half, head = self.medium.arrow / 2 * 1.3, self.medium.arrow * 0.2
        angle = 2 * math.pi * shape.turn
        cos, sin = math.cos(angle), math.sin(angle)

        def to(u: float, v: float) -> Spot:
            return (x + u * cos - v * sin, y + u * sin + v * cos)

        heads = tuple(
            (to(s * (half - head), -head * 0.7), to(s * half, 0), to(s * (half - head), head * 0.7))
            for s in (-1, 1)
        )
        return [Drawn(((to(-half, 0), to(half, 0)), *heads), self.medium.grain)]

    def _arrow(self, shape: Arrow) -> list[Mark]:
        x, y = self.at(shape.at)
        half, head = self.medium.arrow / 2, self.medium.arrow * 0.26
        tip = ((x + half, y), (x + half - head, y - head * 0.6), (x + half - head, y + head * 0.6))
        return [
            Drawn((((x - half, y), (x + half - head, y)),), Pen(1.0 * self.medium.per_inch / 72)),
            Drawn((tip,), Pen(0.0), closed=True, filled=True),
        ]


def _signed(sign: signs.Sign) -> list[Mark]:
    """A press sign with white round it: it lies on cloth of any colour."""
    white, wide = 2 * signs.CASING * sign.length, signs.SHAFT * sign.length
    return [
        Drawn((sign.shaft,), Pen(wide + white, WHITE)),
        Drawn((sign.head,), Pen(white, WHITE), closed=True),
        Drawn((sign.shaft,), Pen(wide, SIGN)),
        Drawn((sign.head,), Pen(0.0, SIGN), closed=True, filled=True),
    ]


_TIGHT = 0.53  # radius of the smallest disc under a letter, share of the type size
_CROSS = 1.35  # half the width of a cross, in radii of a dot
_CAP = 0.668  # height of capitals in Atkinson Hyperlegible Next, share of the type size


def _runs(shapes: Iterable[Shape]) -> list[list[Shape]]:
    """Neighbours that are drawn in one go: pieces of one cloth, side and slip, lines of a kind."""

    def key(numbered: tuple[int, Shape]) -> object:
        number, shape = numbered
        if isinstance(shape, Cloth):
            return (shape.paint, shape.side, shape.slip, shape.veiled)
        if isinstance(shape, Stroke):
            return (shape.kind, shape.closed, shape.slip)
        return number

    return [[shape for _, shape in run] for _, run in groupby(enumerate(shapes), key)]


def _away(spot: Spot, direction: Spot, distance: float) -> Spot:
    return (spot[0] + direction[0] * distance, spot[1] + direction[1] * distance)


def _beyond(before: Spot, end: Spot, distance: float) -> Spot:
    length = math.hypot(end[0] - before[0], end[1] - before[1]) or 1.0
    return _away(end, ((end[0] - before[0]) / length, (end[1] - before[1]) / length), distance)


def _bar(before: Spot, end: Spot, half: float) -> Path:
    length = math.hypot(end[0] - before[0], end[1] - before[1]) or 1.0
    across = ((before[1] - end[1]) / length, (end[0] - before[0]) / length)
    return (_away(end, across, half), _away(end, across, -half))


def _box_of(mark: Mark) -> Box:
    if isinstance(mark, Text):
        return mark.box
    if isinstance(mark, Disc):
        (x, y), r = mark.at, mark.radius
        return (x - r, y - r, x + r, y + r)
    left, top, right, bottom = _bounds([spot for path in mark.paths for spot in path])
    half = max(mark.pen.width, 0.0) / 2 if isinstance(mark, Drawn) else 0.0
    return (left - half, top - half, right + half, bottom + half)


def _around(boxes: Iterable[Box], edge: float) -> Box:
    x0, y0, x1, y1 = zip(*(list(boxes) or [(0.0, 0.0, 0.0, 0.0)]), strict=True)
    return (min(x0) - edge, min(y0) - edge, max(x1) + edge, max(y1) + edge)


def _bounds(spots: Sequence[Spot]) -> Box:
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return (min(xs), min(ys), max(xs), max(ys))


def _shifted(mark: Mark, dx: float, dy: float) -> Mark:
    if isinstance(mark, Text):
        (x, y), (x0, y0, x1, y1) = mark.at, mark.box
        box = (x0 + dx, y0 + dy, x1 + dx, y1 + dy)
        return Text(mark.line, (x + dx, y + dy), mark.colour, box)
    if isinstance(mark, Disc):
        x, y = mark.at
        return Disc((x + dx, y + dy), mark.radius, mark.colour, mark.opacity)
    paths = tuple(tuple([(x + dx, y + dy) for x, y in path]) for path in mark.paths)
    if isinstance(mark, Area):
        return Area(paths, mark.colour, mark.paint)
    return Drawn(paths, mark.pen, mark.closed, mark.filled)
